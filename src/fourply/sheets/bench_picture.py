"""Small pictures of boards as they lie on the cutter, true to shape: every line thin, what is cut now heavy.

The lines come from the package, what is cut from the settings; both are seen from behind, about the edges that the
board registers on.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from fourply.bench.cuts import Arc, Cut, Operation, Oval, Shave, Slant, Spot, Task, Template
from fourply.bench.settings import Settings
from fourply.drawing.pen import Steps
from fourply.drawing.shapes import Box, Point, ellipse, line, rectangle
from fourply.measure.size import Size
from fourply.sheets.bench_view import Picture
from fourply.sheets.outlines import Cut as Drawn
from fourply.sheets.outlines import Line, insert_lines, mat_lines, mirrored, moved, sink_lines
from fourply.trade.package import Package

_SHOWN = frozenset((Line.BACK, Line.GROOVE_BACK, Line.INLAY_BACK, Line.OPENING))
_SAME = 0.01  # millimetres within which a box is that of what is shaved


class Bench:
    """A work's package with its settings: what the figures of a strike lead to."""

    def __init__(self, package: Package, settings: Settings) -> None:
        self.package = package
        self.settings = settings
        self._found = {task.figure: (operation, task) for operation in settings.operations for task in operation.tasks}
        self._drawn: dict[tuple[str, Size], tuple[Drawn, ...]] = {}

    def find(self, figure: str) -> tuple[Operation, Task] | None:
        """Return the cut whose figures begin with a path, and the operation that it is part of."""
        return self._found.get(figure)

    def picture(self, board: str, size: Size, figures: Iterable[str]) -> Picture:
        """Return a board of a size, with the cuts whose figures begin so heavy.

        The drop-out of a groove is shown by itself, since it is what lies on the cutter when it is shaved.
        """
        found = [entry for figure in figures if figure and (entry := self.find(figure))]
        shaved = [task for _, task in found if isinstance(task, Shave)]
        if shaved:
            return self._drop_out(board, shaved[0])
        wide, high = size.width.as_mm, size.height.as_mm
        lines = tuple(drawn.steps for drawn in self._lines(board, size) if drawn.line in _SHOWN)
        heavy = (steps for operation, task in found for steps in self._heavy(operation, task, size))
        return Picture((wide, high), lines, tuple(heavy))

    def _lines(self, board: str, size: Size) -> tuple[Drawn, ...]:
        """Return the lines of a board about the upper left corner of what it registers on, seen from behind."""
        if (board, size) not in self._drawn:  # a board is pictured once for every cut in it
            self._drawn[board, size] = tuple(self._seen(board, size))
        return self._drawn[board, size]

    def _seen(self, board: str, size: Size) -> Iterator[Drawn]:
        package = self.package
        drawn: tuple[Drawn, ...] = ()
        for mat in package.mats:
            if mat.path == board:
                drawn = tuple(mat_lines(package, mat))
        if board == "inlay" and package.inlay:
            drawn = tuple(insert_lines(package, package.inlay))
        if board == "sink" and package.sink:
            drawn = tuple(sink_lines(package, package.sink))
        if not drawn:
            return
        blank = drawn[-1].box  # the blank comes last; what the board registers on has the same middle
        wide, high = size.width.as_mm, size.height.as_mm
        left, top = (blank.left + blank.right - wide) / 2, (blank.top + blank.bottom - high) / 2
        for each in drawn:
            right = wide + left
            box = Box(right - each.box.right, each.box.top - top, right - each.box.left, each.box.bottom - top)
            yield Drawn(each.line, mirrored(moved(each.steps, -left, -top), wide), box)

    def _drop_out(self, board: str, shave: Shave) -> Picture:
        size = shave.back.width.as_mm, shave.back.height.as_mm
        top = self.package.mats[0].blank
        for drawn in self._lines(board, top):
            box = drawn.box
            if drawn.line is Line.GROOVE_BACK and max(abs(box.width - size[0]), abs(box.height - size[1])) < _SAME:
                return Picture(size, (), (moved(drawn.steps, -box.left, -box.top),))
        return Picture(size, (), (rectangle(Box(0, 0, *size)),))

    def _heavy(self, operation: Operation, task: Task, size: Size) -> Iterator[Steps]:
        match task:
            case Cut():
                yield line(*_end(task, size, task.far.towards), *_end(task, size, task.near.towards))
            case Slant():
                yield line(*_spot(task.start, size), *_spot(task.end, size))
            case Arc():
                yield _arc(task, size)
            case Oval():
                wide, high = task.axes.width.as_mm / 2, task.axes.height.as_mm / 2
                yield ellipse(*_spot(task.centre, size), wide, high)
            case Template():
                corner = _spot(task.corner, size)
                for drawn in self._lines(operation.board, size):
                    if abs(drawn.box.left - corner[0]) < 1 and abs(drawn.box.top - corner[1]) < 1:
                        yield drawn.steps


def _end(cut: Cut, size: Size, towards: str) -> Point:
    """Return the end of a pencil line that lies towards a side."""
    end = cut.far if cut.far.towards == towards else cut.near
    away = {cut.side: cut.guide.as_mm, towards: end.crossing.as_mm}
    wide, high = size.width.as_mm, size.height.as_mm
    x = wide - away["left"] if "left" in away else away["right"]
    return x, high - away["bottom"] if "bottom" in away else away["top"]


def _spot(spot: Spot, size: Size) -> Point:
    across, down = spot.on(size)
    return across.as_mm, down.as_mm


def _arc(arc: Arc, size: Size) -> Steps:
    """Return an arc on the side of its ends on which its line is as long as it says; clockwise where both are."""
    cx, cy = _spot(arc.centre, size)
    rx, ry = arc.radius.as_mm, arc.upright.as_mm
    angles = []
    for x, y in (_spot(arc.start, size), _spot(arc.end, size)):
        angles.append(math.degrees(math.atan2((y - cy) / ry, (x - cx) / rx)))
    turn = (angles[1] - angles[0]) % 360
    wanted = math.degrees(arc.line.as_mm / ((rx + ry) / 2))
    sweep = min((turn, turn - 360), key=lambda each: (round(abs(abs(each) - wanted), 3), each < 0))
    start = math.radians(angles[0])
    return (("M", cx + rx * math.cos(start), cy + ry * math.sin(start)), ("A", cx, cy, rx, ry, angles[0], sweep))
