"""The one way in to board planning: a problem and a budget in, the best plan found in it out.

Which engine answers is decided here and nowhere else.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from fourply.errors import BadInput, CannotHonour
from fourply.planning.bounds import area_bound
from fourply.planning.budget import Budget, Progress
from fourply.planning.guillotine import plan_greedily
from fourply.planning.plan import Plan
from fourply.planning.problem import Kind, Problem
from fourply.planning.referee import check
from fourply.planning.strong import plan_by_columns
from fourply.planning.supply import offers

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
    told = _Told(progress)
    plan = _engine(problem)(problem, budget, told)
    if not plan.proved and budget.seconds is None and told.going:
        plan = _without_fallouts(problem, budget, told, plan)
    check(problem, plan)
    return plan


class _Told:
    """Passes on what a search tells, and remembers whether it was to go on. With `known` it tells that instead."""

    def __init__(self, progress: Progress | None) -> None:
        self.progress = progress
        self.going = True
        self.known: tuple[int, int] | None = None

    def __call__(self, cost: int, bound: int) -> bool:
        self.going = self.going and (self.progress is None or self.progress(*(self.known or (cost, bound))))
        return self.going


def _without_fallouts(problem: Problem, budget: Budget, told: _Told, plan: Plan) -> Plan:
    """Return the plan, or that which the same steps find without fallouts where it is cheaper.

    Fallouts make a problem larger, so that a short search gets less far; they must never make its plan dearer.
    """
    bare = replace(problem, pieces=tuple(replace(p, fallouts=()) for p in problem.pieces))
    used = any(offer.source.kind is Kind.FALLOUT for offer in offers(problem))
    if not used or plan.cost <= area_bound(bare):
        return plan
    told.known = plan.cost, plan.lower_bound
    try:
        other = _engine(bare)(bare, budget, told)
    except (BadInput, CannotHonour):
        return plan
    return replace(plan, boards=other.boards, cost=other.cost) if other.cost < plan.cost else plan


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
