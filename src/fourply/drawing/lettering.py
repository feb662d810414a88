"""Text put on a page: a type is chosen once, a line is anchored where it must align.

Recorded labels always begin at the left end of their base line, so a writer never measures; anchoring is done here.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from fourply.drawing import text as setting
from fourply.drawing.ink import Ink
from fourply.drawing.pen import Label, Pen
from fourply.drawing.text import PT


class Anchor(Enum):
    """Which point of the line stands at the given place; the value is its part of the width."""

    START = 0.0
    MIDDLE = 0.5
    END = 1.0


@dataclass(frozen=True, slots=True)
class Type:
    """A size in typographic points and a weight."""

    points: float
    bold: bool = False
    ink: Ink = Ink.BLACK

    @property
    def size(self) -> float:
        """The size in millimetres."""
        return self.points * PT

    @property
    def lead(self) -> float:
        """From one base line to the next, in millimetres."""
        return self.size * 1.28

    def width(self, text: str) -> float:
        """Return how wide a line is, in millimetres."""
        return setting.width(text, self.size, bold=self.bold)

    def fit(self, text: str, room: float) -> str:
        """Return the text, or as much of it as fits with an ellipsis."""
        return setting.fit(text, room, self.size, bold=self.bold)

    def wrap(self, text: str, room: float) -> list[str]:
        """Return the text as lines that fit."""
        return setting.wrap(text, room, self.size, bold=self.bold)


def write(
    pen: Pen,
    at: tuple[float, float],
    text: str,
    kind: Type,
    *,
    anchor: Anchor = Anchor.START,
    angle: float = 0.0,
    figure: str = "",
) -> float:
    """Write one line with the anchor of its base line at a point; return its width in millimetres.

    A blank line leaves no mark.
    """
    x, y = at
    text = setting.clean(text)
    width = kind.width(text)
    if not text.strip():
        return width
    back = width * anchor.value
    turn = math.radians(angle)
    start = (x - back * math.cos(turn), y + back * math.sin(turn)) if angle else (x - back, y)
    pen.label(Label(*start, text, kind.size, kind.bold, angle, kind.ink, figure))
    return width


def write_lines(pen: Pen, at: tuple[float, float], lines: Sequence[str], kind: Type) -> float:
    """Write lines below one another, the first on the given base line; return the base line after the last."""
    x, y = at
    for line in lines:
        write(pen, (x, y), line, kind)
        y += kind.lead
    return y
