"""What every window shape can be asked, whatever its kind.

A shape is exact where a person gave numbers: the size of its box, legs, radii and steps are lengths. Its outline is
floats about the middle of that box. `parallel` is the other edge of its own bevel, a true parallel; `grown` is the
shape of the next mat, cut by the same kind of guide moved outwards. The two differ only where the tool does not cut a
parallel: an oval cutter grows both axes alike. At a sharp corner both edges go on as they are (an arc about its own
centre) until they meet.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from functools import lru_cache

from fourply.errors import BadTreatment
from fourply.measure.length import ZERO, Length
from fourply.measure.size import Rect, Size
from fourply.trade.shapes.fallouts import rectangles_in
from fourply.trade.shapes.outline import Outline


class Shape(ABC):
    """A window shape of a definite size. A subclass gives the size of its box and the abstract ones."""

    __slots__ = ()

    size: Size

    @property
    @abstractmethod
    def words(self) -> str:
        """The plain name of its kind, without numbers."""

    @property
    @abstractmethod
    def straight(self) -> bool:
        """Whether a straight guide alone can cut it."""

    @abstractmethod
    def beside(self, mm: float) -> Outline:
        """Return the true parallel outside this outline by so many millimetres, inside it where below nothing.

        About the middle of this shape's own box. Raises BadTreatment where the shape closes.
        """

    @abstractmethod
    def grown(self, by: Length) -> Shape:
        """Return the shape that opens wider by this on every side (narrower where below nothing), of the same family.

        Raises BadTreatment, with what would be right, where it closes.
        """

    def drift(self, by: Length) -> tuple[Length, Length]:  # noqa: ARG002  most shapes stay where they are
        """Return how far right and down the middle of the grown shape's box lies from the middle of this one's.

        Nothing but for shapes that are not as much above their middle as below it.
        """
        return ZERO, ZERO

    def narrowest(self, by: Length) -> Length:
        """Return the least true distance between this shape and the grown one, rounded down; never below nothing."""
        return abs(by)

    def outline(self) -> Outline:
        """Return its outline."""
        return _beside(self, 0)

    def parallel(self, by: Length) -> Outline:
        """Return the true parallel outside it, inside it where below nothing: the other edge of a bevel with that run.

        Raises BadTreatment where the shape closes.
        """
        return _beside(self, by.nm)

    @property
    def area(self) -> float:
        """The area of the opening, in square millimetres."""
        return self.outline().area

    @property
    def perimeter(self) -> float:
        """The length of the line that is cut, in millimetres."""
        return self.outline().perimeter

    def holds(self, rect: Rect) -> bool:
        """Tell whether a rectangle, placed from the top left of the shape's box, lies in it, edges allowed to touch."""
        left, top = self.size.width.as_mm / 2, self.size.height.as_mm / 2
        edges = (rect.left.as_mm - left, rect.top.as_mm - top, rect.right.as_mm - left, rect.bottom.as_mm - top)
        return self.outline().holds(*edges)

    def fallouts(self, trim: Length) -> tuple[Size, ...]:
        """Return the rectangles, one of which can be cut from what falls out, `trim` left all round; the largest first.

        None of them fits into another. A shape with curved or slanting edges gives a handful of them, wide to high.
        """
        try:
            inner = self.parallel(-trim)
        except BadTreatment:
            return ()
        return rectangles_in(inner)


@lru_cache(maxsize=2048)
def _beside(shape: Shape, nm: int) -> Outline:
    """Return a parallel, kept since a package and its drawings ask for the same ones over and over."""
    return shape.beside(Length(nm).as_mm)


def half(size: Size) -> tuple[float, float]:
    """Return half the width and half the height in millimetres."""
    return size.width.as_mm / 2, size.height.as_mm / 2


def grown_size(size: Size, by: Length) -> Size:
    """Return the size with this much more on every side; raises BadTreatment where nothing is left of it."""
    if min(size.width, size.height) + 2 * by <= ZERO:
        found = f"{by.as_mm:g} mm on every side closes an opening {size.width.as_mm:g} x {size.height.as_mm:g} mm"
        raise BadTreatment("shape", found, "a larger opening, or less on every side")
    return size.grown(by)
