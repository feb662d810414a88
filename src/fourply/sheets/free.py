"""Free places for words among lines that are where they are.

A template cannot move its lines to make room, so each name is put where no line runs and no other name stands, as near
to what it names as may be, and joined to it by a leader.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from fourply.drawing.check import crosses
from fourply.drawing.pen import Step, Steps
from fourply.drawing.shapes import Box, Point, arc_point, cubic_point

type Segment = tuple[Point, Point]

_FAR = 11.0  # from here on a leader across a line is better than a longer one
_PIECE = 2.0
_CELL = 12.0  # lines are kept by the squares that they pass, so that only those near a place are asked
_ABOUT = 1.0  # clear of lines and other words, in millimetres


def straight(steps: Steps) -> list[Segment]:
    """Return a path as straight lines, closing lines included; curves in pieces of some 2 mm."""
    found: list[Segment] = []
    here = start = (0.0, 0.0)
    for step in steps:
        points = _along(here, step) if step[0] in {"A", "C"} else [start if step[0] == "Z" else (step[1], step[2])]
        if step[0] == "M":
            start = points[0]
        else:
            found.extend(pairwise([here, *points]))
        here = points[-1]
    return found


def _along(here: Point, step: Step) -> list[Point]:
    """Return points along an arc or a curve, its end the last."""
    if step[0] == "A":
        count = max(1, math.ceil(math.radians(abs(step[6])) * max(step[3], step[4]) / _PIECE))
        return [arc_point(step, step[6] * i / count) for i in range(1, count + 1)]
    if step[0] == "C":
        corners = [here, (step[1], step[2]), (step[3], step[4]), (step[5], step[6])]
        count = max(1, math.ceil(sum(math.dist(*pair) for pair in pairwise(corners)) / _PIECE))
        return [cubic_point(here, step, i / count) for i in range(1, count + 1)]
    return []


class Free:
    """The free part of an area: lines and boxes are added, places asked for."""

    def __init__(self, area: Box) -> None:
        self._area = area
        self._cells: defaultdict[tuple[int, int], list[Segment]] = defaultdict(list)
        self._boxes: list[Box] = []

    def add_lines(self, lines: Iterable[Segment]) -> None:
        """Take lines that no word may stand on."""
        for line in lines:
            for cell in _cells(_around_line(line)):
                self._cells[cell].append(line)

    def take(self, box: Box) -> None:
        """Take a box that words stand in."""
        self._boxes.append(box)

    def fits(self, box: Box, *, about: float = _ABOUT) -> bool:
        """Tell whether a box lies in the area and on nothing, so much room about it included."""
        area, grown = self._area, box.grown(about)
        if box.left < area.left or box.right > area.right or box.top < area.top or box.bottom > area.bottom:
            return False
        if any(grown.meets(other) for other in self._boxes):
            return False
        return not any(crosses(line, grown) for line in self._near(grown))

    def crosses_words(self, line: Segment) -> bool:
        """Tell whether a line would run through words."""
        return any(crosses(line, box) for box in self._boxes)

    def _near(self, box: Box) -> Iterator[Segment]:
        """Yield the lines of the cells under a box: some twice, none missed."""
        for cell in _cells(box):
            yield from self._cells.get(cell, ())

    def beside(self, points: Sequence[Point], size: tuple[float, float]) -> tuple[Box, Point] | None:
        """Return the nearest free box of a size to one of the points, with that point, or nothing.

        A leader from the box to its point crosses no words, and no line where there is such a place near by.
        """
        second = None
        for reach in (4.0, 7.0, 11.0, 16.0, 24.0, 34.0, 48.0):
            for point in points:
                for box in _around(point, *size, reach):
                    leader = (foot(box, point), point)
                    if not self.fits(box) or self.crosses_words(leader):
                        continue
                    if not self._crosses_lines(leader):
                        return box, point
                    second = second or (box, point)
            if second and reach >= _FAR:
                return second
        return second

    def _crosses_lines(self, leader: Segment) -> bool:
        """Tell whether a leader meets a line before it comes to its point."""
        (x1, y1), (x2, y2) = leader
        short = ((x1, y1), (x1 + 0.9 * (x2 - x1), y1 + 0.9 * (y2 - y1)))
        return any(_meet(short, line) for line in self._near(_around_line(short)))


def foot(box: Box, point: Point) -> Point:
    """Return where on the edge of a box the leader to a point begins: the nearest of its sides' middles."""
    x, y = (box.left + box.right) / 2, (box.top + box.bottom) / 2
    gap = 0.8
    if box.left <= point[0] <= box.right:
        return (x, box.bottom + gap) if point[1] > y else (x, box.top - gap)
    return (box.right + gap, y) if point[0] > x else (box.left - gap, y)


def _around_line(line: Segment) -> Box:
    (x1, y1), (x2, y2) = line
    return Box(min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2))


def _cells(box: Box) -> Iterator[tuple[int, int]]:
    for across in range(math.floor(box.left / _CELL), math.floor(box.right / _CELL) + 1):
        for down in range(math.floor(box.top / _CELL), math.floor(box.bottom / _CELL) + 1):
            yield across, down


def _meet(one: Segment, two: Segment) -> bool:
    """Tell whether two straight lines cross, by the sides on which the ends of each lie of the other."""
    return _side(*one, two[0]) * _side(*one, two[1]) < 0 and _side(*two, one[0]) * _side(*two, one[1]) < 0


def _side(start: Point, end: Point, point: Point) -> float:
    return (end[0] - start[0]) * (point[1] - start[1]) - (end[1] - start[1]) * (point[0] - start[0])


def _around(point: Point, wide: float, high: float, reach: float) -> Iterator[Box]:
    """Yield boxes round a point, level ones first."""
    x, y = point
    for dx, dy in ((1, 0), (-1, 0), (0, 1), (0, -1), (1, 1), (-1, 1), (1, -1), (-1, -1)):
        left = x + dx * reach - (wide if dx < 0 else wide / 2 if dx == 0 else 0)
        top = y + dy * reach - (high if dy < 0 else high / 2 if dy == 0 else 0)
        yield Box(left, top, left + wide, top + high)
