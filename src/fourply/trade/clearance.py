"""How near one outline comes to another inside it, where no formula says so.

Both are taken as polygons of many short sides. Sides are looked at in runs with a box round each, so that most of
them are passed over by their boxes alone.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise, product

from fourply.trade.shapes.outline import Outline, Point

_FINE = 0.02  # chord error in millimetres
_RUN = 16  # so many points in one run
_ROWS = 64

type _Box = tuple[float, float, float, float]
type _Run = tuple[Sequence[Point], _Box]


@lru_cache(maxsize=512)
def clearance(outer: Outline, inner: Outline) -> float:
    """Return the least distance from an inner outline to the one round it in millimetres, to 0.05.

    Below nothing, by how far it reaches out, where the inner one is not inside. Both are about the same middle.

    >>> from fourply.trade.shapes.outline import polygon
    >>> wide = polygon(((-9.0, -9.0), (9.0, -9.0), (9.0, 9.0), (-9.0, 9.0)))
    >>> narrow = polygon(((-5.0, -8.0), (5.0, -8.0), (5.0, 8.0), (-5.0, 8.0)))
    >>> clearance(wide, narrow), clearance(narrow, wide)
    (1.0, -4.123105625617661)
    """
    edges, points = outer.flatten(_FINE), inner.flatten(_FINE)
    runs = _runs(edges)
    out = _outside(points, edges)
    if out:
        return -max(_nearest([((point,), (*point, *point))], runs) for point in out)
    # Between polygons the least distance runs to a corner of one of them.
    return min(_nearest(_runs(points), runs), _nearest(runs, _runs(points)))


def _runs(ring: Sequence[Point]) -> list[_Run]:
    """Return the points of a ring in runs, each with its box; each run ends with the first point of the next."""
    closed = [*ring, ring[0]]
    starts = range(0, len(ring), _RUN)
    return [(part, _box(part)) for part in (closed[at : at + _RUN + 1] for at in starts)]


def _box(points: Sequence[Point]) -> _Box:
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def _nearest(points: Sequence[_Run], edges: Sequence[_Run]) -> float:
    """Return the least distance from any of the points to any of the edges."""
    pairs = sorted((_apart(one[1], two[1]), at) for at, (one, two) in enumerate(product(points, edges)))
    least = math.inf
    for apart, at in pairs:
        if apart >= least:
            break
        here, there = points[at // len(edges)][0], edges[at % len(edges)][0]
        least = min(least, *(_from_edge(point, *edge) for point in here for edge in pairwise(there)))
    return math.sqrt(least)


def _apart(one: _Box, two: _Box) -> float:
    """Return the square of the distance of two boxes."""
    across = max(one[0] - two[2], two[0] - one[2], 0.0)
    along = max(one[1] - two[3], two[1] - one[3], 0.0)
    return across * across + along * along


def _from_edge(point: Point, start: Point, end: Point) -> float:
    """Return the square of the distance of a point from an edge."""
    (px, py), (x1, y1) = point, start
    along, deep = end[0] - x1, end[1] - y1
    square = along * along + deep * deep
    at = 0.0 if square == 0 else max(0.0, min(1.0, ((px - x1) * along + (py - y1) * deep) / square))
    return (px - x1 - at * along) ** 2 + (py - y1 - at * deep) ** 2


def _outside(points: Sequence[Point], ring: Sequence[Point]) -> list[Point]:
    """Return the points that are not inside a ring; edges are looked up by the rows that they reach into."""
    _, top, _, bottom = _box(ring)
    high = (bottom - top) / _ROWS or 1.0
    rows: dict[int, list[tuple[Point, Point]]] = {}
    for edge in pairwise((*ring, ring[0])):
        low, far = sorted((edge[0][1], edge[1][1]))
        for row in range(math.floor((low - top) / high), math.floor((far - top) / high) + 1):
            rows.setdefault(row, []).append(edge)
    return [point for point in points if not _is_inside(point, rows.get(math.floor((point[1] - top) / high), ()))]


def _is_inside(point: Point, edges: Sequence[tuple[Point, Point]]) -> bool:
    """Tell whether an odd number of edges passes to the right of a point."""
    x, y = point
    inside = False
    for (x1, y1), (x2, y2) in edges:
        if (y1 <= y) != (y2 <= y) and x1 + (x2 - x1) * (y - y1) / (y2 - y1) > x:
            inside = not inside
    return inside
