"""A work's treatment taken further: copied to other works, or given a name."""

from __future__ import annotations

from fastapi import Request
from starlette.responses import Response

from fourply.app import copying, keep
from fourply.app.ports_store import Kind
from fourply.errors import FourplyError, Stale
from fourply.web.pages.frame import AtDesk, In, Key, Sent, Strip, design_of, page, seen, text, version_in, version_said
from fourply.web.pages.routing import pages

router = pages()
_ELSEWHERE = "One of them was changed elsewhere meanwhile; nothing is copied. Look again."


@router.get("/works/{work}/copy")
def choose(request: Request, desk: AtDesk, work: str) -> Response:
    """Show the works that a treatment can be copied to, with how they are treated now."""
    return _shown(request, desk, work)


def _shown(request: Request, desk: keep.Desk, work: str, wrong: str = "", name: str = "") -> Response:
    record = keep.read(desk, work, Kind.WORK)
    head = keep.show_head(desk, record.scope)
    listed = copying.kept_work(record).listed
    return page(
        request,
        "copy.html",
        strip=Strip(scope=record.scope, keys=(Key("E", "back to the design", design_of(request, work)),)),
        show=In(record.scope, head.show.title, "design"),
        record=record,
        listed=listed,
        own=[key.replace("_", " ") for key in listed.own.values],
        others=copying.others(desk, work),
        wrong=wrong,
        name=name,
        status=422 if wrong else 200,
    )


@router.post("/works/{work}/copy")
def copy(request: Request, desk: AtDesk, work: str, sent: Sent) -> Response:
    """Copy the treatment to the works that were chosen."""
    chosen = [str(each).partition(":") for each in sent.getlist("work")]
    to = [(ident, version_said(seen)) for ident, _, seen in chosen if version_said(seen)]
    try:
        records = copying.copy_treatment(desk, work, to, own=text(sent, "own") == "yes")
    except FourplyError as bad:
        return _shown(request, desk, work, _ELSEWHERE if isinstance(bad, Stale) else str(bad))
    return seen(f"/shows/{records[0].scope}")


@router.post("/works/{work}/name")
def name(request: Request, desk: AtDesk, work: str, sent: Sent) -> Response:
    """Make what the work says itself a treatment with a name."""
    try:
        copying.name_treatment(desk, work, text(sent, "name"), version_in(sent))
    except FourplyError as bad:
        said = _ELSEWHERE if isinstance(bad, Stale) else str(bad)
        return _shown(request, desk, work, said, text(sent, "name"))
    return seen(design_of(request, work))
