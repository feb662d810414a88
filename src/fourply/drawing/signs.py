"""The small signs of a printed sheet, drawn as lines because no font can be trusted to have them.

All are black on white and told apart by form: a disc names a piece, a ring a cut, a box waits for a tick.
"""

from __future__ import annotations

import math

from fourply.drawing.ink import DIMENSION, RULE, VISIBLE, Ink, Stroke
from fourply.drawing.lettering import Anchor, Type, write
from fourply.drawing.pen import Path, Pen
from fourply.drawing.shapes import Box, circle, line, polygon, polyline, rectangle
from fourply.drawing.text import CAP_HEIGHT

ARROW_LENGTH = 2.1
_ARROW_HALF = math.radians(14)


def stroke(pen: Pen, start: tuple[float, float], end: tuple[float, float], kind: Stroke) -> None:
    """Draw a straight line."""
    pen.path(Path(line(*start, *end), kind))


def arrowhead(pen: Pen, tip: tuple[float, float], angle: float, kind: Stroke = DIMENSION) -> None:
    """Draw an open arrowhead that points along `angle` (degrees, as the clock goes from the right)."""
    x, y = tip
    feet = [
        (x - ARROW_LENGTH * math.cos(turn), y - ARROW_LENGTH * math.sin(turn))
        for turn in (math.radians(angle) - _ARROW_HALF, math.radians(angle) + _ARROW_HALF)
    ]
    pen.path(Path(polyline([feet[0], tip, feet[1]]), kind))


def tick(pen: Pen, at: tuple[float, float], kind: Stroke = DIMENSION) -> None:
    """Draw the oblique stroke that ends a dimension too short for arrowheads."""
    x, y = at
    stroke(pen, (x - 0.8, y + 0.8), (x + 0.8, y - 0.8), kind._replace(width=0.25))


def dot(pen: Pen, at: tuple[float, float]) -> None:
    """Draw the dot with which a leader ends inside what it names."""
    pen.path(Path(circle(*at, 0.45), None, Ink.BLACK))


def disc(pen: Pen, centre: tuple[float, float], text: str, radius: float = 3.4) -> None:
    """Draw a black disc with white text."""
    pen.path(Path(circle(*centre, radius), None, Ink.BLACK))
    _centred(pen, centre, text, Type(radius * 2.9, bold=True, ink=Ink.PAPER), radius)


def ring(pen: Pen, centre: tuple[float, float], text: str, radius: float = 3.0) -> None:
    """Draw an open ring, white inside, with black text."""
    pen.path(Path(circle(*centre, radius), VISIBLE._replace(width=0.35), Ink.PAPER))
    _centred(pen, centre, text, Type(radius * 2.7, bold=True), radius)


def box(pen: Pen, left: float, top: float, side: float = 3.8) -> None:
    """Draw the box that waits for a tick."""
    pen.path(Path(rectangle(Box(left, top, left + side, top + side)), VISIBLE._replace(width=0.35)))


def check(pen: Pen, left: float, base: float, size: float) -> None:
    """Draw a check mark as tall as capitals of this type size, on a base line."""
    top = base - CAP_HEIGHT * size
    points = [(left, base - 0.3 * size), (left + 0.28 * size, base), (left + 0.85 * size, top)]
    pen.path(Path(polyline(points), VISIBLE._replace(width=0.35)))


def warning(pen: Pen, left: float, base: float, size: float, *, grave: bool = False) -> None:
    """Draw a triangle with an exclamation mark on a base line; filled where the matter is grave."""
    half, top = 0.5 * size, base - 0.86 * size
    middle = left + half
    ink = Ink.PAPER if grave else Ink.BLACK
    outline = polygon([(left, base), (left + 2 * half, base), (middle, top)])
    pen.path(Path(outline, RULE._replace(width=0.3), Ink.BLACK if grave else None))
    bar = Stroke("sign", 0.1 * size, (), ink)
    stroke(pen, (middle, top + 0.3 * size), (middle, base - 0.3 * size), bar)
    pen.path(Path(circle(middle, base - 0.15 * size, 0.06 * size), None, ink))


def _centred(pen: Pen, centre: tuple[float, float], text: str, kind: Type, radius: float) -> None:
    fitting = min(1.0, 1.5 * radius / max(kind.width(text), 1e-6))
    kind = Type(kind.points * fitting, kind.bold, kind.ink)
    x, y = centre
    write(pen, (x, y + CAP_HEIGHT / 2 * kind.size), text, kind, anchor=Anchor.MIDDLE)
