"""Glass breaks only where a strip can be run."""

from __future__ import annotations

from fourply.planning.boards import plan_boards
from fourply.planning.budget import Budget
from fourply.planning.panes import LEAST_BREAK, sawn, scored
from fourply.planning.problem import Piece, Problem, Stock

INCH = 25_400_000


def panes(*sizes: tuple[int, int]) -> Problem:
    pieces = tuple(Piece(key=str(i), w=w * INCH // 2, h=h * INCH // 2) for i, (w, h) in enumerate(sizes))
    return Problem(pieces=pieces, stock=(Stock(key="s", w=20 * INCH, h=16 * INCH, cost=1),))


def test_one_inch_can_be_run_and_half_an_inch_cannot() -> None:
    # trade.md 7.6: "a strip under about 1 in does not break cleanly"
    assert LEAST_BREAK == INCH
    whole = panes((20, 32), (18, 32))
    close = panes((20, 32), (19, 32))
    assert plan_boards(scored(whole), Budget(steps=50)).cost == 1
    assert plan_boards(close, Budget(steps=50)).cost == 1
    assert plan_boards(scored(close), Budget(steps=50)).cost == 2


def test_a_saw_needs_its_kerf() -> None:
    halves = panes((20, 32), (20, 32))
    assert plan_boards(scored(halves), Budget(steps=50)).cost == 1
    assert plan_boards(sawn(halves, INCH // 8), Budget(steps=50)).cost == 2
