"""The lines of a mat as they are cut, in real millimetres: the one place that turns a package into paths at full size.

Templates and files for machines both draw what stands here, so they cannot differ. Places are from the top left of
the package, as the work is seen from the front.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from enum import Enum
from functools import lru_cache
from typing import NamedTuple

from fourply.drawing.filters import Placed
from fourply.drawing.pen import Curve, Path, Step, Steps
from fourply.drawing.record import Recorder
from fourply.drawing.shapes import Box, Point, cubic_point, polygon, rectangle
from fourply.measure.size import Edges, Rect, Size
from fourply.trade.package import Groove, Inlay, Mat, Package, Sink
from fourply.trade.package import Line as Ruled
from fourply.trade.shapes.outline import Cubic, Outline, Segment, Sweep
from fourply.trade.treatment import Bevel

FINE = 1e-4
"""How far from the true curve, in millimetres, a parallel of an ellipse may be written."""


class Line(Enum):
    """Which line of a mat a path is; the value is what the bench calls it."""

    BLANK = "blank"
    BACK = "back line"
    FACE = "face"
    GROOVE_BACK = "groove, back line"
    GROOVE_FACE = "groove, face"
    INLAY_BACK = "inlay, back line"
    INLAY_FACE = "inlay, face"
    RULED = "ruled on the face"
    OPENING = "opening, square through"


class Cut(NamedTuple):
    """One line of one mat: which, its path, and the upright box that it fills."""

    line: Line
    steps: Steps
    box: Box


def mat_lines(package: Package, mat: Mat) -> Iterator[Cut]:
    """Yield every line of a mat in the order in which it is cut: grooves and inlay, windows, blank; back lines first.

    Of grooves and inlay what lies further out comes first, while there is most board to hold.
    """
    accents = [(groove.borders.least, tuple(_groove_lines(groove))) for groove in mat.all_grooves]
    if mat.number == 1 and package.inlay:
        edges = (package.inlay.outer.least, package.inlay.inner.least)
        accents += zip(edges, _bands(package, package.inlay), strict=True)
    for _, cuts in sorted(accents, key=lambda accent: accent[0]):
        yield from cuts
    for hole in mat.holes:
        middle, opening = middle_of(hole.place), hole.opening
        yield _cut(Line.BACK, opening.back_outline(), middle)
        yield _cut(Line.FACE, opening.face_outline(), middle)
    yield Cut(Line.BLANK, *_centred(package.outer, mat.blank))


def _groove_lines(groove: Groove) -> Iterator[Cut]:
    middle = middle_of(Rect(groove.borders.left, groove.borders.top, groove.back))
    yield _cut(Line.GROOVE_BACK, groove.shape.outline(), middle)
    yield _cut(Line.GROOVE_FACE, groove.shape.parallel(groove.run), middle)


def _bands(package: Package, inlay: Inlay) -> Iterator[tuple[Cut, ...]]:
    """Yield the lines of the inlay's outer edge, then those of its inner one, where they lie on the package."""
    for shape, edges in ((inlay.shape.grown(inlay.width), inlay.outer), (inlay.shape, inlay.inner)):
        middle = _inlay_middle(package, inlay, edges)
        back, face = shape.outline(), shape.parallel(inlay.run)
        yield _cut(Line.INLAY_BACK, back, middle), _cut(Line.INLAY_FACE, face, middle)


def _inlay_middle(package: Package, inlay: Inlay, edges: Edges) -> Point:
    """Return the middle of one edge of the inlay: its shape may move within its box as it grows."""
    top = package.mats[0]
    outer = package.outer
    middle = middle_of(Rect(edges.left, edges.top, Size(outer.width - edges.across, outer.height - edges.along)))
    if top.holes[0].scope or type(inlay.shape) is not type(top.opening.shape):
        return middle
    right, low = top.opening.shape.drift(top.borders.left - edges.left)
    return middle[0] + right.as_mm, middle[1] + low.as_mm


def insert_lines(package: Package, inlay: Inlay) -> Iterator[Cut]:
    """Yield the lines of the board that an inlay is cut from, as it lies under the top mat's gap; its blank last."""
    outer, inner = _bands(package, inlay)
    yield from (*outer, *inner)
    box = outer[0].box
    blank = _about(((box.left + box.right) / 2, (box.top + box.bottom) / 2), inlay.blank)
    yield Cut(Line.BLANK, rectangle(blank), blank)


def sink_lines(package: Package, sink: Sink) -> Iterator[Cut]:
    """Yield the lines of each of the boards round thick art: their opening, cut square through, and their blank."""
    opening = box_of(sink.opening)
    yield Cut(Line.OPENING, rectangle(opening), opening)
    yield Cut(Line.BLANK, *_centred(package.outer, sink.blank))


def ruled_lines(mat: Mat) -> Iterator[tuple[Ruled, Cut]]:
    """Yield the lines that are ruled on the face of a mat, and both edges of a band of wash; nothing of it is cut."""
    for hole in mat.holes:
        middle, shape = middle_of(hole.place), hole.opening.shape
        for line in hole.lines:
            yield line, _cut(Line.RULED, shape.parallel(line.away), middle)
            if line.rule.wash:
                yield line, _cut(Line.RULED, shape.parallel(line.away + line.rule.width), middle)


def middle_of(place: Rect) -> Point:
    """Return the middle of a place in millimetres."""
    return ((place.left + place.right).as_mm / 2, (place.top + place.bottom).as_mm / 2)


