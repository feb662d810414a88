"""The area bound is exact arithmetic and never above a plan."""

from __future__ import annotations

from hypothesis import given
from tests.planning.cases import problems

from fourply.planning.bounds import area_bound
from fourply.planning.budget import Budget
from fourply.planning.guillotine import plan_greedily
from fourply.planning.problem import Fixed, Kind, Locked, Piece, Problem, Rect, Stock

SHEET = Stock(key="s", w=100, h=100, cost=10)


@given(problems(6))
def test_no_plan_is_below_the_bound(problem: Problem) -> None:
    assert area_bound(problem) <= plan_greedily(problem, Budget(steps=2)).cost


def test_limited_stock_is_counted_once() -> None:
    offcut = Stock(key="r", w=50, h=100, cost=1, kind=Kind.RACK, copies=1)
    problem = Problem(pieces=(Piece(key="a", w=50, h=100, copies=3),), stock=(SHEET, offcut))
    assert area_bound(problem) == 1 + 10


def test_a_fallout_counts_at_its_largest() -> None:
    big = Piece(key="a", w=100, h=100, fallouts=(Rect(50, 50), Rect(20, 90)))
    problem = Problem(pieces=(big, Piece(key="b", w=50, h=50)), stock=(SHEET,), fallout_cost=1)
    assert area_bound(problem) == 1 + 10


def test_a_locked_board_is_paid_in_full() -> None:
    locked = Locked("s", (Fixed("a", 0, 0),))
    assert area_bound(Problem(pieces=(Piece(key="a", w=10, h=10),), stock=(SHEET,), locked=(locked,))) == 10
