"""The app: what guards it, the API, the pages."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

from fastapi import FastAPI
from starlette.staticfiles import StaticFiles

from fourply import __version__
from fourply.web.api.routes import API
from fourply.web.describing import describe
from fourply.web.guard import Guard
from fourply.web.pages.routes import router as pages
from fourply.web.parts import Parts
from fourply.web.problems import add_handlers
from fourply.web.room import Room, room_of

_STATIC = Path(__file__).parent / "static"


def make_app(parts: Parts) -> FastAPI:
    """Return the app of a shop; it needs nothing but its parts, and closes the store when it ends."""
    app = FastAPI(
        title="fourply",
        version=__version__,
        openapi_url="/openapi.json",
        docs_url=None,
        redoc_url=None,
        lifespan=_life,
    )
    app.state.room = Room(parts)
    add_handlers(app)
    app.include_router(API)
    app.include_router(pages)
    app.mount("/static", StaticFiles(directory=_STATIC), name="static")
    app.add_middleware(Guard, hosts=parts.hosts, limits=parts.limits)
    describe(app)
    return app


@asynccontextmanager
async def _life(app: FastAPI) -> AsyncIterator[None]:
    yield
    room_of(app).stop()
