"""Pens that change what passes through them and hand it on.

They let a view be composed in its own measure (real millimetres about its own corner) and placed on a page at a
scale. Line widths and type sizes are those of the page and never scale.
"""

from __future__ import annotations

from fourply.drawing.pen import Label, Path, Pen, Step


class Placed(Pen):
    """A pen that scales about the origin, then moves; `mirrored` swaps left and right first, as the back is seen.

    Text keeps its size and direction; only the point where it begins moves.
    """

    def __init__(self, pen: Pen, x: float, y: float, *, scale: float = 1.0, mirrored: bool = False) -> None:
        self._pen = pen
        self._x = x
        self._y = y
        self._across = -scale if mirrored else scale
        self._down = scale
        self._mirrored = mirrored

    def path(self, path: Path) -> None:
        """Hand on a path, scaled and moved."""
        self._pen.path(path._replace(steps=tuple(self._step(step) for step in path.steps)))

    def label(self, label: Label) -> None:
        """Hand on a line of text that begins at the moved point."""
        self._pen.label(label._replace(x=self._x + label.x * self._across, y=self._y + label.y * self._down))

    def _step(self, step: Step) -> Step:
        if step[0] == "Z":
            return step
        if step[0] == "A":
            _, cx, cy, rx, ry, start, sweep = step
            if self._mirrored:
                start, sweep = 180 - start, -sweep
            down = self._down
            return ("A", self._x + cx * self._across, self._y + cy * down, rx * down, ry * down, start, sweep)
        if step[0] == "C":
            _, x1, y1, x2, y2, x3, y3 = step
            return ("C", *self._at(x1, y1), *self._at(x2, y2), *self._at(x3, y3))
        if step[0] == "L":
            return ("L", *self._at(step[1], step[2]))
        return ("M", *self._at(step[1], step[2]))

    def _at(self, x: float, y: float) -> tuple[float, float]:
        return self._x + x * self._across, self._y + y * self._down
