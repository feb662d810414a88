"""Every page, in one router."""

from __future__ import annotations

from fastapi import APIRouter

from fourply.web.pages import (
    backups,
    bring,
    common,
    copying,
    design,
    find,
    material,
    materials,
    papers,
    pictures,
    rack,
    settings,
    shows,
    table,
    variants,
    wall,
)

_SHOP = (backups, common, find, materials, material, rack, settings)
_SHOWS = (bring, copying, design, papers, pictures, shows, table, variants, wall)
router = APIRouter(include_in_schema=False)
for _each in (*_SHOP, *_SHOWS):
    router.include_router(_each.router)
