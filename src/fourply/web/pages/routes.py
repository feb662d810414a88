"""Every page, in one router."""

from __future__ import annotations

from fastapi import APIRouter

from fourply.web.pages import (
    bring,
    common,
    design,
    find,
    material,
    materials,
    pictures,
    settings,
    shows,
    table,
    variants,
    wall,
)

router = APIRouter(include_in_schema=False)
for _each in (bring, common, design, find, materials, material, pictures, settings, shows, table, variants, wall):
    router.include_router(_each.router)
