"""Paths of the usual shapes, and what can be asked of a path.

Arcs stay arcs, so a writer whose format has them keeps an oval exact; for the others `as_curves` gives cubics that
stay within 5e-6 of the radius on an eighth of a turn (derived: the usual 4/3 tan(a/4) handle, whose arc strays by
2/27 sin^6(a/4) / cos^2(a/4)).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from fourply.drawing.pen import Arc, Curve, Step, Steps

type Point = tuple[float, float]


class Box(NamedTuple):
    """An upright rectangle on the page, edges in millimetres."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        """From left to right."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """From top to bottom."""
        return self.bottom - self.top

    @property
    def corners(self) -> list[Point]:
        """The four corners, clockwise from the top left."""
        return [(self.left, self.top), (self.right, self.top), (self.right, self.bottom), (self.left, self.bottom)]

    def grown(self, by: float) -> Box:
        """Return the box larger by this on every side."""
        return Box(self.left - by, self.top - by, self.right + by, self.bottom + by)

    def meets(self, other: Box) -> bool:
        """Tell whether the two share more than an edge."""
        return (
            self.left < other.right and other.left < self.right and self.top < other.bottom and other.top < self.bottom
        )


def line(x1: float, y1: float, x2: float, y2: float) -> Steps:
    """Return a straight line."""
    return (("M", x1, y1), ("L", x2, y2))


def polyline(points: Sequence[Point]) -> Steps:
    """Return straight lines through the points, not closed."""
    (x, y), *rest = points
    return (("M", x, y), *(("L", *point) for point in rest))


def polygon(points: Sequence[Point]) -> Steps:
    """Return straight lines through the points and back.

    >>> polygon([(0, 0), (1, 0), (0, 1)])[-1]
    ('Z',)
    """
    return (*polyline(points), ("Z",))


def rectangle(box: Box) -> Steps:
    """Return the outline of a box."""
    left, top, right, bottom = box
    return (("M", left, top), ("L", right, top), ("L", right, bottom), ("L", left, bottom), ("Z",))


def ellipse(cx: float, cy: float, rx: float, ry: float) -> Steps:
    """Return a whole ellipse by its centre and half axes."""
    return (("M", cx + rx, cy), ("A", cx, cy, rx, ry, 0.0, 360.0), ("Z",))


def circle(cx: float, cy: float, radius: float) -> Steps:
    """Return a whole circle."""
    return ellipse(cx, cy, radius, radius)


def arc_point(arc: Arc, turned: float) -> Point:
    """Return the point of an arc after it has turned by so many degrees from its start."""
    _, cx, cy, rx, ry, start, _ = arc
    angle = math.radians(start + turned)
    return cx + rx * math.cos(angle), cy + ry * math.sin(angle)


def as_curves(arc: Arc) -> tuple[Curve, ...]:
    """Return an arc as cubic curves of at most an eighth of a turn each."""
    _, cx, cy, rx, ry, start, sweep = arc
    pieces = max(1, math.ceil(abs(sweep) / 45 - 1e-9))
    each = math.radians(sweep / pieces)
    handle = 4 / 3 * math.tan(each / 4)
    curves: list[Curve] = []
    for piece in range(pieces):
        here = math.radians(start) + each * piece
        there = here + each
        c1, s1, c2, s2 = math.cos(here), math.sin(here), math.cos(there), math.sin(there)
        curves.append((
            "C",
            cx + rx * (c1 - handle * s1), cy + ry * (s1 + handle * c1),
            cx + rx * (c2 + handle * s2), cy + ry * (s2 - handle * c2),
            cx + rx * c2, cy + ry * s2,
        ))  # fmt: skip
    return tuple(curves)


def flatten(steps: Iterable[Step], *, pieces: int = 24) -> list[list[Point]]:
    """Return the path's outlines as points, each arc and curve cut into so many straight pieces a quarter turn."""
    outlines: list[list[Point]] = []
    for step in steps:
        if step[0] == "M":
            outlines.append([(step[1], step[2])])
        elif step[0] == "L":
            outlines[-1].append((step[1], step[2]))
        elif step[0] == "A":
            count = max(1, math.ceil(abs(step[6]) / 90 * pieces))
            outlines[-1].extend(arc_point(step, step[6] * i / count) for i in range(1, count + 1))
        elif step[0] == "C":
            start = outlines[-1][-1]
            outlines[-1].extend(cubic_point(start, step, i / pieces) for i in range(1, pieces + 1))
    return outlines


def bounds(steps: Iterable[Step]) -> Box:
    """Return the box round a path that has at least one step; curves by their flattened points."""
    points = [point for outline in flatten(steps) for point in outline]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return Box(min(xs), min(ys), max(xs), max(ys))


def cubic_point(start: Point, curve: Curve, t: float) -> Point:
    """Return the point of a curve that begins at `start`, at a parameter from 0 to 1."""
    _, x1, y1, x2, y2, x3, y3 = curve
    a, b, c, d = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
    return a * start[0] + b * x1 + c * x2 + d * x3, a * start[1] + b * y1 + c * y2 + d * y3
