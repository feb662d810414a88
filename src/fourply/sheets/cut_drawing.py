"""The lines of a work's boards for a machine that cuts: one drawing a board, or all boards in their places.

A drawing is as large as the blank and holds nothing but what is cut, each kind of cut of each board on a layer of its
own, in the order in which it is cut: grooves, window, and the blank itself last, so that the board stays whole as
long as may be. What a person must know stands as text beside the blank; the writers put it where no machine cuts it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum

from fourply.drawing.ink import EXTENSION
from fourply.drawing.lettering import Type, write_lines
from fourply.drawing.pen import Path, Steps
from fourply.drawing.record import Drawing, Recorder
from fourply.measure.size import Size
from fourply.sheets.outlines import (
    Cut,
    Line,
    insert_lines,
    mat_lines,
    mirrored,
    moved,
    package_edge,
    sight_line,
    sink_lines,
)
from fourply.sheets.template_view import View
from fourply.trade.package import Groove, Inlay, Mat, Opening, Package, Sink
from fourply.trade.parts import mat_name
from fourply.trade.shapes.arch import EllipticalArch
from fourply.trade.shapes.ellipse import Ellipse
from fourply.trade.shapes.shape import Shape
from fourply.trade.treatment import Bevel
from fourply.working.words import Words


class Follow(Enum):
    """Which line of a bevelled window a machine is to follow; the value is what is written in the file."""

    SIGHT = "sight"
    FACE = "face"


_TEXT = Type(9)
_BELOW = 8.0  # from the blank to the first line of text
_GROOVE = {Follow.SIGHT: Line.GROOVE_BACK, Follow.FACE: Line.GROOVE_FACE}
_INLAY = {Follow.SIGHT: Line.INLAY_BACK, Follow.FACE: Line.INLAY_FACE}


@dataclass(frozen=True, slots=True)
class _Board:
    """One board, or several alike: its name, what begins its layers, its lines, what each kind is cut as, notes."""

    name: str
    layer: str
    material: str
    cuts: tuple[Cut, ...]
    kinds: dict[Line, str]
    notes: tuple[str, ...]
    edge: Steps | None = None

    def layers(self) -> Iterator[tuple[str, Steps]]:
        """Yield what is cut with its layer; the edge of a package that is no rectangle is cut before the blank."""
        for cut in self.cuts:
            if self.edge and cut.line is Line.BLANK:
                yield f"{self.layer}-edge-straight", self.edge
            if cut.line in self.kinds:
                yield f"{self.layer}-{self.kinds[cut.line]}", cut.steps


def board_drawings(
    package: Package, words: Words, view: View, follow: Follow, *, show: str = ""
) -> Iterator[tuple[str, Drawing]]:
    """Yield every board that is cut by its name, with its drawing, whose corner is that of its blank."""
    for board in _boards(package, words, follow):
        blank = board.cuts[-1].box
        pen = Recorder()
        for layer, steps in board.layers():
            seen = moved(steps, -blank.left, -blank.top)
            pen.path(Path(mirrored(seen, blank.width) if view is View.BACK else seen, EXTENSION, layer=layer))
        notes = [f"{board.name}, {board.material}", *board.notes, *_notes(package, view, follow, show)]
        write_lines(pen, (0, blank.height + _BELOW), notes, _TEXT)
        yield board.name, pen.drawing(blank.width, blank.height, title=_title(package, board.name))


def work_drawing(package: Package, words: Words, view: View, follow: Follow, *, show: str = "") -> Drawing:
    """Return all boards of a work in their places, the corner that of the box round all their blanks."""
    boards = tuple(_boards(package, words, follow))
    boxes = [board.cuts[-1].box for board in boards]
    left, top = min(box.left for box in boxes), min(box.top for box in boxes)
    width, height = max(box.right for box in boxes) - left, max(box.bottom for box in boxes) - top
    pen, notes = Recorder(), []
    for board in boards:
        for layer, steps in board.layers():
            seen = moved(steps, -left, -top)
            pen.path(Path(mirrored(seen, width) if view is View.BACK else seen, EXTENSION, layer=layer))
        notes += [f"{board.name}, {board.material}: {'; '.join(board.notes)}"]
    write_lines(pen, (0, height + _BELOW), [*notes, *_notes(package, view, follow, show)], _TEXT)
    return pen.drawing(width, height, title=_title(package, "all boards in their places"))


# ── the boards ───────────────────────────────────────────────────────────────────────────────────────────────────


def _boards(package: Package, words: Words, follow: Follow) -> Iterator[_Board]:
    for mat in package.mats:
        yield _mat(package, mat, words, follow)
    if package.inlay:
        yield _insert(package, package.inlay, words, follow)
    if package.sink:
        yield _sink(package, package.sink, words)


def _mat(package: Package, mat: Mat, words: Words, follow: Follow) -> _Board:
    bevel = "bevel" if mat.opening.bevel is Bevel.NORMAL else "reverse-bevel"
    kinds = {
        _GROOVE[follow]: "groove-bevel",
        _INLAY[follow]: "inlay-bevel",
        _window(mat, follow): f"window-{bevel}",
        Line.BLANK: "blank-straight",
    }
    notes = (*_windows(mat, words, follow), *_grooves(mat, words, follow), *_gap(package, mat, words))
    layer = f"{mat.number}-{_plain(mat.board.name)}"
    return _Board(
        mat_name(mat), layer, mat.board.name, tuple(mat_lines(package, mat)), kinds, notes, package_edge(package)
    )


def _insert(package: Package, inlay: Inlay, words: Words, follow: Follow) -> _Board:
    kinds = {_INLAY[follow]: "edge-of-band-bevel", Line.BLANK: "blank-straight"}
    hold = f"the blank reaches {words.with_unit(inlay.hold)} past the band on every side, to be held by"
    notes = (_band(inlay, words), hold)
    layer, cuts = f"inlay-{_plain(inlay.board.name)}", tuple(insert_lines(package, inlay))
    return _Board("inlay", layer, inlay.board.name, cuts, kinds, notes)


def _sink(package: Package, sink: Sink, words: Words) -> _Board:
    kinds = {Line.OPENING: "opening-straight", Line.BLANK: "blank-straight"}
    size = f"{_size(sink.opening.size, words)}, cut square through"
    alike = "1 board" if sink.layers == 1 else f"{sink.layers} boards alike"
    layer = f"sink-{_plain(sink.board.name)}"
    edge = package_edge(package)
    notes = (f"opening {size}", f"{alike}, {words.with_unit(sink.height)} high")
    return _Board("sink mat", layer, sink.board.name, tuple(sink_lines(package, sink)), kinds, notes, edge)


def _plain(name: str) -> str:
    """Return a name as it may stand in that of a layer."""
    return re.sub(r"[^A-Za-z0-9.-]+", "-", name).strip("-") or "board"


# ── notes ────────────────────────────────────────────────────────────────────────────────────────────────────────


def _window(mat: Mat, follow: Follow) -> Line:
    return sight_line(mat) if follow is Follow.SIGHT else Line.FACE


def _windows(mat: Mat, words: Words, follow: Follow) -> Iterator[str]:
    bevel = "normal" if mat.opening.bevel is Bevel.NORMAL else "reverse"
    line = _window(mat, follow)
    what = "face line" if follow is Follow.FACE else f"sight line ({line.value})"
    for hole in mat.holes:
        opening = hole.opening
        size = _size(opening.sight if follow is Follow.SIGHT else opening.face, words)
        name = "title" if hole.title else f"window {hole.number}" if len(mat.holes) > 1 else "window"
        text = f"{name} {size}, {opening.shape.words}: {what} of a {bevel} bevel, run {words.with_unit(mat.run)}"
        yield text + _curve(opening, line)


def _curve(opening: Opening, line: Line) -> str:
    """Return what is to be said of a line that is no true oval, though the line on the back is one."""
    return "; parallel to the oval, no oval itself" if line is Line.FACE and _is_oval(opening.shape) else ""


def _is_oval(shape: Shape) -> bool:
    return (isinstance(shape, Ellipse) and shape.words == "oval") or isinstance(shape, EllipticalArch)


def _grooves(mat: Mat, words: Words, follow: Follow) -> Iterator[str]:
    line = _GROOVE[follow].value.partition(", ")[2]
    for groove in mat.all_grooves:
        size = _size(groove.back if follow is Follow.SIGHT else groove.face_cut, words)
        yield f"groove {size}: {line}; {_shave(groove, words)}"


def _shave(groove: Groove, words: Words) -> str:
    before, after = _size(groove.face_cut, words), _size(groove.face_shaved, words)
    return f"its drop-out is shaved by hand, face {before} to {after}, back unchanged"


def _gap(package: Package, mat: Mat, words: Words) -> Iterator[str]:
    if mat.number == 1 and package.inlay:
        yield f"gap for the inlay: {_band(package.inlay, words)}"


def _band(inlay: Inlay, words: Words) -> str:
    outer, inner = inlay.shape.grown(inlay.width).size, inlay.shape.size
    return f"band {_size(outer, words)} round {_size(inner, words)} on the back, run {words.with_unit(inlay.run)}"


def _size(size: Size, words: Words) -> str:
    return f"{words.write(size.width)} × {words.write(size.height)} {words.unit.value}"


def _notes(package: Package, view: View, follow: Follow, show: str) -> Iterator[str]:
    work = f"work {package.work.id} {package.work.title}".strip()
    yield f"{show}, {work}" if show else work
    yield f"{follow.value} line, seen from the {view.value} of the mats"
    yield "unit: millimetre, full size; origin: the corner of the blank, lower left in DXF, upper left in SVG"


def _title(package: Package, what: str) -> str:
    return f"{package.work.id} {package.work.title}".strip() + f": {what}"
