"""The whole API, version 1."""

from __future__ import annotations

from fastapi import APIRouter

from fourply.app.ports_store import Kind
from fourply.web.api.records import Doing, changing, reading

API = APIRouter(prefix="/api/v1")

for _kind, _at, _doing in (
    (Kind.SHOW, "/shows", Doing()),
    (Kind.WORK, "/works", Doing()),
    (Kind.TREATMENT, "/treatments", Doing()),
    (Kind.MATERIAL, "/materials", Doing()),
    (Kind.RACK, "/rack", Doing()),
    (Kind.CUTTER, "/cutters", Doing()),
):
    API.include_router(changing(reading(_kind, _at), _kind, _doing))
API.include_router(reading(Kind.PLAN, "/plans"))
API.include_router(reading(Kind.PICTURE, "/pictures"))
