"""Rectangles whose four corners are not square: clipped, rounded, scooped (rounded inwards).

All are made by one guide and one corner tool, and what runs parallel to one is of the same family: a clipped corner's
leg changes by 2 - sqrt 2 of the way, a rounded corner's arc and a scoop keep their centres.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Self

from fourply.errors import BadTreatment
from fourply.measure.length import ZERO, Length
from fourply.measure.rounding import from_mm
from fourply.measure.size import Size
from fourply.trade.shapes.offset import parallel
from fourply.trade.shapes.outline import Outline, Piece, Point, Segment, Sweep, joined, polygon
from fourply.trade.shapes.rectangle import Rectangle, box
from fourply.trade.shapes.shape import Shape, grown_size, half

LEG_PER_PARALLEL = 2 - math.sqrt(2)
"""By how much the leg of a corner clipped at 45 degrees grows for each unit that all edges move outwards."""
OCTAGON_LEG = 1 / (2 + math.sqrt(2))
"""The leg of the clipped corners of a regular octagon, as a part of its square."""


@dataclass(frozen=True, slots=True)
class Clipped(Shape):
    """A rectangle with its corners cut off at 45 degrees; `leg` is what is cut off each side.

    Raises BadTreatment where the legs are not above nothing or are longer than half a side.

    >>> mat = Clipped(Size(Length.inches(16), Length.inches(20)), Length.inches(2))
    >>> round(float(mat.grown(-Length.inches(1, 4)).leg.as_inches), 3)
    1.854
    >>> octagon = Clipped.octagon(Length.inches(8))
    >>> round(float(octagon.leg.as_inches), 3), round(float(octagon.diagonal.as_inches), 3)
    (2.343, 3.314)
    """

    size: Size
    leg: Length

    def __post_init__(self) -> None:
        most = min(self.size.width, self.size.height) // 2
        _check("leg", self.leg, most, "legs above nothing, at most half of the shorter side")

    @classmethod
    def octagon(cls, across: Length) -> Self:
        """Return the regular octagon in a square of this side."""
        return cls(Size(across, across), from_mm(across.as_mm * OCTAGON_LEG))

    @property
    def is_octagon(self) -> bool:
        """Whether it is a regular octagon, to the nanometre that its leg is rounded to."""
        off = self.leg.nm - self.size.width.nm * OCTAGON_LEG
        return self.size.width == self.size.height and abs(off) <= 1

    @property
    def words(self) -> str:
        """The name of its kind."""
        return "octagon" if self.is_octagon else "clipped corners"

    @property
    def straight(self) -> bool:
        """A straight guide cuts it, held at 45 degrees for the corners."""
        return True

    @property
    def diagonal(self) -> Length:
        """The length of the cut across a corner, to the nanometre; the side of a regular octagon."""
        return from_mm(self.leg.as_mm * math.sqrt(2))

    def beside(self, mm: float) -> Outline:
        """Return the true parallel; its leg shrinks away inwards."""
        (wide, high), leg = (side + mm for side in half(self.size)), self.leg.as_mm + mm * LEG_PER_PARALLEL
        if leg <= 0:
            return box(wide, high)
        if leg > min(wide, high) + 1e-9:
            return parallel(self.outline(), mm)
        upper = [(-wide, leg - high), (leg - wide, -high), (wide - leg, -high), (wide, leg - high)]
        return polygon([*upper, *((-x, -y) for x, y in upper)])

    def grown(self, by: Length) -> Shape:
        """Return the parallel shape; a rectangle where no leg is left."""
        size, leg = grown_size(self.size, by), self.leg + from_mm(by.as_mm * LEG_PER_PARALLEL)
        return Clipped(size, leg) if leg > ZERO else Rectangle(size)


@dataclass(frozen=True, slots=True)
class Rounded(Shape):
    """A rectangle with rounded corners.

    Raises BadTreatment where the radius is not above nothing or is more than half a side.

    >>> Rounded(Size(Length.mm(200), Length.mm(150)), Length.mm(20)).grown(Length.mm(5)).radius.as_mm
    25.0
    """

    size: Size
    radius: Length

    def __post_init__(self) -> None:
        most = min(self.size.width, self.size.height) // 2
        _check("radius", self.radius, most, "a radius above nothing, at most half of the shorter side")

    @property
    def words(self) -> str:
        """The name of its kind."""
        return "rounded corners"

    @property
    def straight(self) -> bool:
        """Its corners need a guide of their own."""
        return False

    def beside(self, mm: float) -> Outline:
        """Return the true parallel; its corners are square where nothing is left of the radius."""
        (wide, high), radius = (side + mm for side in half(self.size)), self.radius.as_mm + mm
        if radius <= 0:
            return box(wide, high)
        pieces = [
            Sweep(x, y, radius, radius, 180.0 + 90.0 * at, 90.0)
            for at, (x, y) in enumerate(_around(wide - radius, high - radius))
        ]
        return _bridged(pieces)

    def grown(self, by: Length) -> Shape:
        """Return the parallel shape; a rectangle where nothing is left of the radius."""
        size, radius = grown_size(self.size, by), self.radius + by
        return Rounded(size, radius) if radius > ZERO else Rectangle(size)


@dataclass(frozen=True, slots=True)
class Scooped(Shape):
    """A rectangle with corners rounded inwards, about points that lie `inset` inside both sides (outside, below 0).

    Where a person gives a radius the inset is nothing: the arc is about the corner itself. Wider openings of the same
    stack keep the centres, so that the scoops stay parallel. Raises BadTreatment where the arcs do not cut the corners
    or meet one another.

    >>> scoop = Scooped(Size(Length.mm(200), Length.mm(150)), Length.mm(20)).grown(Length.mm(5))
    >>> scoop.radius.as_mm, scoop.inset.as_mm
    (15.0, 5.0)
    """

    size: Size
    radius: Length
    inset: Length = ZERO

    def __post_init__(self) -> None:
        if self.radius <= abs(self.inset) or self._reach(0.0) <= 0:
            found = f"a radius of {self.radius.as_mm:g} mm about {self.inset.as_mm:g} mm inside"
            raise BadTreatment("shape.radius", found, "a larger radius: the arcs do not cut the corners")
        if self._reach(0.0) > min(half(self.size)) + 1e-9:
            found = f"scoops that take {self._reach(0.0):g} mm of each side"
            raise BadTreatment("shape.radius", found, f"at most {min(half(self.size)):g} mm, half of the shorter side")

    def _reach(self, mm: float) -> float:
        """Return how much of a side the scoop takes, on the parallel so far outside."""
        radius, inset = self.radius.as_mm - mm, self.inset.as_mm + mm
        return inset + math.sqrt(radius * radius - inset * inset)

    @property
    def words(self) -> str:
        """The name of its kind."""
        return "scooped corners"

    @property
    def straight(self) -> bool:
        """Its corners need a guide of their own."""
        return False

    def beside(self, mm: float) -> Outline:
        """Return the true parallel, arcs about the same centres."""
        wide, high = (side + mm for side in half(self.size))
        radius, inset = self.radius.as_mm - mm, self.inset.as_mm + mm
        if radius <= abs(inset) or self._reach(mm) > min(wide, high):
            return parallel(self.outline(), mm)
        if self._reach(mm) <= 0:
            return box(wide, high)
        past = math.degrees(math.asin(inset / radius))
        pieces = [
            Sweep(x, y, radius, radius, 90.0 * (at + 1) + past, -90.0 - 2 * past)
            for at, (x, y) in enumerate(_around(wide - inset, high - inset))
        ]
        return _bridged(pieces)

    def grown(self, by: Length) -> Shape:
        """Return the parallel shape; a rectangle where it is so far inside that the arcs miss its corners."""
        size, radius, inset = grown_size(self.size, by), self.radius - by, self.inset + by
        if radius <= abs(inset):
            found = f"scoops of {self.radius.as_mm:g} mm radius close when the opening grows by {by.as_mm:g} mm"
            raise BadTreatment("shape.radius", found, "a larger radius")
        return Scooped(size, radius, inset) if self._reach(by.as_mm) > 0 else Rectangle(size)


def _check(name: str, length: Length, most: Length, expected: str) -> None:
    if not ZERO < length <= most:
        found = f"a {name} of {length.as_mm:g} mm"
        raise BadTreatment(f"shape.{name}", found, f"{expected} ({most.as_mm:g} mm)")


def _around(wide: float, high: float) -> tuple[Point, ...]:
    """Return the corners of a rectangle about the origin, clockwise from the upper left."""
    return (-wide, -high), (wide, -high), (wide, high), (-wide, high)


def _bridged(corners: list[Sweep]) -> Outline:
    """Return the corners joined by straight sides."""
    pieces: list[Piece] = []
    for piece, after in zip(corners, (*corners[1:], corners[0]), strict=True):
        pieces += [piece, Segment(piece.last, after.first)]
    return joined(tuple(pieces))
