"""The pen: the two verbs between those who compose a drawing and those who write it.

A composer speaks to a pen and does not know whether it records, moves, scales or measures what passes. A path is a
tuple of steps, each a tuple that opens with its letter:

    ("M", x, y)                          lift and go to
    ("L", x, y)                          straight line to
    ("C", x1, y1, x2, y2, x, y)          cubic curve to x, y
    ("A", cx, cy, rx, ry, start, sweep)  arc of an upright ellipse, from the angle `start` by `sweep` degrees
    ("Z",)                               straight line back to the last lift

The pen must already stand where an arc begins; `shapes` makes paths of which that is true.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from typing import Literal, NamedTuple

from fourply.drawing.ink import Ink, Stroke

type Move = tuple[Literal["M"], float, float]
type Line = tuple[Literal["L"], float, float]
type Curve = tuple[Literal["C"], float, float, float, float, float, float]
type Arc = tuple[Literal["A"], float, float, float, float, float, float]
type Close = tuple[Literal["Z"]]
type Step = Move | Line | Curve | Arc | Close
type Steps = tuple[Step, ...]


class Path(NamedTuple):
    """Steps with the line that follows them (or none) and the ink that fills them (or none), even-odd.

    `layer` names the group it belongs to, for formats that keep groups apart; others leave it out.
    """

    steps: Steps
    stroke: Stroke | None
    fill: Ink | None = None
    layer: str = ""


class Label(NamedTuple):
    """One line of text from the left end of its base line; `size` in millimetres.

    A fraction is written with U+2044 (`16 3⁄8`) and set as one. `angle` turns the line against the clock about that
    end. `figure` is the path of the figure that the text shows, empty where it shows none.
    """

    x: float
    y: float
    text: str
    size: float
    bold: bool = False
    angle: float = 0.0
    ink: Ink = Ink.BLACK
    figure: str = ""


class Pen(ABC):
    """What takes a drawing, mark by mark. A subclass gives both verbs and adds none that a composer may call."""

    @abstractmethod
    def path(self, path: Path) -> None:
        """Take a path."""

    @abstractmethod
    def label(self, label: Label) -> None:
        """Take a line of text."""
