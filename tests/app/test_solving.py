"""When the search for one plan is left."""

from __future__ import annotations

from itertools import count

import pytest

from fourply.app.solving import Flat, FlatSolved, solve
from fourply.planning.budget import Budget
from fourply.planning.plan import Plan
from fourply.planning.problem import Piece, Problem, Stock

PROBLEM = Problem(
    pieces=tuple(Piece(key=f"{n}", w=31 + 7 * n % 40, h=27 + 11 * n % 50, copies=2) for n in range(12)),
    stock=(Stock(key="s", w=80, h=100, cost=1037), Stock(key="t", w=100, h=150, cost=2091)),
)


def planned(enough: float, seconds: float) -> Plan:
    """Plan with a clock that shows a second more each time it is looked at."""
    ticks = count()
    budget = Budget(steps=60, seconds=seconds, clock=lambda: float(next(ticks)))
    solved = solve(Flat(PROBLEM, budget, enough), lambda *_: True)
    assert isinstance(solved, FlatSolved)
    return solved.plan


@pytest.mark.parametrize("seconds", [30.0, 50.0])
def test_a_plan_with_a_small_gap_is_left_when_half_of_its_time_is_over(seconds: float) -> None:
    assert planned(0.5, seconds).steps < planned(0.0, seconds).steps


def test_before_that_the_search_goes_on_whatever_the_gap() -> None:
    assert planned(0.5, 10_000.0).steps == planned(0.0, 10_000.0).steps


def test_a_gap_that_is_larger_is_searched_on() -> None:
    searched = planned(0.0, 30.0)
    assert searched.gap > 0.001
    assert planned(0.001, 30.0).steps > planned(0.5, 30.0).steps
