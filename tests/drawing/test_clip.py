"""What is clipped lies in the box and on the path; what lies in the box is kept."""

from __future__ import annotations

import math
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st
from tests.render.cut_samples import ARCH, along, arcs, curves

from fourply.drawing.clip import clip
from fourply.drawing.pen import Step, Steps
from fourply.drawing.shapes import Box, arc_point, circle, line, rectangle

BOX = Box(100, 80, 220, 190)


def length(steps: Steps) -> float:
    """Return how long the outlines are, by many short ways."""
    total, here = 0.0, (0.0, 0.0)
    points = along(steps, 512)
    starts = {(step[1], step[2]) for step in steps if step[0] == "M"}
    for point in points:
        if point not in starts:
            total += math.dist(here, point)
        here = point
    return total


def inside(steps: Steps) -> float:
    """Return how much of a path lies in the box, by counting short ways whose middle does."""
    total = 0.0
    points = along(steps, 4096)
    for (x1, y1), (x2, y2) in pairwise(points):
        x, y = (x1 + x2) / 2, (y1 + y2) / 2
        if BOX.left <= x <= BOX.right and BOX.top <= y <= BOX.bottom:
            total += math.dist((x1, y1), (x2, y2))
    return total


@given(st.one_of(arcs(), curves, st.tuples(*[st.floats(0, 300)] * 4).map(lambda n: line(*n))))
def test_the_part_inside_is_kept_whole_and_nothing_else(steps: Steps) -> None:
    kept = clip(steps, BOX)
    for x, y in along(kept):
        assert BOX.left - 1e-6 <= x <= BOX.right + 1e-6
        assert BOX.top - 1e-6 <= y <= BOX.bottom + 1e-6
    assert abs(length(kept) - inside(steps)) < 0.75 + 0.002 * inside(steps)


@given(arcs())
def test_an_arc_stays_the_same_ellipse(steps: Steps) -> None:
    arc = steps[1]
    assert all(step[1:5] == arc[1:5] for step in clip(steps, BOX) if step[0] == "A")


def test_what_lies_within_is_not_touched() -> None:
    assert clip(circle(150, 130, 20), BOX)[:2] == circle(150, 130, 20)[:2]
    assert clip(line(110, 90, 120, 95), BOX) == line(110, 90, 120, 95)


def test_what_lies_outside_is_gone() -> None:
    assert clip(rectangle(Box(0, 0, 300, 300)), BOX) == ()
    assert clip(circle(160, 130, 290), BOX) == ()


def test_a_circle_across_an_edge_ends_on_the_edge() -> None:
    kept = clip(circle(100, 130, 30), BOX)
    ends = [point for step in kept for point in _ends(step)]
    assert {round(x, 6) for x, _ in ends if x < 129} == {100.0}


def _ends(step: Step) -> list[tuple[float, float]]:
    if step[0] == "A":
        return [arc_point(step, 0), arc_point(step, step[6])]
    return [(step[1], step[2])] if step[0] == "M" else []


def test_a_path_is_closed_by_its_last_line() -> None:
    box = Box(0, 0, 300, 300)
    assert abs(length(clip(ARCH, box)) - length(ARCH)) < 1e-6
