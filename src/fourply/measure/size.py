"""Two lengths and four: sizes, edges, places.

A pair of numbers never says by itself which is the width; these values do. Sizes are width by height as the work
hangs; edges go round clockwise from the top; places are measured from the top left, y down.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Self

from fourply.measure.length import ZERO, Length


@dataclass(frozen=True, slots=True)
class Size:
    """A width and a height, both above nothing.

    >>> Size(Length.mm(30), Length.mm(40)).turned().width.as_mm
    40.0
    """

    width: Length
    height: Length

    def __post_init__(self) -> None:
        if self.width <= ZERO or self.height <= ZERO:
            msg = f"a size is above nothing both ways, not {self.width.as_mm} x {self.height.as_mm} mm"
            raise ValueError(msg)

    def turned(self) -> Self:
        """Return the size after a quarter turn."""
        return type(self)(self.height, self.width)

    def grown(self, each_side: Length) -> Self:
        """Return the size with `each_side` more on every edge (less when negative)."""
        return type(self)(self.width + 2 * each_side, self.height + 2 * each_side)

    def holds(self, other: Size) -> bool:
        """Tell whether other fits inside, not turned."""
        return other.width <= self.width and other.height <= self.height


@dataclass(frozen=True, slots=True)
class Edges:
    """One length for each edge, clockwise from the top.

    >>> Edges.equal(Length.mm(60)).across.as_mm
    120.0
    """

    top: Length
    right: Length
    bottom: Length
    left: Length

    @classmethod
    def equal(cls, length: Length) -> Self:
        """Return the same length for all four edges."""
        return cls(length, length, length, length)

    @property
    def across(self) -> Length:
        """Left and right together."""
        return self.left + self.right

    @property
    def along(self) -> Length:
        """Top and bottom together."""
        return self.top + self.bottom

    @property
    def least(self) -> Length:
        """The smallest of the four."""
        return min(self.top, self.right, self.bottom, self.left)

    def plus(self, each: Length) -> Self:
        """Return every edge larger by `each` (smaller when negative)."""
        return type(self)(self.top + each, self.right + each, self.bottom + each, self.left + each)

    def named(self) -> tuple[tuple[str, Length], ...]:
        """Return (name, length) clockwise from the top."""
        return (("top", self.top), ("right", self.right), ("bottom", self.bottom), ("left", self.left))


@dataclass(frozen=True, slots=True)
class Rect:
    """A rectangle by its place from the top left and its size.

    >>> Rect.at(ZERO, ZERO, Length.mm(2), Length.mm(3)).bottom.as_mm
    3.0
    """

    left: Length
    top: Length
    size: Size

    @classmethod
    def at(cls, left: Length, top: Length, width: Length, height: Length) -> Self:
        """Return the rectangle with these edges."""
        return cls(left, top, Size(width, height))

    @property
    def right(self) -> Length:
        """The right edge."""
        return self.left + self.size.width

    @property
    def bottom(self) -> Length:
        """The bottom edge."""
        return self.top + self.size.height

    def inside(self, other: Rect) -> bool:
        """Tell whether this rectangle lies in other, edges allowed to touch."""
        return (
            other.left <= self.left
            and other.top <= self.top
            and self.right <= other.right
            and self.bottom <= other.bottom
        )

    def meets(self, other: Rect) -> bool:
        """Tell whether the two share more than an edge."""
        return (
            self.left < other.right and other.left < self.right and self.top < other.bottom and other.top < self.bottom
        )
