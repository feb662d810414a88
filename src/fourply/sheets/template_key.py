"""The key of a template: what it is, what to do first, all tiles at a small scale, every figure of the setting-out."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from fourply.drawing import dimension
from fourply.drawing.dimension import Bank, Dim, Side, lay_out
from fourply.drawing.filters import Placed
from fourply.drawing.ink import RULE
from fourply.drawing.lettering import Anchor, write, write_lines
from fourply.drawing.page import REDUCED, Paper, Scale
from fourply.drawing.pen import Path, Pen
from fourply.drawing.record import Recorder, replay
from fourply.drawing.shapes import Box, Point
from fourply.drawing.signs import disc, ring, stroke
from fourply.sheets.free import Free, straight
from fourply.sheets.furniture import Head, columns, compose_head, content, rule
from fourply.sheets.ruler import compose_ruler
from fourply.sheets.template_figures import Group, Ways
from fourply.sheets.template_lines import SEAM, STROKES, compose_legend, legend_height
from fourply.sheets.template_tile import Sheet
from fourply.sheets.template_view import Number, TemplateView
from fourply.sheets.template_ways import HEIGHT, compose_ways
from fourply.sheets.types import CAPTION, HEADING, SMALL, STEP, STRONG, TEXT

_FIRST = 14.5
_RULER = 23.0
_LIST = 5.4  # its heading
_ROW = 4.6
_GROUP = 6.2  # the heading of a group
_GRID = 16  # places across and down at which a letter is tried
_OVER = 4.0  # seams run on past the blank
_SHARES = ((60, 40), (66, 34), (70, 30))


class Rest(NamedTuple):
    """What the key has no room for: groups of figures, and the two ways to draw an oval."""

    groups: tuple[Group, ...] = ()
    ways: Ways | None = None


def compose_key(pen: Pen, paper: Paper, sheet: Sheet, place: str) -> Rest:
    """Draw the key on a paper; returns what has no room on it.

    The two ways to draw an oval stand below all else, where the figures leave room for them.
    """
    area, view = content(paper), sheet.view
    top = compose_head(pen, area, Head(view.number, view.title, view.lines, (place,)))
    _first(pen, Box(area.left, top, area.right, top + _FIRST), sheet)
    top += _FIRST
    rule(pen, area, top)
    room = Box(area.left, top + 1.5, area.right, area.bottom - _RULER - legend_height(view.edges) - 3)
    less = room._replace(bottom=room.bottom - HEIGHT)
    ways = view.ways if view.ways and _height(view.groups) <= less.height else None
    if ways:
        room = less
    picture, figures, sheet = _layout(room, sheet)
    foot = _picture(pen, picture, sheet)
    left, end = _groups(pen, figures, view.groups)
    lines = max(foot, end) + 4
    rule(pen, area, lines)
    compose_legend(pen, Box(area.left, lines + 0.6, area.right, area.bottom), view.edges)
    ruler = lines + legend_height(view.edges)
    rule(pen, area, ruler)
    _ruler(pen, Box(area.left, ruler, area.right, area.bottom))
    if ways:
        rule(pen, area, ruler + _RULER)
        compose_ways(pen, area._replace(top=ruler + _RULER), ways)
    return Rest(left, None if ways else view.ways)


def _layout(room: Box, sheet: Sheet) -> tuple[Box, Box, Sheet]:
    """Return the columns of picture and figures, and the sheet with as many tiers of dimensions as have room.

    The places of several openings stand in the list too, so nothing is lost with a tier.
    """
    view = sheet.view
    for tiers in (slice(None), slice(None, None, max(1, len(view.left) - 1)), slice(-1, None)):
        less = replace(view, left=view.left[tiers], bottom=view.bottom[tiers])
        shares = [columns(room, shares, gap=7) for shares in _SHARES]
        picture, figures = max(shares, key=lambda both: _place(less, _drawn(both[0]))[0].of(1))
        if _fits(less, _drawn(picture)):
            break
    return picture, figures, replace(sheet, view=less)


def compose_more(pen: Pen, paper: Paper, view: TemplateView, rest: Rest, place: str) -> Rest:
    """Draw what the key had no room for; returns what is left again."""
    area = content(paper)
    top = compose_head(pen, area, Head(view.number, view.title, ("setting out, continued",), (place,)))
    if rest.ways:
        compose_ways(pen, area._replace(top=top), rest.ways)
        top += HEIGHT
        rule(pen, area, top)
    first, second = columns(Box(area.left, top + 1.5, area.right, area.bottom), (1, 1), gap=9)
    left, _ = _groups(pen, first, rest.groups)
    return Rest(_groups(pen, second, left)[0])


def _first(pen: Pen, area: Box, sheet: Sheet) -> None:
    """Draw what must not be forgotten, numbered, side by side."""
    count = len(sheet.printed)
    steps = [("Measure the rulers.", "100 mm and 4 in, across and up. Wrong: print again.")]
    if count > 1:
        steps += [
            ("Cut on the seams.", "Each tile at its right and its lower seam."),
            ("Lay mark on mark.", "Over the tile named at the seam; tape, row by row."),
        ]
    else:
        steps.append((f"Lay it on the {sheet.view.side.value}.", "Axes on the axes of the blank."))
    if any(mark.name for mark in sheet.view.marks):
        steps.append(("Prick the crosses.", "Pins and centres, before anything is cut."))
    head = write(pen, (area.left, area.top + 5.4), "First", HEADING)
    cells = columns(Box(area.left + head + 4.5, area.top, area.right, area.bottom), [1] * len(steps), gap=3.5)
    for number, (cell, (title, detail)) in enumerate(zip(cells, steps, strict=True), start=1):
        write(pen, (cell.left, area.top + 5.4), str(number), STEP)
        write(pen, (cell.left + 4, area.top + 5.4), STEP.fit(title, cell.width - 4), STEP)
        lines = SMALL.wrap(detail, cell.width - 4)[:2]
        write_lines(pen, (cell.left + 4, area.top + 9.0), lines, SMALL)


def _drawn(area: Box) -> Box:
    """Return the part of the picture's area below its heading."""
    return Box(area.left, area.top + 6.5, area.right, area.bottom)


