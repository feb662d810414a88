"""The lines of a template, told apart in black alone: by weight, and by dashes that no other line has.

Heavy lines are those to cut: unbroken for the top mat, with long dashes for an under-mat, one dot more between them for
each that lies deeper, with short dashes for a spacer mat. Of the thin ones the edge of the top mat's blank alone is
unbroken.
"""

from __future__ import annotations

from collections.abc import Sequence

from fourply.drawing.ink import Stroke
from fourply.drawing.lettering import write
from fourply.drawing.pen import Pen
from fourply.drawing.shapes import Box
from fourply.drawing.signs import stroke
from fourply.sheets.furniture import columns
from fourply.sheets.template_view import Edge
from fourply.sheets.types import HEADING, TEXT

STROKES: dict[Edge, Stroke] = {
    Edge.TOP: Stroke("cut", 0.6),
    Edge.UNDER: Stroke("cut", 0.6, (10.0, 0.9)),
    Edge.SECOND: Stroke("cut", 0.6, (10.0, 0.9, 0.9, 0.9)),
    Edge.THIRD: Stroke("cut", 0.6, (10.0, 0.9, 0.9, 0.9, 0.9, 0.9)),
    Edge.SPACER: Stroke("cut", 0.6, (3.0, 0.9)),
    Edge.SECOND_SPACER: Stroke("cut", 0.6, (3.0, 0.9, 0.9, 0.9)),
    Edge.FACE: Stroke("face", 0.13, (3.0, 0.7)),
    Edge.GROOVE: Stroke("groove", 0.3, (3.6, 0.8, 0.5, 0.8, 0.5, 0.8)),
    Edge.INLAY: Stroke("inlay", 0.3, (5.0, 0.8, 0.5, 0.8)),
    Edge.RULED: Stroke("ruled", 0.13, (0.8, 0.6)),
    Edge.SINK: Stroke("sink", 0.3, (4.6, 1.4)),
    Edge.BLANK: Stroke("blank", 0.25),
    Edge.UNDER_BLANK: Stroke("under-blank", 0.25, (8.0, 2.4)),
    Edge.PACKAGE: Stroke("package", 0.3, (2.4, 1.0)),
    Edge.SHEET: Stroke("art", 0.4, (0.4, 1.3)),
    Edge.AXIS: Stroke("axis", 0.18, (10.0, 1.0, 0.8, 1.0)),
}
SEAM = Stroke("seam", 0.18, (1.2, 1.2))

_ROW = 5.4
_SAMPLE = 17.0
_COLUMNS = 3


def legend_height(edges: Sequence[Edge]) -> float:
    """Return how high the list of lines is, seams included."""
    return _ROW * -(-(len(edges) + 1) // _COLUMNS) + 2.0


def compose_legend(pen: Pen, area: Box, edges: Sequence[Edge]) -> None:
    """Draw the list of the lines that there are, a sample of each before its name."""
    head = write(pen, (area.left, area.top + 4.6), "Lines", HEADING)
    cells = columns(Box(area.left + head + 6, area.top, area.right, area.bottom), [1] * _COLUMNS, gap=3.0)
    entries = [*((STROKES[edge], edge.value) for edge in edges), (SEAM, "seam, cut and lay over")]
    for place, (kind, name) in enumerate(entries):
        cell, y = cells[place % _COLUMNS], area.top + 4.6 + _ROW * (place // _COLUMNS)
        stroke(pen, (cell.left, y - 1), (cell.left + _SAMPLE, y - 1), kind)
        write(pen, (cell.left + _SAMPLE + 2.5, y), TEXT.fit(name, cell.width - _SAMPLE - 2.5), TEXT)
