"""One material planned by itself: what is sent to wherever plans are made, so it knows problems and plans alone."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache

from fourply.app.mixing import Mixed, Ways, mixed
from fourply.app.ports import Tell
from fourply.errors import FourplyError
from fourply.planning.boards import plan_boards
from fourply.planning.budget import Budget
from fourply.planning.plan import Plan
from fourply.planning.problem import Piece, Problem
from fourply.planning.stick_problem import StickPlan, StickProblem
from fourply.planning.sticks import plan_sticks

FEW = 12
"""Up to so many pieces a plan needs no compiled loops."""


@dataclass(frozen=True, slots=True)
class Flat:
    """What is to be cut from one kind of board, and how long to look for a plan.

    With a gap of `enough` or less the plan is left as it is when half of its time is over.
    """

    problem: Problem
    budget: Budget
    enough: float = 0.0


@dataclass(frozen=True, slots=True)
class Long:
    """What is to be cut from one kind of stick, how long to look for a plan, what of it may be bought cut to size."""

    problem: StickProblem
    budget: Budget
    ways: Ways | None = None


@dataclass(frozen=True, slots=True)
class FlatSolved:
    """The plan of all pieces that can be cut, and the problem with these pieces alone."""

    problem: Problem
    plan: Plan


def solve(asked: Flat | Long, tell: Tell) -> FlatSolved | StickPlan | Mixed:
    """Return the plan of one material; raises FourplyError where nothing of it can be planned."""
    if isinstance(asked, Long):
        if asked.ways is not None:
            return mixed(asked.problem, asked.ways, asked.budget, tell)
        return plan_sticks(asked.problem, asked.budget, tell)
    if asked.budget.seconds is not None and asked.problem.demand > FEW:
        _load()  # a deadline is for the search, not for loading what searches
    tell = _until_enough(tell, asked)
    try:
        return FlatSolved(asked.problem, plan_boards(asked.problem, asked.budget, tell))
    except FourplyError:
        problem = _without_what_cannot_be_cut(asked.problem)
        return FlatSolved(problem, plan_boards(problem, asked.budget, tell))


def _until_enough(tell: Tell, asked: Flat) -> Tell:
    """Return what also ends the search where it has had half of its time and the gap is small."""
    clock, seconds = asked.budget.clock, asked.budget.seconds
    if not asked.enough or clock is None or seconds is None:
        return tell
    half, now = clock() + seconds / 2, clock

    def told(cost: int, bound: int) -> bool:
        return tell(cost, bound) and (bound < cost * (1 - asked.enough) or now() < half)

    return told


@cache
def _load() -> None:
    """Load the compiled loops of the planner, once a process."""
    from fourply.planning.warm import load  # noqa: PLC0415 (the compiler is loaded only where it is needed)

    load()


def _without_what_cannot_be_cut(problem: Problem) -> Problem:
    """Return the problem with the pieces that can each be cut by themselves; raises the error of the last if none can.

    A piece that lies on a sheet may still have a strip beside it that is too narrow to break.
    """
    fit: list[Piece] = []
    fault: FourplyError | None = None
    for piece in problem.pieces:
        try:
            plan_boards(replace(problem, pieces=(replace(piece, copies=1),)), Budget(steps=1))
        except FourplyError as error:
            fault = error
        else:
            fit.append(piece)
    if fault is not None and not fit:
        raise fault
    return replace(problem, pieces=tuple(fit))
