"""The numerical methods, held against a library of them and against what is known exactly."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import ellipe, ellipeinc

from fourply.trade.shapes.calculus import ellipse_arc, gauss_nodes, integral, least, root

AXES = st.floats(1, 1000)


@given(AXES, AXES)
def test_the_whole_ellipse_is_as_long_as_scipy_says(rx: float, ry: float) -> None:
    long, short = max(rx, ry), min(rx, ry)

    wanted = 4 * long * ellipe(1 - (short / long) ** 2)

    assert ellipse_arc(rx, ry, 2 * math.pi) == pytest.approx(wanted, rel=1e-12)


@given(AXES, AXES, st.floats(-10, 10))
def test_an_arc_is_as_long_as_scipy_says(rx: float, ry: float, angle: float) -> None:
    wanted = ry * ellipeinc(angle, 1 - (rx / ry) ** 2)

    assert ellipse_arc(rx, ry, angle) == pytest.approx(wanted, rel=1e-10, abs=1e-9)


@given(AXES, AXES, st.floats(-7, 7), st.floats(-7, 7))
def test_arcs_add_up(rx: float, ry: float, one: float, two: float) -> None:
    between = integral(lambda t: math.hypot(rx * math.sin(t), ry * math.cos(t)), one, two)

    assert ellipse_arc(rx, ry, two) - ellipse_arc(rx, ry, one) == pytest.approx(between, rel=1e-9, abs=1e-6)


@pytest.mark.parametrize("count", [1, 2, 3, 5, 10, 20])
def test_nodes_are_exact_for_polynomials(count: int) -> None:
    for degree in range(2 * count):
        assert sum(w * x**degree for x, w in gauss_nodes(count)) == pytest.approx(1 / (degree + 1), rel=1e-12)


@given(st.floats(0.01, 0.99), st.floats(0.1, 5))
def test_a_root_is_found_however_steep(at: float, power: float) -> None:
    def of(x: float) -> float:
        return math.copysign(abs(x - at) ** power, x - at)

    assert root(of, 0.0, 1.0) == pytest.approx(at, abs=1e-9)
    assert root(lambda x: -of(x), 0.0, 1.0) == pytest.approx(at, abs=1e-9)


@given(st.floats(-3, 3))
def test_the_least_is_found_inside_or_at_an_end(at: float) -> None:
    assert least(lambda x: math.cosh(x - at), -1.0, 1.0) == pytest.approx(min(1.0, max(-1.0, at)), abs=1e-6)
