"""The greedy planner always finishes and keeps every rule."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from hypothesis import given
from tests.planning.cases import problems

from fourply.errors import BadInput, CannotHonour
from fourply.planning.budget import Budget
from fourply.planning.guillotine import plan_greedily
from fourply.planning.plan import Plan
from fourply.planning.problem import Box, Cutter, Fixed, Kind, Locked, Piece, Problem, Rect, Stock
from fourply.planning.referee import check

SHEET = Stock(key="s", w=100, h=80, cost=50)


def planned(problem: Problem, steps: int = 16) -> Plan:
    plan = plan_greedily(problem, Budget(steps=steps))
    check(problem, plan)
    return plan


@given(problems(8))
def test_every_plan_passes_the_referee(problem: Problem) -> None:
    planned(problem, 4)


@given(problems(5, plain=True))
def test_more_steps_never_cost_more(problem: Problem) -> None:
    assert planned(problem, 16).cost <= planned(problem, 2).cost


def test_the_same_problem_gives_the_same_plan() -> None:
    rng = random.Random(7)  # noqa: S311 — made-up sizes
    sizes = [(rng.randrange(10, 50), rng.randrange(10, 50)) for _ in range(40)]
    problem = Problem(pieces=tuple(Piece(key=str(i), w=w, h=h) for i, (w, h) in enumerate(sizes)), stock=(SHEET,))
    assert planned(problem) == planned(problem)


def test_a_thousand_pieces_are_planned() -> None:
    rng = random.Random(1)  # noqa: S311 — made-up sizes
    sizes = [(rng.randrange(8, 60), rng.randrange(8, 60)) for _ in range(1000)]
    pieces = tuple(
        Piece(key=str(i), w=w, h=h, fallouts=(Rect(w * 2 // 3, h * 2 // 3),)) for i, (w, h) in enumerate(sizes)
    )
    plan = planned(Problem(pieces=pieces, stock=(SHEET,), fallout_cost=1), 1)
    assert plan.cost < 2 * plan.lower_bound


def test_a_fallout_saves_the_second_sheet() -> None:
    big = Piece(key="a", w=90, h=70, fallouts=(Rect(60, 40),))
    problem = Problem(pieces=(big, Piece(key="b", w=50, h=40)), stock=(SHEET,), fallout_cost=2)
    assert planned(problem).cost == 52


def test_either_rectangle_of_a_fallout_may_be_used() -> None:
    arch = Piece(key="a", w=90, h=70, fallouts=(Rect(60, 20), Rect(30, 60)))
    for w, h in ((60, 20), (30, 60)):
        problem = Problem(pieces=(arch, Piece(key="b", w=w, h=h)), stock=(SHEET,), fallout_cost=2, oriented=True)
        assert planned(problem).cost == 52


def test_four_to_a_sheet_fail_once_the_edge_is_trimmed() -> None:
    # trade.md 1.6: four 16x20 from one 32x40 with no waste; with a trim strip it fails
    problem = Problem(pieces=(Piece(key="a", w=16, h=20, copies=4),), stock=(Stock(key="s", w=32, h=40, cost=1),))
    assert planned(problem).cost == 1
    assert planned(replace(problem, cutter=Cutter(trim=1))).cost > 1


def test_a_locked_board_is_kept_and_filled() -> None:
    locked = Locked("s", (Fixed("a", 30, 20),))
    pieces = (Piece(key="a", w=40, h=40), Piece(key="b", w=30, h=80))
    plan = planned(Problem(pieces=pieces, stock=(SHEET,), locked=(locked,)))
    assert plan.cost == 50


def test_a_lot_is_kept_on_one_board() -> None:
    pieces = (Piece(key="a", w=60, h=50, lot="x"), Piece(key="b", w=90, h=70), Piece(key="c", w=40, h=40, lot="x"))
    planned(Problem(pieces=pieces, stock=(SHEET,)))


def test_damage_is_cut_around() -> None:
    scarred = replace(SHEET, zones=(Box(40, 0, 20, 80),))
    plan = planned(Problem(pieces=(Piece(key="a", w=40, h=80, copies=2),), stock=(scarred,)))
    assert plan.cost == 50


REFUSED = {
    "a piece larger than every board": Problem(pieces=(Piece(key="a", w=101, h=81),), stock=(SHEET,)),
    "a piece that would have to be turned": Problem(
        pieces=(Piece(key="a", w=80, h=100),), stock=(SHEET,), oriented=True
    ),
    "stock that does not suffice": Problem(
        pieces=(Piece(key="a", w=100, h=80, copies=2),), stock=(replace(SHEET, kind=Kind.RACK, copies=1),)
    ),
}


@pytest.mark.parametrize("problem", REFUSED.values(), ids=REFUSED.keys())
def test_what_no_stock_can_hold_is_refused(problem: Problem) -> None:
    with pytest.raises(BadInput):
        planned(problem)


def test_a_lot_too_large_for_one_board_is_refused() -> None:
    with pytest.raises(CannotHonour):
        planned(Problem(pieces=(Piece(key="a", w=100, h=80, copies=2, lot="x"),), stock=(SHEET,)))


def test_fixed_pieces_that_no_cut_separates_are_refused() -> None:
    pinwheel = ((0, 0, 60, 20), (60, 0, 20, 60), (20, 60, 60, 20), (0, 20, 20, 60))
    pieces = tuple(Piece(key=str(i), w=w, h=h) for i, (_, _, w, h) in enumerate(pinwheel))
    fixed = tuple(Fixed(str(i), x, y) for i, (x, y, _, _) in enumerate(pinwheel))
    with pytest.raises(CannotHonour):
        planned(Problem(pieces=pieces, stock=(SHEET,), locked=(Locked("s", fixed),)))
