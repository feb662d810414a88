"""The pieces an outline is drawn of: straight lines, arcs of upright ellipses and what runs parallel to them, cubics.

Points are millimetres, x to the right, y down; a piece runs from parameter 0 to 1. Between two of its turns a piece
only rises or only falls along an axis: bounds, crossings and the test for inside all rest on that, so they need no
flattening. A parallel of an ellipse is no ellipse, so an arc carries how far away from its ellipse it runs
(R. C. Yates, "A Handbook on Curves and Their Properties", parallel curves).
"""

from __future__ import annotations

import itertools
import math
from abc import ABC, abstractmethod
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Self

from fourply.trade.shapes.calculus import ellipse_arc, gauss_nodes, integral, root
from fourply.trade.shapes.vectors import Point, cross, flipped, shifted, times, unit

_TURN_LEAST = 1e-12


class Piece(ABC):
    """One piece of an outline. A subclass gives the abstract ones; the rest follows from them."""

    __slots__ = ()

    @abstractmethod
    def point(self, t: float) -> Point:
        """Return the point at t, 0 to 1."""

    @abstractmethod
    def heading(self, t: float) -> Point:
        """Return the direction of travel at t, of length 1 (nothing twice where the piece stands still)."""

    @abstractmethod
    def turns(self, axis: int) -> tuple[float, ...]:
        """Return where, strictly between 0 and 1, the piece turns back along the axis (0 for x, 1 for y), in order."""

    @property
    @abstractmethod
    def length(self) -> float:
        """Its length."""

    @property
    @abstractmethod
    def swept(self) -> float:
        """The area swept by a line from the origin to the moving point, clockwise on screen above nothing."""

    @abstractmethod
    def flat(self, chord_error_mm: float) -> list[Point]:
        """Return points after the first, to the last, whose chords stay within the error of the piece."""

    @abstractmethod
    def moved(self, dx: float, dy: float) -> Self:
        """Return the piece elsewhere."""

    @abstractmethod
    def mirrored(self) -> Self:
        """Return the piece mirrored left to right and run backwards, so that clockwise stays clockwise."""

    @abstractmethod
    def scaled(self, by: float) -> Self:
        """Return the piece larger by a factor about the origin."""

    @property
    def first(self) -> Point:
        """Where it begins."""
        return self.point(0.0)

    @property
    def last(self) -> Point:
        """Where it ends."""
        return self.point(1.0)

    def spans(self, axis: int) -> list[tuple[float, float]]:
        """Return the ranges of the parameter on which the piece only rises or only falls along the axis."""
        marks = (0.0, *self.turns(axis), 1.0)
        return list(itertools.pairwise(marks))

    def range(self, axis: int) -> tuple[float, float]:
        """Return the least and the greatest coordinate along the axis."""
        values = [self.point(t)[axis] for t in (0.0, *self.turns(axis), 1.0)]
        return min(values), max(values)

    def crossings(self, axis: int, value: float) -> list[float]:
        """Return where the piece passes a coordinate; a touch from one side counts only where it rises to it."""
        found = []
        for start, end in self.spans(axis):
            low, high = self.point(start)[axis], self.point(end)[axis]
            if min(low, high) <= value < max(low, high):
                found.append(self.at(axis, value, (start, end)))
        return found

    def at(self, axis: int, value: float, span: tuple[float, float]) -> float:
        """Return where it passes the coordinate on a span on which it only rises or falls, or the nearer end."""
        low, high = (self.point(t)[axis] for t in span)
        if not min(low, high) < value < max(low, high):
            return span[0] if abs(low - value) < abs(high - value) else span[1]
        return self._at(axis, value, *span)

    def _at(self, axis: int, value: float, start: float, end: float) -> float:
        return root(lambda t: self.point(t)[axis] - value, start, end)