def _picture(pen: Pen, area: Box, sheet: Sheet) -> float:
    """Draw all tiles with their seams and letters, and the dimensions of every mat; return where it ends."""
    view, room = sheet.view, _drawn(area)
    scale, place = _place(view, room)
    head = write(pen, (area.left, area.top + 3.8), "Key", HEADING)
    sheets = "1 tile" if len(sheet.printed) == 1 else f"{len(sheet.printed)} tiles"
    caption = f"{scale}, {sheets}, seen from the {view.side.value}. Sizes to the back line."
    write(pen, (area.left + head + 2, area.top + 3.8), caption, CAPTION)
    x0, y0 = place.left - scale.of(view.extent.left), place.top - scale.of(view.extent.top)
    placed = Recorder()
    for traced in view.outlines:
        Placed(placed, x0, y0, scale=scale.of(1)).path(Path(traced.steps, STROKES[traced.edge]))
    lines = placed.drawing(1, 1)
    replay(lines.marks, pen)
    banks = _banks(view, place, scale, room)
    for bank in banks:
        dimension.draw(pen, bank)
    xs, ys = (
        [origin + scale.of(at) for at in seams] for origin, seams in ((x0, sheet.tiling.xs), (y0, sheet.tiling.ys))
    )
    for x in xs:
        stroke(pen, (x, place.top - _OVER), (x, place.bottom), SEAM)
    for y in ys:
        stroke(pen, (place.left, y), (place.right + _OVER, y), SEAM)
    free = Free(place)
    free.add_lines(segment for path in lines.paths for segment in straight(path.steps))
    taken = [_number(pen, scale, number, (x0, y0)) for number in view.numbers]
    for tile in sheet.printed:
        left, top, right, bottom = (scale.of(edge) for edge in tile.kept)
        taken.append(_letter(pen, free, Box(x0 + left, y0 + top, x0 + right, y0 + bottom), tile.letter, taken))
    return place.bottom + banks[1].depth


def _number(pen: Pen, scale: Scale, number: Number, origin: Point) -> Box:
    """Draw the number of an opening in its middle; return the place that it takes."""
    x, y = origin[0] + scale.of(number.x), origin[1] + scale.of(number.y)
    radius = min(2.6, 0.6 * scale.of(number.reach))
    ring(pen, (x, y), number.text, radius)
    return Box(x - radius, y - radius, x + radius, y + radius)


def _letter(pen: Pen, free: Free, cell: Box, letter: str, taken: Sequence[Box]) -> Box:
    """Draw the letter of a tile in its cell, small or on a line where there is no other place; return what it takes."""
    largest = min(3.4, 0.2 * min(cell.width, cell.height))
    sizes = [[box for box in _spots(cell, largest * part) if not _meets(box, taken)] for part in (1, 0.7, 0.5, 0.3)]
    boxes = next((size for size in sizes if size), _spots(cell, largest))
    box = next((box for box in boxes if free.fits(box, about=0.6)), boxes[0])
    disc(pen, ((box.left + box.right) / 2, (box.top + box.bottom) / 2), letter, box.width / 2)
    return box


def _spots(cell: Box, radius: float) -> list[Box]:
    """Return places for a disc in a cell, those near its middle first."""
    middle = ((cell.left + cell.right) / 2, (cell.top + cell.bottom) / 2)
    steps = range(1, _GRID)
    spots = [
        (cell.left + across / _GRID * cell.width, cell.top + down / _GRID * cell.height)
        for across in steps
        for down in steps
    ]
    spots.sort(key=lambda spot: math.dist(spot, middle))
    boxes = (Box(x - radius, y - radius, x + radius, y + radius) for x, y in spots)
    return [box for box in boxes if _inside(box, cell)]


