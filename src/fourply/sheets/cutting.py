"""The cutting sheet: the layout of a board and beside it the cuts in their order, the same numbers in both.

Below stand the pieces, what becomes of the fallouts, and what is left over. A board with more cuts than its page
holds goes on a further page; boards cut alike share one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fourply.drawing.hatch import hatch
from fourply.drawing.ink import EXTENSION, HATCHING, RULE
from fourply.drawing.lettering import Anchor, Type, write
from fourply.drawing.page import Paper
from fourply.drawing.pen import Path, Pen
from fourply.drawing.record import Drawing, Recorder
from fourply.drawing.shapes import Box, polygon
from fourply.drawing.signs import box as tick_box
from fourply.drawing.signs import disc, ring, stroke
from fourply.sheets.board import compose_board
from fourply.sheets.board_view import BoardView, CutRow, TableRow, Use
from fourply.sheets.furniture import Head, columns, compose_foot, compose_head, content, rule
from fourply.sheets.types import CAPTION, HEADING, LEAST, SMALL, STOP, STOP_LEFT, STRONG

_SMALL_ROWS = 5  # cuts, and cuts and pieces in dense rows, that a third of a page holds
_A_PAGE = 3
_SHARES = (64, 36)
_TABLES = (45, 63, 24)
_ROOMY, _DENSE = 11.4, 7.2
_TABLE_ROW = 5.9
_FOOT_NOTE = "Close hatch: a fallout with a use. Wide hatch: a fallout to keep. Diagonal: waste. Heavy lines: cuts."
_DENSE_STOP, _DENSE_LEFT = Type(12.5, bold=True), Type(12.5)


@dataclass(frozen=True, slots=True)
class _Left:
    """Rows that did not fit on the page."""

    cuts: Sequence[CutRow]
    pieces: Sequence[TableRow]
    fallouts: Sequence[TableRow]

    def any(self) -> bool:
        return bool(self.cuts or self.pieces or self.fallouts)


def compose_boards(views: Sequence[BoardView], paper: Paper) -> tuple[Drawing, ...]:
    """Return the pages of one material: a page or more for each sheet, offcuts and fallouts several to a page."""
    drawings: list[Drawing] = []
    waiting: list[BoardView] = []
    for view in views:
        if view.small and len(view.cuts) + len(view.pieces) <= _SMALL_ROWS:
            waiting.append(view)
        else:
            drawings.extend(compose_cutting(view, paper))
    drawings.extend(_small_page(waiting[i : i + _A_PAGE], paper) for i in range(0, len(waiting), _A_PAGE))
    return tuple(drawings)


def _small_page(views: Sequence[BoardView], paper: Paper) -> Drawing:
    """Return one page with a few small boards below one another."""
    pen = Recorder()
    area = content(paper)
    last = views[-1].number
    numbers = views[0].number if len(views) == 1 else f"{views[0].number}–{last}"
    lines = ("Offcuts and fallouts", *views[0].lines[1:])
    top = compose_head(pen, area, Head(numbers, views[0].title, lines, ())) + 1
    each = (area.bottom - top) / _A_PAGE
    for place, view in enumerate(views):
        _strip(pen, Box(area.left, top + place * each, area.right, top + (place + 1) * each - 2), view)
    title = f"{views[0].title}, {'board' if len(views) == 1 else 'boards'} {numbers}"
    compose_foot(pen, paper, _FOOT_NOTE, f"{LEAST.fit(title, 60)} · fourply")
    return pen.drawing(paper.width, paper.height, title=title)


def _strip(pen: Pen, area: Box, view: BoardView) -> None:
    """Draw one small board: what it is, its layout, its cuts."""
    corner = ", ".join(view.corner)
    write(pen, (area.right, area.top + 4.6), corner, SMALL, anchor=Anchor.END)
    head = write(pen, (area.left, area.top + 4.6), f"Board {view.number}", HEADING) + 3
    room = area.width - head - 2 - SMALL.width(corner)
    write(pen, (area.left + head, area.top + 4.6), STRONG.fit(view.lines[0], room), STRONG)
    y = area.top + 5.4
    for _, note in view.notes:
        write(pen, (area.left, y + 3.6), CAPTION.fit(note, area.width), CAPTION)
        y += CAPTION.lead
    layout, cuts = columns(Box(area.left, y + 2.4, area.right, area.bottom), (52, 48), gap=6)
    compose_board(pen, layout, view)
    _cuts(pen, cuts, view.cuts)
    top = cuts.top + 8 + len(view.cuts) * _row_height(len(view.cuts), cuts.height)
    _table(pen, Box(cuts.left, top, cuts.right, area.bottom), ("Pieces", ""), view.piece_rows)
    rule(pen, area, area.bottom + 0.6)


def compose_nothing(show: str, paper: Paper) -> Drawing:
    """Return the page of a show of which nothing can be cut, which says so and what to do."""
    pen = Recorder()
    lines = ("No sheet that is listed holds any piece of this show.", "List larger sheets, or take narrower borders.")
    compose_head(pen, content(paper), Head("", show or "Nothing to cut", lines))
    compose_foot(pen, paper, "", "fourply")
    return pen.drawing(paper.width, paper.height, title=show)


def compose_cutting(view: BoardView, paper: Paper) -> tuple[Drawing, ...]:
    """Return the pages of one board, one or more."""
    pens = [Recorder()]
    left = _first_page(pens[0], paper, view)
    while left.any():
        pens.append(Recorder())
        before, left = left, _further_page(pens[-1], paper, view, left)
        if left == before:  # a page that takes nothing would go on for ever
            break
    for number, pen in enumerate(pens, start=1):
        here = f"{view.title}, board {view.number}"
        pages = f" · page {number} of {len(pens)}" if len(pens) > 1 else ""
        compose_foot(pen, paper, _FOOT_NOTE, f"{LEAST.fit(here, 60)}{pages} · fourply")
    title = f"{view.title}, board {view.number}"
    return tuple(pen.drawing(paper.width, paper.height, title=title) for pen in pens)


def _first_page(pen: Pen, paper: Paper, view: BoardView) -> _Left:
    area = content(paper)
    top = compose_head(pen, area, Head(view.number, view.title, view.lines, view.corner)) + 2
    notes = _notes_height(view)
    rows = max(len(view.piece_rows), len(view.fallout_rows), len(view.left_over))
    tables = min(9.5 + rows * _TABLE_ROW, 0.34 * area.height)
    foot = area.bottom - notes - tables - 2
    layout, cuts = columns(Box(area.left, top, area.right, foot), _SHARES, gap=6)
    end = compose_board(pen, layout, view)
    left = _cuts(pen, cuts, view.cuts)
    if not left:
        rows_end = cuts.top + 7.4 + len(view.cuts) * _row_height(len(view.cuts), cuts.height)
        foot = min(foot, max(end, rows_end) + 4)
    pieces, fallouts = _tables(pen, Box(area.left, foot, area.right, foot + tables), view)
    _notes(pen, Box(area.left, foot + tables + 2, area.right, area.bottom), view)
    return _Left(left, pieces, fallouts)


def _row_height(count: int, room: float) -> float:
    return _ROOMY if 7.4 + count * _ROOMY <= room else _DENSE


def _cuts(pen: Pen, area: Box, cuts: Sequence[CutRow]) -> Sequence[CutRow]:
    """Draw the list of cuts, as many as have room; return the others."""
    head = write(pen, (area.left, area.top + 3.2), "Straight cuts", HEADING)
    caption = CAPTION.fit("bold: reset the stop", area.width - head - 2)
    write(pen, (area.left + head + 2, area.top + 3.2), caption, CAPTION)
    high = _row_height(len(cuts), area.height)
    y = area.top + 6
    for done, cut in enumerate(cuts):
        if y + high > area.bottom + 0.01:
            return cuts[done:]
        stroke(pen, (area.left, y), (area.right, y), RULE)
        _cut_row(pen, Box(area.left, y, area.right, y + high), cut)
        y += high
    stroke(pen, (area.left, y), (area.right, y), RULE)
    return ()


def _cut_row(pen: Pen, area: Box, cut: CutRow) -> None:
    middle = (area.top + area.bottom) / 2
    ring(pen, (area.left + 3, middle), cut.number, 2.7)
    roomy = area.height > _DENSE + 0.1
    kinds = ((STOP_LEFT, STOP) if roomy else (_DENSE_LEFT, _DENSE_STOP)) if cut.stop != "trim" else (_DENSE_LEFT,) * 2
    kind = kinds[cut.reset]
    room = 21.0 if roomy else 15.0
    wide = kind.width(cut.stop)
    kind = kind if wide <= room else Type(kind.points * room / wide, kind.bold)
    write(pen, (area.left + 7.5, middle + 0.36 * kind.size), cut.stop, kind)
    left, right = area.left + (30 if roomy else 23.5), area.right - 5.2
    write(pen, (left, middle - 0.5), SMALL.fit(cut.gives, right - left), Type(SMALL.points, bold=True))
    write(pen, (left, middle + 2.6), SMALL.fit(cut.part, right - left), SMALL)
    tick_box(pen, area.right - 3.8, middle - 1.9)


def _tables(pen: Pen, area: Box, view: BoardView) -> tuple[Sequence[TableRow], Sequence[TableRow]]:
    """Draw the three tables; return the rows of the first two that have no room."""
    rule(pen, area, area.top)
    pieces, fallouts, left = columns(Box(area.left, area.top + 1.4, area.right, area.bottom), _TABLES)
    rest = _table(pen, pieces, ("Pieces", ""), view.piece_rows)
    heading = ("Fallouts", "usable size, squared off")
    more = _table(pen, fallouts, heading, view.fallout_rows) if view.fallout_rows else ()
    _left_over(pen, left, view.left_over)
    return rest, more


def _table(pen: Pen, area: Box, heading: tuple[str, str], rows: Sequence[TableRow]) -> Sequence[TableRow]:
    head = write(pen, (area.left, area.top + 4), heading[0], HEADING)
    write(pen, (area.left + head + 2, area.top + 4), heading[1], CAPTION)
    y = area.top + 6.4
    for done, row in enumerate(rows):
        if y + _TABLE_ROW > area.bottom + 0.01:
            return rows[done:]
        stroke(pen, (area.left, y), (area.right, y), RULE)
        _table_row(pen, Box(area.left, y, area.right, y + _TABLE_ROW), row)
        y += _TABLE_ROW
    stroke(pen, (area.left, y), (area.right, y), RULE)
    return ()


def _table_row(pen: Pen, area: Box, row: TableRow) -> None:
    base = area.top + 4.1
    _sign(pen, area, row.sign)
    wide = write(pen, (area.right, base), row.figure, STRONG, anchor=Anchor.END)
    right = area.right - wide - 2
    name = STRONG.fit(row.name, (right - area.left - 7) * 0.62)
    after = area.left + 7 + write(pen, (area.left + 7, base), name, STRONG) + 2
    if right - after > 6:
        write(pen, (after, base), SMALL.fit(row.note, right - after), SMALL)


def _sign(pen: Pen, area: Box, sign: str) -> None:
    uses = {use.value: use for use in Use}
    middle = (area.left + 2.6, (area.top + area.bottom) / 2)
    if sign not in uses:
        disc(pen, middle, sign, 2.5)
        return
    square = Box(middle[0] - 1.9, middle[1] - 1.9, middle[0] + 1.9, middle[1] + 1.9)
    corners = square.corners
    if uses[sign] is Use.WASTE:
        stroke(pen, (square.left, square.bottom), (square.right, square.top), EXTENSION)
    else:
        pen.path(Path(hatch([corners], 0.8 if uses[sign] is Use.FEEDS else 1.6), HATCHING))
    pen.path(Path(polygon(corners), RULE))


def _left_over(pen: Pen, area: Box, rows: Sequence[tuple[str, str]]) -> None:
    write(pen, (area.left, area.top + 4), "Area", HEADING)
    y = area.top + 6.4
    for name, figure in rows:
        stroke(pen, (area.left, y), (area.right, y), RULE)
        write(pen, (area.left, y + 4.3), name, SMALL)
        write(pen, (area.right, y + 4.3), figure, STRONG, anchor=Anchor.END)
        y += _TABLE_ROW
    stroke(pen, (area.left, y), (area.right, y), RULE)


def _notes_height(view: BoardView) -> float:
    return 5.0 * (len(view.notes) + 1) + 2


def _notes(pen: Pen, area: Box, view: BoardView) -> None:
    """Draw what to mind about this board, and lines to write on."""
    y = area.top + 4
    for name, text in view.notes:
        write(pen, (area.left, y), name, STRONG)
        write(pen, (area.left + 19, y), CAPTION.fit(text, area.width - 19), CAPTION)
        y += 5.2
    x = area.left
    for label, long in (("measured", 34), ("sheet used", 34), ("cut by", 34), ("date", 20)):
        wide = write(pen, (x, y), label, CAPTION)
        stroke(pen, (x + wide + 1.2, y + 0.7), (x + wide + long * 0.8, y + 0.7), RULE)
        x += wide + long * 0.8 + 3


def _further_page(pen: Pen, paper: Paper, view: BoardView, left: _Left) -> _Left:
    """Draw what is left on a further page; return what still is."""
    area = content(paper)
    top = compose_head(pen, area, Head(view.number, view.title, ("continued",), view.corner)) + 2
    pieces, fallouts, cuts = columns(Box(area.left, top, area.right, area.bottom), (44, 62, 66))
    return _Left(
        _cuts(pen, cuts, left.cuts) if left.cuts else (),
        _table(pen, pieces, ("Pieces", ""), left.pieces) if left.pieces else (),
        _table(pen, fallouts, ("Fallouts", "usable size"), left.fallouts) if left.fallouts else (),
    )