@dataclass(frozen=True, slots=True)
class Segment(Piece):
    """A straight line.

    >>> Segment((0.0, 0.0), (3.0, 4.0)).length
    5.0
    """

    start: Point
    end: Point

    def point(self, t: float) -> Point:
        """Return the point at t."""
        (x0, y0), (x1, y1) = self.start, self.end
        return (x0 + t * (x1 - x0), y0 + t * (y1 - y0)) if t < 1 else self.end

    def heading(self, t: float) -> Point:  # noqa: ARG002  the same everywhere
        """Return the direction of travel."""
        return unit(self.end[0] - self.start[0], self.end[1] - self.start[1])

    def turns(self, axis: int) -> tuple[float, ...]:  # noqa: ARG002  a line never turns
        """Return nothing."""
        return ()

    def range(self, axis: int) -> tuple[float, float]:
        """Return the coordinates of its ends in order."""
        one, two = self.start[axis], self.end[axis]
        return (one, two) if one <= two else (two, one)

    @property
    def length(self) -> float:
        """Its length."""
        return math.dist(self.start, self.end)

    @property
    def swept(self) -> float:
        """The area swept about the origin."""
        return cross(self.start, self.end) / 2

    def flat(self, chord_error_mm: float) -> list[Point]:  # noqa: ARG002  there is no error
        """Return its end."""
        return [self.end]

    def moved(self, dx: float, dy: float) -> Segment:
        """Return the line elsewhere."""
        return Segment(shifted(self.start, dx, dy), shifted(self.end, dx, dy))

    def mirrored(self) -> Segment:
        """Return the line mirrored and run backwards."""
        return Segment(flipped(self.end), flipped(self.start))

    def scaled(self, by: float) -> Segment:
        """Return the line larger by a factor."""
        return Segment(times(self.start, by), times(self.end, by))

    def _at(self, axis: int, value: float, start: float, end: float) -> float:  # noqa: ARG002  the whole line
        low, high = self.start[axis], self.end[axis]
        return (value - low) / (high - low)


