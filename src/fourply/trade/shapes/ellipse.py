"""The oval, an ellipse by its full axes, and the circle where they are equal.

An oval cutter draws x = a cos T, y = b sin T and widens by growing both axes alike, which keeps their difference. The
band between two such ovals is not equally wide: a parallel of an ellipse is no ellipse. Setting out by pins and string
or by trammel is as any textbook of technical drawing gives it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from fourply.errors import BadTreatment
from fourply.measure.length import Length
from fourply.measure.rounding import down, from_mm
from fourply.measure.size import Size
from fourply.trade.shapes.calculus import least
from fourply.trade.shapes.outline import Outline, Sweep
from fourply.trade.shapes.shape import Shape, grown_size, half


@dataclass(frozen=True, slots=True)
class Trammel:
    """What a trammel is set to: from the pencil to either slider, and between the sliders."""

    long: Length
    short: Length
    between: Length


@dataclass(frozen=True, slots=True)
class Ellipse(Shape):
    """An oval; a circle where both axes are equal.

    >>> oval = Ellipse(Size(Length.inches(8), Length.inches(10)))
    >>> oval.pins == Length.inches(6), oval.loop == Length.inches(16)
    (True, True)
    >>> round(float(oval.narrowest(Length.inches(1, 4)).as_inches), 4)
    0.2485
    """

    size: Size

    @property
    def words(self) -> str:
        """The name of its kind."""
        return "circle" if self.size.width == self.size.height else "oval"

    @property
    def straight(self) -> bool:
        """An oval cutter cuts it."""
        return False

    @property
    def pins(self) -> Length:
        """How far apart the two pins stand, on the longer axis and as far from its middle both ways."""
        long, short = self.size.width.nm, self.size.height.nm
        return Length(_root_nm(abs(long * long - short * short)))

    @property
    def loop(self) -> Length:
        """How long a closed loop of string round both pins is: the longer axis and the distance of the pins."""
        return max(self.size.width, self.size.height) + self.pins

    @property
    def trammel(self) -> Trammel:
        """The semi-axes and their difference, to the nanometre."""
        short, long = (from_mm(axis.as_mm / 2) for axis in sorted((self.size.width, self.size.height)))
        return Trammel(long, short, long - short)

    def beside(self, mm: float) -> Outline:
        """Return the true parallel; far enough inside, its two arcs meet in a point on the longer axis."""
        a, b = half(self.size)
        if mm <= -min(a, b):
            raise BadTreatment("shape", "the oval closes", "a larger oval")
        if a == b:
            return Outline((Sweep(0.0, 0.0, a + mm, a + mm, -180.0, 360.0),))
        if mm >= -(min(a, b) ** 2) / max(a, b):
            return Outline((Sweep(0.0, 0.0, a, b, -180.0, 360.0, mm),))
        start = _folds(max(a, b), min(a, b), -mm) + (0.0 if a > b else 90.0)
        first = start if a > b else start - 180.0
        sweep = 180.0 - 2 * _folds(max(a, b), min(a, b), -mm)
        return Outline(tuple(Sweep(0.0, 0.0, a, b, at, sweep, mm) for at in (first, first + 180.0)))

    def grown(self, by: Length) -> Ellipse:
        """Return the oval with both axes longer by twice this."""
        return Ellipse(grown_size(self.size, by))

    def narrowest(self, by: Length) -> Length:
        """Return the narrowest of the band between this oval and the grown one, rounded down."""
        inner, outer = (half(size) for size in (self.size, grown_size(self.size, by))[:: 1 if by.nm > 0 else -1])
        return min(abs(by), from_mm(narrowest_band(inner, outer), down))


def narrowest_band(inner: tuple[float, float], outer: tuple[float, float]) -> float:
    """Return the least distance between two ellipses about one centre, by their semi-axes, the inner one first.

    >>> round(narrowest_band((5.0, 2.5), (5.25, 2.75)), 4)
    0.2366
    """
    (a, b), (p, q) = inner, outer

    def across(angle: float) -> float:
        """Return the way from the inner ellipse, square to it, out to the outer one."""
        x, y = a * math.cos(angle), b * math.sin(angle)
        nx, ny = b * math.cos(angle), a * math.sin(angle)
        long = math.hypot(nx, ny)
        nx, ny = nx / long, ny / long
        square = (nx / p) ** 2 + (ny / q) ** 2
        linear = x * nx / p**2 + y * ny / q**2
        rest = (x / p) ** 2 + (y / q) ** 2 - 1
        return -rest / (linear + math.sqrt(linear * linear - square * rest))

    return across(least(across, 0.0, math.pi / 2))


def _folds(long: float, short: float, inside: float) -> float:
    """Return at which parameter, in degrees, the parallel inside crosses the longer axis; it folds before that."""
    square = ((long * inside / short) ** 2 - short**2) / (long**2 - short**2)
    return math.degrees(math.asin(math.sqrt(square)))


def _root_nm(square: int) -> int:
    root = math.isqrt(square)
    return root + (square - root * root > root)
