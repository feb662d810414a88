"""The layout of one board, to scale: what is cut out of it, by which cuts, and what becomes of the rest.

Pieces carry black discs, cuts open rings with the numbers of their list. A fallout that is used is hatched close, one
that is kept wide, waste is blank with a diagonal; nothing depends on colour. Signs look for a free place, so that no
number stands on another.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from fourply.drawing import dimension
from fourply.drawing.dimension import Dim, Side, lay_out
from fourply.drawing.hatch import hatch
from fourply.drawing.ink import CUT, EXTENSION, HATCHING, THIN, VISIBLE
from fourply.drawing.lettering import Anchor, Type, write
from fourply.drawing.page import REDUCED, Scale
from fourply.drawing.pen import Path, Pen
from fourply.drawing.shapes import Box, Point, rectangle
from fourply.drawing.signs import disc, ring, stroke
from fourply.sheets.board_view import BoardView, CutLine, Fallout, PlacedPiece, Rest, Use
from fourply.sheets.types import CAPTION, HEADING, LEAST, STRONG

_RING = 2.7
_DEEPEST = 13.0  # two tiers of dimensions
_SIDE = 7.4  # room round the board for rings
_SIZES = (Type(10, bold=True), STRONG, Type(7.2, bold=True))
_SPACING = {Use.FEEDS: 1.5, Use.KEEP: 3.2}


class _Place:
    """Where the board stands on the page, and what is taken there."""

    def __init__(self, scale: Scale, left: float, base: float) -> None:
        self.scale = scale
        self.left = left
        self.base = base
        self.taken: list[Box] = []

    def point(self, at: Point) -> Point:
        return self.left + self.scale.of(at[0]), self.base - self.scale.of(at[1])

    def box(self, box: Box) -> Box:
        left, bottom = self.point((box.left, box.top))
        right, top = self.point((box.right, box.bottom))
        return Box(left, top, right, bottom)

    def free(self, box: Box) -> bool:
        return not any(box.meets(other) for other in self.taken)

    def take(self, box: Box) -> None:
        self.taken.append(box)


def compose_board(pen: Pen, area: Box, view: BoardView) -> float:
    """Draw the layout at the top of an area; return where it ends."""
    head = write(pen, (area.left, area.top + 3.2), "Layout", HEADING)
    room = Box(area.left, area.top + 6, area.right, area.bottom)
    place = _place(view, room)
    caption = f"{place.scale}. Clean edges at the left and at the bottom."
    write(pen, (area.left + head + 2, area.top + 3.2), CAPTION.fit(caption, area.width - head - 2), CAPTION)
    board = place.box(Box(0, 0, view.width, view.height))
    for rest in view.rests:
        _rest(pen, place, rest)
    for piece in view.pieces:
        _piece(pen, place, piece)
    pen.path(Path(rectangle(board), VISIBLE))
    for line in view.lines_cut:
        stroke(pen, place.point(line.start), place.point(line.end), CUT)
    for line in view.lines_cut:
        _ring(pen, place, line, board)
    banks = _banks(view, place, board)
    for bank in banks:
        dimension.draw(pen, bank)
    return board.bottom + _SIDE + max(bank.depth for bank in banks) + 1


def _place(view: BoardView, room: Box) -> _Place:
    wide, high = room.width - 2 * _SIDE - 10, room.height - 2 * _RING - _SIDE - (9 if view.upright else 14)
    scale = next((s for s in REDUCED if s.of(view.width) <= wide and s.of(view.height) <= high), REDUCED[-1])
    left = room.left + _SIDE + 9 + max(0.0, wide - scale.of(view.width)) / 2
    return _Place(scale, left, room.top + 2 * _RING + 1.4 + scale.of(view.height))


def _banks(view: BoardView, place: _Place, board: Box) -> list[dimension.Bank]:
    across = (board.left - 14, board.right + 14)
    along = (board.top - 4, board.bottom + 4)
    whole_x = [Dim(board.left, board.right, view.width_figure)]
    whole_y = [Dim(board.top, board.bottom, view.height_figure)]
    chain_x: list[Dim] = []
    chain_y: list[Dim] = []
    for start, end, text in view.chain:
        (x1, y1), (x2, y2) = place.point((start, start)), place.point((end, end))
        if view.upright:
            chain_y.append(Dim(y2, y1, text))
        else:
            chain_x.append(Dim(x1, x2, text))
    banks = []
    for side, base, (chain, whole), within in (
        (Side.BOTTOM, board.bottom + _SIDE - 3, (chain_x, whole_x), across),
        (Side.LEFT, board.left - _SIDE, (chain_y, whole_y), along),
    ):
        bank = lay_out(side, base, [chain, whole], within=within)
        # many narrow strips would stand tier over tier: their sizes are in the list of cuts
        banks.append(bank if bank.depth <= _DEEPEST else lay_out(side, base, [whole], within=within))
    return banks


def _rest(pen: Pen, place: _Place, rest: Rest) -> None:
    box = place.box(rest.box)
    if not rest.kept:
        stroke(pen, (box.left, box.bottom), (box.right, box.top), EXTENSION)
        return
    middle, y = (box.left + box.right) / 2, (box.top + box.bottom) / 2
    for words, kind in (("remnant, keep", STRONG), ("keep", STRONG), ("keep", _SIZES[-1])):
        wide = max(kind.width(words), kind.width(rest.size))
        label = Box(middle - wide / 2 - 0.5, y - 4.4, middle + wide / 2 + 0.5, y + 4.6)
        if label.width < box.width - 1 and label.height < box.height - 1:
            write(pen, (middle, y - 0.8), words, kind, anchor=Anchor.MIDDLE)
            write(pen, (middle, y + 3.6), rest.size, kind, anchor=Anchor.MIDDLE)
            place.take(label)
            return


def _piece(pen: Pen, place: _Place, piece: PlacedPiece) -> None:
    """Draw a piece: its disc, its name and size where they fit, what falls out of it."""
    box = place.box(piece.box)
    window = place.box(piece.fallout.box) if piece.fallout else None
    radius = min(3.2, box.width / 2 - 0.6, box.height / 2 - 0.6)
    if radius < 1.1:
        return
    middle = (box.left + radius + 1.4, box.top + radius + 1.4)
    place.take(Box(middle[0] - radius, middle[1] - radius, middle[0] + radius, middle[1] + radius))
    _words(pen, place, piece, Box(middle[0] + radius + 1.2, box.top, box.right - 1.2, box.bottom), window)
    if piece.fallout and window:
        _fallout(pen, place, piece.fallout, window)
    disc(pen, middle, piece.number, radius)


def _words(pen: Pen, place: _Place, piece: PlacedPiece, room: Box, window: Box | None) -> None:
    """Write the size, and the name before or below it, into the border above the window where there is room."""
    low = window.top - 0.6 if window and window.left < room.right else room.bottom - 0.6
    base = room.top + 5.4
    if base + 0.6 > low:
        return
    for name in (piece.name, piece.work):
        for kind in _SIZES:
            if kind.width(piece.size) + CAPTION.width(name) + 2 <= room.width:
                _label(pen, place, (room.left, base), (name, CAPTION))
                _label(pen, place, (room.right - kind.width(piece.size), base), (piece.size, kind))
                return
    small = _SIZES[-1]
    if small.width(piece.size) <= room.width:
        _label(pen, place, (room.right - small.width(piece.size), base), (piece.size, small))


def _label(pen: Pen, place: _Place, at: Point, words: tuple[str, Type]) -> None:
    """Write a line and take its place."""
    text, kind = words
    wide = write(pen, at, text, kind)
    place.take(Box(at[0], at[1] - kind.size, at[0] + wide, at[1] + 0.8))


def _fallout(pen: Pen, place: _Place, fallout: Fallout, box: Box) -> None:
    words = [("waste", LEAST)] if fallout.use is Use.WASTE else [(fallout.words, STRONG), (fallout.size, CAPTION)]
    hole = _hole(box, words)
    if hole is None and fallout.brief:
        words = [(fallout.brief, STRONG), (fallout.size, CAPTION)]
        hole = _hole(box, words)
    hole = hole if hole and place.free(hole) else None
    middle = (box.left + box.right) / 2
    pen.path(Path(rectangle(box), THIN))
    rings = [box.corners, *([hole.corners] if hole else [])]
    if fallout.use in _SPACING:
        pen.path(Path(hatch(rings, _SPACING[fallout.use]), HATCHING))
    else:
        _diagonal(pen, box, hole)
    if hole:
        place.take(hole)
        for i, (text, kind) in enumerate(words):
            write(pen, (middle, hole.top + 3.9 + 4.2 * i), text, kind, anchor=Anchor.MIDDLE)


def _hole(box: Box, words: list[tuple[str, Type]]) -> Box | None:
    """Return the place in the middle of a box that lines of words take, None where the box is too small."""
    wide = max(kind.width(text) for text, kind in words) + 2.4
    high = 4.2 * sum(1 for text, _ in words if text) + 1.6
    if wide > box.width - 2 or high > box.height - 2:
        return None
    x, y = (box.left + box.right) / 2, (box.top + box.bottom) / 2
    return Box(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)


def _diagonal(pen: Pen, box: Box, hole: Box | None) -> None:
    """Draw the diagonal of waste, broken where its word stands."""
    start, end = (box.left, box.bottom), (box.right, box.top)
    if hole is None:
        stroke(pen, start, end, EXTENSION)
        return
    dx, dy = end[0] - start[0], end[1] - start[1]
    part = min(0.5, max(0.0, 0.5 - min(hole.width / 2 / dx, hole.height / 2 / -dy)))
    for a, b in ((0.0, part), (1 - part, 1.0)):
        stroke(pen, (start[0] + a * dx, start[1] + a * dy), (start[0] + b * dx, start[1] + b * dy), EXTENSION)


def _ring(pen: Pen, place: _Place, line: CutLine, board: Box) -> None:
    """Draw the ring of a cut on its line, outside the board if it can be, else where nothing else stands.

    Where the line has no free place the ring stands beside it on a short leader.
    """
    ends = (place.point(line.start), place.point(line.end))
    for centre, foot in itertools.chain(((at, at) for at in _ring_places(ends, board)), _beside(ends, board)):
        around = Box(centre[0] - _RING, centre[1] - _RING, centre[0] + _RING, centre[1] + _RING).grown(0.2)
        if not place.free(around):
            continue
        (left, right), (top, bottom) = (sorted(pair) for pair in zip(centre, foot, strict=True))
        leader = Box(left, top, right, bottom)
        if place.free(leader.grown(0.2)):
            if centre != foot:
                stroke(pen, foot, centre, THIN)
            ring(pen, centre, line.number, _RING)
            place.take(around)
            place.take(leader)
            return


def _beside(ends: tuple[Point, Point], board: Box) -> Iterator[tuple[Point, Point]]:
    """Yield places on the board beside a line, each with the foot of its leader on the line, the nearest first."""
    upright = ends[0][0] == ends[1][0]
    places = [at for at in _along(ends) if _between(board, at, upright=not upright)]
    for away in (4.5, 7.0, 10.0, 14.0, 19.0):
        aside = [(way, 0.0) if upright else (0.0, way) for way in (away, -away)]
        ways = [(x, y) for x, y in aside if _between(board, (ends[0][0] + x, ends[0][1] + y), upright=upright)]
        for at in places:
            for x, y in ways:
                yield (at[0] + x, at[1] + y), at


def _between(board: Box, at: Point, *, upright: bool) -> bool:
    """Whether a point lies between the upright edges of the board, or the level ones."""
    return board.left < at[0] < board.right if upright else board.top < at[1] < board.bottom


def _along(ends: tuple[Point, Point]) -> Iterator[Point]:
    """Yield points of a line from its middle outward."""
    (x1, y1), (x2, y2) = ends
    for i in range(1, 40):
        part = 0.5 + (i // 2) * 0.025 * (1 if i % 2 else -1)
        yield x1 + (x2 - x1) * part, y1 + (y2 - y1) * part


def _ring_places(ends: tuple[Point, Point], board: Box) -> Iterator[Point]:
    """Yield places for a ring: beyond the ends that reach the edge of the board, then along the line."""
    (x1, y1), (x2, y2) = ends
    away = _RING + 0.7
    if x1 == x2:
        upright = ((x1, y1 + away, y1), (x2, y2 - away, y2))
        yield from ((x, y) for x, y, edge in upright if min(abs(edge - board.top), abs(edge - board.bottom)) < 1.5)
    else:
        level = ((x1 - away, y1, x1), (x2 + away, y2, x2))
        yield from ((x, y) for x, y, edge in level if min(abs(edge - board.left), abs(edge - board.right)) < 1.5)
    yield from _along(ends)
