"""Every page of the app, by its route: a new page is looked at without being told of."""

from __future__ import annotations

import re

from fastapi.routing import iter_route_contexts
from tests.web.design_shop import Shop

from fourply.app.ports_store import SHOP, Kind
from fourply.web.pages.routes import router

PART = re.compile(r"\.(json|svg|pdf|zip)$|^/shows/\{show\}/(along|wall|totals)$|^/materials/pictures/|/file$")
"""Routes that answer with something else than a page, or with a part of one."""

GETS = tuple(each.path or "" for each in iter_route_contexts(router.routes) if "GET" in (each.methods or ()))
PAGES = tuple(path for path in GETS if not PART.search(path))


def address(shop: Shop, path: str) -> str:
    """Return an address of a route, its places filled from a shop with the demo show."""

    def filled(place: re.Match[str]) -> str:
        if place[1] == "show":
            return shop.show
        if place[1] == "work":
            return shop.works["TM-14"]
        if place[1] == "material":
            return str(shop.app.state.room.parts.store.every(Kind.MATERIAL, SHOP)[0].id)
        if place[1] == "name":
            return str(shop.app.state.room.parts.store.backups()[0].name)
        return {"table": "boards", "stamp": "x", "slot": "0", "content": "x"}[place[1]]

    return re.sub(r"\{(\w+)(?::\w+)?\}", filled, path)
