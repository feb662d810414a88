"""Strips that are too narrow: which lengths suit a pattern; and exact pricing on coarse grids misses nothing."""

from __future__ import annotations

import random
from dataclasses import dataclass
from itertools import product
from math import inf

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.planning.cases import broken
from tests.planning.oracle import cheapest

from fourply.planning import strong
from fourply.planning.blocks import Blocks, Cap, Reach
from fourply.planning.boards import plan_boards
from fourply.planning.bounds import area_bound
from fourply.planning.budget import Budget
from fourply.planning.coarse import coarser
from fourply.planning.grid import grid_of
from fourply.planning.lagrange import enough, reachable, within
from fourply.planning.pace import Pace
from fourply.planning.panes import scored
from fourply.planning.pricing import Levels, Pricer
from fourply.planning.problem import Piece, Problem, Rect, Stock
from fourply.planning.strips import Side, beside, covers, shared, strips_of, suits

SIDE = st.tuples(st.integers(1, 20), st.booleans())
STRIP = st.integers(0, 6)
LENGTHS = range(60)
INCH = 25_400_000


@given(SIDE, SIDE, STRIP)
def test_a_shared_side_suits_what_suits_both(a: Side, b: Side, strip: int) -> None:
    both = shared(a, b, strip)
    for length in LENGTHS:
        assert suits(both, length, strip) == (suits(a, length, strip) and suits(b, length, strip))


@given(SIDE, SIDE, STRIP)
def test_sides_end_to_end_suit_what_can_be_shared_out(a: Side, b: Side, strip: int) -> None:
    joined = beside(a, b)
    for length in LENGTHS:
        parts = any(suits(a, at, strip) and suits(b, length - at, strip) for at in range(length + 1))
        assert suits(joined, length, strip) == parts


@given(SIDE, SIDE, STRIP)
def test_a_side_covers_another_where_it_suits_whenever_the_other_does(a: Side, b: Side, strip: int) -> None:
    always = all(suits(a, length, strip) for length in LENGTHS if suits(b, length, strip))
    assert covers(a, b, strip) == always


@settings(max_examples=60, deadline=None)
@given(broken())
def test_column_generation_finds_what_exhaustive_search_finds_with_the_breaking_rule(problem: Problem) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(strong, "SMALL", 0)
        plan = plan_boards(problem, Budget(steps=2000))
    best = cheapest(problem)
    assert plan.lower_bound <= best <= plan.cost
    if plan.proved:
        assert plan.cost == best


