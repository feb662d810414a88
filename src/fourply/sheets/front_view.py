"""A package as its front view: outlines and dimensions in real millimetres, figures in the reader's hand."""

from __future__ import annotations

import math
from collections.abc import Iterator

from fourply.drawing.dimension import Dim
from fourply.drawing.pen import Steps
from fourply.drawing.shapes import Box, polygon, polyline, rectangle
from fourply.measure.length import ZERO, Length
from fourply.measure.size import Edges, Size
from fourply.sheets.view import Edge, FrontView, Outline
from fourply.trade.package import Frame, Mat, Package
from fourply.trade.parts import mat_name
from fourply.trade.treatment import Bevel, WindowFrom
from fourply.working.words import Words


def front_view(package: Package, words: Words) -> FrontView:
    """Return the front view of a package in its frame, or of the package alone."""
    frame, outer = package.frame, package.outer
    size = frame.outside if frame else outer
    rims = _rims(package)
    window = _window(rims, package)
    return FrontView(
        width=size.width.as_mm,
        height=size.height.as_mm,
        outlines=tuple(_outlines(package, rims)),
        bottom=tuple(_chain(package, rims, words, upright=False)),
        left=tuple(_chain(package, rims, words, upright=True)),
        top=_overall(size.width, "frame.outside.width", words) if frame else (),
        right=_overall(size.height, "frame.outside.height", words) if frame else (),
        window=window,
        sight=words.size(package.window),
        notes=tuple(_notes(package, words)),
    )


def _rims(package: Package) -> Edges:
    """Return the way from the outside of the frame to the package on each side; it rests on the bottom rail."""
    frame = package.frame
    if frame is None:
        return Edges.equal(ZERO)
    free = frame.rabbet.width - package.outer.width
    sides = {rail.side: rail.moulding.width - rail.moulding.lip for rail in frame.rails}
    each = frame.moulding.width - frame.moulding.lip
    top, right, bottom, left = (sides.get(side, each) for side in ("top", "right", "bottom", "left"))
    near, far = free.split(2)
    if frame.sides != 4:
        return Edges(top + near, right + far, bottom + far, left + near)
    return Edges(top + frame.rabbet.height - package.outer.height, right + far, bottom, left + near)


def _outlines(package: Package, rims: Edges) -> Iterator[Outline]:
    outer, frame = package.outer, package.frame
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
    if package.treatment.window is WindowFrom.FLOAT:
        sheet = package.art.sheet
        yield Outline(
            Edge.BACK, _rectangle(Edges(rims.top + sheet.top, ZERO, ZERO, rims.left + sheet.left), sheet.size)
        )


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


def _polygon(frame: Frame, outer: Size) -> Iterator[Outline]:
    """Draw a frame of n equal sides, one of them at the bottom."""
    middle = frame.outside.width.as_mm / 2
    half = math.pi / frame.sides

    def ring(across: Length) -> list[tuple[float, float]]:
        radius = across.as_mm / 2 / math.cos(half)
        turns = (math.pi / 2 + half + 2 * half * i for i in range(frame.sides))
        return [(middle + radius * math.cos(turn), middle + radius * math.sin(turn)) for turn in turns]

    outside, lip = ring(frame.outside.width), ring(frame.sight.width)
    yield Outline(Edge.OUTSIDE, polygon(outside))
    yield Outline(Edge.LIP, polygon(lip))
    yield Outline(Edge.BLANK, polygon(ring(outer.width)))
    for corner, near in zip(outside, lip, strict=True):
        yield Outline(Edge.MITRE, polyline([corner, near]))


def _mat(mat: Mat, rims: Edges, package: Package) -> Iterator[Outline]:
    back, run = _at_borders(mat.borders, rims), mat.run
    last = mat is package.mats[-1]
    seen = Edge.WINDOW if last else Edge.BACK
    if mat.groove:
        groove = _at_borders(mat.groove.borders, rims)
        for away in (-run, run):
            yield Outline(Edge.GROOVE, _rectangle(groove.plus(away), mat.groove.back.grown(-away)))
    if mat.opening.bevel is Bevel.NORMAL:
        yield Outline(Edge.FACE, _rectangle(back.plus(-run), mat.opening.face))
        yield Outline(seen, _rectangle(back, mat.opening.back))
    else:
        yield Outline(seen, _rectangle(back.plus(run), mat.opening.face))


def _at_borders(borders: Edges, rims: Edges) -> Edges:
    return Edges(
        rims.top + borders.top, rims.right + borders.right, rims.bottom + borders.bottom, rims.left + borders.left
    )


def _rectangle(at: Edges, size: Size) -> Steps:
    left, top = at.left.as_mm, at.top.as_mm
    return rectangle(Box(left, top, left + size.width.as_mm, top + size.height.as_mm))


def _window(rims: Edges, package: Package) -> tuple[float, float, float, float]:
    place = package.art.window
    left, top = (rims.left + place.left).as_mm, (rims.top + place.top).as_mm
    return (left, top, left + place.size.width.as_mm, top + place.size.height.as_mm)


def _chain(package: Package, rims: Edges, words: Words, *, upright: bool) -> Iterator[tuple[Dim, ...]]:
    """Yield, mat by mat, border, opening, border; then the package as a whole."""
    for mat in package.mats:
        borders, opening = mat.borders, mat.opening.back
        if upright:
            spans = (borders.top, opening.height, borders.bottom)
            start, foot, deep, names = rims.top, rims.left, borders.left, ("top", "height", "bottom")
        else:
            spans = (borders.left, opening.width, borders.right)
            start, foot, deep, names = rims.left, rims.bottom, borders.bottom, ("left", "width", "right")
        marks = [start, start + spans[0], start + spans[0] + spans[1], start + spans[0] + spans[1] + spans[2]]
        figures = (f"{mat.path}.border.{names[0]}", f"{mat.path}.back.{names[1]}", f"{mat.path}.border.{names[2]}")
        yield tuple(
            Dim(
                marks[i].as_mm,
                marks[i + 1].as_mm,
                words.write(spans[i]),
                (foot + deep if i == 1 else foot).as_mm,
                i != 1,
                figures[i],
            )
            for i in range(3)
        )
    start, whole, foot = (
        (rims.top, package.outer.height, rims.left) if upright else (rims.left, package.outer.width, rims.bottom)
    )
    figure = "outer.height" if upright else "outer.width"
    yield (Dim(start.as_mm, (start + whole).as_mm, words.write(whole), foot.as_mm, figure=figure),)


def _overall(length: Length, figure: str, words: Words) -> tuple[tuple[Dim, ...], ...]:
    return ((Dim(0.0, length.as_mm, words.write(length), figure=figure),),)


def _notes(package: Package, words: Words) -> Iterator[str]:
    for mat in package.mats:
        sizes = f"back {words.size(mat.opening.back)}, face {words.size(mat.opening.face)}"
        yield f"{mat_name(mat)}: {sizes}"
    if package.treatment.window is WindowFrom.FLOAT:
        yield "the sheet floats: all its edges show"
