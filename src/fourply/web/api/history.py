"""What was done: the history, undo and redo, and a stream of what others do."""

from __future__ import annotations

import json
from collections.abc import AsyncIterator
from typing import Annotated, Any

from fastapi import APIRouter, Header, Path, Query, Response
from starlette.responses import StreamingResponse

from fourply.app import keep
from fourply.app.documents import changes_json, entry_json, record_json
from fourply.app.ports_store import Done, Undoable
from fourply.errors import FourplyError
from fourply.web.answering import JsonAnswer
from fourply.web.api.asking import CHANGING, USUAL, AtDesk, Expected, Ident, Reading
from fourply.web.api.shapes import answers
from fourply.web.problems import problem_of
from fourply.web.room import InRoom

router = APIRouter(tags=["history"])
STREAM: dict[int | str, dict[str, Any]] = {
    200: {"description": "A stream of events", "content": {"text/event-stream": {"schema": {"type": "string"}}}}
}
_MOST = 2**31 - 1


def event(name: str, data: object, ident: int | None = None) -> str:
    r"""Return one event of a stream (server-sent events, HTML Living Standard).

    >>> event("entry", {"seq": 3}, 3)
    'event: entry\nid: 3\ndata: {"seq": 3}\n\n'
    """
    number = "" if ident is None else f"id: {ident}\n"
    return f"event: {name}\n{number}data: {json.dumps(data)}\n\n"


def stream(events: AsyncIterator[str]) -> Response:
    """Return the answer that goes on."""
    return StreamingResponse(events, media_type="text/event-stream", headers={"Cache-Control": "no-store"})


@router.get("/history", responses=answers("EntryPage") | USUAL, operation_id="list_history")
def history(
    desk: Reading,
    scope: Annotated[Ident | None, Query(description="Only of this show by its id, or of the shop (`shop`).")] = None,
    before: Annotated[int | None, Query(ge=1, le=_MOST, description="`next` of the page before.")] = None,
    limit: Annotated[int, Query(ge=1, le=500)] = 50,
) -> Response:
    """Return what was done, the last first."""
    page = desk.store.history(scope, before=before, limit=limit)
    items = [entry_json(each) for each in page.items]
    return JsonAnswer({"items": items, "total": page.total, "next": page.next})


@router.get("/history/{seq}", responses=answers("ChangePage") | USUAL, operation_id="read_history")
def changes(
    desk: Reading,
    seq: Annotated[int, Path(ge=1, le=_MOST)],
    after: Annotated[int | None, Query(ge=0, le=_MOST, description="`next` of the page before.")] = None,
    limit: Annotated[int, Query(ge=1, le=500)] = 50,
) -> Response:
    """Return what one entry of the history did, record by record."""
    return JsonAnswer(changes_json(desk.store.changes(seq, after=after, limit=limit)))


@router.get(
    "/scopes/{scope}/undoable", responses=answers("Undoable", version=True) | USUAL, operation_id="read_undoable"
)
def undoable(desk: Reading, scope: Ident) -> Response:
    """Return what undo would take back and redo would bring back, in a show or in the shop (`shop`)."""
    found = desk.store.undoable(scope)
    return JsonAnswer(_undoable(found), headers={"ETag": f'"{found.last}"'})


def _undoable(found: Undoable) -> dict[str, object]:
    undo, redo = (None if each is None else entry_json(each) for each in (found.undo, found.redo))
    return {"last": found.last, "undo": undo, "redo": redo}


def done_json(done: Done) -> dict[str, object]:
    """Return what a change came to as JSON."""
    return {
        "entry": entry_json(done.entry),
        "repeated": done.repeated,
        "records": [record_json(each) for each in done.records],
    }


@router.post("/scopes/{scope}/undo", responses=answers("Done") | CHANGING, operation_id="undo")
def undo(desk: AtDesk, scope: Ident, last: Expected) -> Response:
    """Take back the last change of a show, or of the shop (`shop`), that stands; `If-Match` is its last entry."""
    return JsonAnswer(done_json(keep.undo(desk, scope, last)))


@router.post("/scopes/{scope}/redo", responses=answers("Done") | CHANGING, operation_id="redo")
def redo(desk: AtDesk, scope: Ident, last: Expected) -> Response:
    """Bring back the last change that was taken back; `If-Match` is the last entry of the scope."""
    return JsonAnswer(done_json(keep.redo(desk, scope, last)))


@router.get("/events", responses=STREAM | USUAL, operation_id="follow_changes")
async def events(
    room: InRoom,
    after: Annotated[
        int | None, Query(ge=0, le=_MOST, description="Begin after this entry; else with what is new.")
    ] = None,
    last: Annotated[str, Header(alias="Last-Event-ID", max_length=20)] = "",
) -> Response:
    """Follow what is done in the shop, by whomever: an event `entry` for each entry of the history."""
    start = min(int(last), _MOST) if last.isdecimal() else after
    return stream(_entries(room, start))


async def _entries(room: InRoom, start: int | None) -> AsyncIterator[str]:
    yield "retry: 1000\n\n"
    try:
        async for entries in room.follower.entries(start):
            yield "".join(event("entry", entry_json(each), each.seq) for each in entries) or ": still here\n\n"
    except FourplyError as bad:
        yield event("problem", problem_of(bad))
