"""The rows of the bench list: headings with stops, pieces side by side, things to do, cautions, large figures.

Each row says how high it is before it is drawn, so that pages break between rows.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fourply.drawing.filters import Placed
from fourply.drawing.ink import CUT, RULE, THIN
from fourply.drawing.lettering import Anchor, Type, write, write_lines
from fourply.drawing.pen import Path, Pen
from fourply.drawing.shapes import Box, rectangle
from fourply.drawing.signs import box as tick_box
from fourply.drawing.signs import ring, stroke, warning
from fourply.sheets.bench_view import Alone, Caution, Figure, Heading, Line, Picture, Row, Tile, Tiles
from fourply.sheets.types import CAPTION

BIG, BIG_LEFT = Type(56, bold=True), Type(56)
_STOP, _STOP_LEFT = Type(14, bold=True), Type(14)
_WORK = Type(17, bold=True)
_SIDES = Type(10, bold=True)
_PLAIN = Type(8.5)
_OPERATION = Type(11.5, bold=True)
_DO, _DO_STRONG = Type(9.5), Type(9.5, bold=True)
_NOTE = Type(9)
_PICTURE = 16.5
_TEXT_LEFT = _PICTURE + 2.0
_TICK = 4.4
_INDENT = _TICK + 2.0
_GAP = 3.0
_STEP_CUT = CUT._replace(width=0.9)


def row_height(row: Row, width: float) -> float:
    """Return how high a row is at this width."""
    match row:
        case Heading():
            return _heading(row, width).height
        case Tiles():
            each = _tile_width(row, width)
            return max(_tile_height(tile, each) for tile in row.tiles) + 2.2
        case Alone():
            return _alone_height(row, width)
        case Line():
            return len(_line(row, width).lines) * _DO.lead + (2.8 if row.box else 1.0)
        case Caution():
            return len(_DO_STRONG.wrap(row.text, width - _INDENT)) * _DO_STRONG.lead + 2.8


def compose_row(pen: Pen, area: Box, row: Row) -> None:
    """Draw a row from the top of the area down."""
    match row:
        case Heading():
            _compose_heading(pen, area, row)
        case Tiles():
            stroke(pen, (area.left, area.top), (area.right, area.top), RULE)
            each = _tile_width(row, area.width)
            for at, tile in enumerate(row.tiles):
                left = area.left + at * (each + _GAP)
                _compose_tile(pen, Box(left, area.top + 1.4, left + each, area.bottom), tile)
        case Alone():
            _compose_alone(pen, area, row)
        case Line():
            if row.box:
                stroke(pen, (area.left, area.top), (area.right, area.top), RULE)
            _compose_line(pen, area, row)
        case Caution():
            stroke(pen, (area.left, area.top), (area.right, area.top), RULE)
            warning(pen, area.left, area.top + 4.9, 4.2, grave=True)
            lines = _DO_STRONG.wrap(row.text, area.width - _INDENT)
            write_lines(pen, (area.left + _INDENT, area.top + 4.6), lines, _DO_STRONG)


# ── headings ─────────────────────────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class _Placed:
    """A heading as it is set: its lines, whether the stops stand beside or below, how high it all is."""

    lines: list[str]
    beside: bool
    height: float


_STOP_GAP = 5.0


def _stops_width(heading: Heading) -> float:
    return sum(_stop_width(stop) + _STOP_GAP for stop in heading.stops)


def _stop_width(stop: Figure) -> float:
    return _NOTE.width(stop.name) + 1.6 + _STOP.width(stop.text)


def _heading(heading: Heading, width: float) -> _Placed:
    stops = _stops_width(heading)
    beside = not heading.stops or _OPERATION.width(heading.text) <= width - stops
    lines = _OPERATION.wrap(heading.text, width)
    if beside:
        lines = _OPERATION.wrap(heading.text, width - stops)
    height = len(lines) * _OPERATION.lead + 2.6
    if heading.stops:
        height = 9.4 if beside else height + 9.0
    return _Placed(lines, beside, height + (_CAPTION_ROW if heading.note else 0))


_CAPTION_ROW = 1.2


def _compose_heading(pen: Pen, area: Box, heading: Heading) -> None:
    stroke(pen, (area.left, area.top), (area.right, area.top), RULE)
    placed = _heading(heading, area.width)
    base = area.top + 5.6
    y = write_lines(pen, (area.left, base), placed.lines, _OPERATION)
    if not heading.stops:
        return
    if not placed.beside:
        base = y + 1.4
    x = area.right - _stops_width(heading) + _STOP_GAP
    if heading.note:
        write(pen, (area.right, base + 3.5), heading.note, CAPTION, anchor=Anchor.END)
    for stop in heading.stops:
        x += write(pen, (x, base), stop.name, _NOTE) + 1.6
        kind = _STOP if stop.reset else _STOP_LEFT
        write(pen, (x, base), stop.text, kind)
        x += _STOP.width(stop.text) + _STOP_GAP


# ── pieces ───────────────────────────────────────────────────────────────────────────────────────────────────────


def _tile_width(row: Tiles, width: float) -> float:
    return (width - (row.across - 1) * _GAP) / row.across


@dataclass(frozen=True, slots=True)
class _Text:
    sides: list[str]
    lines: list[str]


def _tile_text(tile: Tile, room: float) -> _Text:
    lines = [line for text in packed(tile.lines, room, _PLAIN) for line in _wrapped(text, room)]
    if tile.title:
        lines.append(_PLAIN.fit(tile.title, room))
    return _Text(_SIDES.wrap(tile.sides, room) if tile.sides else [], lines)


def packed(texts: Sequence[str], room: float, kind: Type) -> list[str]:
    """Return texts in their order with commas between them, as many on a line as have room there.

    >>> packed(["far left", "near right"], 40, Type(8.5))
    ['far left, near right']
    """
    lines: list[str] = []
    for text in texts:
        joined = f"{lines[-1]}, {text}" if lines else text
        if lines and kind.width(joined) <= room:
            lines[-1] = joined
        else:
            lines.append(text)
    return lines


def _wrapped(text: str, room: float) -> list[str]:
    """Return lines that fit, a size parted behind its cross rather than within a figure."""
    width, cross, height = text.partition("× ")
    if cross and _PLAIN.width(text) > room:
        return [*_PLAIN.wrap(width + "×", room), *_PLAIN.wrap(height, room)]
    return _PLAIN.wrap(text, room)


def _tile_height(tile: Tile, width: float) -> float:
    text = _tile_text(tile, width - _TEXT_LEFT)
    return max(_PICTURE + 0.6, 6.5 + len(text.sides) * _SIDES.lead + len(text.lines) * _PLAIN.lead)


def _compose_tile(pen: Pen, area: Box, tile: Tile) -> None:
    _compose_picture(pen, Box(area.left, area.top + 0.4, area.left + _PICTURE, area.top + _PICTURE), tile.picture)
    left = area.left + _TEXT_LEFT
    tick_box(pen, area.right - _TICK - 0.4, area.top + 0.5, _TICK)
    room = area.right - _TICK - 2 - left
    number = _WORK if _WORK.width(tile.number) <= room else _fitting(_WORK, tile.number, room)
    write(pen, (left, area.top + 4.8), number.fit(tile.number, room), number)
    text = _tile_text(tile, area.right - left)
    y = write_lines(pen, (left, area.top + 9.7), text.sides, _SIDES)
    write_lines(pen, (left, y), text.lines, _PLAIN)


_STOPS = 54.0
_STOP_ROW = 6.6


def _alone_text(row: Alone, width: float) -> _Text:
    return _tile_text(row.tile, _alone_room(row, width))


def _alone_room(row: Alone, width: float) -> float:
    return width - _TEXT_LEFT - (_STOPS if row.heading.stops else _TICK + 2)


def _alone_name(row: Alone, width: float) -> list[str]:
    """Return what is done, as lines behind the number of the work."""
    number = _WORK.width(row.tile.number) + 3
    return _OPERATION.wrap(row.heading.text, max(_alone_room(row, width) - number, 12.0))


def _set_out(row: Alone, width: float) -> list[str]:
    return [line for text in row.text for line in _DO.wrap(text, _alone_room(row, width))]


def _alone_height(row: Alone, width: float) -> float:
    text = _alone_text(row, width)
    name = max(len(_alone_name(row, width)), 1) * _OPERATION.lead
    words = 2.6 + name + len(text.sides) * _SIDES.lead + len(text.lines) * _PLAIN.lead
    words += len(_set_out(row, width)) * _DO.lead
    return max(_PICTURE + 2.0, words) + 1.8


def _compose_alone(pen: Pen, area: Box, row: Alone) -> None:
    """Draw a piece that is the only one: picture, what is done to it, its stops below one another."""
    stroke(pen, (area.left, area.top), (area.right, area.top), RULE)
    tile, top = row.tile, area.top + 1.4
    _compose_picture(pen, Box(area.left, top, area.left + _PICTURE, top + _PICTURE), tile.picture)
    left, room = area.left + _TEXT_LEFT, _alone_room(row, area.width)
    number = _WORK if _WORK.width(tile.number) <= room / 2 else _fitting(_WORK, tile.number, room / 2)
    wide = write(pen, (left, top + 4.8), number.fit(tile.number, room / 2), number)
    y = write_lines(pen, (left + wide + 3, top + 4.8), _alone_name(row, area.width), _OPERATION)
    text = _alone_text(row, area.width)
    y = max(y, top + 4.8 + _OPERATION.lead)  # where nothing is said of what is done
    y = write_lines(pen, (left, y + 0.2), text.sides, _SIDES)
    y = write_lines(pen, (left, y), text.lines, _PLAIN)
    write_lines(pen, (left, y + 0.4), _set_out(row, area.width), _DO)
    tick_box(pen, area.right - _TICK - 0.4, top + 0.5, _TICK)
    for at, stop in enumerate(row.heading.stops):
        base = top + 4.8 + at * _STOP_ROW
        write(pen, (area.right - _STOPS + 2, base), stop.name, _NOTE)
        write(pen, (area.right - _TICK - 2.4, base), stop.text, _STOP if stop.reset else _STOP_LEFT, anchor=Anchor.END)
    if row.heading.note:
        base = top + 4.2 + len(row.heading.stops) * _STOP_ROW - 2.0
        write(pen, (area.right - _TICK - 2.4, base), row.heading.note, CAPTION, anchor=Anchor.END)


def _fitting(kind: Type, text: str, room: float) -> Type:
    """Return a type in which a number keeps to its place, as small as can be read; it may still be cut short."""
    return Type(max(9.0, kind.points * room / kind.width(text)), kind.bold)


def _compose_picture(pen: Pen, area: Box, picture: Picture) -> None:
    """Draw a board as large as the area takes it, true to shape, what is cut now heavy."""
    width, height = picture.size
    scale = min((area.width - 1) / width, (area.height - 1) / height)
    left, top = area.left + 0.5, area.top + 0.5
    place = Placed(pen, left, top, scale=scale)
    pen.path(Path(rectangle(Box(left, top, left + width * scale, top + height * scale)), THIN))
    for steps in picture.lines:
        place.path(Path(steps, THIN._replace(width=0.18)))
    for steps in picture.heavy:
        place.path(Path(steps, _STEP_CUT))


# ── things to do ─────────────────────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class _Set:
    """A thing to do as it is set: where its text begins, its lines; how wide the bold words before the first are."""

    left: float
    lines: list[str]
    strong: float


_RING = 2.9


def _line(row: Line, width: float) -> _Set:
    left = _INDENT + len(row.rings) * (2 * _RING + 1.0)
    strong = _DO_STRONG.width(row.strong) + 2.0 if row.strong else 0.0
    room = width - left
    if strong > room * 0.6:  # a long name has a line to itself
        return _Set(left, [*_DO_STRONG.wrap(row.strong, room), *_DO.wrap(row.text, room)], 0.0)
    first = _DO.wrap(row.text, room - strong)[:1]
    rest = row.text[len(first[0]) :].strip() if first else ""
    return _Set(left, [*(first or [""]), *_DO.wrap(rest, room - strong)], strong)


def _compose_line(pen: Pen, area: Box, row: Line) -> None:
    placed = _line(row, area.width)
    base = area.top + (4.6 if row.box else 3.7)
    x = area.left + _INDENT
    if row.box:
        tick_box(pen, area.left, area.top + 1.0, _TICK)
    for number in row.rings:
        ring(pen, (x + _RING, area.top + 3.2), number, _RING - 0.2)
        x += 2 * _RING + 1.0
    if placed.strong:
        write(pen, (area.left + placed.left, base), row.strong, _DO_STRONG)
        write_lines(pen, (area.left + placed.left + placed.strong, base), placed.lines, _DO)
        return
    names = len(_DO_STRONG.wrap(row.strong, area.width - placed.left)) if row.strong else 0
    y = write_lines(pen, (area.left + placed.left, base), placed.lines[:names], _DO_STRONG)
    write_lines(pen, (area.left + placed.left, y), placed.lines[names:], _DO)
