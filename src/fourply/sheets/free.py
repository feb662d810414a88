"""Free places for words among lines that are where they are.

A template cannot move its lines to make room, so each name is put where no line runs and no other name stands, as near
to what it names as may be, and joined to it by a leader.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from fourply.drawing.check import crosses
from fourply.drawing.pen import Steps
from fourply.drawing.shapes import Box, Point, flatten

type Segment = tuple[Point, Point]

_FAR = 11.0  # from here on a leader across a line is better than a longer one
_ABOUT = 1.0  # clear of lines and other words, in millimetres


def straight(steps: Steps) -> list[Segment]:
    """Return a path as short straight lines, closing lines included."""
    found: list[Segment] = []
    for outline in flatten(steps):
        found.extend(pairwise(outline))
    if steps and steps[-1][0] == "Z":
        last = flatten(steps)[-1]
        found.append((last[-1], last[0]))
    return found


class Free:
    """The free part of an area: lines and boxes are added, places asked for."""

    def __init__(self, area: Box) -> None:
        self._area = area
        self._lines: list[Segment] = []
        self._boxes: list[Box] = []

    def add_lines(self, lines: Iterable[Segment]) -> None:
        """Take lines that no word may stand on."""
        self._lines.extend(lines)

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
        return not any(crosses(line, grown) for line in self._lines)

    def crosses_words(self, line: Segment) -> bool:
        """Tell whether a line would run through words."""
        return any(crosses(line, box) for box in self._boxes)

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
        return any(_meet(short, line) for line in self._lines)


def foot(box: Box, point: Point) -> Point:
    """Return where on the edge of a box the leader to a point begins: the nearest of its sides' middles."""
    x, y = (box.left + box.right) / 2, (box.top + box.bottom) / 2
    gap = 0.8
    if box.left <= point[0] <= box.right:
        return (x, box.bottom + gap) if point[1] > y else (x, box.top - gap)
    return (box.right + gap, y) if point[0] > x else (box.left - gap, y)


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
