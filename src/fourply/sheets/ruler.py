"""The ruler that is printed beside what must be true to size: 100 mm on one side, 4 in on the other.

It is laid against a steel rule before anything else is done with the sheet, across and up, since a printer may
stretch the one and not the other.
"""

from __future__ import annotations

from collections.abc import Callable

from fourply.drawing.ink import EXTENSION, THIN
from fourply.drawing.lettering import Anchor, Type, write
from fourply.drawing.pen import Path, Pen, Step
from fourply.drawing.signs import stroke
from fourply.drawing.text import CAP_HEIGHT

INCH = 25.4
LENGTH = 4 * INCH
ABOVE, BELOW = 6.0, 6.0
"""How far figures and strokes reach on the side of millimetres and on that of inches."""

_KIND = Type(6.6, bold=True)
_GAP = 0.7


def compose_ruler(pen: Pen, at: tuple[float, float], *, upright: bool = False) -> None:
    """Draw a ruler from a point to the right, or upwards; millimetres above or at the left, inches opposite."""
    ruler = _Ruler(pen, at, upright=upright)
    ruler.strokes(100, 1.0, _millimetre, -1)
    ruler.strokes(64, INCH / 16, _sixteenth, 1)
    stroke(pen, ruler.at(0, 0), ruler.at(LENGTH, 0), THIN)
    for mm in (0, 50, 100):
        ruler.figure(mm, "100 mm" if mm == 100 else str(mm), -1)
    for inches in range(5):
        ruler.figure(inches * INCH, "4 in" if inches == 4 else str(inches), 1)


def _millimetre(number: int) -> float:
    return 3.2 if number % 10 == 0 else 2.2 if number % 5 == 0 else 1.3


def _sixteenth(number: int) -> float:
    return 3.2 if number % 16 == 0 else 2.4 if number % 8 == 0 else 1.8 if number % 4 == 0 else 1.1


class _Ruler:
    """Places along a ruler (u) and to its sides (v, below nothing on the side of millimetres)."""

    def __init__(self, pen: Pen, at: tuple[float, float], *, upright: bool) -> None:
        self._pen = pen
        self._x, self._y = at
        self._upright = upright

    def at(self, u: float, v: float) -> tuple[float, float]:
        return (self._x + v, self._y - u) if self._upright else (self._x + u, self._y + v)

    def strokes(self, count: int, apart: float, long: Callable[[int], float], side: int) -> None:
        steps: list[Step] = []
        for number in range(count + 1):
            steps += [("M", *self.at(number * apart, 0)), ("L", *self.at(number * apart, side * long(number)))]
        self._pen.path(Path(tuple(steps), EXTENSION))

    def figure(self, u: float, text: str, side: int) -> None:
        v = side * (3.2 + _GAP) + (CAP_HEIGHT * _KIND.size if side > 0 else 0)
        write(self._pen, self.at(u, v), text, _KIND, anchor=Anchor.MIDDLE, angle=90 if self._upright else 0)
