"""Hatches as plain lines, clipped here, so that every writer draws the same ones.

A format's own fill pattern starts where that format likes and prints as it likes; a hatch here is a set of segments
with a stated spacing, angle and origin.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from fourply.drawing.pen import Step, Steps
from fourply.drawing.shapes import Point

type Outlines = Sequence[Sequence[Point]]


def hatch(outlines: Outlines, spacing: float, *, angle: float = 45.0) -> Steps:
    """Return parallel lines inside the outlines (even-odd, so an outline within another is a hole).

    The lines lie on one lattice through the page's origin: neighbours hatched alike join without a step. `angle` is
    against the clock from level.

    >>> len(hatch([[(0, 0), (10, 0), (10, 10), (0, 10)]], 2.5, angle=0)) // 2
    4
    """
    turn = math.radians(angle)
    cos, sin = math.cos(turn), math.sin(turn)
    turned = [[(x * cos - y * sin, x * sin + y * cos) for x, y in outline] for outline in outlines]
    edges = [edge for outline in turned for edge in _edges(outline)]
    heights = [v for (_, v), _ in edges]
    if not heights:
        return ()
    steps: list[Step] = []
    for row in range(math.ceil(min(heights) / spacing - 0.5), math.floor(max(heights) / spacing - 0.5) + 1):
        v = (row + 0.5) * spacing
        for u1, u2 in _inside(edges, v):
            steps.append(("M", u1 * cos + v * sin, v * cos - u1 * sin))
            steps.append(("L", u2 * cos + v * sin, v * cos - u2 * sin))
    return tuple(steps)


def growth_rings(outlines: Outlines, centre: Point, spacing: float) -> Steps:
    """Return concentric arcs inside the outlines, as the end grain of wood shows its years.

    >>> [round(n, 3) for n in growth_rings([[(1, -1), (3, -1), (3, 1), (1, 1)]], (0, 0), 2)[0][1:]]
    [1.732, -1.0]
    """
    edges = [edge for outline in outlines for edge in _edges(outline)]
    cx, cy = centre
    distances = [math.hypot(x - cx, y - cy) for (x, y), _ in edges]
    steps: list[Step] = []
    for ring in range(1, math.ceil(max(distances, default=0.0) / spacing)):
        radius = ring * spacing
        angles = sorted(angle for edge in edges for angle in _crossings(edge, centre, radius))
        onward = [*angles[1:], *(angle + 360 for angle in angles[:1])]
        for start, end in zip(angles, onward, strict=True):
            middle = math.radians((start + end) / 2)
            if end - start > 1e-6 and _holds(edges, (cx + radius * math.cos(middle), cy + radius * math.sin(middle))):
                turn = math.radians(start)
                steps.append(("M", cx + radius * math.cos(turn), cy + radius * math.sin(turn)))
                steps.append(("A", cx, cy, radius, radius, start, end - start))
    return tuple(steps)


def _edges(outline: Sequence[Point]) -> Iterable[tuple[Point, Point]]:
    return zip(outline, [*outline[1:], outline[0]], strict=True)


def _inside(edges: Iterable[tuple[Point, Point]], v: float) -> Iterable[tuple[float, float]]:
    crossings = sorted(x1 + (v - y1) * (x2 - x1) / (y2 - y1) for (x1, y1), (x2, y2) in edges if (y1 > v) != (y2 > v))
    return zip(crossings[::2], crossings[1::2], strict=True)


def _crossings(edge: tuple[Point, Point], centre: Point, radius: float) -> list[float]:
    """Return the angles in degrees at which a circle crosses an edge."""
    (x1, y1), (x2, y2) = edge
    fx, fy, dx, dy = x1 - centre[0], y1 - centre[1], x2 - x1, y2 - y1
    a, b, c = dx * dx + dy * dy, fx * dx + fy * dy, fx * fx + fy * fy - radius * radius
    under = b * b - a * c
    if a == 0 or under <= 0:
        return []
    root = math.sqrt(under)
    along = [t for t in ((-b - root) / a, (-b + root) / a) if 0 <= t < 1]
    return [math.degrees(math.atan2(fy + t * dy, fx + t * dx)) for t in along]


def _holds(edges: Sequence[tuple[Point, Point]], point: Point) -> bool:
    x, y = point
    hits = sum(1 for (x1, y1), (x2, y2) in edges if (y1 > y) != (y2 > y) and x1 + (y - y1) * (x2 - x1) / (y2 - y1) > x)
    return hits % 2 == 1
