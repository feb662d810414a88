"""Paths with every kind of step, for the writers whose files are cut, and how points are held against a path."""

from __future__ import annotations

import math
from collections.abc import Sequence

from hypothesis import strategies as st
from shapely import MultiLineString, hausdorff_distance

from fourply.drawing.ink import CUT
from fourply.drawing.pen import Arc, Label, Path, Steps
from fourply.drawing.record import Drawing
from fourply.drawing.shapes import Box, arc_point, circle, cubic_point, ellipse, rectangle

MICRON = 0.001
HEIGHT = 300.0

ARCH: Steps = (
    ("M", 40.0, 200.0),
    ("L", 40.0, 120.0),
    ("A", 90.0, 120.0, 50.0, 50.0, 180.0, 180.0),
    ("L", 140.0, 200.0),
    ("C", 120.0, 230.0, 60.0, 170.0, 40.0, 200.0),
    ("Z",),
)
DRAWING = Drawing(
    400.0,
    HEIGHT,
    (
        Path(rectangle(Box(10, 20, 390, 280)), CUT, layer="1-blank"),
        Path(ellipse(200.125, 150.0625, 101.6, 127.0), CUT, layer="1-window"),
        Path(ellipse(200.125, 150.0625, 127.0, 101.6), CUT, layer="1-window"),
        Path(circle(300, 100, 41.275), CUT, layer="2-window"),
        Path(ARCH, CUT, layer="2-window"),
        Label(10, 15, "sight line, seen from the back; 16 3⁄8 & <mm>", 3.0),
    ),
    "08 The Bell Buoy",
)

number = st.floats(0, 300)
radius = st.floats(1, 200)


@st.composite
def arcs(draw: st.DrawFn) -> Steps:
    """Return one arc of any part of an ellipse, either way round."""
    cx, cy, rx, ry = draw(number), draw(number), draw(radius), draw(radius)
    if draw(st.booleans()):
        ry = rx
    start = draw(st.floats(-360, 360))
    sweep = draw(st.floats(1, 360)) * draw(st.sampled_from((1, -1)))
    arc: Arc = ("A", cx, cy, rx, ry, start, sweep)
    return (("M", *arc_point(arc, 0)), arc)


curves = st.tuples(*[number] * 8).map(lambda n: (("M", n[0], n[1]), ("C", n[2], n[3], n[4], n[5], n[6], n[7])))


def along(steps: Steps, count: int = 64) -> list[tuple[float, float]]:
    """Return points on a path by the definition of its steps."""
    found: list[tuple[float, float]] = []
    here = start = (0.0, 0.0)
    for step in steps:
        if step[0] == "M":
            here = start = (step[1], step[2])
            found.append(here)
            continue
        for i in range(1, count + 1):
            t = i / count
            if step[0] == "A":
                found.append(arc_point(step, step[6] * t))
            elif step[0] == "C":
                found.append(cubic_point(here, step, t))
            else:
                end = start if step[0] == "Z" else (step[1], step[2])
                found.append((here[0] + t * (end[0] - here[0]), here[1] + t * (end[1] - here[1])))
        here = found[-1]
    return found


def apart(first: Sequence[tuple[float, float]], second: Sequence[tuple[float, float]]) -> float:
    """Return the greatest distance of points taken at the same parameters, in either direction."""
    if len(first) != len(second):
        return math.inf
    ways = (second, list(reversed(second)))
    return min(max(math.dist(a, b) for a, b in zip(first, way, strict=True)) for way in ways)


def off(steps: Steps, points: Sequence[tuple[float, float]]) -> float:
    """Return how far from the ellipse of a path's only arc points lie at most (to the first order)."""
    (arc,) = (step for step in steps if step[0] == "A")
    _, cx, cy, rx, ry, *_ = arc
    worst = 0.0
    for x, y in points:
        u, v = (x - cx) / rx, (y - cy) / ry
        out = math.hypot(u, v)
        worst = max(worst, abs(out - 1) * out / math.hypot(u / rx, v / ry))
    return worst


def spread(first: Sequence[Sequence[tuple[float, float]]], second: Sequence[Sequence[tuple[float, float]]]) -> float:
    """Return the greatest distance of two drawings as sets of points (Hausdorff)."""
    return float(hausdorff_distance(MultiLineString(list(first)), MultiLineString(list(second))))
