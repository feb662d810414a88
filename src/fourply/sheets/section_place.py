"""Where the section cuts a package: through the window that lies lowest, and there through its lowest point.

Where all that is cut is rectangles every place along the bottom shows the same, and the mark stands aside so that the
middle of the window is free for words.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from fourply.measure.length import Length
from fourply.measure.size import Edges
from fourply.trade.package import ArtPlace, Groove, Hole, Lift, Mat, Package
from fourply.trade.shapes.free import Free
from fourply.trade.shapes.outline import Outline
from fourply.trade.shapes.rectangle import Rectangle
from fourply.trade.shapes.shape import Shape
from fourply.trade.treatment import Treatment, for_opening

_ASIDE = 0.84
_FINE = 0.01  # chord error in millimetres
_FLAT = 0.02  # what is so little higher than the lowest point counts as lowest


@dataclass(frozen=True, slots=True)
class SectionPlace:
    """Which window the section passes, by its index, and how far from the left of the package, in millimetres."""

    package: Package
    window: int
    x: float

    @property
    def art(self) -> ArtPlace:
        """The sheet in that window."""
        return self.package.arts[self.window]

    @property
    def treatment(self) -> Treatment:
        """The rules of that window."""
        return for_opening(self.package.treatment, self.window + 1)

    @property
    def lift(self) -> Lift | None:
        """What raises its sheet, None where it does not float."""
        return next((lift for lift in self.package.lifts if lift.scope == self.art.scope), None)

    def hole(self, mat: Mat) -> Hole:
        """Return the opening of a mat that is cut."""
        return mat.holes[self.window]

    def grooves(self, mat: Mat) -> tuple[Groove, ...]:
        """Return the grooves that may be met."""
        return (*mat.grooves, *self.hole(mat).grooves)

    def height(self, shape: Shape, borders: Edges, away: Length) -> float | None:
        """Return how high above the bottom edge of the package a shape's parallel is met, None where it is missed.

        `borders` are those of the shape's own box; the parallel lies `away` outside it, in millimetres.
        """
        if isinstance(shape, Rectangle):
            return (borders.bottom - away).as_mm
        middle = (borders.left.as_mm + self.package.outer.width.as_mm - borders.right.as_mm) / 2
        low = _lowest_at(shape.parallel(away), self.x - middle)
        return None if low is None else borders.bottom.as_mm + shape.size.height.as_mm / 2 - low


def section_place(package: Package) -> SectionPlace:
    """Return where the section cuts a package."""
    heights = [place.window.bottom for place in package.arts]
    window = heights.index(max(heights))
    place = package.arts[window].window
    if all(isinstance(shape, Rectangle) for shape in _shapes(package, window)):
        return SectionPlace(package, window, place.left.as_mm + _ASIDE * place.size.width.as_mm)
    hole = package.mats[-1].holes[window]
    middle = place.left.as_mm + place.size.width.as_mm / 2
    return SectionPlace(package, window, middle + _lowest_point(hole.opening.shape, hole.opening.sight_outline()))


def _shapes(package: Package, window: int) -> Iterator[Shape]:
    for mat in package.mats:
        hole = mat.holes[window]
        yield hole.opening.shape
        yield from (groove.shape for groove in (*mat.grooves, *hole.grooves))
    if package.inlay is not None:
        yield package.inlay.shape


def _lowest_point(shape: Shape, outline: Outline) -> float:
    """Return how far right of the middle of its box an outline is lowest, in the middle of what is lowest."""
    if not isinstance(shape, Free):
        return 0.0  # all others are alike left and right
    points = outline.flatten(_FINE)
    low = max(y for _, y in points)
    xs = [x for x, y in points if y > low - _FLAT]
    left, _, right, _ = outline.bounds()
    return min(xs, key=lambda x: abs(x - math.fsum(xs) / len(xs))) - (left + right) / 2


def _lowest_at(outline: Outline, x: float) -> float | None:
    """Return how low an outline reaches on an upright line."""
    chord = outline.chord(x)
    return chord[1] if chord is not None else None
