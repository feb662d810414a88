"""The one way in to board planning: a problem and a budget in, the best plan found in it out.

Which engine answers is decided here and nowhere else.
"""

from __future__ import annotations

from collections.abc import Callable

from fourply.errors import CannotHonour
from fourply.planning.budget import Budget, Progress
from fourply.planning.guillotine import plan_greedily
from fourply.planning.plan import Plan
from fourply.planning.problem import Problem
from fourply.planning.referee import check
from fourply.planning.strong import plan_by_columns

LARGEST = 500
"""Beyond so many different sizes prices must be smooth; greedily where lots or locked boards hold the job together."""


def plan_boards(problem: Problem, budget: Budget, progress: Progress | None = None) -> Plan:
    """Return the best plan found within the budget, passed by the referee.

    `progress` is told (best cost, proved bound) now and then and ends the search by returning False. Raises BadInput
    where a piece fits no stock, CannotHonour where a rule of the problem cannot be kept.

    >>> from fourply.planning.problem import Piece, Stock
    >>> sheet = Stock(key="a", w=100, h=80, cost=5)
    >>> wanted = Problem(pieces=(Piece(key="p", w=50, h=40, copies=4),), stock=(sheet,))
    >>> plan_boards(wanted, Budget(steps=10)).cost
    5
    """
    _check_lots(problem)
    plan = _engine(problem)(problem, budget, progress)
    check(problem, plan)
    return plan


def _engine(problem: Problem) -> Callable[[Problem, Budget, Progress | None], Plan]:
    sizes = {(frozenset((p.w, p.h)) if problem.may_turn(p) else (p.w, p.h), p.lot, p.most) for p in problem.pieces}
    if len(sizes) <= LARGEST:
        return plan_by_columns
    whole = bool(problem.locked) or any(p.lot is not None for p in problem.pieces)
    if whole:
        return plan_greedily
    from fourply.planning.large import plan_large  # noqa: PLC0415 — NumPy, HiGHS and the compiler

    return plan_large


def _check_lots(problem: Problem) -> None:
    lots = {p.key: p.lot for p in problem.pieces}
    if any(lots[fixed.piece] is not None for lock in problem.locked for fixed in lock.fixed):
        wish = "a lot with a piece that is fixed on a locked board"
        raise CannotHonour("board", wish)