@dataclass(frozen=True, slots=True)
class Sweep(Piece):
    """An arc of an upright ellipse, or what runs parallel to it.

    Degrees of the parameter, not of the direction, from `start` by `sweep`, from x towards y where `sweep` is above
    nothing. `away` is how far the arc runs outside the ellipse (inside, below nothing), measured square to it; it is
    not less than minus the least radius of curvature on the arc, where a parallel would fold back.

    >>> round(Sweep(0, 0, 4, 4, 0, 90).length, 9) == round(2 * math.pi, 9)
    True
    >>> [round(c, 4) for c in Sweep(0, 0, 5, 4, 45, 90, away=0.25).first]
    [3.6917, 3.0236]
    """

    cx: float
    cy: float
    rx: float
    ry: float
    start: float
    sweep: float
    away: float = 0.0

    def _angle(self, t: float) -> float:
        return math.radians(self.start + t * self.sweep)

    def point(self, t: float) -> Point:
        """Return the point at t."""
        angle = self._angle(t)
        cosine, sine = math.cos(angle), math.sin(angle)
        x, y = self.rx * cosine, self.ry * sine
        if self.away:
            speed = math.hypot(self.rx * sine, self.ry * cosine)
            x, y = x + self.away * self.ry * cosine / speed, y + self.away * self.rx * sine / speed
        return self.cx + x, self.cy + y

    def heading(self, t: float) -> Point:
        """Return the direction of travel at t."""
        x, y = self.normal(t)
        return (-y, x) if self.sweep > 0 else (y, -x)

    def normal(self, t: float) -> Point:
        """Return the direction away from the ellipse at t."""
        angle = self._angle(t)
        return unit(self.ry * math.cos(angle), self.rx * math.sin(angle))

    def turns(self, axis: int) -> tuple[float, ...]:
        """Return where it passes the ends of the ellipse's axis: there, and only there, it turns."""
        low, high = sorted((self.start, self.start + self.sweep))
        offset = 90.0 * axis
        first, last = math.ceil((low - offset) / 180), math.floor((high - offset) / 180)
        marks = ((180.0 * n + offset - self.start) / self.sweep for n in range(first, last + 1))
        return tuple(sorted(t for t in marks if _TURN_LEAST < t < 1 - _TURN_LEAST))

    @property
    def length(self) -> float:
        """Its length: that of the ellipse's arc, and `away` for each radian the direction turns."""
        return abs(self._arc) + self.away * abs(self._turned)

    @property
    def _arc(self) -> float:
        start, end = self._angle(0), self._angle(1)
        return ellipse_arc(self.rx, self.ry, end) - ellipse_arc(self.rx, self.ry, start)

    @property
    def _turned(self) -> float:
        """By how much the direction turns, in radians, signed like the sweep."""
        return self._facing(1) - self._facing(0)

    def _facing(self, t: float) -> float:
        angle, (x, y) = self._angle(t), self.normal(t)
        facing = math.atan2(y, x)
        return facing + 2 * math.pi * round((angle - facing) / (2 * math.pi))

    @property
    def swept(self) -> float:
        """The area swept about the origin; for a parallel by Steiner's formula."""
        start, end = self._angle(0), self._angle(1)
        area = self.rx * self.ry * (end - start)
        area += self.cx * self.ry * (math.sin(end) - math.sin(start))
        area -= self.cy * self.rx * (math.cos(end) - math.cos(start))
        if self.away:
            on = replace(self, away=0.0)
            lever = cross(on.last, self.normal(1)) - cross(on.first, self.normal(0))
            area += self.away * (2 * self._arc + lever) + self.away**2 * self._turned
        return area / 2

    def flat(self, chord_error_mm: float) -> list[Point]:
        """Return points whose chords stay within the error: the arc lies between chord and the tangents at its ends."""
        return [*_flat(self, chord_error_mm)]

    def halved(self, low: float, high: float, error: float) -> list[Point]:
        """Return points of a part of the arc whose chords stay within the error, its first left out."""
        start, end = self.point(low), self.point(high)
        chord = (end[0] - start[0], end[1] - start[1])
        long = math.hypot(*chord)
        one = abs(cross(self.heading(low), chord)) / long if long else 0.0
        two = abs(cross(self.heading(high), chord)) / long if long else 0.0
        both = math.sin(math.asin(min(1.0, one)) + math.asin(min(1.0, two)))
        if long == 0 or both == 0 or long * one * two / both <= error:
            return [end]
        middle = (low + high) / 2
        return self.halved(low, middle, error) + self.halved(middle, high, error)

    def _at(self, axis: int, value: float, start: float, end: float) -> float:
        """Return where it passes the coordinate: on an ellipse by the arc cosine, next to one by search."""
        if self.away:
            return root(lambda t: self.point(t)[axis] - value, start, end)
        centre, radius = (self.cx, self.rx) if axis == 0 else (self.cy, self.ry)
        off = math.degrees(math.acos(max(-1.0, min(1.0, (value - centre) / radius))))
        middle = self.start + (start + end) / 2 * self.sweep - 90.0 * axis
        turn = 360.0 * round(middle / 360.0)
        angle = turn + (off if middle > turn else -off) + 90.0 * axis
        return max(start, min(end, (angle - self.start) / self.sweep))

    def moved(self, dx: float, dy: float) -> Sweep:
        """Return the arc elsewhere."""
        return replace(self, cx=self.cx + dx, cy=self.cy + dy)

    def mirrored(self) -> Sweep:
        """Return the arc mirrored and run backwards."""
        return replace(self, cx=-self.cx, start=180 - self.start - self.sweep)

    def scaled(self, by: float) -> Sweep:
        """Return the arc larger by a factor."""
        cx, cy, rx, ry, away = (by * each for each in (self.cx, self.cy, self.rx, self.ry, self.away))
        return Sweep(cx, cy, rx, ry, self.start, self.sweep, away)


