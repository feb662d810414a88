"""The two ways in which an oval is drawn by hand, in a small figure each: pins and loop, and the trammel.

Both give the same curve; a trammel is a strip with the pencil at its end and a pin that runs along each axis.
"""

from __future__ import annotations

import math

from fourply.drawing import dimension
from fourply.drawing.dimension import Dim, Side, lay_out
from fourply.drawing.ink import AXIS, EXTENSION, VISIBLE
from fourply.drawing.lettering import write, write_lines
from fourply.drawing.page import REDUCED, Scale, largest
from fourply.drawing.pen import Path, Pen
from fourply.drawing.shapes import Box, Point, ellipse
from fourply.drawing.signs import dot, stroke
from fourply.sheets.furniture import columns
from fourply.sheets.template_figures import Ways
from fourply.sheets.types import CAPTION, HEADING, STRONG, TEXT

HEIGHT = 38.0

_DRAWN = (28.0, 25.0)  # room for an oval that stands
_LYING = (28.0, 18.0)  # for one that lies, whose dimension stands below it
_UP = 3.0  # by how much that one is higher
_DIMENSION = 11.0
_LINES = 5  # of words beside each
_OVER = 2.0  # axes run on past the oval
_TURN = math.radians(-35)  # where the pencil stands, so that neither string nor strip lies along an axis


def compose_ways(pen: Pen, area: Box, ways: Ways) -> None:
    """Draw both ways side by side below their heading."""
    scale = largest((ways.width, ways.height), _DRAWN if _stands(ways) else _LYING, REDUCED)
    head = write(pen, (area.left, area.top + 4.8), "Two ways to draw it", HEADING)
    caption = CAPTION.fit(f"{ways.name}, {scale}", area.width - head - 2)
    write(pen, (area.left + head + 2, area.top + 4.8), caption, CAPTION)
    left, right = columns(Box(area.left, area.top + 7.5, area.right, area.top + HEIGHT), (1, 1), gap=6)
    _words(pen, left, "Pins and loop", ways.by_pins)
    _words(pen, right, "Trammel", ways.by_trammel)
    _pins(pen, _oval(pen, left, ways, scale), ways, scale)
    _trammel(pen, _oval(pen, right, ways, scale), ways, scale)


def _stands(ways: Ways) -> bool:
    return ways.height > ways.width


def _words(pen: Pen, cell: Box, title: str, text: str) -> None:
    left = cell.left + _DIMENSION + _DRAWN[0] + 2 * _OVER + 3
    room = cell.right - left
    write(pen, (left, cell.top + 6), STRONG.fit(title, room), STRONG)
    lines = TEXT.wrap(text, room)
    last = " ".join(lines[_LINES - 1 :])
    write_lines(pen, (left, cell.top + 10.2), [*lines[: _LINES - 1], TEXT.fit(last, room)], TEXT)


def _oval(pen: Pen, cell: Box, ways: Ways, scale: Scale) -> Point:
    """Draw the oval and its axes; return its middle."""
    x = cell.left + _DIMENSION + _OVER + _DRAWN[0] / 2
    y = (cell.top + cell.bottom) / 2 - (0 if _stands(ways) else _UP)
    wide, high = scale.of(ways.width) / 2, scale.of(ways.height) / 2
    stroke(pen, (x - wide - _OVER, y), (x + wide + _OVER, y), AXIS)
    stroke(pen, (x, y - high - _OVER), (x, y + high + _OVER), AXIS)
    pen.path(Path(ellipse(x, y, wide, high), VISIBLE))
    return x, y


def _pencil(middle: Point, ways: Ways, scale: Scale) -> Point:
    return (
        middle[0] + scale.of(ways.width) / 2 * math.cos(_TURN),
        middle[1] + scale.of(ways.height) / 2 * math.sin(_TURN),
    )


def _pins(pen: Pen, middle: Point, ways: Ways, scale: Scale) -> None:
    """Draw the loop round both pins, taut at the pencil, and the dimension of the pins."""
    (x, y), away = middle, scale.of(ways.pins) / 2
    upright = _stands(ways)
    pins = [(x, y - away), (x, y + away)] if upright else [(x - away, y), (x + away, y)]
    pencil = _pencil(middle, ways, scale)
    string = VISIBLE._replace(width=0.35)
    for one, two in ((pins[0], pins[1]), (pins[0], pencil), (pins[1], pencil)):
        stroke(pen, one, two, string)
    for point in (*pins, pencil):
        dot(pen, point)
    half = scale.of(ways.width if upright else ways.height) / 2
    start, end = (pin[1] if upright else pin[0] for pin in pins)
    dim = Dim(start, end, ways.apart, half + _OVER)
    side, edge = (Side.LEFT, x - half - _OVER) if upright else (Side.BOTTOM, y + half + _OVER)
    within = (y - 20, y + 20) if upright else (x - 22, x + 22)
    dimension.draw(pen, lay_out(side, edge, [[dim]], within=within))


def _trammel(pen: Pen, middle: Point, ways: Ways, scale: Scale) -> None:
    """Draw the strip from the pencil over the longer axis to the shorter one."""
    (x, y), pencil = middle, _pencil(middle, ways, scale)
    between = scale.of(ways.width - ways.height) / 2
    # a point (a cos t, b sin t) has its sliders at ((a - b) cos t, 0) and (0, (b - a) sin t)
    across, upright = (x + between * math.cos(_TURN), y), (x, y - between * math.sin(_TURN))
    far = across if _stands(ways) else upright
    stroke(pen, pencil, far, VISIBLE._replace(width=0.5))
    for point in (pencil, across, upright):
        dot(pen, point)
    stroke(pen, pencil, (pencil[0] + 1.6, pencil[1] - 1.6), EXTENSION)
