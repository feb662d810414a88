"""What is measured along the sides of a front view, and where words find room in a window.

A mat with one opening has a chain of its own: border, opening, border. Several openings are measured on the top mat:
openings that stand beside one another share a chain, those that overlap lie in chains further out, and what finds no
room in three chains stands only in the table of settings, by the number that the opening carries.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fourply.drawing.dimension import Dim
from fourply.drawing.shapes import Box, Point
from fourply.measure.length import Length
from fourply.measure.size import Edges
from fourply.trade.package import Hole, Mat, Package
from fourply.trade.shapes.outline import Outline
from fourply.trade.shapes.rectangle import Rectangle
from fourply.working.words import Words

_MOST_CHAINS = 3
_ROWS = 24
_FINE = 0.2  # chord error in millimetres where an outline is only looked at
_BESIDE = 4.0  # millimetres beside a window that its bevels take
_NEAR = 0.02  # what counts as the edge of a box, in millimetres


def chains(package: Package, rims: Edges, words: Words, *, upright: bool) -> Iterator[tuple[Dim, ...]]:
    """Yield the chains of one side, the inner first, and last the package as a whole."""
    if len(package.arts) > 1:
        yield from _several(package, rims, words, upright=upright)
    else:
        for mat in package.mats:
            if not mat.hidden:
                yield _single(mat, rims, words, upright=upright)
    start, whole, foot = (
        (rims.top, package.outer.height, rims.left) if upright else (rims.left, package.outer.width, rims.bottom)
    )
    figure = "outer.height" if upright else "outer.width"
    yield (Dim(start.as_mm, (start + whole).as_mm, words.write(whole), foot.as_mm, figure=figure),)


def _single(mat: Mat, rims: Edges, words: Words, *, upright: bool) -> tuple[Dim, ...]:
    """Return border, opening, border of a mat with one opening."""
    hole, (first, side, last) = mat.holes[0], _NAMES[upright]
    borders, opening = dict(hole.borders.named()), hole.opening.back
    middle = opening.height if upright else opening.width
    spans = (borders[first], middle, borders[last])
    figures = (f"{mat.path}.border.{first}", f"{mat.path}.back.{side}", f"{mat.path}.border.{last}")
    return _chain(spans, figures, (rims, hole), words, upright=upright)


_NAMES = {False: ("left", "width", "right"), True: ("top", "height", "bottom")}


def _chain(
    spans: Sequence[Length],
    figures: Sequence[str],
    at: tuple[Edges, Hole],
    words: Words,
    *,
    upright: bool,
) -> tuple[Dim, ...]:
    rims, hole = at
    place, foot = (rims.top, rims.left) if upright else (rims.left, rims.bottom)
    near = foot.as_mm + (hole.borders.left if upright else hole.borders.bottom).as_mm
    first, last = (near + reach for reach in _reaches(hole, upright=upright))
    feet = ((foot.as_mm, first), (first, last), (last, foot.as_mm))
    dims = []
    for i, (span, figure) in enumerate(zip(spans, figures, strict=True)):
        low, high = feet[i]
        dims.append(Dim(place.as_mm, (place + span).as_mm, words.write(span), low, i != 1, figure, high))
        place += span
    return tuple(dims)


def _reaches(hole: Hole, *, upright: bool) -> tuple[float, float]:
    """Return how far inside the near edge of its box an opening touches the first and the last edge measured."""
    shape = hole.opening.shape
    if isinstance(shape, Rectangle):
        return 0.0, 0.0
    left, top, right, bottom = shape.outline().bounds()
    points = shape.outline().flatten(_FINE)
    if upright:
        first, last = ([x - left for x, y in points if abs(y - edge) < _NEAR] for edge in (top, bottom))
    else:
        first, last = ([bottom - y for x, y in points if abs(x - edge) < _NEAR] for edge in (left, right))
    return min(first, default=0.0), min(last, default=0.0)


def _several(package: Package, rims: Edges, words: Words, *, upright: bool) -> Iterator[tuple[Dim, ...]]:
    """Yield chains over the openings of the top mat, those that overlap in different ones."""
    top = package.mats[0]
    spans = [(_extent(hole, upright=upright), hole) for hole in top.holes if not hole.title]
    tiers: list[list[tuple[tuple[Length, Length], Hole]]] = []
    for span, hole in sorted(spans, key=lambda entry: entry[0]):
        if any(span == other for tier in tiers for other, _ in tier):
            continue
        for tier in tiers:
            if tier[-1][0][1] <= span[0]:
                tier.append((span, hole))
                break
        else:
            tiers.append([(span, hole)])
    for tier in tiers[:_MOST_CHAINS]:
        yield tuple(_over(tier, package, rims, words, upright=upright))


def _extent(hole: Hole, *, upright: bool) -> tuple[Length, Length]:
    place = hole.place
    return (place.top, place.bottom) if upright else (place.left, place.right)


def _over(
    tier: Sequence[tuple[tuple[Length, Length], Hole]],
    package: Package,
    rims: Edges,
    words: Words,
    *,
    upright: bool,
) -> Iterator[Dim]:
    """Yield the borders, openings and gutters of one chain."""
    first, side, last = _NAMES[upright]
    start, foot = (rims.top, rims.left) if upright else (rims.left, rims.bottom)
    whole = package.outer.height if upright else package.outer.width
    edge, figure, at = Length(0), f"{tier[0][1].scope}mat.1.border.{first}", foot.as_mm
    for (low, high), hole in tier:
        near = foot.as_mm + (hole.borders.left if upright else hole.borders.bottom).as_mm
        from_, to = (near + reach for reach in _reaches(hole, upright=upright))
        yield _dim(start, (edge, low), words, (at, from_), figure, bold=True)
        yield _dim(start, (low, high), words, (from_, to), f"{hole.scope}mat.1.back.{side}")
        edge, figure, at = high, "", to
    yield _dim(start, (edge, whole), words, (at, foot.as_mm), f"{tier[-1][1].scope}mat.1.border.{last}", bold=True)


def _dim(
    start: Length,
    span: tuple[Length, Length],
    words: Words,
    feet: tuple[float, float],
    figure: str,
    *,
    bold: bool = False,
) -> Dim:
    low, high = span
    return Dim((start + low).as_mm, (start + high).as_mm, words.write(high - low), feet[0], bold, figure, feet[1])


def room_for_words(outline: Outline, box: Box) -> Box:
    """Return the largest upright box about the middle of a shape in which words stand clear of its edge.

    >>> from fourply.trade.shapes.outline import polygon
    >>> diamond = polygon(((0.0, -10.0), (10.0, 0.0), (0.0, 10.0), (-10.0, 0.0)))
    >>> round(room_for_words(diamond, Box(0, 0, 20, 20)).width)
    10
    """
    left, top, right, bottom = outline.bounds()
    middle, points = (left + right) / 2, outline.flatten(_FINE)
    step = (bottom - top) / _ROWS
    halves = [_half(points, middle, top + i * step) for i in range(_ROWS + 1)]
    best = (0.0, 0.0, 0.0, 0.0)
    for low in range(_ROWS):
        half = halves[low]
        for high in range(low + 1, _ROWS + 1):
            half = min(half, halves[high])
            if half <= 0:
                break
            area = half * (high - low)
            if area > best[0]:
                best = (area, half, top + low * step, top + high * step)
    _, half, high_y, low_y = best
    x, y = (box.left + box.right) / 2, (box.top + box.bottom) / 2
    centre = (top + bottom) / 2
    return Box(x - half, y + high_y - centre, x + half, y + low_y - centre)


def room_beside(room: Box, other: Box) -> Box:
    """Return the largest part of a room for words beside a window that reaches into it, the whole where none does.

    >>> room_beside(Box(0, 0, 20, 10), Box(16, 5, 30, 30))
    Box(left=0, top=0, right=12.0, bottom=10)
    """
    near = other.grown(_BESIDE)
    if not room.meets(near):
        return room
    parts = (
        room._replace(right=min(room.right, near.left)),
        room._replace(left=max(room.left, near.right)),
        room._replace(bottom=min(room.bottom, near.top)),
        room._replace(top=max(room.top, near.bottom)),
    )
    return max(parts, key=lambda part: max(0.0, part.width) * max(0.0, part.height))


def _half(points: Sequence[Point], middle: float, y: float) -> float:
    """Return how far words centred on the middle may reach at a height, nothing outside the shape."""
    crossings = []
    for (x1, y1), (x2, y2) in zip(points, (*points[1:], points[0]), strict=True):
        if (y1 <= y) != (y2 <= y):
            crossings.append(x1 + (x2 - x1) * (y - y1) / (y2 - y1))
    before = [middle - x for x in crossings if x <= middle]
    after = [x - middle for x in crossings if x > middle]
    if len(before) % 2 == 0 or not after:
        return 0.0
    return min(*before, *after)
