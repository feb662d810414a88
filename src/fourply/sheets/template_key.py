"""The key of a template: what it is, what to do first, all tiles at a small scale, every figure of the setting-out."""

from __future__ import annotations

import math
from collections.abc import Sequence

from fourply.drawing import dimension
from fourply.drawing.dimension import Bank, Dim, Side, lay_out
from fourply.drawing.filters import Placed
from fourply.drawing.ink import RULE
from fourply.drawing.lettering import Anchor, write, write_lines
from fourply.drawing.page import REDUCED, Paper, Scale
from fourply.drawing.pen import Path, Pen
from fourply.drawing.record import Recorder, replay
from fourply.drawing.shapes import Box
from fourply.drawing.signs import disc, stroke
from fourply.sheets.free import Free, Segment, straight
from fourply.sheets.furniture import Head, columns, compose_head, content, rule
from fourply.sheets.ruler import compose_ruler
from fourply.sheets.template_lines import SEAM, STROKES, compose_legend, legend_height
from fourply.sheets.template_tile import Sheet
from fourply.sheets.template_view import Group, TemplateView
from fourply.sheets.types import CAPTION, HEADING, SMALL, STEP, STRONG, TEXT

_FIRST = 14.5
_RULER = 23.0
_ROW = 5.6
_OVER = 4.0  # seams run on past the blank
_SHARES = ((60, 40), (66, 34), (70, 30))


def compose_key(pen: Pen, paper: Paper, sheet: Sheet, place: str) -> tuple[Group, ...]:
    """Draw the key on a paper; returns the groups of figures that have no room on it."""
    area, view = content(paper), sheet.view
    top = compose_head(pen, area, Head(view.number, view.title, view.lines, (place,)))
    _first(pen, Box(area.left, top, area.right, top + _FIRST), sheet)
    top += _FIRST
    rule(pen, area, top)
    room = Box(area.left, top + 1.5, area.right, area.bottom - _RULER - legend_height(view.edges) - 3)
    picture, figures = max(
        (columns(room, shares, gap=7) for shares in _SHARES), key=lambda both: _place(view, _drawn(both[0]))[0].of(1)
    )
    foot = _picture(pen, picture, sheet)
    left, end = _groups(pen, figures, view.groups)
    lines = max(foot, end) + 4
    rule(pen, area, lines)
    compose_legend(pen, Box(area.left, lines + 0.6, area.right, area.bottom), view.edges)
    ruler = lines + legend_height(view.edges)
    rule(pen, area, ruler)
    _ruler(pen, Box(area.left, ruler, area.right, area.bottom))
    return left


def compose_more(pen: Pen, paper: Paper, view: TemplateView, groups: Sequence[Group], place: str) -> tuple[Group, ...]:
    """Draw the figures that the key had no room for; returns what is left again."""
    area = content(paper)
    top = compose_head(pen, area, Head(view.number, view.title, ("setting out, continued",), (place,)))
    first, second = columns(Box(area.left, top + 1.5, area.right, area.bottom), (1, 1), gap=9)
    left, _ = _groups(pen, first, groups)
    return _groups(pen, second, left)[0]


def _first(pen: Pen, area: Box, sheet: Sheet) -> None:
    """Draw what must not be forgotten, numbered, side by side."""
    count = len(sheet.printed)
    steps = [("Measure the rulers.", "100 mm and 4 in, across and up. Wrong: print again.")]
    if count > 1:
        steps += [
            ("Cut on the seams.", "Each tile at its right and its lower seam."),
            ("Lay mark on mark, tape.", "Over the tile named at the seam, row by row."),
        ]
    else:
        steps.append((f"Lay it on the {sheet.view.side.value}.", "Axes on the axes of the blank."))
    head = write(pen, (area.left, area.top + 5.4), "First", HEADING)
    cells = columns(Box(area.left + head + 4.5, area.top, area.right, area.bottom), [1] * len(steps), gap=3.5)
    for number, (cell, (title, detail)) in enumerate(zip(cells, steps, strict=True), start=1):
        write(pen, (cell.left, area.top + 5.4), str(number), STEP)
        write(pen, (cell.left + 4, area.top + 5.4), STEP.fit(title, cell.width - 4), STEP)
        lines = CAPTION.wrap(detail, cell.width - 4)[:2]
        write_lines(pen, (cell.left + 4, area.top + 9.0), lines, CAPTION)


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
    drawn = [segment for path in lines.paths for segment in straight(path.steps)]
    for tile in sheet.printed:
        left, top, right, bottom = (scale.of(edge) for edge in tile.kept)
        _letter(pen, Box(x0 + left, y0 + top, x0 + right, y0 + bottom), drawn, tile.letter)
    return place.bottom + banks[1].depth


def _letter(pen: Pen, cell: Box, lines: Sequence[Segment], letter: str) -> None:
    """Draw the letter of a tile in its cell, on a line only where there is no other place."""
    radius = min(3.4, 0.2 * min(cell.width, cell.height))
    free = Free(cell)
    free.add_lines(lines)
    middle = ((cell.left + cell.right) / 2, (cell.top + cell.bottom) / 2)
    spots = [
        (cell.left + across / 12 * cell.width, cell.top + down / 12 * cell.height)
        for across in range(1, 12)
        for down in range(1, 12)
    ]
    spots.sort(key=lambda spot: math.dist(spot, middle))
    boxes = ((spot, Box(spot[0] - radius, spot[1] - radius, spot[0] + radius, spot[1] + radius)) for spot in spots)
    disc(pen, next((spot for spot, box in boxes if free.fits(box, about=0.6)), middle), letter, radius)


def _place(view: TemplateView, room: Box) -> tuple[Scale, Box]:
    """Return the largest scale at which the view and its dimensions fit, and where the view then stands."""
    extent = view.extent
    for scale in REDUCED:
        width, height = scale.of(extent.width), scale.of(extent.height)
        left, bottom = (bank.depth for bank in _banks(view, Box(0, 0, width, height), scale, room))
        if (left + width + _OVER <= room.width and bottom + height + _OVER <= room.height) or scale is REDUCED[-1]:
            break
    x = room.left + left + max(0.0, room.width - left - width - _OVER) / 2
    return scale, Box(x, room.top + _OVER, x + width, room.top + _OVER + height)


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


def _groups(pen: Pen, area: Box, groups: Sequence[Group]) -> tuple[tuple[Group, ...], float]:
    """Write groups of figures below one another; returns those that have no room, and where the last one ends."""
    if not groups:
        return (), area.top
    y = area.top + 3.8
    write(pen, (area.left, y), "Setting out", HEADING)
    y += 3.0
    for number, group in enumerate(groups):
        if y + 6.0 + _ROW * len(group.rows) > area.bottom and number:
            return tuple(groups[number:]), y
        y += 5.4
        write(pen, (area.left, y), STRONG.fit(group.heading, area.width), STRONG)
        y += 1.4
        for row in group.rows:
            stroke(pen, (area.left, y), (area.right, y), RULE)
            kind = STRONG if row.strong else TEXT
            wide = write(pen, (area.right, y + 3.9), row.figure, kind, anchor=Anchor.END)
            write(pen, (area.left, y + 3.9), TEXT.fit(row.name, area.width - wide - 3), TEXT)
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
