"""The description of the API (OpenAPI 3.1): what FastAPI finds by itself, and the schemas of what a shop keeps.

Routes name their answers by the schemas of `api.shapes`.
"""

from __future__ import annotations

from functools import cache
from typing import Any

from fastapi import FastAPI
from fastapi.openapi.utils import get_openapi

from fourply.app.documents import schemas
from fourply.web.api.shapes import shapes

_ABOUT = """The shop, for programs. Lists are paged (`after`, `limit`), searched (`text`), sorted and filtered.
A change says which version it stands on (`If-Match`, the `ETag` of the record): 428 where it does not, 412 with both
versions where somebody was faster. An `Idempotency-Key` makes a request safe to send again. What goes wrong is told as
problem details (RFC 9457). Lengths in documents are whole nanometres; rules are text with their units.
"""
_COMPONENTS = "#/components/schemas/"


def describe(app: FastAPI) -> None:
    """Let an app give the whole description."""

    @cache
    def openapi() -> dict[str, Any]:
        found = get_openapi(title=app.title, version=app.version, description=_ABOUT, routes=app.routes)
        components = found.setdefault("components", {}).setdefault("schemas", {})
        components.update({name: _moved(schema) for name, schema in schemas().items()})
        components.update(shapes())
        for unused in ("HTTPValidationError", "ValidationError"):
            components.pop(unused, None)
        return found

    app.openapi = openapi  # type: ignore[method-assign]


def _moved(schema: object) -> Any:  # noqa: ANN401 (JSON)
    """Return a schema whose references lead to the components."""
    if isinstance(schema, dict):
        return {
            key: each.replace("#/$defs/", _COMPONENTS) if key == "$ref" and isinstance(each, str) else _moved(each)
            for key, each in schema.items()
        }
    return [_moved(each) for each in schema] if isinstance(schema, list) else schema