def _cut(line: Line, outline: Outline, middle: Point) -> Cut:
    left, top, right, bottom = outline.bounds()
    box = Box(left + middle[0], top + middle[1], right + middle[0], bottom + middle[1])
    return Cut(line, steps_of(outline, middle), box)


def package_edge(package: Package) -> Steps | None:
    """Return the outline of a package that is no rectangle: what its blanks are trimmed to at last; else nothing."""
    frame = package.frame
    if frame is None or frame.sides == 4:
        return None
    half = math.pi / frame.sides
    across, middle = package.outer.width.as_mm / 2, (package.outer.width.as_mm / 2, package.outer.height.as_mm / 2)
    corners = (math.pi / 2 + half + 2 * half * corner for corner in range(frame.sides))
    reach = across / math.cos(half)
    return polygon([(middle[0] + reach * math.cos(turn), middle[1] + reach * math.sin(turn)) for turn in corners])


def sight_line(mat: Mat) -> Line:
    """Return which line of the window is the inner one: what is seen ends there."""
    return Line.BACK if mat.opening.bevel is Bevel.NORMAL else Line.FACE


def box_of(place: Rect) -> Box:
    """Return a place as a box in millimetres."""
    return Box(place.left.as_mm, place.top.as_mm, place.right.as_mm, place.bottom.as_mm)


def _centred(outer: Size, blank: Size) -> tuple[Steps, Box]:
    """Return the outline of a blank, which lies about the middle of the package: inside it, or round a polygon."""
    box = _about((outer.width.as_mm / 2, outer.height.as_mm / 2), blank)
    return rectangle(box), box


def _about(middle: Point, size: Size) -> Box:
    wide, high = size.width.as_mm / 2, size.height.as_mm / 2
    return Box(middle[0] - wide, middle[1] - high, middle[0] + wide, middle[1] + high)


def mirrored(steps: Steps, width: float) -> Steps:
    """Return a path as it is seen from behind something so wide.

    >>> from fourply.drawing.shapes import line
    >>> mirrored(line(1, 2, 3, 4), 10)
    (('M', 9.0, 2.0), ('L', 7.0, 4.0))
    """
    pen = Recorder()
    Placed(pen, width, 0, mirrored=True).path(Path(steps, None))
    return pen.drawing(1, 1).paths[0].steps


def moved(steps: Steps, x: float, y: float) -> Steps:
    """Return a path elsewhere."""
    pen = Recorder()
    Placed(pen, x, y).path(Path(steps, None))
    return pen.drawing(1, 1).paths[0].steps


def steps_of(outline: Outline, at: Point = (0.0, 0.0), *, within: float = FINE) -> Steps:
    """Return an outline as a closed path with its origin at a point: lines, true arcs and cubics as they are.

    What runs parallel to an ellipse is neither; it is written as cubics that stay `within` so many millimetres of it.
    """
    dx, dy = at
    pieces = outline.moved(dx, dy).pieces
    steps: list[Step] = [("M", *pieces[0].first)]
    for piece in pieces:
        match piece:
            case Segment():
                steps.append(("L", *piece.end))
            case Cubic():
                steps.append(("C", *piece.c1, *piece.c2, *piece.end))
            case Sweep():
                steps.extend(_sweep(piece, within))
            case _:
                raise TypeError(type(piece).__name__)
    if isinstance(pieces[-1], Segment):
        steps.pop()  # closing the path draws it
    return (*steps, ("Z",))


@lru_cache(maxsize=256)
def _sweep(arc: Sweep, within: float) -> tuple[Step, ...]:
    """Return the steps of an arc, remembered: while something is dragged most arcs of a work stay where they are."""
    if not arc.away or arc.rx == arc.ry:
        rx, ry = arc.rx + arc.away, arc.ry + arc.away  # what runs parallel to a circle is a circle
        return (("A", arc.cx, arc.cy, rx, ry, arc.start, arc.sweep),)
    count = max(1, math.ceil(abs(arc.sweep) / 45))
    while True:
        curves = [_fitted(arc, i / count, (i + 1) / count) for i in range(count)]
        if all(_astray(arc, curve, i / count, (i + 1) / count) <= within for i, curve in enumerate(curves)):
            return tuple(curves)
        count *= 2


def _fitted(arc: Sweep, first: float, last: float) -> Curve:
    """Return the cubic with the arc's ends and speeds (Hermite) between two parameters."""
    (x0, y0), (x3, y3) = arc.point(first), arc.point(last)
    third = math.radians(abs(arc.sweep)) * (last - first) / 3
    (ux, uy), (vx, vy) = arc.heading(first), arc.heading(last)
    go, come = third * _speed(arc, first), third * _speed(arc, last)
    return ("C", x0 + go * ux, y0 + go * uy, x3 - come * vx, y3 - come * vy, x3, y3)


def _speed(arc: Sweep, t: float) -> float:
    """Return how far the arc goes for each radian of its parameter: the ellipse's speed q and away times its turning.

    The curvature of an ellipse is rx ry / q^3 (derived), so it turns by rx ry / q^2 for each radian.
    """
    angle = math.radians(arc.start + t * arc.sweep)
    q = math.hypot(arc.rx * math.sin(angle), arc.ry * math.cos(angle))
    return q + arc.away * arc.rx * arc.ry / (q * q)


def _astray(arc: Sweep, curve: Curve, first: float, last: float) -> float:
    """Return how far points of the cubic lie from those of the arc at the same parameter: no less than the distance."""
    from_ = arc.point(first)
    return max(
        math.dist(cubic_point(from_, curve, s), arc.point(first + s * (last - first)))
        for s in (0.125, 0.25, 0.375, 0.5, 0.625, 0.75, 0.875)
    )
