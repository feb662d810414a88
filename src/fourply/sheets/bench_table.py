"""The tables at the end of the bench list: small type, figures under one another, long cells in several lines."""

from __future__ import annotations

from collections.abc import Sequence

from fourply.drawing.ink import RULE
from fourply.drawing.lettering import Anchor, Type, write, write_lines
from fourply.drawing.pen import Pen
from fourply.drawing.shapes import Box
from fourply.drawing.signs import stroke
from fourply.sheets.bench_view import Table
from fourply.sheets.types import CAPTION, HEADING, SMALL, STRONG

_PLAIN = Type(STRONG.points)
_HEAD = 9.6
_PAD = 1.4
_GAP = 6.0
_LEAST = 12.0
_FIRST = 30.0


class PlacedTable:
    """A table with the places of its columns: the first and a wide one from the left, figures from the right."""

    def __init__(self, table: Table, width: float) -> None:
        self.table = table
        wide = [max(STRONG.width(row[at]) for row in (table.columns, *table.rows)) for at in range(len(table.columns))]
        wide = [max(each, _FIRST if at == 0 else _LEAST) for at, each in enumerate(wide)]
        over = sum(wide) + _GAP * (len(wide) - 1) - width
        if over > 0:  # only one column ever is too wide, and it takes several lines
            widest = wide.index(max(wide))
            wide[widest] = max(wide[widest] - over, _LEAST)
        self.widths = wide
        self.notes = SMALL.wrap(table.note, width)

    @property
    def height(self) -> float:
        """How high all of it is."""
        rows = sum(self._row_height(row) for row in self.table.rows)
        return _HEAD + _PLAIN.lead + _PAD + rows + len(self.notes) * SMALL.lead + 5.0

    def _row_height(self, row: Sequence[str]) -> float:
        return max(len(cell) for cell in self._cells(row, STRONG)) * STRONG.lead + _PAD

    def _cells(self, row: Sequence[str], kind: Type) -> list[list[str]]:
        return [kind.wrap(text, wide) or [""] for text, wide in zip(row, self.widths, strict=True)]

    def compose(self, pen: Pen, area: Box, first: int) -> tuple[int, float]:
        """Draw rows from the first on, as many as the area holds; return the next, and where it ends."""
        heading = f"{self.table.heading}, continued" if first else self.table.heading
        write(pen, (area.left, area.top + 5.4), heading, HEADING)
        y = self._row(pen, (area.left, area.top + _HEAD), self.table.columns, CAPTION)
        right = area.left + sum(self.widths) + _GAP * (len(self.widths) - 1)
        for at, row in enumerate(self.table.rows[first:], start=first):
            high = self._row_height(row)
            if y + high > area.bottom and at > first:
                return at, area.bottom
            stroke(pen, (area.left, y - 3.5), (right, y - 3.5), RULE)
            y = self._row(pen, (area.left, y), row, STRONG if at == self.table.bold else _PLAIN)
        return len(self.table.rows), write_lines(pen, (area.left, y + 0.4), self.notes, SMALL) + 1.4

    def _row(self, pen: Pen, at: tuple[float, float], row: Sequence[str], kind: Type) -> float:
        x, y = at
        cells = self._cells(row, kind)
        wordy = {place for place in range(len(cells)) if self._is_wordy(place)}
        for place, (lines, wide) in enumerate(zip(cells, self.widths, strict=True)):
            if place == 0 or place in wordy:
                write_lines(pen, (x, y), lines, kind)
            else:
                write(pen, (x + wide, y), lines[0], kind, anchor=Anchor.END)
            x += wide + _GAP
        return y + max(map(len, cells)) * kind.lead + _PAD

    def _is_wordy(self, place: int) -> bool:
        """Tell whether a column is words, not figures: any of its cells takes several lines or has a comma."""
        return any("," in row[place] for row in self.table.rows)
