"""The regular polygon, one side at the bottom."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from fourply.errors import BadTreatment
from fourply.measure.length import ZERO, Length
from fourply.measure.rounding import down, from_mm
from fourply.measure.size import Size
from fourply.trade.shapes.outline import Outline, Point, polygon
from fourply.trade.shapes.shape import Shape

SIDES_LEAST, SIDES_MOST = 3, 24
_SLACK_MM = 1e-10
"""What floats may lose where a polygon fits its box exactly."""


@dataclass(frozen=True, slots=True)
class Regular(Shape):
    """A regular polygon by its sides and `across`, the diameter of the circle inside it (across flats where even).

    The size of its box is to the nanometre. Raises BadTreatment below 3 or above 24 sides, or where it has no size.

    >>> hexagon = Regular(6, Length.mm(100))
    >>> round(hexagon.size.width.as_mm, 3), hexagon.size.height.as_mm
    (115.47, 100.0)
    >>> hexagon.grown(Length.mm(5)).across.as_mm
    110.0
    """

    sides: int
    across: Length
    size: Size = field(init=False)

    def __post_init__(self) -> None:
        if not SIDES_LEAST <= self.sides <= SIDES_MOST:
            raise BadTreatment("shape.sides", f"{self.sides} sides", f"{SIDES_LEAST} to {SIDES_MOST} sides")
        if self.across <= ZERO:
            raise BadTreatment("shape", "the polygon closes", "a larger polygon, or less on every side")
        left, top, right, bottom = polygon(_corners(self.sides, self.across.as_mm / 2)).bounds()
        object.__setattr__(self, "size", Size(from_mm(right - left), from_mm(bottom - top)))

    @classmethod
    def within(cls, sides: int, size: Size) -> Regular:
        """Return the largest that fits into the size; its own box is smaller one way unless the size has its shape."""
        if not SIDES_LEAST <= sides <= SIDES_MOST:
            return cls(sides, size.width)
        left, top, right, bottom = polygon(_corners(sides, 0.5)).bounds()
        across = min(size.width.as_mm / (right - left), size.height.as_mm / (bottom - top))
        return cls(sides, from_mm(across + _SLACK_MM, down))

    @property
    def words(self) -> str:
        """The name of its kind."""
        return _NAMES.get(self.sides, "regular polygon")

    @property
    def straight(self) -> bool:
        """A straight guide cuts it."""
        return True

    @property
    def side(self) -> Length:
        """The length of one side, to the nanometre."""
        return from_mm(self.across.as_mm * math.tan(math.pi / self.sides))

    def beside(self, mm: float) -> Outline:
        """Return the true parallel, about the same centre."""
        inner = self.across.as_mm / 2 + mm
        if inner <= 0:
            raise BadTreatment("shape", "the polygon closes", "a larger polygon, or less on every side")
        return polygon(_corners(self.sides, inner)).moved(0.0, _below(self.sides, self.across.as_mm / 2))

    def grown(self, by: Length) -> Regular:
        """Return the polygon wider by this on every side."""
        return Regular(self.sides, self.across + 2 * by)

    def drift(self, by: Length) -> tuple[Length, Length]:
        """Return how the middle of the box moves: one with a point on top grows upwards more than down."""
        return ZERO, from_mm(-_below(self.sides, by.as_mm))


_NAMES = {3: "triangle", 4: "square", 5: "pentagon", 6: "hexagon", 8: "octagon"}


def _corners(sides: int, inner: float) -> list[Point]:
    """Return the corners about the centre, clockwise; `inner` is the radius of the circle inside."""
    outer, step = inner / math.cos(math.pi / sides), 2 * math.pi / sides
    angles = [math.pi / 2 + step * (at + 0.5) for at in range(sides)]
    return [(outer * math.cos(angle), outer * math.sin(angle)) for angle in angles]


def _below(sides: int, inner: float) -> float:
    """Return how far the centre lies below the middle of the box."""
    return 0.0 if sides % 2 == 0 else (inner / math.cos(math.pi / sides) - inner) / 2
