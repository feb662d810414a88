"""Points and directions as pairs of floats."""

from __future__ import annotations

import math

type Point = tuple[float, float]


def cross(one: Point, two: Point) -> float:
    """Return the area between two directions, above nothing where the second lies clockwise on screen of the first.

    >>> cross((1.0, 0.0), (0.0, 1.0))
    1.0
    """
    return one[0] * two[1] - one[1] * two[0]


def unit(x: float, y: float) -> Point:
    """Return the direction at length 1, nothing twice for no direction.

    >>> unit(3.0, 4.0), unit(0.0, 0.0)
    ((0.6, 0.8), (0.0, 0.0))
    """
    long = math.hypot(x, y)
    return (x / long, y / long) if long else (0.0, 0.0)


def shifted(point: Point, dx: float, dy: float) -> Point:
    """Return the point elsewhere."""
    return point[0] + dx, point[1] + dy


def flipped(point: Point) -> Point:
    """Return the point on the other side, left to right."""
    return -point[0], point[1]


def times(point: Point, by: float) -> Point:
    """Return the point so many times as far from the origin."""
    return point[0] * by, point[1] * by