def _meets(box: Box, taken: Sequence[Box]) -> bool:
    return any(box.grown(0.6).meets(other) for other in taken)


def _inside(box: Box, cell: Box) -> bool:
    return box.left >= cell.left and box.top >= cell.top and box.right <= cell.right and box.bottom <= cell.bottom


def _place(view: TemplateView, room: Box) -> tuple[Scale, Box]:
    """Return the largest scale at which the view and its dimensions fit, and where the view then stands."""
    scale = next((scale for scale in REDUCED if _at_scale(view, room, scale)), REDUCED[-1])
    width, height = scale.of(view.extent.width), scale.of(view.extent.height)
    left = _banks(view, Box(0, 0, width, height), scale, room)[0].depth
    x = room.left + left + max(0.0, room.width - left - width - _OVER) / 2
    return scale, Box(x, room.top + _OVER, x + width, room.top + _OVER + height)


def _fits(view: TemplateView, room: Box) -> bool:
    """Tell whether there is a scale at which the view and its dimensions fit."""
    return any(_at_scale(view, room, scale) for scale in REDUCED)


def _at_scale(view: TemplateView, room: Box, scale: Scale) -> bool:
    width, height = scale.of(view.extent.width), scale.of(view.extent.height)
    left, bottom = (bank.depth for bank in _banks(view, Box(0, 0, width, height), scale, room))
    return left + width + _OVER <= room.width and bottom + height + _OVER <= room.height


def _banks(view: TemplateView, place: Box, scale: Scale, room: Box) -> tuple[Bank, Bank]:
    """Return the dimensions at the left and below."""
    along, extent = (place.top - 2.0, place.bottom + 3.4), view.extent
    left = _scaled(view.left, place.top - scale.of(extent.top), scale, -extent.left)
    bottom = _scaled(view.bottom, place.left - scale.of(extent.left), scale, extent.bottom - view.height)
    return (
        lay_out(Side.LEFT, place.left, left, within=along),
        lay_out(Side.BOTTOM, place.bottom, bottom, within=(room.left, room.right)),
    )


def _scaled(tiers: Sequence[Sequence[Dim]], origin: float, scale: Scale, further: float) -> list[list[Dim]]:
    """Return dimensions at a scale; their extension lines start so much further in, as the base lies further out."""
    return [[_scaled_dim(dim, origin, scale, further) for dim in tier] for tier in tiers]


def _scaled_dim(dim: Dim, origin: float, scale: Scale, further: float) -> Dim:
    start, end = origin + scale.of(dim.start), origin + scale.of(dim.end)
    return dim._replace(start=start, end=end, foot=scale.of(dim.foot + further))


def _height(groups: Sequence[Group]) -> float:
    """Return how high the list of figures is."""
    return _LIST + sum(_GROUP + _ROW * len(group.rows) for group in groups)


def _groups(pen: Pen, area: Box, groups: Sequence[Group]) -> tuple[tuple[Group, ...], float]:
    """Write groups of figures below one another; returns those that have no room, and where the last one ends."""
    if not groups:
        return (), area.top
    y = area.top + 3.8
    write(pen, (area.left, y), "Setting out", HEADING)
    y += _LIST - 3.8
    for number, group in enumerate(groups):
        if y + _GROUP + _ROW * len(group.rows) > area.bottom and number:
            return tuple(groups[number:]), y
        y += 5.0
        write(pen, (area.left, y), STRONG.fit(group.heading, area.width), STRONG)
        y += _GROUP - 5.0
        for row in group.rows:
            stroke(pen, (area.left, y), (area.right, y), RULE)
            kind = STRONG if row.strong else TEXT
            figure = kind.fit(row.figure, area.width * 0.7)
            wide = write(pen, (area.right, y + 3.35), figure, kind, anchor=Anchor.END)
            write(pen, (area.left, y + 3.35), TEXT.fit(row.name, area.width - wide - 3), TEXT)
            y += _ROW
        stroke(pen, (area.left, y), (area.right, y), RULE)
    return (), y


def _ruler(pen: Pen, area: Box) -> None:
    """Draw the ruler with what it is for, and lines for what was measured."""
    y = area.top + 4.8
    write(pen, (area.left, y), "Ruler", HEADING)
    text = (
        "Lay a steel rule on both scales of every sheet. Off by 0.4 mm or 1⁄64: set the printer to 100 %, print again."
    )
    write_lines(pen, (area.left, y + 4.2), SMALL.wrap(text, 40)[:5], SMALL)
    compose_ruler(pen, (area.left + 46, area.top + 11.5))
    x = area.left + 46 + 101.6 + 8
    for place, name in enumerate(("mm across", "mm up, on a tile")):
        line = area.top + 6.5 + 9.0 * place
        stroke(pen, (x, line), (area.right, line), RULE)
        write(pen, (x, line + 3.0), SMALL.fit(name, area.right - x), SMALL)
