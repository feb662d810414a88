"""A package as a full-size template: outlines, dimensions and figures, as one of its two sides is seen.

Everything is in real millimetres from the top left of the package as it is seen on the sheet: for the back, left and
right have changed places already, and composition knows nothing of it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum
from itertools import pairwise
from typing import NamedTuple

from fourply.drawing.dimension import Dim
from fourply.drawing.pen import Steps
from fourply.drawing.shapes import Box, bounds, line, rectangle
from fourply.measure.length import ZERO, Length
from fourply.measure.size import Size
from fourply.sheets.outlines import (
    Cut,
    Line,
    box_of,
    mat_lines,
    middle_of,
    mirrored,
    package_edge,
    ruled_lines,
    sink_lines,
)
from fourply.sheets.template_figures import Group, Ways, figure_groups, size, two_ways
from fourply.sheets.template_marks import Mark, at, points_of
from fourply.trade.package import Hole, Mat, Package
from fourply.trade.parts import mat_name
from fourply.working.words import Words


class View(Enum):
    """Which side of the mats a template shows; the value is what is printed."""

    FRONT = "front"
    BACK = "back"


class Edge(Enum):
    """What a line of a template is; the value is its name in the list of lines."""

    TOP = "cut: top mat"
    UNDER = "cut: under-mat"
    SECOND = "cut: second under-mat"
    THIRD = "cut: third under-mat"
    SPACER = "cut: spacer mat"
    SECOND_SPACER = "cut: second spacer mat"
    FACE = "edge at the face"
    GROOVE = "groove, back line"
    INLAY = "inlay, back line"
    RULED = "ruled on the face"
    SINK = "opening of the sink mat"
    BLANK = "blank, top mat"
    UNDER_BLANK = "blanks below it"
    PACKAGE = "edge of the package"
    SHEET = "edge of the art"
    AXIS = "axis of the window"


SEEN = (Edge.TOP, Edge.UNDER, Edge.SECOND, Edge.THIRD)
HIDDEN = (Edge.SPACER, Edge.SECOND_SPACER)
CUTS = (*SEEN, *HIDDEN)
"""The back lines of windows, by mat: the lines to cut."""


class Traced(NamedTuple):
    """One line of a template; `name` is what is written beside it, nothing where it needs no name."""

    edge: Edge
    steps: Steps
    name: str = ""


class Number(NamedTuple):
    """The number of one of several openings, the middle of it, and how far its nearest side is from there."""

    text: str
    x: float
    y: float
    reach: float


@dataclass(frozen=True, slots=True)
class TemplateView:
    """A whole template. `marks` are points that no seam should cut: centres of windows and arcs, pins of ovals.

    `left` and `bottom` are dimensions along those sides, the inner tier first. `numbers` are those of several openings.
    """

    number: str
    title: str
    lines: tuple[str, ...]
    side: View
    width: float
    height: float
    outlines: tuple[Traced, ...]
    marks: tuple[Mark, ...]
    left: tuple[tuple[Dim, ...], ...]
    bottom: tuple[tuple[Dim, ...], ...]
    groups: tuple[Group, ...]
    numbers: tuple[Number, ...] = ()
    ways: Ways | None = None

    @property
    def extent(self) -> Box:
        """The box round all its lines: more than the package where a square blank is trimmed to a polygon."""
        boxes = [bounds(traced.steps) for traced in self.outlines]
        left, top = min(box.left for box in boxes), min(box.top for box in boxes)
        return Box(left, top, max(box.right for box in boxes), max(box.bottom for box in boxes))

    @property
    def edges(self) -> tuple[Edge, ...]:
        """The kinds of line that it has, in the order of their list."""
        there = {traced.edge for traced in self.outlines}
        return tuple(edge for edge in Edge if edge in there)


def template_view(package: Package, words: Words, view: View, *, show: str = "") -> TemplateView:
    """Return the template of all mats of a package, as the view sees them."""
    width, height = package.outer.width.as_mm, package.outer.height.as_mm
    traced, marks, numbers = tuple(_traced(package, words)), tuple(_marks(package)), tuple(_numbers(package))
    bottom = tuple(_tier(package, mat, words, upright=False) for mat in package.mats)
    if view is View.BACK:
        traced = tuple(each._replace(steps=mirrored(each.steps, width)) for each in traced)
        marks = tuple(mark._replace(x=width - mark.x) for mark in marks)
        numbers = tuple(number._replace(x=width - number.x) for number in numbers)
        bottom = tuple(tuple(_turned(dim, width) for dim in reversed(tier)) for tier in bottom)
    work = package.work
    return TemplateView(
        number=work.id,
        title=work.title,
        lines=(f"Full-size template, seen from the {view.value}", _context(show, words)),
        side=view,
        width=width,
        height=height,
        outlines=traced,
        marks=marks,
        left=(*(_tier(package, mat, words, upright=True) for mat in package.mats), _whole(package.outer.height, words)),
        bottom=(*bottom, _whole(package.outer.width, words)),
        groups=figure_groups(package, words),
        numbers=numbers,
        ways=two_ways(package, words),
    )


def _context(show: str, words: Words) -> str:
    unit = "millimetres" if words.metric else "inches"
    said = f"all sizes width × height, {unit}; print at 100 %, no scaling to page"
    return f"{show} · {said}" if show else said


def _traced(package: Package, words: Words) -> Iterator[Traced]:
    """Yield every line from the front."""
    yield from _blanks(package, words)
    for mat in package.mats:
        yield from _of_mat(package, mat, words)
    if package.sink:
        opening = size(package.sink.opening.size, words)
        yield Traced(Edge.SINK, next(sink_lines(package, package.sink)).steps, f"sink mat: opening {opening}")
    trimmed = package_edge(package)
    if trimmed:
        yield Traced(Edge.PACKAGE, trimmed, "edge of the package")
    for place, art in enumerate(package.arts, start=1):
        which = f" {place}" if len(package.arts) > 1 else ""
        name = f"edge of the art{which}: {size(art.sheet.size, words)}"
        yield Traced(Edge.SHEET, rectangle(box_of(art.sheet)), name)
    for x, y in _centres(package):
        yield Traced(Edge.AXIS, line(x, 0, x, package.outer.height.as_mm))
        yield Traced(Edge.AXIS, line(0, y, package.outer.width.as_mm, y))


def _blanks(package: Package, words: Words) -> Iterator[Traced]:
    """Yield the blanks; those that are alike are drawn once, under the names of all."""
    alike: dict[Size, list[Mat]] = {}
    for mat in package.mats:
        alike.setdefault(mat.blank, []).append(mat)
    for blank, mats in alike.items():
        edge = Edge.BLANK if mats[0].number == 1 else Edge.UNDER_BLANK
        name = f"{', '.join(mat_name(mat) for mat in mats)}: blank {size(blank, words)}"
        yield Traced(edge, _of(tuple(mat_lines(package, mats[0])), Line.BLANK)[0].steps, name)


def _of_mat(package: Package, mat: Mat, words: Words) -> Iterator[Traced]:
    """Yield the lines of a mat, its blank left out."""
    cuts = tuple(mat_lines(package, mat))
    grooves = sorted(mat.all_grooves, key=lambda groove: groove.borders.least)
    for groove, cut in zip(grooves, _of(cuts, Line.GROOVE_BACK), strict=True):
        yield Traced(Edge.GROOVE, cut.steps, f"groove: back line {size(groove.back, words)}")
    for which, cut in zip(("outer", "inner"), _of(cuts, Line.INLAY_BACK), strict=False):
        yield Traced(Edge.INLAY, cut.steps, f"inlay, {which} edge: back line")
    for ruled, cut in ruled_lines(mat):
        yield Traced(Edge.RULED, cut.steps, "wash" if ruled.rule.wash else "ruled line")
    for cut in _of(cuts, Line.FACE):
        yield Traced(Edge.FACE, cut.steps)
    alike = [other for other in package.mats if other.hidden == mat.hidden]
    edge = (HIDDEN if mat.hidden else SEEN)[alike.index(mat)]
    for hole, cut in zip(mat.holes, _of(cuts, Line.BACK), strict=True):
        yield Traced(edge, cut.steps, f"{_whose(mat, hole)}: back line {size(hole.opening.back, words)}")


def _whose(mat: Mat, hole: Hole) -> str:
    """Return what a line or mark of an opening belongs to."""
    if hole.title:
        return f"{mat_name(mat)}, title"
    return f"{mat_name(mat)}, {hole.number}" if len(mat.holes) > 1 else mat_name(mat)


def _of(cuts: tuple[Cut, ...], line: Line) -> tuple[Cut, ...]:
    return tuple(cut for cut in cuts if cut.line is line)


def _centres(package: Package) -> Iterator[tuple[float, float]]:
    """Yield the middle of each window once, though several mats share it."""
    found: dict[tuple[float, float], tuple[float, float]] = {}
    for mat in package.mats:
        for hole in mat.holes:
            middle = middle_of(hole.place)
            found.setdefault((round(middle[0], 3), round(middle[1], 3)), middle)
    yield from found.values()


def _marks(package: Package) -> Iterator[Mark]:
    """Yield the middles of the windows, then the pins and centres of each; none that lies off the package."""
    width, height = package.outer.width.as_mm, package.outer.height.as_mm
    yield from (Mark(x, y) for x, y in _centres(package))
    for mat in package.mats:
        for hole in mat.holes:
            for point in points_of(hole.opening.shape):
                mark = at(point, middle_of(hole.place), _whose(mat, hole))
                if 0 < mark.x < width and 0 < mark.y < height:
                    yield mark


def _numbers(package: Package) -> Iterator[Number]:
    """Yield the numbers of several openings."""
    holes = [hole for hole in package.mats[0].holes if not hole.title]
    for hole in holes if len(holes) > 1 else ():
        back = hole.opening.back
        yield Number(str(hole.number), *middle_of(hole.place), min(back.width, back.height).as_mm / 2)


def _tier(package: Package, mat: Mat, words: Words, *, upright: bool) -> tuple[Dim, ...]:
    """Return border, opening, border of one mat along a side; for several openings every step from edge to edge."""
    places, outer = [hole.place for hole in mat.holes], package.outer
    if upright:
        spans = [(place.top, place.bottom) for place in places]
        whole, foot = outer.height, min(place.left for place in places)
    else:
        spans = [(place.left, place.right) for place in places]
        whole, foot = outer.width, outer.height - max(place.bottom for place in places)
    marks = sorted({ZERO, whole, *(edge for span in spans for edge in span)})
    return tuple(_step(pair, spans, foot, words) for pair in pairwise(marks))


def _step(step: tuple[Length, Length], spans: Sequence[tuple[Length, Length]], foot: Length, words: Words) -> Dim:
    start, end = step
    opens = any(low <= start and end <= high for low, high in spans)
    text = words.write(end - start)
    return Dim(start.as_mm, end.as_mm, text, foot.as_mm if opens else 0.0, bold=not opens)


def _whole(length: Length, words: Words) -> tuple[Dim, ...]:
    return (Dim(0.0, length.as_mm, words.write(length)),)


def _turned(dim: Dim, width: float) -> Dim:
    return dim._replace(start=width - dim.end, end=width - dim.start)
