"""Paths of the usual shapes, their curves and their boxes."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fourply.drawing.pen import Arc
from fourply.drawing.shapes import Box, arc_point, as_curves, bounds, circle, ellipse, flatten, line, polygon, rectangle

sizes = st.floats(min_value=0.1, max_value=500)
angles = st.floats(min_value=-360, max_value=360)


@given(sizes, sizes, angles, angles.filter(lambda angle: abs(angle) > 0.01))
def test_curves_follow_their_arc(rx: float, ry: float, start: float, sweep: float) -> None:
    arc: Arc = ("A", 3.0, 4.0, rx, ry, start, sweep)
    outline = flatten((("M", *arc_point(arc, 0)), *as_curves(arc)))[0]
    assert outline[-1] == pytest.approx(arc_point(arc, sweep), abs=1e-6)
    for x, y in outline:
        assert math.hypot((x - 3) / rx, (y - 4) / ry) == pytest.approx(1, abs=5e-6)


def test_the_box_of_an_ellipse_is_its_axes() -> None:
    assert bounds(ellipse(10, 20, 4, 8)) == pytest.approx(Box(6, 12, 14, 28))


@pytest.mark.parametrize(
    ("steps", "box"),
    [
        (line(1, 2, 3, 5), (1, 2, 3, 5)),
        (rectangle(Box(1, 2, 3, 5)), (1, 2, 3, 5)),
        (polygon([(0, 0), (4, 1), (2, 7)]), (0, 0, 4, 7)),
        (circle(0, 0, 2), (-2, -2, 2, 2)),
        ((("M", 0.0, 0.0), ("C", 0.0, 8.0, 4.0, 8.0, 4.0, 0.0)), (0, 0, 4, 6)),
    ],
)
def test_the_box_of_a_path_holds_it(steps: tuple[()], box: tuple[float, ...]) -> None:
    assert tuple(bounds(steps)) == pytest.approx(box)


@pytest.mark.parametrize(
    ("other", "meet"), [(Box(2, 0, 4, 2), False), (Box(1.9, 0, 4, 2), True), (Box(0, 2, 2, 3), False)]
)
def test_boxes_that_share_an_edge_do_not_meet(other: Box, meet: bool) -> None:  # noqa: FBT001
    assert Box(0, 0, 2, 2).meets(other) is meet


def test_the_corners_of_a_box_go_clockwise_from_the_top_left() -> None:
    assert Box(1, 2, 3, 5).corners == [(1, 2), (3, 2), (3, 5), (1, 5)]