def panes(seed: int, count: int) -> Problem:
    """Return panes on 1/16 in, of which two to four lie on a sheet, and which lie badly side by side."""
    rng = random.Random(seed)  # noqa: S311 — made-up sizes
    sizes = [(rng.randrange(200, 400) * INCH // 16, rng.randrange(200, 400) * INCH // 16) for _ in range(count)]
    pieces = tuple(Piece(key=str(at), w=w, h=h) for at, (w, h) in enumerate(sizes))
    stock = (Stock(key="s", w=32 * INCH, h=40 * INCH, cost=1800), Stock(key="t", w=40 * INCH, h=60 * INCH, cost=4600))
    return scored(Problem(pieces=pieces, stock=stock))


def test_panes_are_proved_far_above_what_their_area_needs() -> None:
    for seed in range(2):
        plan = plan_boards(panes(seed, 16), Budget(steps=3000))
        assert plan.proved
        assert plan.cost > area_bound(panes(seed, 16))


def fine(seed: int) -> Problem:
    """Return a job on so fine a grid that it is swept on coarser ones first."""
    rng = random.Random(seed)  # noqa: S311 — made-up sizes
    pieces = tuple(
        Piece(key=str(at), w=rng.randrange(180, 520), h=rng.randrange(180, 520), fallouts=(Rect(150, 140),))
        for at in range(14)
    )
    return Problem(pieces=pieces, stock=(Stock(key="s", w=800, h=1000, cost=7), Stock(key="t", w=1000, h=1500, cost=9)))


def priced(seed: int) -> tuple[Problem, np.ndarray]:
    problem = fine(seed)
    chance = np.random.default_rng(seed)
    items = grid_of(problem).items
    return problem, np.array([i.w * i.h for i in items], float) * chance.uniform(0.8, 1.25, len(items))


@pytest.mark.parametrize("seed", range(4))
def test_ceilings_of_a_coarse_grid_are_above_every_pattern(seed: int) -> None:
    problem, values = priced(seed)
    grid, pace = grid_of(problem), Pace(Budget(steps=10**6))
    levels = Levels(grid, pace)
    assert levels.unit > 1
    most = levels.ceiling.worth(levels.ceiling.ceilings(values))
    for pricer in levels:
        for one in pricer.harvest(pricer.sweep(values), np.zeros(len(grid.stock)), 5):
            assert sum(values[item] * n for item, n in one.counts) <= most[one.kind]


NEARLY = 750_000.0
"""Near what the smaller board of `fine` can be worth at most: 800 000 by area."""


@pytest.mark.parametrize("seed", range(4))
def test_exact_pricing_finds_the_same_on_a_coarse_and_on_the_finest_grid(seed: int) -> None:
    problem, values = priced(seed)
    grid, pace = grid_of(problem), Pace(Budget(steps=10**6))
    found = []
    for unit in (1, 5):
        pricer = Pricer(coarser(grid, unit, up=False), pace, every=unit > 1)
        blocks = Blocks(grid, pricer.tables, unit, strips_of(grid), pace)
        reach = Reach(values, pricer.ceilings(values))
        found.append(blocks.above(0, reach, NEARLY, Cap(20_000, 10_000)))
    one, other = found
    assert (one.complete, other.complete) == (True, True)
    assert one.most == pytest.approx(other.most)
    assert {c.name for c in one.columns} == {c.name for c in other.columns} != set()


@dataclass(frozen=True)
class Offer:
    cost: int
    row: int


ROWS = st.lists(st.tuples(st.integers(1, 40), st.integers(0, 2), st.integers(0, 3)), min_size=1, max_size=3)


@given(ROWS, st.integers(1, 300))
def test_a_bound_of_enough_proves_the_cost_and_no_lower_one_is_asked_for(
    rows: list[tuple[int, int, int]], cost: int
) -> None:
    offers = [Offer(price, at) for at, (price, _, _) in enumerate(rows)]
    limits = [(float(least), float(least + more)) for _, least, more in rows]
    asked = enough(offers, limits, cost)
    assert reachable(offers, limits, int(asked) + 1, cost) == cost
    lower = [
        total
        for counts in product(*(range(least, least + more + 1) for _, least, more in rows))
        if (total := sum(n * price for n, (price, _, _) in zip(counts, rows, strict=True))) < cost
    ]
    assert all(total < asked for total in lower)


@given(ROWS, st.integers(0, 200))
def test_limits_from_a_cost_hold_for_every_plan_that_costs_no_more(rows: list[tuple[int, int, int]], cost: int) -> None:
    offers = [Offer(price, at) for at, (price, _, _) in enumerate(rows)]
    limits = [(float(least), inf) for _, least, _ in rows]
    closer = within(offers, limits, cost)
    for counts in product(*(range(least, least + 8) for _, least, _ in rows)):
        if sum(n * price for n, (price, _, _) in zip(counts, rows, strict=True)) <= cost:
            assert all(low <= n <= high for n, (low, high) in zip(counts, closer, strict=True))


@pytest.mark.parametrize("steps", [3, 12, 40])
def test_no_more_steps_are_taken_than_there_are(steps: int) -> None:
    plan = plan_boards(fine(1), Budget(steps=steps))
    assert plan.steps <= steps + 2
    assert plan == plan_boards(fine(1), Budget(steps=steps))


def test_who_waits_is_asked_at_every_step() -> None:
    asked = [0]

    def told(_cost: int, _bound: int) -> bool:
        asked[0] += 1
        return asked[0] < 30

    plan = plan_boards(panes(3, 30), Budget(steps=10_000), told)
    assert plan.steps <= 60
