"""The rectangle: what most windows are."""

from __future__ import annotations

from dataclasses import dataclass

from fourply.errors import BadTreatment
from fourply.measure.length import ZERO, Length
from fourply.measure.size import Size
from fourply.trade.shapes.outline import Outline, polygon
from fourply.trade.shapes.shape import Shape, grown_size, half


@dataclass(frozen=True, slots=True)
class Rectangle(Shape):
    """A rectangle.

    >>> Rectangle(Size(Length.mm(200), Length.mm(150))).parallel(Length.mm(14, 10)).bounds()
    (-101.4, -76.4, 101.4, 76.4)
    """

    size: Size

    @property
    def words(self) -> str:
        """The name of its kind."""
        return "rectangle"

    @property
    def straight(self) -> bool:
        """A straight guide cuts it."""
        return True

    def beside(self, mm: float) -> Outline:
        """Return the rectangle larger by so much on every side."""
        return box(*(side + mm for side in half(self.size)))

    def grown(self, by: Length) -> Rectangle:
        """Return the rectangle larger by this on every side."""
        return Rectangle(grown_size(self.size, by))

    def fallouts(self, trim: Length) -> tuple[Size, ...]:
        """Return the one rectangle that is left."""
        size = self.size
        return (size.grown(-trim),) if min(size.width, size.height) - 2 * trim > ZERO else ()


def box(wide: float, high: float) -> Outline:
    """Return the rectangle that reaches so far from the origin; raises BadTreatment where nothing is left."""
    if wide <= 0 or high <= 0:
        raise BadTreatment("shape", "the opening closes", "a larger opening")
    return polygon(((-wide, -high), (wide, -high), (wide, high), (-wide, high)))
