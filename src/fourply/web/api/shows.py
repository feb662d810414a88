"""Shows: how they come out, what they may use, lists brought into them, what they come to."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Annotated

from fastapi import APIRouter, Query, Response
from pydantic import Field

from fourply.app import drawn, keep, ports_store
from fourply.app.cutters import kept_cutter
from fourply.app.keep_shows import parts_of
from fourply.app.keep_works import Asked, keep_list, recognise_list
from fourply.app.ports import Progress, silent
from fourply.app.ports_store import Kind
from fourply.app.reading import asked_for
from fourply.app.shop_json import materials_json, overview_json, put_right, recognised_json
from fourply.errors import BadInput
from fourply.web.answering import JsonAnswer
from fourply.web.api.asking import USUAL, AtDesk, Ident, Reading, problems
from fourply.web.api.files import BODY, Data, InOrder, InUnit, Later, Name
from fourply.web.api.jobs import begun
from fourply.web.api.shapes import answers
from fourply.web.api.works import PDF, OnCutter, OnPaper, a_file
from fourply.web.jobs import Job
from fourply.web.room import InRoom, Room

router = APIRouter(tags=["shows"])
_AT_ONCE = 100
"""How many tickets are printed while somebody waits."""


@router.get("/shows/{ident}/overview", responses=answers("Overview") | USUAL, operation_id="overview_of_shows")
def overview(
    desk: Reading,
    room: InRoom,
    ident: Ident,
    after: Annotated[str, Query(max_length=2000, description="Where the page begins: `next` of the page before.")] = "",
    limit: Annotated[int, Query(ge=1, le=200)] = 50,
) -> Response:
    """Return how the works of a show come out, a page of them: size, findings, or why it cannot be made."""
    page = keep.find(
        desk, ports_store.Query(Kind.WORK, keep.show_head(desk, ident).record.id, after=after, limit=limit)
    )
    opened = room.live.several(desk, ident, page.items)
    return JsonAnswer({**overview_json(opened), "total": page.total, "next": page.next})


@router.get("/shows/{ident}/materials", responses=answers("Materials") | USUAL, operation_id="materials_of_shows")
def materials(desk: Reading, ident: Ident) -> Response:
    """Return everything that a show may use: the starter set, the shop's over it, its own over both."""
    return JsonAnswer(materials_json(parts_of(desk, ident).rules.materials))


@router.get(
    "/shows/{ident}/tickets.pdf",
    responses=a_file(PDF) | answers("Job", 202) | problems(409),
    operation_id="print_tickets",
)
def tickets(  # noqa: PLR0917 (each is a part of the address)
    desk: Reading, room: InRoom, later: Later, ident: Ident, paper: OnPaper = None, cutter: OnCutter = None
) -> Response:
    """Return the tickets of every work, with what can be said before anything is planned.

    Those of more than a hundred works are long work: with `Prefer: respond-async` the answer is a job, whose file
    `tickets.pdf` they are.
    """
    works = desk.store.every(Kind.WORK, keep.show_head(desk, ident).record.id)
    if not later and len(works) > _AT_ONCE:
        raise BadInput(f"{len(works)} works", f"at most {_AT_ONCE} in one answer; more with Prefer: respond-async")
    on = kept_cutter(desk, cutter)

    def printed(progress: Progress = silent) -> bytes:
        opened = room.live.several(desk, ident, works, on)
        if not opened.packages:
            raise BadInput(opened.show.title, "a show with at least one work that can be made")
        return drawn.tickets(opened, replace(drawn.papers_of(opened, paper), cutter=on), progress)

    if not later:
        return Response(printed(), media_type=PDF)
    job = Job("print tickets", ident)

    def work(progress: Progress) -> dict[str, object]:
        job.files = {"tickets.pdf": printed(progress)}
        return {}

    return began(room, job, work)


# ── lists, in two steps ──────────────────────────────────────────────────────────────────────────────────────────


def _asked(  # noqa: PLR0917 (each is a part of the address)
    desk: keep.Desk, show: str, unit: InUnit, order: InOrder, columns: tuple[str, ...], header_row: int
) -> Asked | None:
    """Return what is asked of a list; None where the show's own unit and order hold for all of it."""
    head = keep.show_head(desk, show).show
    if unit is None and order is None and not columns:
        return None
    said = asked_for(unit, order)
    return put_right(Asked(said.unit or head.unit, said.order or head.order), columns, header_row)


type Columns = Annotated[
    tuple[Annotated[str, Field(max_length=100)], ...],
    Query(alias="column", max_length=200, description="What each column is: KEY, KEY|UNIT or KEY|UNIT|ORDER."),
]
type HeaderRow = Annotated[int, Query(ge=0, le=100_000, description="The row above the first work.")]


@router.post(
    "/shows/{ident}/lists/read", responses=answers("Recognised") | USUAL, openapi_extra=BODY, operation_id="read_lists"
)
def read_list(  # noqa: PLR0917 (each is a part of the address)
    desk: Reading,
    ident: Ident,
    data: Data,
    file: Name = "list.csv",
    unit: InUnit = None,
    order: InOrder = None,
    columns: Columns = (),
    header_row: HeaderRow = 0,
) -> Response:
    """Return how a list of works (CSV, XLSX) is understood, to be put right; nothing is kept."""
    asked = _asked(desk, ident, unit, order, columns, header_row)
    return JsonAnswer(recognised_json(recognise_list(desk, ident, file, data, asked)))


@router.post(
    "/shows/{ident}/lists/keep",
    status_code=201,
    responses=answers("Kept", 201) | answers("Job", 202) | problems(409),
    openapi_extra=BODY,
    operation_id="keep_lists",
)
def keep_it(  # noqa: PLR0917 (each is a part of the address)
    desk: AtDesk,
    room: InRoom,
    later: Later,
    ident: Ident,
    data: Data,
    file: Name = "list.csv",
    unit: InUnit = None,
    order: InOrder = None,
    columns: Columns = (),
    header_row: HeaderRow = 0,
) -> Response:
    """Keep the works of a list, after those that the show has; rows with faults are left out.

    With `Prefer: respond-async` the answer is a job, whose stream tells how many rows are read.
    """
    asked = _asked(desk, ident, unit, order, columns, header_row)

    def work(progress: Progress | None = None) -> dict[str, object]:
        telling = {} if progress is None else {"progress": progress}
        kept = keep_list(desk, ident, file, data, asked, **telling)
        return {"kept": len(kept)}

    if later:
        return began(room, Job("keep a list", ident), work)
    return JsonAnswer(work(), 201)


def began(room: Room, job: Job, work: Callable[[Progress], dict[str, object]]) -> Response:
    """Begin long work, and return the answer that names it."""
    return begun(room.jobs.start(job, work))
