"""Stepped corners: rectangles one inside the other, cut only as far as the lines of their opposite number.

With n steps n + 1 rectangles are pencilled. The outermost is cut between the lines of the innermost, the next between
those of the last but one. Every cut ends at an ordinary corner; the innermost rectangle is cut last and alone survives
as fallout, since its cuts cross the waste.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass

from fourply.errors import BadTreatment
from fourply.measure.length import ZERO, Length, total
from fourply.measure.size import Size
from fourply.trade.shapes.offset import parallel
from fourply.trade.shapes.outline import Outline, Point, polygon
from fourply.trade.shapes.rectangle import Rectangle
from fourply.trade.shapes.shape import Shape, grown_size, half


@dataclass(frozen=True, slots=True)
class Stepped(Shape):
    """A rectangle with stepped corners; `steps` from the outermost in, each as wide as it is high.

    Raises BadTreatment where there is no step, one is not above nothing, or together they take half a side.

    >>> stepped = Stepped(Size(Length.inches(11), Length.inches(15)), (Length.inches(1, 4), Length.inches(1, 4)))
    >>> [float(size.width.as_inches) for size in stepped.rectangles]
    [11.0, 10.5, 10.0]
    >>> stepped.cuts
    12
    """

    size: Size
    steps: tuple[Length, ...]

    def __post_init__(self) -> None:
        if not self.steps or min(self.steps) <= ZERO:
            raise BadTreatment("shape.steps", "a step that is no step", "one or more steps, each above nothing")
        taken = total(self.steps)
        if 2 * taken >= min(self.size.width, self.size.height):
            expected = f"less than half of the shorter side ({min(half(self.size)):g} mm)"
            raise BadTreatment("shape.steps", f"steps that take {taken.as_mm:g} mm of each side", expected)

    @property
    def words(self) -> str:
        """The name of its kind."""
        return "stepped corners"

    @property
    def straight(self) -> bool:
        """A straight guide cuts it."""
        return True

    @property
    def rectangles(self) -> tuple[Size, ...]:
        """The rectangles that are pencilled, one inside the other, the outermost first."""
        return tuple(self.size.grown(-inset) for inset in self._insets)

    @property
    def cuts(self) -> int:
        """How many cuts it takes: four for each rectangle."""
        return 4 * (len(self.steps) + 1)

    @property
    def _insets(self) -> tuple[Length, ...]:
        return tuple(itertools.accumulate(self.steps, initial=ZERO))

    def beside(self, mm: float) -> Outline:
        """Return the true parallel: the steps stay as they are."""
        wide, high = (side + mm for side in half(self.size))
        insets = [inset.as_mm for inset in self._insets]
        if min(wide, high) <= insets[-1]:
            return parallel(self.outline(), mm)
        corner: list[Point] = []
        for at, inset in enumerate(insets):
            across = insets[-1 - at]
            corner += [(inset - wide, across - high)]
            if at < len(self.steps):
                corner += [(insets[at + 1] - wide, across - high)]
        upper = [*corner, *((-x, y) for x, y in reversed(corner))]
        return polygon([*upper, *((-x, -y) for x, y in upper)])

    def grown(self, by: Length) -> Stepped:
        """Return the wider shape, its steps unchanged."""
        return Stepped(grown_size(self.size, by), self.steps)

    def fallouts(self, trim: Length) -> tuple[Size, ...]:
        """Return the innermost rectangle, which alone survives the cutting."""
        return Rectangle(self.rectangles[-1]).fallouts(trim)
