"""A show as a table: searched, sorted, filtered, each cell changed in its place; one entry of the history a change."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated

from fastapi import Query, Request
from pydantic import BaseModel
from starlette.responses import Response

from fourply.app import editing, keep, ports_store, walls
from fourply.app.along import Along
from fourply.app.ports_store import Kind, Sort
from fourply.errors import FourplyError, Stale
from fourply.web.answering import JsonAnswer
from fourply.web.pages.frame import AtDesk, In, Key, Sent, Strip, page, strip_html, text
from fourply.web.pages.routing import pages
from fourply.web.room import InRoom

router = pages()
_PAGE = 100
SORTS: Mapping[str, Sort] = {
    "place": Sort.PLACE,
    "number": Sort.NAME,
    "title": Sort.TITLE,
    "maker": Sort.MAKER,
    "due": Sort.DUE,
    "state": Sort.STATE,
    "changed": Sort.CHANGED,
}
COLUMNS = (
    ("number", "Number", "number"),
    ("title", "Title", "title"),
    ("maker", "Artist", "maker"),
    ("width", "Width", ""),
    ("height", "Height", ""),
    ("copies", "Copies", ""),
    ("treatment", "Treatment", ""),
    ("state", "State", "state"),
    ("due", "Due", "due"),
    ("notes", "Notes", ""),
)
"""The fields of a row: what each is called, and what sorting by it is called ("" where that is not done)."""
_STATES = {"to do": "to do", "cut": "in hand", "framed": "ready", "hung": "delivered"}


class Asked(BaseModel):
    """Which works are listed, and in which order."""

    q: str = ""
    sort: str = "place"
    down: bool = False
    state: str = ""
    after: str = ""
    at: str = ""


@dataclass(frozen=True, slots=True)
class Row:
    """A work in the table: how it hangs, and its fields as a person would type them."""

    hung: walls.Hung
    fields: Mapping[str, str]


@router.get("/shows/{show}/table")
def table(request: Request, desk: AtDesk, room: InRoom, show: str, asked: Annotated[Asked, Query()]) -> Response:
    """Show the table."""
    head = keep.show_head(desk, show)
    found = keep.find(
        desk,
        ports_store.Query(
            Kind.WORK,
            show,
            text=asked.q[:200],
            name=_number(desk, asked.at),
            state=_STATES.get(asked.state, ""),
            sort=SORTS.get(asked.sort, Sort.PLACE),
            descending=asked.down,
            after=asked.after,
            limit=_PAGE,
        ),
    )
    rows = [_row(each, head) for each in room.walls.hung(desk, show, found.items)]
    return page(
        request,
        "table.html",
        strip=Strip(
            about="bare numbers are in the show's unit; 60mm and 2 3/8 in are read too", keys=_keys(show), scope=show
        ),
        show=In(show, head.show.title, "table"),
        unit=head.show.unit.value,
        rows=rows,
        found=found,
        asked=asked,
        columns=COLUMNS,
        treatments=room.walls.treatments(desk, show),
        states=[each.value for each in Along],
        filters=tuple(_STATES),
    )


def _keys(show: str) -> tuple[Key, ...]:
    return (Key("W", "wall", f"/shows/{show}"), Key("Enter", "keep"), Key("Esc", "as it was"))


def _number(desk: keep.Desk, record: str) -> str:
    if not record:
        return ""
    return editing.number(keep.read(desk, record, Kind.WORK))


def _row(hung: walls.Hung, head: keep.Head) -> Row:
    fields = {name: editing.text_of(hung.record, head.show, name) for name, _, _ in COLUMNS}
    return Row(hung, {**fields, "state": hung.along.value})


@router.post("/works/{work}/set")
def change(request: Request, desk: AtDesk, room: InRoom, work: str, sent: Sent) -> Response:
    """Change one field of a work; what cannot be kept is told, with what the field holds."""
    field, typed = text(sent, "field"), text(sent, "value")
    try:
        record = editing.edit_work(desk, work, field, typed, int(text(sent, "version", "0") or 0))
    except Stale:
        now = keep.read(desk, work, Kind.WORK)
        theirs = editing.text_of(now, keep.show_head(desk, now.scope).show, field)
        says = f"it was changed meanwhile, to {theirs or 'nothing'}: Enter again keeps yours"
        return JsonAnswer({"says": says, "version": now.version}, 409)
    except FourplyError as bad:
        return JsonAnswer({"says": str(bad)}, 422)
    head = keep.show_head(desk, record.scope)
    row = _row(room.walls.hung(desk, record.scope, [record])[0], head)
    return JsonAnswer(
        {
            "version": record.version,
            "fields": dict(row.fields),
            "size": row.hung.size,
            "why": row.hung.why,
            "strip": strip_html(request, desk, record.scope, f"/shows/{record.scope}/table"),
        }
    )
