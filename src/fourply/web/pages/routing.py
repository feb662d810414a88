"""What a page's route does besides: what goes wrong is told as a page, with the way on."""

from __future__ import annotations

from collections.abc import Callable, Coroutine
from typing import Any

from fastapi import APIRouter, Request, Response
from fastapi.exceptions import RequestValidationError
from fastapi.routing import APIRoute

from fourply.errors import FourplyError
from fourply.web.pages.frame import Strip, page
from fourply.web.problems import problem_of


class PageRoute(APIRoute):
    """A route whose errors are pages."""

    def get_route_handler(self) -> Callable[[Request], Coroutine[Any, Any, Response]]:
        """Return what answers a request."""
        inner = super().get_route_handler()

        async def answered(request: Request) -> Response:
            try:
                return await inner(request)
            except FourplyError as bad:
                said = problem_of(bad, request.path_params)
            except RequestValidationError:
                said = {
                    "title": "The address cannot be read",
                    "status": 422,
                    "detail": "a part of it is not as it should be",
                }
            status = said["status"] if isinstance(said["status"], int) else 500
            return page(request, "problem.html", strip=Strip(), said=said, status=status)

        return answered


def pages() -> APIRouter:
    """Return a router for pages."""
    return APIRouter(route_class=PageRoute)
