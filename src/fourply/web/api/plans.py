"""Cutting plans: made as long work, accepted, cut, their papers made again."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Response
from pydantic import Field

from fourply.app import keep
from fourply.app.keep_plans import accept_plan, cut_plan, plan_document, rename_plan
from fourply.app.planning_kept import PlanWish
from fourply.app.ports_store import Kind
from fourply.web.api.asking import CHANGING, CREATING, USUAL, AtDesk, Expected, Ident, Reading, Strict, problems
from fourply.web.api.jobs import begun
from fourply.web.api.records import Copy, given
from fourply.web.api.shapes import answers
from fourply.web.api.works import OnPaper
from fourply.web.planning import begin_papers, begin_plan
from fourply.web.room import InRoom

router = APIRouter(tags=["plans"])
_ANSWER = answers("PlanRecord", version=True)


class Wish(Strict):
    """How a show is to be planned: what the proposal is called, how long to look, on what paper to print."""

    name: Annotated[str, Field(min_length=1, max_length=200)] = "plan"
    steps: Annotated[int, Field(ge=1, le=10_000_000)] | None = Field(None, description="Repeats exactly.")
    seconds: Annotated[float, Field(ge=0, le=3600, allow_inf_nan=False)] | None = None
    paper: OnPaper = None
    cutter: Ident | None = Field(None, description="The cutter that mats are cut on; a nominal one without it.")


@router.post(
    "/shows/{ident}/plans",
    status_code=202,
    responses=answers("Job", 202) | problems(409),
    operation_id="plan_shows",
    tags=["shows"],
)
def plan(desk: AtDesk, room: InRoom, ident: Ident, wish: Wish) -> Response:
    """Plan what is cut from what, as long work: its files are all for the bench, its plan is kept as proposed."""
    return begun(begin_plan(room, desk, ident, PlanWish(wish.name, wish.paper, wish.cutter), wish.steps, wish.seconds))


class Print(Strict):
    """On what paper to print; that of the show without one."""

    paper: OnPaper = None


@router.post(
    "/plans/{ident}/papers", status_code=202, responses=answers("Job", 202) | problems(409), operation_id="print_plans"
)
def papers(desk: AtDesk, room: InRoom, ident: Ident, wish: Print) -> Response:
    """Make all files of a plan again as they were, as long work without planning.

    The job fails as `plan-outgrown` where the show is cut otherwise by now.
    """
    return begun(begin_papers(room, desk, ident, wish.paper))


@router.post("/plans/{ident}/accept", responses=_ANSWER | CHANGING, operation_id="accept_plans")
def accept(desk: AtDesk, ident: Ident, expected: Expected) -> Response:
    """Accept a plan: what it pulls from the rack is promised to it. Another that was accepted is a proposal again."""
    return given(accept_plan(desk, ident, expected))


@router.post("/plans/{ident}/cut", responses=_ANSWER | CHANGING, operation_id="cut_plans")
def cut(desk: AtDesk, ident: Ident, expected: Expected) -> Response:
    """Say that an accepted plan is cut: what it pulled leaves the rack, what is worth keeping goes into it."""
    return given(cut_plan(desk, ident, expected))


class Name(Strict):
    """What a plan is to be called."""

    name: Annotated[str, Field(min_length=1, max_length=200)]


@router.put("/plans/{ident}/name", responses=_ANSWER | CHANGING, operation_id="rename_plans")
def name(desk: AtDesk, ident: Ident, expected: Expected, new: Name) -> Response:
    """Call a plan something else; nothing else of it ever changes by hand."""
    return given(rename_plan(desk, ident, new.name, expected))


@router.post(
    "/plans/{ident}/copy",
    status_code=201,
    responses=answers("PlanRecord", 201, version=True) | CREATING,
    operation_id="copy_plans",
)
def copy(desk: AtDesk, ident: Ident, wish: Copy) -> Response:
    """Keep a copy of a plan under another name, as a proposal."""
    keep.read(desk, ident, Kind.PLAN)
    return given(keep.copy(desk, ident, wish.name), 201, "/api/v1/plans")


@router.get(
    "/plans/{ident}/document",
    responses={
        200: {"description": "plan.json", "content": {"application/json": {"schema": {"type": "object"}}}},
        **USUAL,
    },
    operation_id="read_plan_file",
)
def document(desk: Reading, ident: Ident) -> Response:
    """Return the plan itself, as `plan.json` has it."""
    return Response(plan_document(desk, ident), media_type="application/json")
