"""A show as a wall: every work in its frame on base lines at one scale; several changed at once; papers."""

from __future__ import annotations

import re
from collections.abc import Sequence

from fastapi import Request
from starlette.datastructures import FormData
from starlette.responses import Response

from fourply.app import drawn, editing, keep, keep_new, wall_totals
from fourply.app.ports_store import Kind, Record
from fourply.app.walls import Hung
from fourply.errors import FourplyError, Stale
from fourply.web.answering import JsonAnswer
from fourply.web.pages.frame import AtDesk, In, Key, Sent, Strip, page, seen, strip_html, text, version_said
from fourply.web.pages.routing import pages
from fourply.web.room import InRoom

router = pages()
AT_ONCE = 60
ABOUT = "measured, designed, cut, framed, hung: one stroke each"
_YEAR = "private, max-age=31536000, immutable"


@router.get("/shows/{show}")
def wall(request: Request, desk: AtDesk, room: InRoom, show: str) -> Response:
    """Show the wall: its first works at once, the others as they come into sight."""
    head = keep.show_head(desk, show)
    records = room.walls.works(desk, show)
    shown = room.walls.show(desk, show)
    keys = (Key("T", "table", f"/shows/{show}/table"), Key("X", "select"), Key("N", "new work", "#new-size"))
    return page(
        request,
        "wall.html",
        strip=Strip(wall_totals.SCALE, ABOUT, keys, show),
        show=In(show, head.show.title, "wall"),
        record=head.record,
        works=_hanging(room.walls.hung(desk, show, records[:AT_ONCE])),
        total=len(records),
        after=AT_ONCE if len(records) > AT_ONCE else 0,
        ticks=wall_totals.ticks(metric=head.show.unit.is_metric),
        treatments=room.walls.treatments(desk, show),
        mouldings=sorted(shown.materials.mouldings),
        size_hint="9 x 12" if not head.show.unit.is_metric else "230 x 300 mm",
        said={},
        fault={},
    )


@router.get("/shows/{show}/wall")
def more(request: Request, desk: AtDesk, room: InRoom, show: str, after: int = 0) -> Response:
    """Show the next works of a wall: a part of its page."""
    records = room.walls.works(desk, show)
    after = max(0, after)
    works = _hanging(room.walls.hung(desk, show, records[after : after + AT_ONCE]))
    end = after + AT_ONCE
    following = end if end < len(records) else 0
    return page(request, "_works.html", strip=Strip(), works=works, after=following, show=In(show, ""), first=False)


def _hanging(works: Sequence[Hung]) -> Sequence[Hung]:
    """Return the works that hang by themselves: what lies in the mat of another is seen there."""
    return [each for each in works if not each.inside or each.why]


@router.get("/shows/{show}/totals")
def totals(request: Request, desk: AtDesk, room: InRoom, show: str) -> Response:
    """Show what the whole wall comes to: a part of its page."""
    found = wall_totals.totals(room.walls.packages(desk, show), room.walls.show(desk, show))
    return page(request, "_totals.html", strip=Strip(), totals=found)


@router.get("/works/{work}/{stamp}.svg")
def preview(desk: AtDesk, room: InRoom, work: str, stamp: str) -> Response:
    """Show a work in its frame; an address goes by the content, so an answer holds for ever."""
    drawing = room.walls.preview(desk, keep.read(desk, work, Kind.WORK))
    lasting = _YEAR if len(stamp) > 8 else "no-cache"
    return Response(drawing, media_type="image/svg+xml", headers={"Cache-Control": lasting})


@router.post("/shows/{show}/works")
def new(desk: AtDesk, show: str, sent: Sent) -> Response:
    """Keep a work that was typed."""
    given = {name: text(sent, name) for name in ("id", "title", "size", "treatment") if text(sent, name)}
    head = keep.show_head(desk, show)
    try:
        given = {"id": wall_totals.free_number(desk, show), **_sides(given, stated=head.show.order is not None)}
        record = keep_new.new_typed(desk, show, keep_new.Typed(given))
    except FourplyError as bad:
        return JsonAnswer({"says": str(bad)}, 422)
    return JsonAnswer({"to": f"/shows/{show}#w-{record.id}"})


def _sides(given: dict[str, str], *, stated: bool) -> dict[str, str]:
    """Return what was typed with a pair as width and height, as the field asks for it, unless the show has an order."""
    pair = re.fullmatch(r"\s*(.+?)\s*[x×]\s*(.+?)\s*", given.get("size", ""))
    if stated or pair is None:
        return given
    unit = re.search(r"[a-z\"]+\s*$", pair[2])
    width = f"{pair[1]} {unit[0]}" if unit and not re.search(r"[a-z\"]\s*$", pair[1]) else pair[1]
    return {**{key: value for key, value in given.items() if key != "size"}, "width": width, "height": pair[2]}


@router.post("/shows/{show}/treat")
def treat(request: Request, desk: AtDesk, show: str, sent: Sent) -> Response:
    """Change several works at once, as one entry of the history."""
    back = f"/shows/{show}"
    try:
        done = editing.change_many(desk, show, _chosen(sent), _wish(sent))
        says, status = f"{len(done)} work{'' if len(done) == 1 else 's'} changed", 200
    except Stale:
        says, status = "One of them was changed meanwhile, so none is changed. They are shown as they are now.", 409
    except FourplyError as bad:
        says, status = str(bad), 422
    if "application/json" in request.headers.get("accept", ""):
        return JsonAnswer({"says": says, "strip": strip_html(request, desk, show, back)}, status)
    return seen(back, says)


def _chosen(sent: FormData) -> Sequence[tuple[str, int]]:
    """Return the works that were selected, each with the version that was seen."""
    found = (str(each).partition(":") for each in sent.getlist("work"))
    return [(record, version_said(seen)) for record, _, seen in found if version_said(seen)]


def _wish(sent: FormData) -> editing.Wish:
    treatment, moulding, state = (text(sent, name, "=") for name in ("treatment", "moulding", "state"))
    rules = {} if moulding in {"", "="} else {"moulding": moulding}
    return editing.Wish(None if treatment == "=" else treatment, rules, None if state in {"", "="} else state)


@router.get("/shows/{show}/tickets.pdf")
def tickets(desk: AtDesk, room: InRoom, show: str, work: str = "") -> Response:
    """Give the tickets of a show, or of some of its works by their records with commas between."""
    head = keep.show_head(desk, show)
    numbers = [_number(keep.read(desk, each, Kind.WORK)) for each in work.split(",") if each][:200]
    opened = wall_totals.opened(room.walls.show(desk, show), room.walls.packages(desk, show, numbers))
    printed = drawn.tickets(opened, drawn.papers_of(opened))
    name = re.sub(r"[^\w.-]+", "-", head.show.title.encode("ascii", "ignore").decode()).strip("-") or "show"
    return Response(
        printed,
        media_type="application/pdf",
        headers={"Content-Disposition": f'attachment; filename="{name[:60]}-tickets.pdf"'},
    )


def _number(record: Record) -> str:
    return wall_totals.number_of(record)