@dataclass(frozen=True, slots=True)
class Cubic(Piece):
    """A cubic curve of Bézier's form.

    >>> Cubic((0.0, 0.0), (0.0, 4.0), (4.0, 4.0), (4.0, 0.0)).range(1)
    (0.0, 3.0)
    """

    start: Point
    c1: Point
    c2: Point
    end: Point

    def _along(self, axis: int) -> tuple[float, float, float, float]:
        return self.start[axis], self.c1[axis], self.c2[axis], self.end[axis]

    def point(self, t: float) -> Point:
        """Return the point at t."""
        u = 1 - t
        weights = (u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t)
        x, y = (math.sumprod(weights, self._along(axis)) for axis in (0, 1))
        return x, y

    def _speed(self, t: float) -> Point:
        """Return the derivative, from differences of the points so that a short curve far out loses nothing."""
        u = 1 - t
        weights = (3 * u * u, 6 * u * t, 3 * t * t)
        x, y = (math.sumprod(weights, _steps(self._along(axis))) for axis in (0, 1))
        return x, y

    def heading(self, t: float) -> Point:
        """Return the direction of travel at t; at an end whose handle has no length, that of the next control point."""
        speed = self._speed(t)
        if math.hypot(*speed) > 1e-9 * math.dist(self.start, self.end):
            return unit(*speed)
        points = (self.start, self.c1, self.c2, self.end) if t < 0.5 else (self.end, self.c2, self.c1, self.start)
        sign = 1 if t < 0.5 else -1
        far = next((p for p in points[1:] if math.dist(p, points[0]) > 1e-9), points[0])
        return unit(sign * (far[0] - points[0][0]), sign * (far[1] - points[0][1]))

    def turns(self, axis: int) -> tuple[float, ...]:
        """Return where the slope along the axis, a quadratic, is nothing."""
        p0, p1, p2, p3 = self._along(axis)
        a, b, c = p3 - 3 * p2 + 3 * p1 - p0, 2 * (p2 - 2 * p1 + p0), p1 - p0
        return tuple(sorted({t for t in _quadratic(a, b, c) if _TURN_LEAST < t < 1 - _TURN_LEAST}))

    @property
    def length(self) -> float:
        """Its length, by quadrature to about 1e-10 relative."""
        scale = math.dist(self.start, self.c1) + math.dist(self.c1, self.c2) + math.dist(self.c2, self.end)
        return 0.0 if scale == 0 else scale * integral(lambda t: math.hypot(*self._speed(t)) / scale, 0.0, 1.0)

    @property
    def swept(self) -> float:
        """The area swept about the origin: a polynomial of degree five, integrated exactly."""
        return sum(weight * cross(self.point(t), self._speed(t)) for t, weight in gauss_nodes(4)) / 2

    def flat(self, chord_error_mm: float) -> list[Point]:
        """Return points at equal steps, so many that the second derivative allows no greater error."""
        bends = zip((self.start, self.c1), (self.c1, self.c2), (self.c2, self.end), strict=True)
        bend = max(math.hypot(a[0] - 2 * b[0] + c[0], a[1] - 2 * b[1] + c[1]) for a, b, c in bends)
        parts = max(1, math.ceil(math.sqrt(6 * bend / 8 / chord_error_mm)))
        return [*(self.point(part / parts) for part in range(1, parts)), self.end]

    def moved(self, dx: float, dy: float) -> Cubic:
        """Return the curve elsewhere."""
        return Cubic(*(shifted(point, dx, dy) for point in (self.start, self.c1, self.c2, self.end)))

    def mirrored(self) -> Cubic:
        """Return the curve mirrored and run backwards."""
        return Cubic(*(flipped(point) for point in (self.end, self.c2, self.c1, self.start)))

    def scaled(self, by: float) -> Cubic:
        """Return the curve larger by a factor."""
        return Cubic(*(times(point, by) for point in (self.start, self.c1, self.c2, self.end)))


def _steps(values: tuple[float, float, float, float]) -> tuple[float, float, float]:
    return values[1] - values[0], values[2] - values[1], values[3] - values[2]


def _quadratic(a: float, b: float, c: float) -> tuple[float, ...]:
    if abs(a) <= 1e-14 * max(abs(b), abs(c)):
        return () if b == 0 else (-c / b,)
    under = b * b - 4 * a * c
    if under <= 0:
        return ()
    q = -(b + math.copysign(math.sqrt(under), b)) / 2
    return (q / a, c / q) if q else (0.0,)


@lru_cache(maxsize=256)
def _flat(arc: Sweep, error: float) -> tuple[Point, ...]:
    """Return what `Sweep.flat` does, remembered: while something is dragged most arcs of a work stay as they are."""
    quarters = math.ceil(abs(arc.sweep) / 90)
    pairs = itertools.pairwise(part / quarters for part in range(quarters + 1))
    return tuple(point for low, high in pairs for point in arc.halved(low, high, error))
