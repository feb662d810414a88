"""How near one outline comes to another inside it, where no formula says so."""

from __future__ import annotations

import math
from collections.abc import Sequence

from fourply.trade.shapes.outline import Outline, Point

_FINE = 0.02  # chord error in millimetres


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
    out = [point for point in points if not outer.contains(point)]
    if out:
        return -max(_from_edges(point, edges) for point in out)
    # Between polygons the least distance runs to a corner of one of them.
    return min(*(_from_edges(point, edges) for point in points), *(_from_edges(point, points) for point in edges))


def _from_edges(point: Point, ring: Sequence[Point]) -> float:
    """Return the distance of a point from the nearest edge of a ring."""
    px, py = point
    least = math.inf
    x1, y1 = ring[-1]
    for x2, y2 in ring:
        along, deep = x2 - x1, y2 - y1
        square = along * along + deep * deep
        at = 0.0 if square == 0 else max(0.0, min(1.0, ((px - x1) * along + (py - y1) * deep) / square))
        least = min(least, (px - x1 - at * along) ** 2 + (py - y1 - at * deep) ** 2)
        x1, y1 = x2, y2
    return math.sqrt(least)
