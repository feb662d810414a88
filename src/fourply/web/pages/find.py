"""Search over everything."""

from __future__ import annotations

from fastapi import Request
from starlette.responses import Response

from fourply.app import finding
from fourply.app.ports_store import SHOP, Kind
from fourply.web.pages.frame import AtDesk, Strip, design_of, page
from fourply.web.pages.routing import pages

router = pages()


@router.get("/find")
def find(request: Request, desk: AtDesk, q: str = "") -> Response:
    """Show everything in which every word is found."""
    found = finding.find_all(desk, q)
    return page(request, "find.html", strip=Strip(), here="find", q=q, found=found, at=lambda hit: _at(request, hit))


def _at(request: Request, hit: finding.Hit) -> str:
    """Return where something that was found is shown."""
    record = hit.record
    if record.kind is Kind.SHOW:
        return f"/shows/{record.id}"
    if record.kind is Kind.WORK:
        return design_of(request, record) or f"/shows/{record.scope}/table?at={record.id}#r-{record.id}"
    if record.kind is Kind.MATERIAL and record.scope == SHOP:
        return f"/materials/{record.id}"
    if record.kind is Kind.RACK and record.scope == SHOP:
        return f"/rack?piece={record.id}"
    return "" if record.scope == SHOP else f"/shows/{record.scope}"
