"""Drawings as SVG: for screens, for other programs, and as the source of pictures.

The file holds geometry and text only: no script, no style sheet, nothing fetched, and every character of a title is
escaped, so it may stand inside a page under a strict content policy. Black follows the page's own text colour
(`currentColor`); each mark carries its role as class and, where it shows a figure, that figure's path. Arcs stay
arcs, a quarter turn at most each.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from xml.sax.saxutils import escape, quoteattr

from fourply.drawing.ink import Ink, Stroke
from fourply.drawing.pen import Arc, Label, Path, Pen, Step
from fourply.drawing.record import Drawing, replay
from fourply.drawing.shapes import arc_point
from fourply.drawing.text import clean, drawn, pieces
from fourply.render.fonts import FAMILY

_TURN = 90.0  # degrees


def render(drawing: Drawing) -> bytes:
    """Return the drawing as an SVG file in UTF-8, one user unit a millimetre."""
    width, height = _number(drawing.width), _number(drawing.height)
    pen = _Elements()
    replay(drawing.marks, pen)
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}"'
        f' role="img" fill="none" stroke-linecap="round" stroke-linejoin="round" font-family="{FAMILY}"'
        ' xml:space="preserve">'
    )
    title = f"<title>{escape(clean(drawing.title))}</title>"
    return "\n".join([head, title, *pen.elements, "</svg>\n"]).encode()


class _Elements(Pen):
    """Turns marks into elements."""

    def __init__(self) -> None:
        self.elements: list[str] = []

    def path(self, path: Path) -> None:
        stroke, fill = path.stroke, path.fill
        role = stroke.role if stroke else "fill"
        line = _line(stroke) if stroke else ""
        area = f' fill="{_colour(fill)}" fill-rule="evenodd"' if fill else ""
        self.elements.append(f'<path class="{role}" d="{path_data(path.steps)}"{line}{area}/>')

    def label(self, label: Label) -> None:
        spans = "".join(
            f'<tspan x="{_number(label.x + piece.across * label.size)}"'
            f' y="{_number(label.y - piece.rise * label.size)}"'
            f' font-size="{_number(label.size * piece.scale)}">{escape(drawn(piece))}</tspan>'
            for piece in pieces(label.text, bold=label.bold)
        )
        turn = (
            f' transform="rotate({_number(-label.angle)} {_number(label.x)} {_number(label.y)})"' if label.angle else ""
        )
        figure = f" data-figure={quoteattr(clean(label.figure))}" if label.figure else ""
        weight = ' font-weight="700"' if label.bold else ""
        self.elements.append(f'<text fill="{_colour(label.ink)}"{weight}{turn}{figure}>{spans}</text>')


def _line(stroke: Stroke) -> str:
    dashes = f' stroke-dasharray="{" ".join(map(_number, stroke.dashes))}" stroke-linecap="butt"'
    return f' stroke="{_colour(stroke.ink)}" stroke-width="{_number(stroke.width)}"{dashes if stroke.dashes else ""}'


def _colour(ink: Ink) -> str:
    return "currentColor" if ink is Ink.BLACK else ink.value


def path_data(steps: Iterable[Step], *, places: int = 4) -> str:
    """Return steps as the data of a path element, numbers to so many places, arcs of at most a quarter turn each.

    An SVG arc has no centre; a reader finds it from the ends, near half a turn only roughly where they are rounded.
    """
    parts: list[str] = []
    for step in steps:
        if step[0] == "A":
            parts.extend(_arc(step, places))
        else:
            parts.append(step[0] + " ".join(_number(value, places) for value in step[1:]))
    return "".join(parts)


def _arc(arc: Arc, places: int) -> list[str]:
    """Return the arc as SVG arcs, none of more than a quarter turn."""
    _, _, _, rx, ry, _, sweep = arc
    count = max(1, math.ceil(abs(sweep) / _TURN - 1e-9))
    head = f"A{_number(rx, places)} {_number(ry, places)} 0 0 {int(sweep > 0)} "
    ends = [arc_point(arc, sweep * (i + 1) / count) for i in range(count)]
    return [f"{head}{_number(x, places)} {_number(y, places)}" for x, y in ends]


def _number(value: float, places: int = 4) -> str:
    text = f"{value:.{places}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
