"""The whole API, version 1."""

from __future__ import annotations

from fastapi import APIRouter

from fourply.app.keep_new import changed_work, new_show, new_work
from fourply.app.keep_shows import copy_show
from fourply.app.keep_works import copy_work
from fourply.app.ports_store import Kind
from fourply.web.api import history, jobs, live, materials, plans, shop, shows, works
from fourply.web.api.records import Doing, changing, reading

API = APIRouter(prefix="/api/v1")

for _part in (history, jobs, live, materials, plans, shop, shows, works):
    API.include_router(_part.router)
for _kind, _at, _doing in (
    (Kind.SHOW, "/shows", Doing(new_show, copy=copy_show)),
    (Kind.WORK, "/works", Doing(new_work, changed_work, copy_work)),
    (Kind.TREATMENT, "/treatments", Doing()),
    (Kind.MATERIAL, "/materials", Doing()),
    (Kind.RACK, "/rack", Doing()),
    (Kind.CUTTER, "/cutters", Doing()),
):
    API.include_router(changing(reading(_kind, _at), _kind, _doing))
API.include_router(reading(Kind.PLAN, "/plans"))
API.include_router(reading(Kind.PICTURE, "/pictures"))
