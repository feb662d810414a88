"""The table the hand copies: the guide for each side, and at each end the pencil crossing, the stop, the blade.

Bold means that it differs from the cut before; light means leave it. The small boards show the back, as it lies on
the cutter, so that left stands on the right.
"""

from __future__ import annotations

from collections.abc import Sequence

from fourply.drawing.ink import CUT, RULE, THIN, Ink
from fourply.drawing.lettering import Type, write, write_lines
from fourply.drawing.pen import Path, Pen
from fourply.drawing.shapes import Box, rectangle
from fourply.drawing.signs import stroke
from fourply.sheets.types import CAPTION, END, END_LEFT, GUIDE, GUIDE_LEFT, HEADING, LEAST, SIDE, SMALL, STRONG, TEXT
from fourply.sheets.view import EndRow, Setting, SettingRow, SettingsView

_HEAD = 16.2
_BARE_HEAD = 6.2
_GUIDE = 8.2
_END = 3.75
_ROW_FOOT = 1.9
_GAP = 0.4
_NAMES = 26.5
_ICON = 4.6


def row_height(row: SettingRow, width: float) -> float:
    """Return how high one row of the table is at this width."""
    lines = len(_lines(row, width)) * TEXT.lead
    table = _GUIDE + len(row.ends) * _END + lines + _GAP * bool(lines) if row.guides else max(_GUIDE, lines + 1.4)
    return table + _ROW_FOOT


def _lines(row: SettingRow, width: float) -> list[str]:
    return [line for paragraph in row.lines for line in TEXT.wrap(paragraph, width - _NAMES)]


def settings_height(view: SettingsView, width: float) -> float:
    """Return how high the whole table is at this width."""
    return _head(view) + sum(row_height(row, width) for row in view.rows) + len(_legend(view, width)) * SMALL.lead + 1


def _head(view: SettingsView) -> float:
    return _HEAD if view.sides else _BARE_HEAD


def _legend(view: SettingsView, width: float) -> list[str]:
    return [line for paragraph in view.legend for line in SMALL.wrap(paragraph, width)]


def compose_settings(pen: Pen, area: Box, view: SettingsView) -> tuple[SettingRow, ...]:
    """Draw the table, as many rows as the area holds; return the others."""
    head = write(pen, (area.left, area.top + 4), "Guide and stops", HEADING)
    write(pen, (area.left + head + 2.5, area.top + 4), CAPTION.fit(view.heading, area.width - head - 2.5), CAPTION)
    columns = _columns(area, len(view.sides))
    for (left, right), (number, side) in zip(columns, enumerate(view.sides, start=1), strict=True):
        _side(pen, Box(left, area.top + 6.0, right, area.top + 12), (number, side), view.board)
        middle = (left + right) / 2
        write(pen, (left, area.top + 15.2), "far", LEAST)
        write(pen, (middle, area.top + 15.2), "near", LEAST)
    y = area.top + _head(view)
    stroke(pen, (area.left, y), (area.right, y), RULE)
    legend = _legend(view, area.width)
    done = 0
    for row in view.rows:
        high = row_height(row, area.width)
        if y + high + len(legend) * SMALL.lead > area.bottom + 0.01:
            break
        _row(pen, Box(area.left, y, area.right, y + high), columns, row)
        y += high
        stroke(pen, (area.left, y), (area.right, y), RULE)
        done += 1
    if done:  # each page says how its rows are read
        write_lines(pen, (area.left, y + 3.6), legend, SMALL)
    return view.rows[done:]


def _columns(area: Box, count: int) -> list[tuple[float, float]]:
    each = (area.width - _NAMES) / max(count, 1)
    return [(area.left + _NAMES + i * each, area.left + _NAMES + (i + 1) * each - 1.2) for i in range(count)]


def _side(pen: Pen, area: Box, side: tuple[int, str], board: tuple[float, float]) -> None:
    """Draw a small board with the side in question heavy, and its number and name."""
    number, name = side
    scale = _ICON / max(board)
    width, height = max(1.8, board[0] * scale), max(1.8, board[1] * scale)
    mat = Box(area.left + 0.4, area.bottom - 0.6 - height, area.left + 0.4 + width, area.bottom - 0.6)
    pen.path(Path(rectangle(mat), THIN))
    edges = {
        "top": ((mat.left, mat.top), (mat.right, mat.top)),
        "left": ((mat.right, mat.top), (mat.right, mat.bottom)),
        "bottom": ((mat.left, mat.bottom), (mat.right, mat.bottom)),
        "right": ((mat.left, mat.top), (mat.left, mat.bottom)),
    }
    if name in edges:
        stroke(pen, *edges[name], CUT._replace(width=0.9))
    write(pen, (mat.right + 1.2, area.bottom - 0.7), f"{number} {name}", SIDE)


def _row(pen: Pen, area: Box, columns: Sequence[tuple[float, float]], row: SettingRow) -> None:
    name = STRONG if STRONG.width(row.name) <= _NAMES - 1 else SIDE
    write(pen, (area.left, area.top + 4), name.fit(row.name, _NAMES - 1), name)
    write(pen, (area.left, area.top + 7.4), SMALL.fit(row.note, _NAMES - 1), SMALL)
    for (left, right), guide in zip(columns, row.guides, strict=False):  # none where no guide cuts
        write(pen, (left, area.top + 7.2), guide.text, _fitting(guide, (GUIDE, GUIDE_LEFT), right - left))
    y = area.top + (_GUIDE if row.guides else 0.6)
    for i, end in enumerate(row.ends):
        _end_row(pen, area.left, y + (i + 0.82) * _END, columns, end)
    write_lines(pen, (area.left + _NAMES, y + len(row.ends) * _END + 3.4), _lines(row, area.width), TEXT)


def _end_row(pen: Pen, left: float, y: float, columns: Sequence[tuple[float, float]], row: EndRow) -> None:
    write(pen, (left, y), row.name, SMALL)
    for (start, end), far, near in zip(columns, row.far, row.near, strict=True):
        half = (end - start) / 2
        write(pen, (start, y), far.text, _fitting(far, (END, END_LEFT), half))
        write(pen, (start + half, y), near.text, _fitting(near, (END, END_LEFT), half))


def _fitting(setting: Setting, kinds: tuple[Type, Type], room: float) -> Type:
    """Return the type for a figure: bold to reset, light to leave, smaller where it would touch the next."""
    kind = kinds[0] if setting.reset else kinds[1]
    wide = kind.width(setting.text)
    return kind if wide <= room - 0.8 else Type(kind.points * (room - 0.8) / wide, kind.bold, Ink.BLACK)
