"""How near one outline comes to another inside it, where no formula says so.

Both are taken as polygons of many short sides. Sides are looked at in runs with a box round each, so that most of
them are passed over by their boxes alone.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from enum import Enum
from functools import lru_cache
from itertools import pairwise, product

from fourply.trade.shapes.outline import Box, Outline, Point

_FINE = 0.02  # chord error in millimetres
_ROUGH = 0.05  # the same where outlines only must not meet
_SLACK = 1e-4  # the square of how far a point that is left out may be from the line past it, in millimetres
_STEP = 6.0  # no side of a ring is longer, in millimetres
_RUN = 16  # so many points in one run
_ROWS = 64

type _Run = tuple[Sequence[Point], Box]


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


class Relation(Enum):
    """How one closed line lies to another: inside it, around it, beside it, or crossing it."""

    INSIDE = "inside"
    AROUND = "around"
    BESIDE = "beside"
    CROSSING = "crossing"


def relate(one: Outline, two: Outline, at: Point = (0.0, 0.0)) -> tuple[Relation, float]:
    """Return how two outlines lie to one another, the second moved to `at`, and how far apart in millimetres, to 0.1.

    >>> from fourply.trade.shapes.outline import polygon
    >>> wide = polygon(((-9.0, -3.0), (9.0, -3.0), (9.0, 3.0), (-9.0, 3.0)))
    >>> high = polygon(((-3.0, -9.0), (3.0, -9.0), (3.0, 9.0), (-3.0, 9.0)))
    >>> relate(wide, high)[0].value, relate(wide, wide.scaled(2.0)), relate(wide, wide, (0.0, 8.0))[1]
    ('crossing', (<Relation.INSIDE: 'inside'>, 3.0), 2.0)
    """
    rings = [_ring(one), [(x + at[0], y + at[1]) for x, y in _ring(two)]]
    out, out_too = (len(_outside(*pair)) for pair in (rings, rings[::-1]))
    if out in (0, len(rings[0])) and out_too in (0, len(rings[1])) and not out == out_too == 0:
        relation = Relation.INSIDE if not out else Relation.AROUND if not out_too else Relation.BESIDE
        runs = [_runs(ring) for ring in rings]
        return relation, min(_nearest(*runs), _nearest(*runs[::-1]))
    return Relation.CROSSING, 0.0


@lru_cache(maxsize=512)
def _ring(outline: Outline) -> Sequence[Point]:
    """Return an outline as a ring of short sides, without the points that are closer together than it needs."""
    points = outline.flatten(_ROUGH)
    kept = points[:1]
    for here, after in pairwise((*points[1:], points[0])):
        if _from_edge(here, kept[-1], after) > _SLACK or math.dist(kept[-1], after) > _STEP:
            kept.append(here)
    return tuple(_divided(kept))


def _divided(ring: Sequence[Point]) -> list[Point]:
    """Return a ring with no long sides, so that of two that cross one has a corner inside the other."""
    points = []
    for (x1, y1), (x2, y2) in pairwise((*ring, ring[0])):
        parts = max(1, math.ceil(math.dist((x1, y1), (x2, y2)) / _STEP))
        points += [(x1 + (x2 - x1) * at / parts, y1 + (y2 - y1) * at / parts) for at in range(parts)]
    return points


def relate_boxes(one: Box, two: Box) -> tuple[Relation, float]:
    """Return the same of two upright boxes, exactly; beside one another they are no nearer than this.

    >>> relate_boxes((0.0, 0.0, 4.0, 4.0), (6.0, 0.0, 9.0, 9.0))
    (<Relation.BESIDE: 'beside'>, 2.0)
    """
    beside = max(one[0] - two[2], two[0] - one[2], one[1] - two[3], two[1] - one[3])
    if beside >= 0:
        return Relation.BESIDE, beside
    inside = min(one[0] - two[0], two[2] - one[2], one[1] - two[1], two[3] - one[3])
    around = min(two[0] - one[0], one[2] - two[2], two[1] - one[1], one[3] - two[3])
    if inside >= 0:
        return Relation.INSIDE, inside
    return (Relation.AROUND, around) if around >= 0 else (Relation.CROSSING, 0.0)


def _runs(ring: Sequence[Point]) -> list[_Run]:
    """Return the points of a ring in runs, each with its box; each run ends with the first point of the next."""
    closed = [*ring, ring[0]]
    starts = range(0, len(ring), _RUN)
    return [(part, _box(part)) for part in (closed[at : at + _RUN + 1] for at in starts)]


def _box(points: Sequence[Point]) -> Box:
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
        box = edges[at % len(edges)][1]
        for point in here:
            if _apart((*point, *point), box) < least:
                least = min(least, *(_from_edge(point, *edge) for edge in pairwise(there)))
    return math.sqrt(least)


def _apart(one: Box, two: Box) -> float:
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
