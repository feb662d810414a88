"""A package as its front view: outlines and dimensions in real millimetres, figures in the reader's hand."""

from __future__ import annotations

import math
from collections.abc import Iterator

from fourply.drawing.dimension import Dim
from fourply.drawing.pen import Steps
from fourply.drawing.shapes import Box, Point, polygon, polyline, rectangle
from fourply.measure.length import ZERO, Length
from fourply.measure.rounding import from_mm
from fourply.measure.size import Edges, Rect, Size
from fourply.sheets.chains import chains, room_beside, room_for_words
from fourply.sheets.outlines import steps_of
from fourply.sheets.section_place import section_place
from fourply.sheets.view import Edge, FrontView, Outline, SightWords
from fourply.trade.package import Frame, Mat, Package
from fourply.trade.parts import mat_name
from fourply.trade.shapes.rectangle import Rectangle
from fourply.trade.treatment import Bevel, WindowFrom, for_opening
from fourply.working.words import Words


def front_view(package: Package, words: Words) -> FrontView:
    """Return the front view of a package in its frame, or of the package alone."""
    frame, outer = package.frame, package.outer
    rims = rims_of(package)
    square = frame is not None and frame.sides == 4
    return FrontView(
        width=(rims.across + outer.width).as_mm,
        height=(rims.along + outer.height).as_mm,
        outlines=tuple(outlines(package)),
        bottom=tuple(chains(package, rims, words, upright=False)),
        left=tuple(chains(package, rims, words, upright=True)),
        top=_overall(frame.outside.width, "frame.outside.width", words) if frame and square else (),
        right=_overall(frame.outside.height, "frame.outside.height", words) if frame and square else (),
        windows=tuple(_windows(package, rims, words)),
    )


def rims_of(package: Package) -> Edges:
    """Return the way from the outside of the frame to the package on each side; it rests on the bottom rail."""
    frame, outer = package.frame, package.outer
    if frame is None:
        return Edges.equal(ZERO)
    if frame.sides != 4:
        left, top, right, bottom = (from_mm(reach) for reach in reach_of(frame))
        half_w, half_h = outer.width // 2, outer.height // 2
        return Edges(top - half_h, right - half_w, bottom - half_h, left - half_w)
    sides = {rail.side: rail.moulding.width - rail.moulding.lip for rail in frame.rails}
    near, far = (frame.rabbet.width - outer.width).split(2)
    top = sides["top"] + frame.rabbet.height - outer.height
    return Edges(top, sides["right"] + far, sides["bottom"], sides["left"] + near)


def outlines(package: Package) -> Iterator[Outline]:
    """Yield every outline of the front view: the frame from the outside in, then the mats from the top down."""
    outer, frame, rims = package.outer, package.frame, rims_of(package)
    if frame and frame.sides != 4:
        yield from _polygon(frame, outer)
    else:
        yield Outline(
            Edge.BLANK,
            _rectangle(rims, outer) if frame else rectangle(Box(0, 0, outer.width.as_mm, outer.height.as_mm)),
        )
        yield from _frame(frame) if frame else ()
    for mat in package.mats:
        yield from _mat(mat, rims, package)
    for number, place in enumerate(package.arts, start=1):
        floats = for_opening(package.treatment, number).window is WindowFrom.FLOAT
        if floats and place.sheet.inside(place.window):  # else its edges do not show
            yield Outline(Edge.BACK, rectangle(_on_page(place.sheet, rims)))


def _frame(frame: Frame) -> Iterator[Outline]:
    width, height = frame.outside.width.as_mm, frame.outside.height.as_mm
    faces = {rail.side: rail.moulding.width.as_mm for rail in frame.rails}
    inner = Box(faces["left"], faces["top"], width - faces["right"], height - faces["bottom"])
    yield Outline(Edge.OUTSIDE, rectangle(Box(0, 0, width, height)))
    yield Outline(Edge.LIP, rectangle(inner))
    corners = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    inside = (
        (inner.left, inner.top),
        (inner.right, inner.top),
        (inner.right, inner.bottom),
        (inner.left, inner.bottom),
    )
    for corner, near in zip(corners, inside, strict=True):
        yield Outline(Edge.MITRE, polyline([corner, near]))


def ring_of(frame: Frame, across: Length) -> list[Point]:
    """Return the corners of an upright polygon of so much across its flats about its middle, one side at the bottom."""
    half = math.pi / frame.sides
    radius = across.as_mm / 2 / math.cos(half)
    turns = (math.pi / 2 + half + 2 * half * i for i in range(frame.sides))
    return [(radius * math.cos(turn), radius * math.sin(turn)) for turn in turns]


