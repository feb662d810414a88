"""The lists of a ticket: pieces to cut, findings, fitting, workings, room for what is measured.

Each draws as many of its rows as its area holds and returns the others, so that a page never shrinks its type.
"""

from __future__ import annotations

from collections.abc import Sequence

from fourply.drawing.ink import RULE
from fourply.drawing.lettering import Anchor, write, write_lines
from fourply.drawing.pen import Pen
from fourply.drawing.shapes import Box
from fourply.drawing.signs import box, check, stroke, warning
from fourply.sheets.types import CAPTION, HEADING, PIECE, SIZE, SMALL, WORKING
from fourply.sheets.view import FindingRow, PieceRow, Weight, WorkingRow

_HEAD = 7.6
_PIECE = 8.3
BLANK_ROW = 5.6
_MEASURED = 26.5
_LINE = 11.0  # the least room for a figure by hand


def pieces_height(pieces: Sequence[PieceRow]) -> float:
    """Return how high the list of pieces is."""
    return _HEAD + _PIECE * len(pieces)


def compose_pieces(pen: Pen, area: Box, pieces: Sequence[PieceRow]) -> Sequence[PieceRow]:
    """Draw the pieces to cut, each with a box to tick and its size large at the right; return what has no room."""
    head = write(pen, (area.left, area.top + 4), "Pieces to cut", HEADING)
    write(pen, (area.left + head + 2.5, area.top + 4), "width × height", CAPTION)
    y = area.top + _HEAD - 1.6
    for done, piece in enumerate(pieces):
        if y + _PIECE > area.bottom + 0.01:
            return pieces[done:]
        stroke(pen, (area.left, y), (area.right, y), RULE)
        box(pen, area.left, y + 2.1)
        wide = SIZE.width(piece.size)
        write(pen, (area.right, y + 5.6), piece.size, SIZE, anchor=Anchor.END)
        room = area.width - 6 - wide - 2
        write(pen, (area.left + 6, y + 3.6), PIECE.fit(piece.name, room), PIECE)
        write(pen, (area.left + 6, y + 6.9), SMALL.fit(piece.note, room), SMALL)
        y += _PIECE
    stroke(pen, (area.left, y), (area.right, y), RULE)
    return ()


def compose_findings(pen: Pen, area: Box, findings: Sequence[FindingRow]) -> Sequence[FindingRow]:
    """Draw findings with their signs; return those that have no room."""
    write(pen, (area.left, area.top + 3.6), "Findings", HEADING)
    y = area.top + 8.2
    for done, finding in enumerate(findings):
        lines = SMALL.wrap(finding.text, area.width - 4.6)
        if y + (len(lines) - 1) * SMALL.lead > area.bottom - 0.8:
            return findings[done:]
        _sign(pen, area.left, y, finding.weight)
        y = write_lines(pen, (area.left + 4.6, y), lines, SMALL) + 0.7
    return ()


def findings_height(findings: Sequence[FindingRow], width: float) -> float:
    """Return how high the findings are at this width."""
    lines = sum(len(SMALL.wrap(finding.text, width - 4.6)) for finding in findings)
    return 8.2 + lines * SMALL.lead + 0.7 * len(findings) if findings else 0.0


def _sign(pen: Pen, left: float, base: float, weight: Weight) -> None:
    if weight in {Weight.GRAVE, Weight.CAUTION}:
        warning(pen, left, base + 0.2, 3.2, grave=weight is Weight.GRAVE)
    elif weight is Weight.HOLDS:
        check(pen, left + 0.3, base, 2.6)
    else:
        write(pen, (left + 0.9, base), "–", CAPTION)


def compose_steps(pen: Pen, area: Box, heading: str, steps: Sequence[str]) -> Sequence[str]:
    """Draw steps, each with a small box to tick; return those that have no room."""
    write(pen, (area.left, area.top + 3.6), heading, HEADING)
    y = area.top + 8.2
    for done, step in enumerate(steps):
        lines = SMALL.wrap(step, area.width - 4.2)
        if y + (len(lines) - 1) * SMALL.lead > area.bottom - 0.8:
            return steps[done:]
        box(pen, area.left, y - 2.3, 2.5)
        y = write_lines(pen, (area.left + 4.2, y), lines, SMALL) + 0.7
    return ()


def compose_workings(pen: Pen, area: Box, workings: Sequence[WorkingRow]) -> Sequence[WorkingRow]:
    """Draw lines of arithmetic in small type; return those that have no room."""
    write(pen, (area.left, area.top + 3.6), "Workings", HEADING)
    names = min(max((WORKING.width(row.name) for row in workings), default=0.0) + 2, 0.42 * area.width)
    y = area.top + 8.0
    for done, row in enumerate(workings):
        lines = WORKING.wrap(row.arithmetic, area.width - names)
        if y + (len(lines) - 1) * WORKING.lead > area.bottom - 0.8:
            return workings[done:]
        write(pen, (area.left, y), WORKING.fit(row.name, names - 1), WORKING)
        y = write_lines(pen, (area.left + names, y), lines, WORKING)
    return ()


def blanks_rows(labels: Sequence[str], width: float) -> list[list[str]]:
    """Return the labels of what is measured in rows that leave each a line to write on."""
    rows: list[list[str]] = [[]]
    taken = _MEASURED
    for label in labels:
        wide = SMALL.width(label) + _LINE
        if taken + wide > width and rows[-1]:
            rows.append([])
            taken = _MEASURED
        rows[-1].append(label)
        taken += wide
    return rows


def compose_blanks(pen: Pen, area: Box, labels: Sequence[str]) -> None:
    """Draw rows of lines to write on, each behind the name of what is measured."""
    write(pen, (area.left, area.top + 5.2), "Measured", HEADING)
    for number, row in enumerate(blanks_rows(labels, area.width)):
        y = area.top + 5.2 + number * BLANK_ROW
        names = [SMALL.width(label) for label in row]
        each = (area.width - _MEASURED - sum(names) - 2.0 * (len(row) - 1)) / len(row)
        x = area.left + _MEASURED
        for label, name in zip(row, names, strict=True):
            write(pen, (x, y), label, SMALL)
            stroke(pen, (x + name + 1, y + 0.7), (x + name + each, y + 0.7), RULE)
            x += name + each + 2.0
