"""Jobs too large for one search: pieces are dealt into parts of like mixture, each is planned, the plans are joined.

What is lost is about a sheet a part; what is won is that each part is small enough to be planned well. The bound is
that of the whole job.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from fourply.errors import BadInput
from fourply.planning.bounds import area_bound
from fourply.planning.budget import Budget, Progress
from fourply.planning.guillotine import plan_greedily
from fourply.planning.pace import Pace
from fourply.planning.plan import Board, Plan
from fourply.planning.problem import Piece, Problem, Stock
from fourply.planning.slots import cost_of, in_order
from fourply.planning.strong import ENGINE, plan_by_columns

PART = 250


def plan_in_parts(problem: Problem, budget: Budget, progress: Progress | None = None) -> Plan:
    """Return the joined plans of all parts, or the greedy plan of the whole where that is cheaper.

    Not for problems with lots or locked boards. Raises BadInput as the other planners do.
    """
    pace = Pace(budget, progress)
    first = plan_greedily(problem, Budget(steps=1))
    floor = area_bound(problem)
    on = pace.tell(first.cost, floor) and pace.spend()
    joined = _joined(problem, pace, (first.cost, floor)) if on else None
    boards = min([first.boards, *([joined] if joined else [])], key=lambda found: cost_of(problem, found))
    cost = cost_of(problem, boards)
    pace.tell(cost, min(cost, floor))
    return Plan(in_order(problem, boards), cost, min(cost, floor), ENGINE, pace.steps, pace.seconds)


def _joined(problem: Problem, pace: Pace, known: tuple[int, int]) -> tuple[Board, ...] | None:
    """Plan the parts one after the other; None where the stock cannot be dealt out so that each part has enough."""
    parts = list(dealt(problem))
    boards: list[Board] = []
    for at, part in enumerate(parts):

        def told(_cost: int, _bound: int) -> bool:
            return pace.progress is None or pace.progress(*known)

        try:
            plan = plan_by_columns(part, _share(pace, len(parts) - at), told if pace.progress else None)
        except BadInput:
            return None
        pace.spend(plan.steps)
        boards += plan.boards
    return tuple(boards)


def _share(pace: Pace, parts: int) -> Budget:
    """Return this part's share of what is left of the budget."""
    steps = None if pace.budget.steps is None else max(1, (pace.budget.steps - pace.steps) // parts)
    seconds = None if pace.left is None else pace.left / parts
    return Budget(steps=steps, seconds=seconds, clock=pace.budget.clock)


def dealt(problem: Problem) -> Iterator[Problem]:
    """Yield the parts: every so many-th piece by size, and a share of what stock is limited."""
    count = -(-problem.demand // PART)
    each = [p for p in sorted(problem.pieces, key=lambda p: -p.w * p.h) for _ in range(p.copies)]
    for at in range(count):
        copies: dict[str, int] = {}
        for piece in each[at::count]:
            copies[piece.key] = copies.get(piece.key, 0) + 1
        pieces: tuple[Piece, ...] = tuple(replace(p, copies=copies[p.key]) for p in problem.pieces if p.key in copies)
        stock = tuple(_dealt_stock(s, (at + turn) % count, count) for turn, s in enumerate(problem.stock))
        yield replace(problem, pieces=pieces, stock=stock)


def _dealt_stock(stock: Stock, at: int, count: int) -> Stock:
    if stock.copies is None:
        return stock
    return replace(stock, copies=stock.copies // count + (at < stock.copies % count))
