"""Bounds hold for any prices, and are raised only to costs that boards can add up to."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from math import inf

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from fourply.planning.lagrange import lagrange, reachable, rounded


@dataclass(frozen=True)
class Offer:
    cost: int
    row: int


ROWS = st.lists(st.tuples(st.integers(1, 40), st.integers(0, 2), st.integers(0, 3)), min_size=1, max_size=3)


@given(ROWS, st.integers(0, 300))
def test_the_next_cost_is_the_least_sum_from_the_bound_on(rows: list[tuple[int, int, int]], bound: int) -> None:
    offers = [Offer(cost, at) for at, (cost, _, _) in enumerate(rows)]
    limits = [(float(least), float(least + more)) for _, least, more in rows]
    sums = {
        sum(n * cost for n, (cost, _, _) in zip(counts, rows, strict=True))
        for counts in product(*(range(least, least + more + 1) for _, least, more in rows))
    }
    expected = min([s for s in sums if s >= bound], default=400)
    assert reachable(offers, limits, bound, 400) == min(400, expected)


def test_stock_without_limit_reaches_every_multiple() -> None:
    assert reachable([Offer(7, 0)], [(0.0, inf)], 50, 1000) == 56
    assert reachable([Offer(7, 0)], [(0.0, inf)], 50, 55) == 55


def test_costs_come_in_steps() -> None:
    assert rounded(10, 1234.5) == 1240
    assert rounded(10, 1240.0000001) == 1240
    assert rounded(1, 1234.5) == 1235


def test_prices_that_are_too_high_are_scaled_down() -> None:
    # one board of cost 10 holds two pieces: 3 pieces need 1.5 boards, whatever the prices say
    bound = lagrange([Offer(10, 0)], [(0.0, inf)], [3], np.array([50.0]), np.array([100.0]))
    assert abs(bound - 15) < 1e-9


def test_limited_stock_is_counted_as_often_as_there_is() -> None:
    # two offcuts of cost 1 hold a piece each worth 10 beyond doubt: 4 pieces at 10, less 2 x 9 that offcuts earn
    bound = lagrange(
        [Offer(10, 0), Offer(1, 1)], [(0.0, inf), (0.0, 2.0)], [4], np.array([10.0]), np.array([10.0, 10.0])
    )
    assert abs(bound - 22) < 1e-9
