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
from fourply.sheets.outlines import Cut, Line, box_of, mat_lines, mirrored, package_edge
from fourply.trade.package import Mat, Package
from fourply.trade.parts import mat_name
from fourply.trade.treatment import Bevel
from fourply.working.words import Words


class View(Enum):
    """Which side of the mats a template shows; the value is what is printed."""

    FRONT = "front"
    BACK = "back"


class Edge(Enum):
    """What a line of a template is; the value is its name in the list of lines."""

    BACK = "back line, cut here"
    FACE = "edge at the face"
    GROOVE = "groove, back line"
    BLANK = "blank, top mat"
    UNDER = "blank, under-mat"
    PACKAGE = "edge of the package"
    SHEET = "edge of the art"
    AXIS = "axis of the window"


class Traced(NamedTuple):
    """One line of a template; `name` is what is written beside it, nothing where it needs no name."""

    edge: Edge
    steps: Steps
    name: str = ""


class Row(NamedTuple):
    """One figure of the setting-out: what it is, the figure, whether the hand copies it."""

    name: str
    figure: str
    strong: bool = False


class Group(NamedTuple):
    """The figures of one mat, or of all."""

    heading: str
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class TemplateView:
    """A whole template. `marks` are points that no seam should cut: centres of windows, pins of ovals.

    `left` and `bottom` are dimensions along those sides, the inner tier first.
    """

    number: str
    title: str
    lines: tuple[str, ...]
    side: View
    width: float
    height: float
    outlines: tuple[Traced, ...]
    marks: tuple[tuple[float, float], ...]
    left: tuple[tuple[Dim, ...], ...]
    bottom: tuple[tuple[Dim, ...], ...]
    groups: tuple[Group, ...]

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
    traced = tuple(_traced(package, words))
    marks = tuple(_centres(package))
    bottom = tuple(_tier(package, mat, words, upright=False) for mat in package.mats)
    if view is View.BACK:
        traced = tuple(each._replace(steps=mirrored(each.steps, width)) for each in traced)
        marks = tuple((width - x, y) for x, y in marks)
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
        groups=(*(_group(mat, words) for mat in package.mats), _art(package, words)),
    )


def _context(show: str, words: Words) -> str:
    unit = "millimetres" if words.metric else "inches"
    said = f"all sizes width × height, {unit}; print at 100 %, no scaling to page"
    return f"{show} · {said}" if show else said


def _traced(package: Package, words: Words) -> Iterator[Traced]:
    """Yield every line from the front; a blank that is like the one above is drawn once."""
    for mat in package.mats:
        cuts, name = tuple(mat_lines(package, mat)), mat_name(mat)
        under = mat.number > 1
        if not under or mat.blank != package.mats[mat.number - 2].blank:
            edge = Edge.UNDER if under else Edge.BLANK
            yield Traced(edge, _of(cuts, Line.BLANK)[0].steps, f"{name}: blank {_size(mat.blank, words)}")
        for groove, cut in zip(mat.all_grooves, _of(cuts, Line.GROOVE_BACK), strict=True):
            yield Traced(Edge.GROOVE, cut.steps, f"groove: back line {_size(groove.back, words)}")
        for cut in _of(cuts, Line.FACE):
            yield Traced(Edge.FACE, cut.steps)
        for hole, cut in zip(mat.holes, _of(cuts, Line.BACK), strict=True):
            yield Traced(Edge.BACK, cut.steps, f"{name}: back line {_size(hole.opening.back, words)}")
    trimmed = package_edge(package)
    if trimmed:
        yield Traced(Edge.PACKAGE, trimmed, "edge of the package")
    sheet = package.art.sheet
    yield Traced(Edge.SHEET, rectangle(box_of(sheet)), f"edge of the art {_size(sheet.size, words)}")
    for x, y in _centres(package):
        yield Traced(Edge.AXIS, line(x, 0, x, package.outer.height.as_mm))
        yield Traced(Edge.AXIS, line(0, y, package.outer.width.as_mm, y))


def _of(cuts: tuple[Cut, ...], line: Line) -> tuple[Cut, ...]:
    return tuple(cut for cut in cuts if cut.line is line)


def _centres(package: Package) -> Iterator[tuple[float, float]]:
    """Yield the middle of each window once, though several mats share it."""
    found: dict[tuple[float, float], tuple[float, float]] = {}
    for mat in package.mats:
        for cut in _of(tuple(mat_lines(package, mat)), Line.BACK):
            middle = ((cut.box.left + cut.box.right) / 2, (cut.box.top + cut.box.bottom) / 2)
            found.setdefault((round(middle[0], 3), round(middle[1], 3)), middle)
    yield from found.values()


def _size(size: Size, words: Words) -> str:
    """Return a size to what it is: a template is not rounded to the marks of a rule."""
    return f"{words.write(size.width)} × {words.write(size.height)}"


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


def _group(mat: Mat, words: Words) -> Group:
    bevel = "" if mat.opening.bevel is Bevel.NORMAL else ", reverse bevel"
    rows = [
        Row("blank", _size(mat.blank, words), strong=True),
        Row("opens, back line", _size(mat.opening.back, words), strong=True),
        Row("opens, face", _size(mat.opening.face, words)),
    ]
    if mat.number > 1:
        rows += [Row("reveal", words.write(mat.reveal)), Row("flat strip", words.write(mat.strip))]
    for groove in mat.all_grooves:
        rows += [
            Row("groove, back line", _size(groove.back, words), strong=True),
            Row("groove to window", words.write(groove.strip)),
        ]
    return Group(f"{mat_name(mat).capitalize()}, {mat.board.name}{bevel}", tuple(rows))


def _art(package: Package, words: Words) -> Group:
    rows = [
        Row("edge of the art", _size(package.art.sheet.size, words)),
        Row("window, sight", _size(package.window, words)),
    ]
    return Group("Art", tuple(rows))
