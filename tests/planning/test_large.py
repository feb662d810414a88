"""Jobs of very many sizes: a plan soon, better with time, a bound for the whole that no plan beats."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from tests.planning.cases import problems
from tests.planning.oracle import cheapest
from tests.planning.test_boards import made_up

from fourply.errors import BadInput
from fourply.planning.boards import LARGEST, plan_boards
from fourply.planning.bounds import area_bound
from fourply.planning.budget import Budget
from fourply.planning.grid import grid_of
from fourply.planning.large import plan_large
from fourply.planning.narrow import narrowed
from fourply.planning.pace import Pace
from fourply.planning.parts import PART, dealt, plan_greedily_in_parts
from fourply.planning.patterns import column
from fourply.planning.problem import Cutter, Piece, Problem, Rect, Stock
from fourply.planning.realise import boards_of
from fourply.planning.referee import check
from fourply.planning.smooth import Pricing, net
from fourply.planning.strong import ENGINE

MANY = made_up(11, 240)


@settings(max_examples=25, deadline=None)
@given(problems(5, plain=True))
def test_the_bound_of_smooth_prices_is_never_above_the_cheapest_plan(problem: Problem) -> None:
    plan = plan_large(problem, Budget(steps=30))
    check(problem, plan)
    assert plan.lower_bound <= cheapest(problem) <= plan.cost


@settings(max_examples=20, deadline=None)
@given(problems(7))
def test_every_rule_is_kept_whatever_the_cutter(problem: Problem) -> None:
    check(problem, plan_large(problem, Budget(steps=40)))


def test_a_large_job_is_planned_better_than_greedily_and_proved_better_than_by_area() -> None:
    plan = plan_large(MANY, Budget(steps=150))
    assert plan.cost < 0.97 * plan_greedily_in_parts(MANY).cost
    assert plan.lower_bound > area_bound(MANY)
    assert plan.engine == ENGINE


def test_the_number_of_sizes_decides_not_that_of_pieces() -> None:
    """Three sizes are a small problem however many are wanted of each."""
    pieces = tuple(replace(p, copies=400) for p in made_up(2, 3).pieces)
    plan = plan_boards(replace(made_up(2, 3), pieces=pieces), Budget(steps=300))
    assert plan.gap < 0.005


def test_the_same_steps_give_the_same_plan() -> None:
    assert plan_large(MANY, Budget(steps=60)) == plan_large(MANY, Budget(steps=60))


def test_more_steps_are_never_worse() -> None:
    plans = [plan_large(MANY, Budget(steps=steps)) for steps in (1, 20, 80)]
    costs, bounds = [p.cost for p in plans], [p.lower_bound for p in plans]
    assert costs == sorted(costs, reverse=True)
    assert bounds == sorted(bounds)


def test_it_is_told_and_obeys() -> None:
    told: list[tuple[int, int]] = []

    def stop(cost: int, bound: int) -> bool:
        told.append((cost, bound))
        return len(told) < 2

    plan = plan_large(MANY, Budget(steps=10_000), stop)
    assert all(bound <= cost for cost, bound in told)
    assert plan.steps < 100


def test_a_deadline_is_kept_by_the_clock_that_is_given() -> None:
    ticks = iter(range(100_000))
    plan = plan_large(MANY, Budget(seconds=60, clock=lambda: float(next(ticks))))
    assert plan.seconds is not None
    assert plan.seconds < 200


def test_parts_share_pieces_and_limited_stock_out() -> None:
    many = made_up(11, PART + 20)
    problem = replace(many, pieces=(replace(many.pieces[0], copies=9), *many.pieces[1:]))
    parts = list(dealt(problem))
    assert len(parts) > 1
    assert sum(part.demand for part in parts) == problem.demand
    assert sum(s.copies or 0 for part in parts for s in part.stock) == sum(s.copies or 0 for s in problem.stock)


def test_stock_that_does_not_suffice_is_told() -> None:
    few = replace(MANY, stock=(Stock(key="s", w=80, h=100, cost=1037, copies=9),))
    with pytest.raises(BadInput):
        plan_boards(few, Budget(steps=5))


def test_limited_stock_that_cannot_be_dealt_out_is_still_used() -> None:
    """One large piece and one large sheet, and plenty of small: only one part may have both."""
    small = tuple(Piece(key=f"p{i}", w=20 + i % 7, h=30 + i % 11) for i in range(LARGEST + 40))
    large = Piece(key="large", w=150, h=150)
    stock = (Stock(key="s", w=80, h=100, cost=10), Stock(key="l", w=160, h=160, cost=30, copies=1))
    plan = plan_large(Problem(pieces=(*small, large), stock=stock), Budget(steps=20))
    assert plan.to_buy()["l"] == 1


def test_a_rule_of_the_cutter_holds_for_a_large_job() -> None:
    plan_large(replace(MANY, cutter=Cutter(kerf=1, trim=1, least_strip=3, longest_cut=140)), Budget(steps=70))


def test_each_size_has_its_weight_between_the_knots() -> None:
    sides = np.array([4.0, 6.0, 9.0, 12.0])
    weights = net(sides, sides[::-1].copy(), np.ones(4), 3)
    assert np.allclose(weights.sum(axis=1), 1.0)
    assert (weights >= 0).all()


def test_prices_on_a_finer_net_prove_no_less() -> None:
    grid = grid_of(made_up(3, 60))
    pricing = Pricing(grid, Pace(Budget(steps=10_000)))
    bounds = [pricing.best.bound]
    for knots in (3, 6):
        pricing.run(knots)
        bounds.append(pricing.best.bound)
    assert bounds == sorted(bounds)
    assert bounds[-1] > bounds[0]


def test_a_part_of_a_job_names_the_same_patterns() -> None:
    sizes = [(40, 30), (70, 60), (50, 20)]
    pieces = tuple(Piece(key=f"{w}", w=w, h=h, fallouts=(Rect(w - 5, h - 5),)) for w, h in sizes)
    grid = grid_of(Problem(pieces=pieces, stock=(Stock(key="s", w=80, h=100, cost=5),)))
    part = narrowed(grid, [1, 0, 1], list(grid.limits))
    assert [(item.w, item.h) for item in part.grid.items] == [(grid.items[i].w, grid.items[i].h) for i in (0, 2)]
    sheet = next(at for at, kind in enumerate(part.grid.stock) if kind.cost)
    inner = [(column(part.grid, sheet, (-1, 0, 2)), 1)]
    outer = part.outside(inner)
    assert outer[0][0].counts == ((0, 1), (2, 1))
    assert part.inside(outer) == inner
    assert len(boards_of(grid, [*outer, (column(grid, outer[0][0].kind, (2,)), 1)])) == 2


def test_a_job_of_very_many_sizes_goes_to_this_search() -> None:
    many = made_up(12, 2 * LARGEST)
    plan = plan_boards(many, Budget(steps=12))
    assert plan.lower_bound > area_bound(many)
