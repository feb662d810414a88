"""The part of a path that lies inside a box: lines, arcs and curves stay what they are.

Each piece is parted where it crosses an edge of the box, and the parts whose middle lies inside are kept. A line
along an edge of the box counts as inside. Only outlines are clipped; an area would need the box's own edges too.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from fourply.drawing.pen import Arc, Curve, Step, Steps
from fourply.drawing.shapes import Box, Point, arc_point, cubic_point

_NEAR = 1e-9
_SPANS = 32  # a cubic crosses a line three times at most; so many spans part crossings that matter


def clip(steps: Steps, box: Box) -> Steps:
    """Return what of the outlines lies inside the box, in pieces where it leaves and comes back.

    >>> from fourply.drawing.shapes import line
    >>> clip(line(-5, 5, 5, 5), Box(0, 0, 10, 10))
    (('M', 0.0, 5.0), ('L', 5.0, 5.0))
    """
    kept: list[Step] = []
    here = start = (0.0, 0.0)
    pen: Point | None = None  # where the last kept piece ended, if the next may go on from there
    for step in steps:
        if step[0] == "M":
            here = start = (step[1], step[2])
            pen = None
            continue
        drawn: Step = ("L", *start) if step[0] == "Z" else step
        for first, last in _inside(here, drawn, box) if _may_meet(here, drawn, box) else ():
            begin, piece = _part(here, drawn, first, last)
            if pen is None or math.dist(pen, begin) > _NEAR:
                kept.append(("M", *begin))
            kept.append(piece)
            pen = end_of(piece)
        here = end_of(drawn)
    return tuple(kept)


def end_of(step: Step) -> Point:
    """Return where a step other than a closing one ends."""
    if step[0] == "A":
        return arc_point(step, step[6])
    if step[0] == "Z":
        raise ValueError("where a closing line ends is not in the step")
    return step[-2], step[-1]


def _inside(here: Point, step: Step, box: Box) -> Iterator[tuple[float, float]]:
    """Yield the parts of a step that lie inside, as parameters from 0 to 1; those that touch are joined."""
    cuts = sorted({0.0, 1.0, *(t for t in _crossings(here, step, box) if _NEAR < t < 1 - _NEAR)})
    joined: list[tuple[float, float]] = []
    for first, last in pairwise(cuts):
        if not _holds(box, _at(here, step, (first + last) / 2)):
            continue
        if joined and joined[-1][1] == first:
            joined[-1] = (joined[-1][0], last)
        else:
            joined.append((first, last))
    yield from joined


def _may_meet(here: Point, step: Step, box: Box) -> bool:
    """Tell whether a step comes near the box at all: most do not, and are told apart by their control points."""
    if step[0] == "C":
        _, x1, y1, x2, y2, x3, y3 = step
        xs, ys = [here[0], x1, x2, x3], [here[1], y1, y2, y3]
    elif step[0] == "L":
        xs, ys = [here[0], step[1]], [here[1], step[2]]
    else:
        return True
    level = min(xs) <= box.right + _NEAR and max(xs) >= box.left - _NEAR
    return level and min(ys) <= box.bottom + _NEAR and max(ys) >= box.top - _NEAR


def _holds(box: Box, point: Point) -> bool:
    x, y = point
    across = box.left - _NEAR <= x <= box.right + _NEAR
    return across and box.top - _NEAR <= y <= box.bottom + _NEAR


def _at(here: Point, step: Step, t: float) -> Point:
    if step[0] == "A":
        return arc_point(step, step[6] * t)
    if step[0] == "C":
        return cubic_point(here, step, t)
    x, y = end_of(step)
    return here[0] + t * (x - here[0]), here[1] + t * (y - here[1])


def _crossings(here: Point, step: Step, box: Box) -> Iterator[float]:
    """Yield the parameters at which a step meets the lines through the edges of the box."""
    for axis, edges in ((0, (box.left, box.right)), (1, (box.top, box.bottom))):
        for edge in edges:
            if step[0] == "A":
                yield from _arc_meets(step, axis, edge)
            elif step[0] == "C":
                yield from _curve_meets(here, step, axis, edge)
            else:
                way = end_of(step)[axis] - here[axis]
                if way:
                    yield (edge - here[axis]) / way


def _arc_meets(arc: Arc, axis: int, edge: float) -> Iterator[float]:
    _, cx, cy, rx, ry, start, sweep = arc
    part = (edge - cx) / rx if axis == 0 else (edge - cy) / ry
    if abs(part) > 1 or not sweep:
        return
    first = math.degrees(math.acos(part) if axis == 0 else math.asin(part))
    for angle in (first, -first if axis == 0 else 180 - first):
        turned = (angle - start) % 360 if sweep > 0 else -((start - angle) % 360)
        yield turned / sweep


def _curve_meets(here: Point, curve: Curve, axis: int, edge: float) -> Iterator[float]:
    _, x1, y1, x2, y2, x3, y3 = curve
    controls = (here[0], x1, x2, x3) if axis == 0 else (here[1], y1, y2, y3)
    if min(controls) > edge or max(controls) < edge:
        return  # a cubic stays within its control points

    def over(t: float) -> float:
        return cubic_point(here, curve, t)[axis] - edge

    for span in range(_SPANS):
        low, high = span / _SPANS, (span + 1) / _SPANS
        below = over(low)
        if (below < 0) == (over(high) < 0):
            continue
        for _ in range(60):
            middle = (low + high) / 2
            low, high = (middle, high) if (over(middle) < 0) == (below < 0) else (low, middle)
        yield (low + high) / 2


def _part(here: Point, step: Step, first: float, last: float) -> tuple[Point, Step]:
    """Return where the part of a step between two parameters begins, and that part as a step of the same kind."""
    begin = _at(here, step, first)
    if step[0] == "A":
        _, cx, cy, rx, ry, start, sweep = step
        return begin, ("A", cx, cy, rx, ry, start + sweep * first, sweep * (last - first))
    if step[0] == "C":
        _, x1, y1, x2, y2, x3, y3 = step
        points = [here, (x1, y1), (x2, y2), (x3, y3)]
        # the blossom of a cubic: its control points between two parameters
        _, second, third, fourth = (_blossom(points, *ts) for ts in _corners(first, last))
        return begin, ("C", *second, *third, *fourth)
    return begin, ("L", *_at(here, step, last))


def _corners(a: float, b: float) -> list[tuple[float, float, float]]:
    return [(a, a, a), (a, a, b), (a, b, b), (b, b, b)]


def _blossom(points: list[Point], *ts: float) -> Point:
    """Return the point to which a cubic's control points come by one parameter a round (de Casteljau)."""
    for t in ts:
        points = [(p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])) for p, q in pairwise(points)]
    return points[0]
