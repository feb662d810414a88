"""A free shape: any closed path that does not cross itself."""

from __future__ import annotations

from dataclasses import dataclass, field

from fourply.errors import BadTreatment
from fourply.measure.length import ZERO, Length
from fourply.measure.rounding import from_mm
from fourply.measure.size import Size
from fourply.trade.shapes.offset import parallel, self_crossings
from fourply.trade.shapes.outline import Outline, Segment
from fourply.trade.shapes.raster import rectangles_anywhere
from fourply.trade.shapes.shape import Shape

CROSSING_MM = 1e-3
"""How finely a path is looked at for crossings."""


@dataclass(frozen=True, slots=True)
class Free(Shape):
    """A free shape; `path` has the middle of its box at the origin. What runs parallel to it is good to 0.001 mm.

    Its box is to the nanometre. Raises BadTreatment where the path crosses itself or has no size.

    >>> from fourply.trade.shapes.outline import polygon
    >>> kite = Free(polygon([(0.0, -60.0), (40.0, -20.0), (0.0, 60.0), (-40.0, -20.0)]))
    >>> kite.size.width.as_mm, kite.size.height.as_mm, kite.area
    (80.0, 120.0, 4800.0)
    """

    path: Outline
    size: Size = field(init=False)

    def __post_init__(self) -> None:
        left, top, right, bottom = self.path.bounds()
        width, height = from_mm(right - left), from_mm(bottom - top)
        if min(width, height) <= ZERO:
            raise BadTreatment("shape.path", "a path without a size", "a path round an area")
        if max(abs(left + right), abs(top + bottom)) > 1e-6:
            raise BadTreatment("shape.path", "a path off its middle", "a path centred on its box")
        if crossing := self_crossings(self.path.flatten(CROSSING_MM)):
            x, y = crossing[0][2]
            found = f"a path that crosses itself {x - left:.2f} mm from its left and {y - top:.2f} mm from its top"
            raise BadTreatment("shape.path", found, "a path that does not cross itself")
        object.__setattr__(self, "size", Size(width, height))

    @classmethod
    def within(cls, path: Outline, size: Size) -> Free:
        """Return the path as large as fits into the size, its proportions kept."""
        left, top, right, bottom = path.bounds()
        if not (right > left and bottom > top):
            raise BadTreatment("shape.path", "a path without a size", "a path round an area")
        return cls(path.scaled(min(size.width.as_mm / (right - left), size.height.as_mm / (bottom - top))).centred())

    @property
    def words(self) -> str:
        """The name of its kind."""
        return "free shape"

    @property
    def straight(self) -> bool:
        """Whether it has straight edges only."""
        return all(isinstance(piece, Segment) for piece in self.path.pieces)

    def beside(self, mm: float) -> Outline:
        """Return the true parallel, by straight lines within 0.001 mm."""
        return parallel(self.path, mm)

    def grown(self, by: Length) -> Free:
        """Return the parallel shape."""
        return Free(self.parallel(by).centred())

    def drift(self, by: Length) -> tuple[Length, Length]:
        """Return how the middle of the box moves."""
        left, top, right, bottom = self.parallel(by).bounds()
        return from_mm((left + right) / 2), from_mm((top + bottom) / 2)

    def fallouts(self, trim: Length) -> tuple[Size, ...]:
        """Return rectangles found anywhere in what is left, each as large as it can be pushed."""
        try:
            inner = self.parallel(-trim)
        except BadTreatment:
            return ()
        return rectangles_anywhere(inner)
