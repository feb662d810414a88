"""Templates to test with: those of the samples, and one of an oval double mat whose figures are worked by hand."""

from __future__ import annotations

from dataclasses import replace

from tests.sheets.samples import INCHES, TICKETS
from tests.sheets.shaped import SHAPED

from fourply.drawing.check import collisions, crossed, strays
from fourply.drawing.dimension import Dim
from fourply.drawing.pen import Steps
from fourply.drawing.record import Drawing
from fourply.drawing.shapes import Box, line, rectangle
from fourply.sheets.outlines import steps_of
from fourply.sheets.template_figures import two_ways
from fourply.sheets.template_marks import Mark
from fourply.sheets.template_view import Edge, TemplateView, Traced, View, template_view
from fourply.trade.shapes.outline import Outline, Sweep

INCH = 25.4
WIDE, HIGH = 14.5 * INCH, 16.5 * INCH
MIDDLE = (WIDE / 2, HIGH / 2)
RUN = INCH / 16


def oval(width: float, height: float, away: float = 0.0) -> Steps:
    """Return an oval by its axes in inches about the middle of the blank, or what runs parallel to it."""
    return steps_of(Outline((Sweep(0, 0, width * INCH / 2, height * INCH / 2, 0, 360, away),)), MIDDLE)


def _chain(whole: float, opening: float, deep: float) -> tuple[tuple[Dim, ...], ...]:
    border = (whole - opening) / 2
    return (
        (
            Dim(0, border, "3", bold=True),
            Dim(border, border + opening, f"{opening / INCH:g}", deep),
            Dim(border + opening, whole, "3", bold=True),
        ),
        (Dim(0, whole, f"{whole / INCH:g}"),),
    )


def oval_view(view: View = View.BACK) -> TemplateView:
    """Return a double mat of 8 x 10 within 8 1/2 x 10 1/2, borders of 3, its blank 14 1/2 x 16 1/2 (all inches)."""
    blank = Box(0, 0, WIDE, HIGH)
    art = Box(MIDDLE[0] - 4.125 * INCH, MIDDLE[1] - 5.125 * INCH, MIDDLE[0] + 4.125 * INCH, MIDDLE[1] + 5.125 * INCH)
    outlines = (
        Traced(Edge.BLANK, rectangle(blank), "top mat: blank 14 1⁄2 × 16 1⁄2"),
        Traced(Edge.UNDER_BLANK, rectangle(blank.grown(-INCH / 8)), "under-mat: blank 14 1⁄4 × 16 1⁄4"),
        Traced(Edge.FACE, oval(8.5, 10.5, RUN)),
        Traced(Edge.TOP, oval(8.5, 10.5), "top mat: back line 8 1⁄2 × 10 1⁄2"),
        Traced(Edge.FACE, oval(8, 10, RUN)),
        Traced(Edge.UNDER, oval(8, 10), "under-mat: back line 8 × 10"),
        Traced(Edge.SHEET, rectangle(art), "edge of the art 8 1⁄4 × 10 1⁄4"),
        Traced(Edge.AXIS, line(MIDDLE[0], 0, MIDDLE[0], HIGH)),
        Traced(Edge.AXIS, line(0, MIDDLE[1], WIDE, MIDDLE[1])),
    )
    return replace(
        template_view(TICKETS["double"][0], INCHES, view, show="A Year of Tides"),
        number="08",
        title="The Bell Buoy",
        width=WIDE,
        height=HIGH,
        outlines=outlines,
        # pins 3 in from the centre: sqrt(5^2 - 4^2) (derived)
        marks=(Mark(*MIDDLE), *(Mark(MIDDLE[0], MIDDLE[1] + side * 3 * INCH, "under-mat: pin") for side in (-1, 1))),
        ways=two_ways(SHAPED["oval"][0], INCHES),
        bottom=_chain(WIDE, 8.5 * INCH, (HIGH - 10.5 * INCH) / 2),
        left=_chain(HIGH, 10.5 * INCH, (WIDE - 8.5 * INCH) / 2),
    )


def sample_view(name: str, view: View = View.BACK) -> TemplateView:
    """Return the template of a sample work."""
    package, context = (SHAPED | TICKETS)[name]
    return template_view(package, context.words, view, show=context.show)


def faults(pages: tuple[Drawing, ...]) -> list[object]:
    """Return every figure that stands on another, is crossed by a line, or comes too near the edge of its page."""
    return [fault for page in pages for fault in (*collisions(page), *strays(page, margin=6), *crossed(page))]
