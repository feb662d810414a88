"""The strong planner keeps every rule, proves what it says, and finds what exhaustive search finds."""

from __future__ import annotations

import random
import subprocess
import sys
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.planning.cases import broken, problems, ruled
from tests.planning.oracle import cheapest

from fourply.errors import BadInput, CannotHonour
from fourply.planning.boards import plan_boards
from fourply.planning.budget import Budget
from fourply.planning.guillotine import plan_greedily
from fourply.planning.plan import Plan
from fourply.planning.problem import Box, Cutter, Fixed, Kind, Locked, Piece, Problem, Rect, Stock
from fourply.planning.strong import SMALL

SHEET = Stock(key="s", w=100, h=80, cost=50)


def planned(problem: Problem, steps: int = 300) -> Plan:
    return plan_boards(problem, Budget(steps=steps))


def made_up(seed: int, count: int, *, oriented: bool = False) -> Problem:
    """Return a job of mats as a framer has them: large blanks, a fallout from most, two sizes of sheet, offcuts."""
    rng = random.Random(seed)  # noqa: S311 — made-up sizes
    pieces = []
    for at in range(count):
        w, h = rng.randrange(24, 78), rng.randrange(24, 78)
        inner = (w - rng.randrange(12, 18), h - rng.randrange(12, 18))
        fallouts = (Rect(*inner),) if rng.random() < 0.8 else ()
        pieces.append(Piece(key=f"p{at}", w=w, h=h, fallouts=fallouts))
    stock = [Stock(key="s", w=80, h=100, cost=1037), Stock(key="t", w=100, h=150, cost=2091)]
    stock += [
        Stock(key=f"r{at}", w=rng.randrange(24, 70), h=rng.randrange(24, 90), cost=53, kind=Kind.RACK, copies=1)
        for at in range(3)
    ]
    return Problem(pieces=tuple(pieces), stock=tuple(stock), fallout_cost=23, oriented=oriented, keep=Rect(20, 10))


@settings(max_examples=60, deadline=None)
@given(problems(5, plain=True))
def test_small_plans_are_as_cheap_as_exhaustive_search(problem: Problem) -> None:
    plan = planned(problem, 2000)
    best = cheapest(problem)
    assert plan.lower_bound <= best <= plan.cost
    if plan.proved:
        assert plan.cost == best


@settings(max_examples=80, deadline=None)
@given(broken())
def test_panes_are_planned_as_cheaply_as_exhaustive_search_with_the_breaking_rule(problem: Problem) -> None:
    plan = planned(problem, 2000)
    best = cheapest(problem)
    assert plan.lower_bound <= best <= plan.cost
    if plan.proved:
        assert plan.cost == best


@settings(max_examples=60, deadline=None)
@given(ruled())
def test_no_rule_of_the_cutter_makes_a_bound_too_high(problem: Problem) -> None:
    """The bound holds for all plans that keep the rules; where one is proved, none is cheaper."""
    best = cheapest(problem)
    try:
        plan = planned(problem, 500)
    except (BadInput, CannotHonour):
        return
    assert plan.lower_bound <= best <= plan.cost


@settings(max_examples=60, deadline=None)
@given(problems(7))
def test_every_plan_keeps_every_rule(problem: Problem) -> None:
    plan = planned(problem, 60)
    assert plan.cost <= plan_greedily(problem, Budget(steps=4)).cost


@pytest.mark.parametrize(("seed", "count"), [(1, 14), (2, 20), (3, 30), (4, 45)])
def test_middling_jobs_are_planned_better_than_greedily(seed: int, count: int) -> None:
    problem = made_up(seed, count)
    plan = planned(problem, 120)
    assert plan.cost < plan_greedily(problem, Budget(steps=16)).cost
    assert plan.gap < 0.06


def test_twenty_pieces_are_proved() -> None:
    for seed in range(3):
        assert planned(made_up(seed, 20, oriented=True), 3000).proved


def test_the_same_steps_give_the_same_plan() -> None:
    problem = made_up(5, 40)
    assert planned(problem, 40) == planned(problem, 40)


@settings(max_examples=15, deadline=None)
@given(st.integers(0, 10_000))
def test_more_stock_never_costs_more_when_both_are_proved(seed: int) -> None:
    problem = made_up(seed, 13)
    offcut = Stock(key="more", w=60, h=70, cost=40, kind=Kind.RACK, copies=1)
    less, more = planned(problem, 1500), planned(replace(problem, stock=(*problem.stock, offcut)), 1500)
    if less.proved and more.proved:
        assert more.cost <= less.cost
    assert more.lower_bound <= less.cost


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 10_000), st.integers(3, 16), st.sampled_from((3, 30)))
def test_fallouts_never_make_a_plan_dearer(seed: int, count: int, steps: int) -> None:
    """At equal steps the plan with fallouts is no dearer than the planner's own plan without, proved or not."""
    problem = made_up(seed, count)
    bare = replace(problem, pieces=tuple(replace(p, fallouts=()) for p in problem.pieces))
    assert planned(problem, steps).cost <= planned(bare, steps).cost


