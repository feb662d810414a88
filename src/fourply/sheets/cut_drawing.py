"""The lines of a mat for a machine that cuts: one drawing a mat, or all mats of a work in their places.

A drawing is as large as the blank and holds nothing but what is cut, each kind of cut of each board on a layer of its
own, in the order in which it is cut: groove, window, and the blank itself last, so that the board stays whole as
long as may be. What a person must know stands as text beside the blank; the writers put it where no machine cuts it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from enum import Enum

from fourply.drawing.ink import EXTENSION
from fourply.drawing.lettering import Type, write_lines
from fourply.drawing.pen import Path, Steps
from fourply.drawing.record import Drawing, Recorder
from fourply.sheets.outlines import Line, mat_lines, mirrored, moved, package_edge, sight_line
from fourply.sheets.template_view import View
from fourply.trade.package import Mat, Package
from fourply.trade.parts import mat_name
from fourply.trade.treatment import Bevel
from fourply.working.words import Words


class Follow(Enum):
    """Which line of a bevelled window a machine is to follow; the value is what is written in the file."""

    SIGHT = "sight"
    FACE = "face"


_TEXT = Type(9)
_BELOW = 8.0  # from the blank to the first line of text
_GROOVE = {Follow.SIGHT: Line.GROOVE_BACK, Follow.FACE: Line.GROOVE_FACE}


def mat_drawings(
    package: Package, words: Words, view: View, follow: Follow, *, show: str = ""
) -> Iterator[tuple[Mat, Drawing]]:
    """Yield every mat with its drawing, whose corner is that of its blank."""
    for mat in package.mats:
        blank = {cut.line: cut.box for cut in mat_lines(package, mat)}[Line.BLANK]
        pen = Recorder()
        for layer, steps in _layers(package, mat, follow):
            seen = moved(steps, -blank.left, -blank.top)
            pen.path(Path(mirrored(seen, blank.width) if view is View.BACK else seen, EXTENSION, layer=layer))
        notes = [f"{mat_name(mat)}, {mat.board.name}", *_about(mat, words, follow)]
        write_lines(pen, (0, blank.height + _BELOW), [*notes, *_notes(package, view, show)], _TEXT)
        yield mat, pen.drawing(blank.width, blank.height, title=_title(package, mat_name(mat)))


def work_drawing(package: Package, words: Words, view: View, follow: Follow, *, show: str = "") -> Drawing:
    """Return all mats of a work in their places, the corner that of the package (of the top mat's blank if larger)."""
    boxes = [cut.box for mat in package.mats for cut in mat_lines(package, mat) if cut.line is Line.BLANK]
    left, top = min(box.left for box in boxes), min(box.top for box in boxes)
    width, height = max(box.right for box in boxes) - left, max(box.bottom for box in boxes) - top
    pen, notes = Recorder(), []
    for mat in package.mats:
        for layer, steps in _layers(package, mat, follow):
            seen = moved(steps, -left, -top)
            pen.path(Path(mirrored(seen, width) if view is View.BACK else seen, EXTENSION, layer=layer))
        notes += [f"{mat_name(mat)}, {mat.board.name}: {'; '.join(_about(mat, words, follow))}"]
    write_lines(pen, (0, height + _BELOW), [*notes, *_notes(package, view, show)], _TEXT)
    return pen.drawing(width, height, title=_title(package, "all mats in their places"))


def _layers(package: Package, mat: Mat, follow: Follow) -> Iterator[tuple[str, Steps]]:
    """Yield what is cut of a mat with its layer, named by mat, board and kind of cut."""
    cuts = tuple(mat_lines(package, mat))
    board = re.sub(r"[^A-Za-z0-9.-]+", "-", mat.board.name).strip("-") or "board"
    bevel = "bevel" if mat.opening.bevel is Bevel.NORMAL else "reverse-bevel"
    wanted = {
        _GROOVE[follow]: "groove-bevel",
        _window(mat, follow): f"window-{bevel}",
        Line.BLANK: "blank-straight",
    }
    edge = package_edge(package)
    for cut in cuts:
        if edge and cut.line is Line.BLANK:
            yield f"{mat.number}-{board}-edge-straight", edge
        if cut.line in wanted:
            yield f"{mat.number}-{board}-{wanted[cut.line]}", cut.steps


def _window(mat: Mat, follow: Follow) -> Line:
    return sight_line(mat) if follow is Follow.SIGHT else Line.FACE


def _about(mat: Mat, words: Words, follow: Follow) -> Iterator[str]:
    bevel = "normal" if mat.opening.bevel is Bevel.NORMAL else "reverse"
    unit, line = words.unit.value, _window(mat, follow)
    what = f"{follow.value} line" if follow is Follow.FACE else f"sight line ({line.value})"
    for hole in mat.holes:
        size = hole.opening.sight if follow is Follow.SIGHT else hole.opening.face
        outline = f"{words.write(size.width)} × {words.write(size.height)} {unit}"
        yield f"window {outline}: {what} of a {bevel} bevel, run {words.with_unit(mat.run)}"
    if mat.all_grooves:
        yield f"groove: {_GROOVE[follow].value.partition(', ')[2]}"


def _notes(package: Package, view: View, show: str) -> Iterator[str]:
    work = f"work {package.work.id} {package.work.title}".strip()
    yield f"{show}, {work}" if show else work
    yield f"seen from the {view.value} of the mats"
    yield "unit: millimetre, full size; origin: the corner of the blank, lower left in DXF, upper left in SVG"


def _title(package: Package, what: str) -> str:
    return f"{package.work.id} {package.work.title}".strip() + f": {what}"
