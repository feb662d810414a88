"""The shows of the shop: what is due, how far each has come; new ones, copies, the archive; what is said of one."""

from __future__ import annotations

import time
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated

from fastapi import Query, Request
from pydantic import BaseModel
from starlette.responses import Response

from fourply.app import along, keep, keep_shows, ports_store, show_saying
from fourply.app.ports_store import Kind, Record, Sort
from fourply.app.shelves import TIMES_SMALLER
from fourply.app.walls import Walls
from fourply.errors import FourplyError
from fourply.web.answering import JsonAnswer
from fourply.web.pages.frame import AtDesk, In, Key, Sent, Strip, page, seen, text
from fourply.web.pages.routing import pages
from fourply.web.room import InRoom

router = pages()
_PATIENCE = 0.1  # seconds for progress that is not known yet; what takes longer is asked for by the page
_FEW = 150
_PAGE = 50
SORTS: Mapping[str, tuple[Sort, bool]] = {
    "due": (Sort.DUE, False),
    "title": (Sort.TITLE, False),
    "changed": (Sort.CHANGED, True),
}
ABOUT = f"measured, designed, cut, framed, hung: one stroke each; shelves at 1:{TIMES_SMALLER}"
_NOTHING = b'<svg xmlns="http://www.w3.org/2000/svg" width="1" height="1"/>'


@dataclass(frozen=True, slots=True)
class Line:
    """A show in the list, with how many works it has and how many have come how far (None: not looked at yet)."""

    record: Record
    works: int
    far: Mapping[along.Along, int] | None


class Asked(BaseModel):
    """Which shows are listed."""

    q: str = ""
    sort: str = "due"
    after: str = ""
    archived: bool = False


@router.get("/")
def shows(request: Request, desk: AtDesk, room: InRoom, asked: Annotated[Asked, Query()]) -> Response:
    """Show the list of shows."""
    by, descending = SORTS.get(asked.sort, SORTS["due"])
    query = ports_store.Query(
        Kind.SHOW,
        text=asked.q[:200],
        archived=asked.archived,
        sort=by,
        descending=descending,
        after=asked.after,
        limit=_PAGE,
    )
    found = keep.find(desk, query)
    until = time.monotonic() + _PATIENCE
    lines = [_line(desk, room.walls, each, until) for each in found.items]
    gone = desk.store.find(ports_store.Query(Kind.SHOW, archived=True, limit=1)).total
    return page(
        request,
        "shows.html",
        strip=Strip(about=ABOUT, keys=(Key("N", "new show", "#f-title"), Key("B", "bring in a list", "/bring"))),
        here="shows",
        lines=lines,
        found=found,
        q=asked.q,
        sort=asked.sort if asked.sort in SORTS else "due",
        archived=asked.archived,
        gone=gone,
        said={},
        fault={},
    )


def _line(desk: keep.Desk, of: Walls, record: Record, until: float) -> Line:
    works = desk.store.find(ports_store.Query(Kind.WORK, record.id, limit=1)).total
    patient = works <= _FEW and time.monotonic() < until
    return Line(record, works, of.progress(desk, record.id, only_known=not patient))


@router.get("/shows/{show}/along")
def far(request: Request, desk: AtDesk, room: InRoom, show: str) -> Response:
    """Show how far the works of one show have come: a part of the list."""
    return page(
        request, "_along.html", strip=Strip(), far=room.walls.progress(desk, keep.show_head(desk, show).record.id)
    )


@router.get("/shows/{show}/shelf.svg")
def shelf(request: Request, desk: AtDesk, room: InRoom, show: str) -> Response:
    """Show the first works of a show side by side, as a picture; nothing where none can be made yet."""
    stamp, drawing = room.shelves.shelf(desk, keep.show_head(desk, show).record.id)
    tag = {"ETag": f'"{stamp}"', "Cache-Control": "no-cache"}
    if request.headers.get("if-none-match") == tag["ETag"]:
        return Response(status_code=304, headers=tag)
    return Response(drawing or _NOTHING, media_type="image/svg+xml", headers=tag)


@router.post("/shows")
def new(request: Request, desk: AtDesk, sent: Sent) -> Response:
    """Keep a new show, empty; what cannot be kept is told beside its field."""
    said = {name: text(sent, name) for name in ("title", "client", "due")}
    try:
        record = show_saying.new_show(desk, said)
    except FourplyError as bad:
        return page(
            request, "new_show.html", strip=Strip(), here="shows", said=said, fault=show_saying.placed(bad), status=422
        )
    return seen(f"/shows/{record.id}")


@router.get("/shows/{show}/about")
def about(request: Request, desk: AtDesk, show: str) -> Response:
    """Show what is said of a show as a whole."""
    head = keep.show_head(desk, show)
    return _about(request, desk, head, show_saying.said(head.show), {})


def _about(
    request: Request,
    desk: keep.Desk,
    head: keep.Head,
    said: Mapping[str, str],
    fault: Mapping[str, str],
) -> Response:
    record = head.record
    works = desk.store.find(ports_store.Query(Kind.WORK, record.id, limit=1)).total
    return page(
        request,
        "about.html",
        strip=Strip(scope=record.id),
        show=In(record.id, head.show.title, "about"),
        here="shows",
        record=record,
        said=said,
        fault=fault,
        works=works,
        far=along.progress(desk, record.id, head.show),
        past=desk.store.history(record.id, limit=12).items,
        status=422 if fault else 200,
    )


@router.post("/shows/{show}/about")
def say(request: Request, desk: AtDesk, show: str, sent: Sent) -> Response:
    """Change one thing that is said of a show; a page gets the part that is new, a form its page again."""
    said = {name: text(sent, name) for name in show_saying.FIELDS if name in sent}
    try:
        record = show_saying.say(desk, show, said, int(text(sent, "version", "0") or 0))
    except FourplyError as bad:
        if "application/json" in request.headers.get("accept", ""):
            return JsonAnswer({"says": str(bad)}, 422)
        head = keep.show_head(desk, show)
        return _about(request, desk, head, {**show_saying.said(head.show), **said}, show_saying.placed(bad))
    return seen(f"/shows/{record.id}/about", "Kept.")


@router.post("/shows/{show}/copy")
def copy(desk: AtDesk, show: str, sent: Sent) -> Response:
    """Keep a copy of a show under another title."""
    try:
        record = keep_shows.copy_show(desk, show, text(sent, "title"))
    except FourplyError as bad:
        return seen(f"/shows/{show}/about", str(bad))
    return seen(f"/shows/{record.id}", "This is the copy.")


@router.post("/shows/{show}/archive")
def archive(desk: AtDesk, show: str, sent: Sent) -> Response:
    """Put a show out of the list, or back."""
    wish = text(sent, "archived") == "yes"
    try:
        keep.archive(desk, show, int(text(sent, "version", "0") or 0), archived=wish)
    except FourplyError as bad:
        return seen(f"/shows/{show}/about", str(bad))
    return seen("/" if wish else f"/shows/{show}", "It is in the archive; nothing is lost." if wish else "It is back.")