def reach_of(frame: Frame) -> tuple[float, float, float, float]:
    """Return how far the outside of a polygon reaches from its middle: left, up, right, down."""
    xs, ys = zip(*ring_of(frame, frame.outside.width), strict=True)
    return (-min(xs), -min(ys), max(xs), max(ys))


def _polygon(frame: Frame, outer: Size) -> Iterator[Outline]:
    left, top, _, _ = reach_of(frame)
    rings = [
        [(left + x, top + y) for x, y in ring_of(frame, across)]
        for across in (frame.outside.width, frame.sight.width, outer.width)
    ]
    for edge, ring in zip((Edge.OUTSIDE, Edge.LIP, Edge.BLANK), rings, strict=True):
        yield Outline(edge, polygon(ring))
    for corner, near in zip(rings[0], rings[1], strict=True):
        yield Outline(Edge.MITRE, polyline([corner, near]))


def _mat(mat: Mat, rims: Edges, package: Package) -> Iterator[Outline]:
    if mat.hidden:
        return
    last = mat is package.mats[-1]
    seen = Edge.WINDOW if last else Edge.BACK
    for groove in mat.all_grooves:
        at = middle_of(rims, groove.borders, groove.back)
        for away in (groove.run, -groove.run - groove.shave):
            yield Outline(Edge.GROOVE, steps_of(groove.shape.parallel(away), at))
    for hole in mat.holes:
        at, opening = middle_of(rims, hole.borders, hole.opening.back), hole.opening
        for line in hole.lines:
            for away in (line.away, line.away + line.rule.width):
                yield Outline(Edge.LINE, steps_of(opening.shape.parallel(away), at))
        if opening.bevel is Bevel.NORMAL:
            yield Outline(Edge.FACE, steps_of(opening.face_outline(), at))
            yield Outline(seen, steps_of(opening.back_outline(), at))
        else:
            yield Outline(seen, steps_of(opening.face_outline(), at))
    if mat.number == 1 and package.inlay is not None:
        inlay = package.inlay
        at = middle_of(rims, inlay.inner, inlay.shape.size)
        for away in (inlay.run, inlay.run + inlay.width):
            yield Outline(Edge.INLAY, steps_of(inlay.shape.parallel(away), at))


def middle_of(rims: Edges, borders: Edges, size: Size) -> Point:
    """Return the middle of a box on the page by the borders at its left and top."""
    at = _at_borders(borders, rims)
    return at.left.as_mm + size.width.as_mm / 2, at.top.as_mm + size.height.as_mm / 2


def _at_borders(borders: Edges, rims: Edges) -> Edges:
    return Edges(
        rims.top + borders.top, rims.right + borders.right, rims.bottom + borders.bottom, rims.left + borders.left
    )


def _rectangle(at: Edges, size: Size) -> Steps:
    left, top = at.left.as_mm, at.top.as_mm
    return rectangle(Box(left, top, left + size.width.as_mm, top + size.height.as_mm))


def _on_page(place: Rect, rims: Edges) -> Box:
    left, top = (rims.left + place.left).as_mm, (rims.top + place.top).as_mm
    return Box(left, top, left + place.size.width.as_mm, top + place.size.height.as_mm)


def _windows(package: Package, rims: Edges, words: Words) -> Iterator[SightWords]:
    """Yield the words of every window: its sight, and of the only one the notes beside it."""
    several, section = len(package.arts) > 1, section_place(package)
    boxes = [_on_page(place.window, rims) for place in package.arts]
    for at, (hole, place, box) in enumerate(zip(package.mats[-1].holes, package.arts, boxes, strict=False)):
        plain = isinstance(hole.opening.shape, Rectangle)
        room = box if plain else room_for_words(hole.opening.sight_outline(), box)
        for other in boxes[:at] + boxes[at + 1 :]:
            room = room_beside(room, other)
        notes = () if several else tuple(_notes(package, words))
        cut = rims.left.as_mm + section.x if at == section.window else None
        yield SightWords(box, room, words.size(place.window.size), notes, hole.number if several else 0, cut)


def _overall(length: Length, figure: str, words: Words) -> tuple[tuple[Dim, ...], ...]:
    return ((Dim(0.0, length.as_mm, words.write(length), figure=figure),),)


def _notes(package: Package, words: Words) -> Iterator[str]:
    for mat in package.mats:
        if mat.hidden or len(mat.holes) > 1:
            continue
        sizes = f"back {words.size(mat.opening.back)}, face {words.size(mat.opening.face)}"
        yield f"{mat_name(mat)}: {sizes}"
    if package.treatment.window is WindowFrom.FLOAT:
        yield "the sheet floats: all its edges show"
