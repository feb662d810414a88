"""The rectangles that can be cut from what falls out of a window.

A rectangle's fallout is one rectangle; an oval's is a choice between wide and high ones, none of which fits into
another. For shapes that are alike left and right and get no higher away from their middle, the height that is there
at half a width tells all: it falls as the width grows.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from functools import lru_cache

from fourply.measure.length import Length
from fourply.measure.rounding import down, from_mm
from fourply.measure.size import Size
from fourply.trade.shapes.calculus import least, root
from fourply.trade.shapes.outline import TOUCHING, Outline

MOST = 7
"""So many rectangles of one fallout are worth offering to a plan."""
ALIKE = 0.04
"""Two rectangles whose sides differ by no more than this are one choice."""
SLIVER = 0.05
"""A rectangle that takes less than this of the width or of the height there is, is not worth offering."""
SLOPES_DEG = (45.0, 30.0, 60.0, 15.0, 75.0)
"""How high a rectangle is for its width, both as parts of what there is: the choices that are spread out."""


@lru_cache(maxsize=2048)
def rectangles_in(outline: Outline) -> tuple[Size, ...]:
    """Return up to seven rectangles inside, the largest first; none fits into another.

    The outline is alike left and right of x = 0, and the height on an upright line does not grow away from there.

    >>> from fourply.trade.shapes.outline import Sweep
    >>> circle = Outline((Sweep(0, 0, 100, 100, 0, 360),))
    >>> [(round(size.width.as_mm), round(size.height.as_mm)) for size in rectangles_in(circle)]
    [(141, 141), (173, 100), (100, 173), (193, 52), (52, 193)]
    """
    left, top, right, bottom = outline.bounds()
    least_width, least_height = SLIVER * (right - left), SLIVER * (bottom - top)
    found = (size for x in _half_widths(outline) if (size := _at(outline, x)) is not None)
    return choice(size for size in found if size.width.as_mm > least_width and size.height.as_mm > least_height)


def choice(sizes: Iterable[Size]) -> tuple[Size, ...]:
    """Return at most seven of the sizes, none of which fits into another or is much like another; earlier ones first.

    The result is in order of area, the largest first.
    """
    kept: list[Size] = []
    for size in sizes:
        if len(kept) < MOST and not any(one.holds(size) or size.holds(one) or _alike(one, size) for one in kept):
            kept.append(size)
    return tuple(sorted(kept, key=lambda size: (-size.width.nm * size.height.nm, -size.width.nm)))


def _alike(one: Size, two: Size) -> bool:
    pairs = ((one.width, two.width), (one.height, two.height))
    return all(abs(a - b).nm <= ALIKE * max(a, b).nm for a, b in pairs)


def _half_widths(outline: Outline) -> list[float]:
    """Return half widths worth trying: of the largest area, at corners, then at slopes from flat to steep."""
    left, top, right, bottom = outline.bounds()
    wide, high = min(-left, right), bottom - top

    def area(x: float) -> float:
        return x * _height(outline, x)

    ends = {round(abs(piece.last[0]), 9) for piece in outline.pieces}
    corners = sorted((x for x in ends if 0 < x <= wide), key=area, reverse=True)
    largest = least(lambda x: -area(x), 0.0, wide)
    if corners and area(corners[0]) >= area(largest) * (1 - 1e-7):  # a search only comes near a corner
        largest = corners[0]

    def sloped(degrees: float) -> float:
        tangent = math.tan(math.radians(degrees))
        return root(lambda x: _height(outline, x) / high - tangent * x / wide, 0.0, wide)

    return [largest, *corners, *map(sloped, SLOPES_DEG)]


def _height(outline: Outline, x: float) -> float:
    """Return the height just inside an upright line, so that an upright edge counts with its whole height."""
    chord = outline.chord(max(0.0, x - TOUCHING))
    return chord[1] - chord[0] if chord else 0.0


def _at(outline: Outline, x: float) -> Size | None:
    """Return the size of the rectangle that reaches to x both ways, in whole nanometres and surely inside."""
    width = from_mm(2 * x, down)
    reach = width.as_mm / 2
    chord = outline.chord(max(0.0, reach - TOUCHING))
    if chord is None:
        return None
    height = from_mm(chord[1] - chord[0], down)
    if min(width.nm, height.nm) <= 0:
        return None
    middle = (chord[0] + chord[1]) / 2
    for spare in (0, 1, 2, 4, 16):
        trimmed = height - Length(spare)
        if trimmed.nm > 0 and outline.holds(-reach, middle - trimmed.as_mm / 2, reach, middle + trimmed.as_mm / 2):
            return Size(width, trimmed)
    return None
