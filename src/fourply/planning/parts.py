"""A plan at once for a large job: pieces are dealt into parts of like mixture, each is planned greedily, and joined.

A greedy plan takes time with the square of its pieces, and a part loses about a sheet; parts keep the wait short.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from fourply.errors import BadInput
from fourply.planning.budget import Budget, Progress
from fourply.planning.guillotine import plan_greedily
from fourply.planning.plan import Board, Plan
from fourply.planning.problem import Piece, Problem, Stock
from fourply.planning.slots import cost_of, in_order

PART = 500


def plan_at_once(problem: Problem, budget: Budget, progress: Progress | None = None) -> Plan:
    """Return a greedy plan, of the whole where it is small or held together by lots or locked boards.

    Raises BadInput as the greedy planner does.
    """
    whole = bool(problem.locked) or any(p.lot is not None for p in problem.pieces)
    if whole or problem.demand <= PART:
        return plan_greedily(problem, budget, progress)
    return plan_greedily_in_parts(problem)


def plan_greedily_in_parts(problem: Problem) -> Plan:
    """Return the joined greedy plans of all parts, or that of the whole where the stock cannot be dealt out.

    Not for problems with lots or locked boards. Raises BadInput as the greedy planner does.
    """
    boards: list[Board] = []
    for part in dealt(problem):
        try:
            boards += plan_greedily(part, Budget(steps=1)).boards
        except BadInput:
            return plan_greedily(problem, Budget(steps=1))
    cost = cost_of(problem, boards)
    return Plan(in_order(problem, boards), cost, 0, "guillotine", 1)


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
