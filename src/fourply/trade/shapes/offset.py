"""The parallel of any outline, by straight lines: for free paths, and for a shape so far inside that edges vanish.

The outline is flattened, each side moved square to itself, neighbours joined where they meet. What that leaves too
near the outline (loops where an edge vanished or a bay closed) is cut off at the crossings. Good to 0.001 mm.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

from fourply.errors import BadTreatment
from fourply.trade.shapes.outline import Outline, Point, polygon

FLAT_MM = 5e-4
"""How far the straight lines may be from the curves they stand for."""
_NEAR_MM = 1e-7
"""What a point of the parallel may be nearer to the flattened outline than it should: what floats lose."""
_THIN_MM = 1.5e-3
"""How wide what is left must be on average to be more than the flattening may leave."""
_SHARPEST = 0.05
"""The sine of half the sharpest corner that is carried on to a point; sharper ones would run off like needles."""
_SHARP_TURN = 0.1
"""The sine of the least turn that is a corner and no flattened curve."""

type Crossing = tuple[float, float, Point]
"""Where a polygon crosses itself: on which two sides, each as number and part of the side, and the point."""


def parallel(outline: Outline, mm: float) -> Outline:
    """Return the parallel so far outside, inside where below nothing; raises BadTreatment where it is not one outline.

    >>> from fourply.trade.shapes.outline import Sweep
    >>> circle = Outline((Sweep(0, 0, 30, 30, 0, 360),))
    >>> round(parallel(circle, -10.0).perimeter / (2 * math.pi), 3)
    20.0
    """
    if mm == 0:
        return outline
    points = _distinct(outline.flatten(FLAT_MM))
    moved = _moved(points, mm)
    crossings = self_crossings(moved)
    runs = [run for run in _runs(moved, crossings) if _far_enough(run, points, abs(mm))]
    loops = _loops(runs)
    if not loops or (len(loops) == 1 and _thin(loops[0])):
        raise BadTreatment("shape", "nothing of the opening is left", "a larger opening, or less on every side")
    if len(loops) > 1:
        raise BadTreatment("shape", "the opening falls into parts", "wider bays and necks, or less on every side")
    return polygon(loops[0])


def _thin(points: list[Point]) -> bool:
    """Tell whether no more is inside than what the flattening may have left, or it goes against the clock."""
    sides = list(itertools.pairwise((*points, points[0])))
    area = math.fsum(ax * by - ay * bx for (ax, ay), (bx, by) in sides) / 2
    return area <= _THIN_MM * math.fsum(math.dist(*side) for side in sides)


def self_crossings(points: Sequence[Point]) -> list[Crossing]:
    """Return where the closed polygon crosses itself; sides that only meet end to end do not count.

    >>> [point for _, _, point in self_crossings([(0, 0), (2, 2), (2, 0), (0, 2)])]
    [(1.0, 1.0)]
    """
    count = len(points)
    sides = [(points[at], points[(at + 1) % count]) for at in range(count)]
    across = [sorted((side[0][0], side[1][0])) for side in sides]
    along = [sorted((side[0][1], side[1][1])) for side in sides]
    found: list[Crossing] = []
    active: list[int] = []
    for at in sorted(range(count), key=lambda at: across[at][0]):
        left, (top, bottom) = across[at][0], along[at]
        active = [other for other in active if across[other][1] >= left]
        for other in active:
            if along[other][1] < top or along[other][0] > bottom or abs(at - other) in (1, count - 1):
                continue
            hit = _meet(sides[at], sides[other])
            if hit is not None:
                found.append((at + hit[0], other + hit[1], hit[2]))
        active.append(at)
    return found


def _distinct(points: list[Point]) -> list[Point]:
    return [point for at, point in enumerate(points) if math.dist(point, points[at - 1]) > 1e-7]


def _moved(points: list[Point], mm: float) -> list[Point]:
    """Return the corners moved to where their two sides, moved outwards, meet."""
    count = len(points)
    normals = [_normal(points[at], points[(at + 1) % count]) for at in range(count)]
    moved: list[Point] = []
    for at, (x, y) in enumerate(points):
        (ax, ay), (bx, by) = normals[at - 1], normals[at]
        both = 1 + ax * bx + ay * by  # twice the square of the sine of half the corner
        if both < 2 * _SHARPEST**2:
            raise BadTreatment(
                "shape", f"a corner too sharp at {x:.2f}, {y:.2f} mm from the middle", "a blunter corner"
            )
        if mm * (ax * by - ay * bx) < -_SHARP_TURN * abs(mm):
            # The moved sides cross somewhere, or not at all where they are short: gone round by the corner itself,
            # which is too near and so falls away, the crossing is found wherever it is.
            moved += [(x + mm * ax, y + mm * ay), (x, y), (x + mm * bx, y + mm * by)]
        else:
            moved.append((x + mm * (ax + bx) / both, y + mm * (ay + by) / both))
    return moved


def _normal(start: Point, end: Point) -> Point:
    long = math.dist(start, end)
    return (end[1] - start[1]) / long, (start[0] - end[0]) / long


def _meet(one: tuple[Point, Point], two: tuple[Point, Point]) -> tuple[float, float, Point] | None:
    (ax, ay), (bx, by) = one
    (cx, cy), (dx, dy) = two
    ux, uy, vx, vy = bx - ax, by - ay, dx - cx, dy - cy
    under = ux * vy - uy * vx
    if under == 0:
        return None
    s = ((cx - ax) * vy - (cy - ay) * vx) / under
    t = ((cx - ax) * uy - (cy - ay) * ux) / under
    return (s, t, (ax + s * ux, ay + s * uy)) if 0 <= s < 1 and 0 <= t < 1 else None


class _Run(list[Point]):
    """Part of the moved polygon between two crossings, by their numbers; -1 both where there is none at all."""

    def __init__(self, points: list[Point], start: int, end: int) -> None:
        super().__init__(points)
        self.start, self.end = start, end


def _runs(points: list[Point], crossings: list[Crossing]) -> list[_Run]:
    if not crossings:
        return [_Run([*points, points[0]], -1, -1)]
    marks = sorted((at, number) for number, (one, two, _) in enumerate(crossings) for at in (one, two))
    runs = []
    for (low, start), (high, end) in itertools.pairwise((*marks, marks[0])):
        reach = high if high > low else high + len(points)
        if (high, end) == (low, start):
            reach = low + len(points)
        between = [points[at % len(points)] for at in range(math.floor(low) + 1, math.floor(reach) + 1)]
        runs.append(_Run([crossings[start][2], *between, crossings[end][2]], start, end))
    return runs


def _far_enough(run: _Run, points: list[Point], mm: float) -> bool:
    """Tell whether the middle of the run's longest side is as far from the outline as it should be."""
    start, end = max(itertools.pairwise(run), key=lambda side: math.dist(*side))
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    return _distance(middle, points) >= mm - _NEAR_MM


def _distance(point: Point, points: list[Point]) -> float:
    return min(_to_side(point, *side) for side in itertools.pairwise((*points, points[0])))


def _to_side(point: Point, start: Point, end: Point) -> float:
    ux, uy = end[0] - start[0], end[1] - start[1]
    px, py = point[0] - start[0], point[1] - start[1]
    along = max(0.0, min(1.0, (px * ux + py * uy) / (ux * ux + uy * uy)))
    return math.hypot(px - along * ux, py - along * uy)


def _loops(runs: list[_Run]) -> list[list[Point]]:
    """Return the runs chained end to start; raises BadTreatment where one does not go on."""
    left, loops = list(runs), []
    while left:
        run = left.pop()
        loop, first, at = list(run), run.start, run.end
        while at != first:
            after = next((run for run in left if run.start == at), None)
            if after is None:
                raise BadTreatment("shape", "edges of the opening run into one another", "less on every side")
            left.remove(after)
            loop += after[1:]
            at = after.end
        loops.append(loop[:-1])
    return loops