def test_the_small_case_loads_no_compiler() -> None:
    code = (
        "import sys; from tests.planning.test_boards import made_up, planned;"
        f"print(planned(made_up(1, {SMALL - 4}, oriented=True)).proved, 'numba' in sys.modules)"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.split() == ["True", "False"]


def test_a_bound_never_exceeds_any_plan() -> None:
    for seed in range(6):
        problem = made_up(seed, 15)
        assert planned(problem, 10).lower_bound <= planned(problem, 600).cost


def test_progress_is_told_and_obeyed() -> None:
    told: list[tuple[int, int]] = []

    def stop_at_third(cost: int, bound: int) -> bool:
        told.append((cost, bound))
        return len(told) < 3

    plan = plan_boards(made_up(6, 45), Budget(steps=10_000), stop_at_third)
    assert all(bound <= cost for cost, bound in told)
    assert plan.steps < 1000


def test_a_deadline_is_kept_by_the_clock_that_is_given() -> None:
    ticks = iter(range(10_000))
    plan = plan_boards(made_up(7, 30), Budget(seconds=40, clock=lambda: float(next(ticks))))
    assert plan.seconds is not None
    assert plan.cost >= plan.lower_bound


def test_the_rest_of_a_locked_board_is_used() -> None:
    locked = Locked("s", (Fixed("a", 30, 20),))
    pieces = (
        Piece(key="a", w=40, h=40),
        Piece(key="b", w=30, h=80),
        *(Piece(key=f"c{i}", w=20, h=20) for i in range(14)),
    )
    plan = planned(Problem(pieces=pieces, stock=(SHEET,), locked=(locked,)))
    assert plan.cost == 100


def test_a_damaged_board_is_used_around_its_damage() -> None:
    scarred = Stock(key="d", w=80, h=100, cost=10, kind=Kind.RACK, copies=1, zones=(Box(0, 90, 80, 10),))
    problem = made_up(8, 14)
    problem = replace(problem, stock=(*problem.stock, scarred))
    plan = planned(problem)
    assert any(board.source.key == "d" for board in plan.boards)


def test_only_one_rectangle_of_a_fallout_is_used() -> None:
    arch = Piece(key="a", w=90, h=70, fallouts=(Rect(60, 45), Rect(50, 60)))
    pieces = (arch, Piece(key="b", w=60, h=45), Piece(key="c", w=50, h=60), Piece(key="d", w=100, h=80, copies=11))
    plan = planned(Problem(pieces=pieces, stock=(SHEET,), fallout_cost=2, oriented=True))
    assert plan.cost == 13 * 50 + 2
    assert plan.proved


def test_a_lot_stays_on_one_board() -> None:
    problem = made_up(9, 16)
    tied = tuple(replace(p, lot="x") if at in (3, 8) else p for at, p in enumerate(problem.pieces))
    planned(replace(problem, pieces=tied))


def test_pieces_with_a_direction_among_others_keep_it() -> None:
    problem = made_up(10, 16)
    stiff = tuple(replace(p, turnable=at % 3 > 0) for at, p in enumerate(problem.pieces))
    planned(replace(problem, pieces=stiff))


def test_every_rule_of_the_cutter_is_kept_by_the_strong_planner() -> None:
    cutter = Cutter(kerf=1, trim=1, least_strip=3, least_held=10, longest_cut=140)
    for seed in range(3):
        planned(replace(made_up(seed, 20), cutter=cutter), 80)


def test_everything_fixed_leaves_nothing_to_plan() -> None:
    problem = Problem(pieces=(Piece(key="a", w=9, h=9),), stock=(SHEET,), locked=(Locked("s", (Fixed("a", 0, 0),)),))
    assert planned(problem).cost == 50


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(BadInput):
        planned(Problem(pieces=(Piece(key="a", w=101, h=81),), stock=(SHEET,)))
    tied = Piece(key="a", w=9, h=9, copies=2, lot="x")
    with pytest.raises(CannotHonour):
        planned(Problem(pieces=(tied,), stock=(SHEET,), locked=(Locked("s", (Fixed("a", 0, 0),)),)))
