"""The front view: the framed work at the largest scale of the series that its place on the page allows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from fourply.drawing import dimension
from fourply.drawing.dimension import Bank, Dim, Side, lay_out
from fourply.drawing.filters import Placed
from fourply.drawing.ink import AXIS, EXTENSION, HIDDEN, THIN, VISIBLE, Ink, Stroke
from fourply.drawing.lettering import Anchor, Type, write
from fourply.drawing.page import REDUCED, Scale
from fourply.drawing.pen import Path, Pen
from fourply.drawing.record import Drawing, Recorder
from fourply.drawing.shapes import Box, Point, rectangle
from fourply.drawing.signs import arrowhead, stroke
from fourply.sheets.front_view import front_view
from fourply.sheets.types import CAPTION, HEADING, SIGHT, STRONG, TEXT
from fourply.sheets.view import Edge, FrontView, SightWords
from fourply.trade.package import Package
from fourply.working.words import Words

_STROKES: dict[Edge, Stroke] = {
    Edge.OUTSIDE: VISIBLE,
    Edge.LIP: VISIBLE,
    Edge.MITRE: EXTENSION,
    Edge.BLANK: HIDDEN,
    Edge.GROOVE: EXTENSION,
    Edge.LINE: EXTENSION,
    Edge.INLAY: EXTENSION,
    Edge.FACE: EXTENSION,
    Edge.BACK: THIN,
    Edge.WINDOW: VISIBLE,
    Edge.SHEET: HIDDEN,
}
_ABOVE, _BELOW = 3.4, 2.2
_ENDS = 3.0  # room for what sticks out past the outermost figures


_PICTURE = 180.0  # the side of a picture that stands alone, in millimetres


def front_drawing(package: Package, words: Words) -> Drawing:
    """Return the front view of a package as a drawing that stands alone."""
    pen = Recorder()
    compose_front(pen, Box(4, 3, _PICTURE - 4, _PICTURE - 4), front_view(package, words))
    return pen.drawing(_PICTURE, _PICTURE, title=f"{package.work.id} {package.work.title}".strip())


def front_scale(area: Box, view: FrontView) -> Scale:
    """Return the scale that the front view takes in an area."""
    return _lay(view, _room(area)).scale


def _room(area: Box) -> Box:
    return Box(area.left, area.top + 6.5, area.right, area.bottom)


_MARKED = 9.0  # windows narrower than this have no room for the mark of the section
_ASIDE = 0.75  # of the width of a window: a mark farther right leaves the middle to the words
_MARKED_ASIDE = 22.0  # those narrower than this have none for it beside their words


def compose_front(pen: Pen, area: Box, view: FrontView) -> None:
    """Draw the front view with its dimensions in the area of a page, its heading at the top left."""
    head = write(pen, (area.left, area.top + 3.2), "Front", HEADING)
    room = _room(area)
    view, scale, place, _ = _lay(view, room)
    caption = f"{scale}. Mat sizes to the back line."
    write(pen, (area.left + head + 2, area.top + 3.2), caption, CAPTION)
    placed = Placed(pen, place.left, place.top, scale=scale.of(1))
    for outline in view.outlines:
        placed.path(Path(outline.steps, _STROKES[outline.edge]))
    for bank in (*_upright(view, place, scale), *_level(view, place, scale, (room.left, room.right))):
        dimension.draw(pen, bank)
    for words in view.windows:
        room, window = (_on_page(box, place, scale) for box in (words.room, words.box))
        x = _mark_at(words, window, place.left, scale)
        _words(
            pen, _clear_of_mark(room, window, x), words, aside=x is not None and x > window.left + _ASIDE * window.width
        )
        if x is not None:
            _section_mark(pen, window, place, x)


def _on_page(box: Box, place: Box, scale: Scale) -> Box:
    left, top, right, bottom = (scale.of(edge) for edge in box)
    return Box(place.left + left, place.top + top, place.left + right, place.top + bottom)


class _Laid(NamedTuple):
    """A view at a scale in its box on the page, and whether all of it has room there."""

    view: FrontView
    scale: Scale
    place: Box
    fits: bool


def _lay(view: FrontView, room: Box) -> _Laid:
    """Return the view as large as may be, without the outer chains where they would take more than half of its size.

    What is not measured here stands in the table of settings.
    """
    bare = _place(_with_chains(view, 0), room)
    for count in range(max(len(view.bottom), len(view.left)) - 1, 0, -1):
        laid = _place(_with_chains(view, count), room)
        if laid.fits and laid.scale.of(2) >= bare.scale.of(1):
            return laid
    return bare


def _with_chains(view: FrontView, count: int) -> FrontView:
    """Return the view with so many chains at bottom and left, and the size of the whole."""
    return replace(
        view, bottom=(*view.bottom[:-1][:count], view.bottom[-1]), left=(*view.left[:-1][:count], view.left[-1])
    )


def _place(view: FrontView, room: Box) -> _Laid:
    """Return the view at the largest scale at which it fits with its banks, the whole centred."""
    for scale in REDUCED:
        width, height = scale.of(view.width), scale.of(view.height)
        if (width > room.width or height > room.height) and scale is not REDUCED[-1]:
            continue  # no need to lay out what is too large without its dimensions
        left, right = (bank.depth for bank in _upright(view, Box(0, 0, width, height), scale))
        spare_x = room.width - left - right - width - _ENDS
        x = room.left + left + _ENDS / 2 + max(0.0, spare_x) / 2
        across = (room.left, room.right)
        top, bottom = (bank.depth for bank in _level(view, Box(x, 0, x + width, height), scale, across))
        spare_y = room.height - top - bottom - height
        fits = spare_x >= 0 and spare_y >= 0
        if fits:
            break
    y = room.top + top + max(0.0, spare_y) / 2
    return _Laid(view, scale, Box(x, y, x + width, y + height), fits)


def _upright(view: FrontView, place: Box, scale: Scale) -> tuple[Bank, Bank]:
    """Return the banks at left and right."""
    along = (place.top - _ABOVE, place.bottom + _BELOW)  # else they could meet the figures above and below
    return (
        lay_out(Side.LEFT, place.left, _scaled(view.left, place.top, scale), within=along),
        lay_out(Side.RIGHT, place.right, _scaled(view.right, place.top, scale), within=along),
    )


def _level(view: FrontView, place: Box, scale: Scale, across: tuple[float, float]) -> tuple[Bank, Bank]:
    """Return the banks at top and bottom, whose figures stay within `across`."""
    return (
        lay_out(Side.TOP, place.top, _scaled(view.top, place.left, scale), within=across),
        lay_out(Side.BOTTOM, place.bottom, _scaled(view.bottom, place.left, scale), within=across),
    )


def _scaled(tiers: Sequence[Sequence[Dim]], origin: float, scale: Scale) -> list[list[Dim]]:
    return [
        [
            dim._replace(
                start=origin + scale.of(dim.start),
                end=origin + scale.of(dim.end),
                foot=scale.of(dim.foot),
                end_foot=None if dim.end_foot is None else scale.of(dim.end_foot),
            )
            for dim in tier
        ]
        for tier in tiers
    ]


def _mark_at(view: SightWords, window: Box, left: float, scale: Scale) -> float | None:
    """Return where the mark of the section stands on the page, None where the window has none or no room for it."""
    if view.cut is None or window.width < _MARKED:
        return None
    x = left + scale.of(view.cut)
    aside = x > window.left + _ASIDE * window.width  # only where it is the same anywhere
    return _middle(window) if aside and window.width < _MARKED_ASIDE else x


def _middle(box: Box) -> float:
    return (box.left + box.right) / 2


def _mark_top(window: Box) -> float:
    return window.bottom - min(6.0, 0.3 * window.height)


def _clear_of_mark(room: Box, window: Box, x: float | None) -> Box:
    """Return the room that a mark in the middle of a window leaves above it for words."""
    if x is None or x > window.left + _ASIDE * window.width:
        return room
    return room._replace(bottom=min(room.bottom, _mark_top(window) - 1.2))


def _words(pen: Pen, room: Box, view: SightWords, *, aside: bool) -> None:
    """Write the sight, with its number or with the notes where they fit, into the room of a window.

    A mark that stands `aside` is only minded by words in two lines.
    """
    wide = room.width - 3
    middle = (room.left + room.right) / 2
    size = next((kind for kind in (SIGHT, STRONG) if kind.width(view.sight) <= wide), None)
    if size is None or room.height < 14:
        _in_two_lines(pen, room, view, mark=min(6.0, 0.3 * room.height) + 1.6 if aside else 0.0)
        return
    lines = [line for note in view.notes for line in CAPTION.wrap(note, wide)]
    fits = bool(lines) and room.height >= 20 + len(lines) * CAPTION.lead + 8
    block = (len(lines) * CAPTION.lead + 2 if fits else 0) + size.size
    y = (room.top + room.bottom) / 2 - block / 2 + size.size * 0.7
    if room.height > block + 12:
        head = f"opening {view.number}, sight" if view.number else "sight"
        _on_paper(pen, (middle, y - size.lead), head if TEXT.width(head) <= wide else str(view.number or ""), TEXT)
    _on_paper(pen, (middle, y), view.sight, size)
    if fits:
        for i, line in enumerate(lines):
            _on_paper(pen, (middle, y + 5.4 + i * CAPTION.lead), line, CAPTION)


def _in_two_lines(pen: Pen, room: Box, view: SightWords, *, mark: float) -> None:
    """Write the sight as width over height into a small window, or its number where even that has no room.

    The lowest part as high as the `mark` is left free.
    """
    width, by, height = view.sight.partition(" × ")
    lines = (f"{width} ×", height)
    free = room.height - mark  # above the mark of the section
    middle, y = (room.left + room.right) / 2, room.top + free / 2
    if not by or max(map(STRONG.width, lines)) > room.width - 1.6 or free < 2.4 * STRONG.lead:
        if view.number and room.width > STRONG.width(str(view.number)) + 1 and free > STRONG.lead:
            _on_paper(pen, (middle, y + 0.3 * STRONG.size), str(view.number), STRONG)
        return
    _on_paper(pen, (middle, y - 0.2 * STRONG.lead), lines[0], STRONG)
    _on_paper(pen, (middle, y + 0.8 * STRONG.lead), lines[1], STRONG)


def _on_paper(pen: Pen, at: Point, text: str, kind: Type) -> None:
    """Write a line about its middle on a white ground, since a floated sheet or a lip may run behind it."""
    if not text:
        return
    x, y = at
    half = kind.width(text) / 2
    ground = Box(x - half, y - 0.8 * kind.size, x + half, y + 0.25 * kind.size)
    pen.path(Path(rectangle(ground), None, Ink.PAPER))
    write(pen, at, text, kind, anchor=Anchor.MIDDLE)


def _section_mark(pen: Pen, window: Box, place: Box, x: float) -> None:
    """Draw the line along which the section is cut, with its arrows, through the bottom of the frame."""
    top, foot = _mark_top(window), place.bottom + 1.6
    stroke(pen, (x, top), (x, foot), AXIS)
    for y in (top, foot):
        stroke(pen, (x, y), (x - 4.4, y), THIN)
        arrowhead(pen, (x - 4.4, y), 180, THIN)
    stroke(pen, (x, top), (x, top + 2), VISIBLE)
    stroke(pen, (x, foot), (x, foot - 2), VISIBLE)
    pen.path(Path(rectangle(Box(x + 0.6, top - 0.2, x + 3.6, top + 3.0)), None, Ink.PAPER))
    write(pen, (x + 1, top + 2.6), "A", STRONG)
