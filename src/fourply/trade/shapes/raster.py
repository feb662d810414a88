"""Rectangles inside an outline of any form: found on a coarse raster, then pushed outwards to its edges.

The raster's cells are free where they surely lie inside. Of all rectangles of free cells those are kept that fit into
no other; pushed to the edges, each is as large as its place allows, though a better place may be missed by a cell.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from functools import lru_cache

from fourply.measure.length import Length
from fourply.measure.rounding import down, from_mm
from fourply.measure.size import Size
from fourply.trade.shapes.fallouts import MOST, SLOPES_DEG, choice
from fourply.trade.shapes.outline import Outline, Point

CELLS = 64
_FLAT_MM = 1e-4
_COARSE = 2e-4
"""How far from the outline, as a part of it, the sides may be by which cells are told free: they are pushed later."""
_MOST_SKIPPED = 24
_SPARE_MM = 2e-4
"""What a rectangle stays away from the flattened outline, so that it is inside the curved one."""

type Box = tuple[float, float, float, float]
type Cells = tuple[int, int, int, int]
type Sides = list[tuple[Point, Point]]


@lru_cache(maxsize=2048)
def rectangles_anywhere(outline: Outline) -> tuple[Size, ...]:
    """Return up to seven rectangles inside, the largest first; none fits into another.

    >>> from fourply.trade.shapes.outline import polygon
    >>> ell = polygon([(0, 0), (100, 0), (100, 40), (30, 40), (30, 90), (0, 90)])
    >>> [(round(size.width.as_mm), round(size.height.as_mm)) for size in rectangles_anywhere(ell)]
    [(100, 40), (30, 90)]
    """
    points = outline.flatten(_FLAT_MM)
    sides = list(itertools.pairwise((*points, points[0])))
    bounds = outline.bounds()
    coarse = _coarse(points, _COARSE * min(bounds[2] - bounds[0], bounds[3] - bounds[1]))
    boxes = _spread(_best(_free(list(itertools.pairwise((*coarse, coarse[0]))), bounds)))
    return choice(size for cells in boxes if (size := _pushed(outline, sides, _placed(cells, bounds))) is not None)


def _coarse(points: list[Point], error: float) -> list[Point]:
    """Return fewer of the points, the others no farther than the error from the lines between them."""
    kept, start, end = [points[0]], 0, 2
    while end < len(points):
        if end - start > _MOST_SKIPPED or any(
            _off(point, points[start], points[end]) > error for point in points[start + 1 : end]
        ):
            start = end - 1
            kept.append(points[start])
        end += 1
    return [*kept, points[-1]] if len(points) > 1 else kept


def _off(point: Point, start: Point, end: Point) -> float:
    """Return how far a point is from the line through two others, from the first where they are one."""
    ux, uy = end[0] - start[0], end[1] - start[1]
    long = math.hypot(ux, uy)
    px, py = point[0] - start[0], point[1] - start[1]
    return abs(ux * py - uy * px) / long if long else math.hypot(px, py)


def _spread(boxes: list[Cells]) -> list[Cells]:
    """Return the largest, then those nearest to slopes from flat to steep; all of them where they are few."""

    def slope(cells: Cells) -> float:
        return math.degrees(math.atan2(cells[3] - cells[1], cells[2] - cells[0]))

    order = sorted(boxes, key=lambda cells: -(cells[2] - cells[0]) * (cells[3] - cells[1]))
    if len(boxes) <= MOST:
        return order
    return order[:1] + [min(boxes, key=lambda cells: abs(slope(cells) - degrees)) for degrees in SLOPES_DEG]


def _placed(cells: Cells, bounds: Box) -> Box:
    left, top, right, bottom = bounds
    wide, high = (right - left) / CELLS, (bottom - top) / CELLS
    return left + cells[0] * wide, top + cells[1] * high, left + cells[2] * wide, top + cells[3] * high


def _free(sides: Sides, bounds: Box) -> list[list[bool]]:
    """Return the rows of cells, true where a cell lies inside and no side comes near it."""
    left, top, right, bottom = bounds
    wide, high = (right - left) / CELLS, (bottom - top) / CELLS
    rows = [_inside(sides, top + (row + 0.5) * high, left, wide) for row in range(CELLS)]
    for (ax, ay), (bx, by) in sides:
        parts = max(1, math.ceil(2 * max(abs(bx - ax) / wide, abs(by - ay) / high)))
        for part in range(parts):
            one, two = part / parts, (part + 1) / parts
            xs = sorted(((ax + one * (bx - ax) - left) / wide, (ax + two * (bx - ax) - left) / wide))
            ys = sorted(((ay + one * (by - ay) - top) / high, (ay + two * (by - ay) - top) / high))
            _block(rows, xs, ys)
    return rows


def _block(rows: list[list[bool]], xs: list[float], ys: list[float]) -> None:
    """Take the cells whose inside a small box comes into."""
    slack = 1e-9
    for row in range(max(0, math.floor(ys[0] + slack)), min(CELLS, math.ceil(ys[1] - slack))):
        for column in range(max(0, math.floor(xs[0] + slack)), min(CELLS, math.ceil(xs[1] - slack))):
            rows[row][column] = False


def _inside(sides: Sides, y: float, left: float, wide: float) -> list[bool]:
    cuts = sorted(
        (ax + (y - ay) / (by - ay) * (bx - ax) - left) / wide
        for (ax, ay), (bx, by) in sides
        if min(ay, by) <= y < max(ay, by)
    )
    return [sum(cut < column + 0.5 for cut in cuts) % 2 == 1 for column in range(CELLS)]


def _best(rows: list[list[bool]]) -> list[Cells]:
    """Return, for each width in cells, the highest rectangle, without those that fit into another."""
    best: dict[int, Cells] = {}
    heights = [0] * CELLS
    for bottom, row in enumerate(rows, start=1):
        heights = [height + 1 if free else 0 for height, free in zip(heights, row, strict=True)]
        for left, right, height in _standing(heights):
            old = best.get(right - left)
            if old is None or height > old[3] - old[1]:
                best[right - left] = (left, bottom - height, right, bottom)
    kept: list[Cells] = []
    for width in sorted(best, reverse=True):
        if not kept or best[width][3] - best[width][1] > kept[-1][3] - kept[-1][1]:
            kept.append(best[width])
    return kept


def _standing(heights: list[int]) -> Iterator[tuple[int, int, int]]:
    """Yield left, right and height of the rectangles on a base line under these heights that can grow no wider.

    >>> list(_standing([2, 3, 1]))
    [(1, 2, 3), (0, 2, 2), (0, 3, 1)]
    """
    open_: list[tuple[int, int]] = []  # where rectangles began that are still as high, lower ones first
    for right, height in enumerate((*heights, 0)):
        left = right
        while open_ and open_[-1][1] > height:
            left, high = open_.pop()
            yield left, right, high
        if height and (not open_ or open_[-1][1] < height):
            open_.append((left, height))


def _pushed(outline: Outline, sides: Sides, box: Box) -> Size | None:
    """Return the rectangle pushed to the nearest sides: first along its longer way, then across."""
    across = box[2] - box[0] >= box[3] - box[1]
    for axis in (0, 1) if across else (1, 0):
        band = (box[1 - axis], box[3 - axis])
        low, high = _limits(sides, axis, band, (box[axis], box[axis + 2]))
        box = (low, box[1], high, box[3]) if axis == 0 else (box[0], low, box[2], high)
    box = (box[0] + _SPARE_MM, box[1] + _SPARE_MM, box[2] - _SPARE_MM, box[3] - _SPARE_MM)
    width, height = from_mm(box[2] - box[0], down), from_mm(box[3] - box[1], down)
    return Size(width, height) if min(width, height) > Length(0) and outline.holds(*box) else None


def _limits(sides: Sides, axis: int, band: tuple[float, float], at: tuple[float, float]) -> tuple[float, float]:
    """Return how far a rectangle's two edges across the axis may be moved apart within its band."""
    lows, highs = [], []
    middle = (at[0] + at[1]) / 2
    over, under, other = band[0] + 1e-9, band[1] - 1e-9, 1 - axis
    for start, end in sides:
        if not ((start[other] > over or end[other] > over) and (start[other] < under or end[other] < under)):
            continue  # nearly all
        clipped = _clipped(start, end, axis, band)
        if clipped is None:
            continue
        if max(clipped) <= middle:
            lows.append(max(clipped))
        else:
            highs.append(min(clipped))
    return max(lows, default=at[0]), min(highs, default=at[1])


def _clipped(start: Point, end: Point, axis: int, band: tuple[float, float]) -> tuple[float, float] | None:
    """Return the coordinates along the axis of the part of a side inside the band, nothing where it has none."""
    one, two = start[1 - axis], end[1 - axis]
    low, high = band[0] + 1e-9, band[1] - 1e-9
    if max(one, two) <= low or min(one, two) >= high:
        return None
    if one == two:
        return start[axis], end[axis]
    parts = sorted(((low - one) / (two - one), (high - one) / (two - one)))
    first, last = max(0.0, parts[0]), min(1.0, parts[1])
    along = end[axis] - start[axis]
    return start[axis] + first * along, start[axis] + last * along
