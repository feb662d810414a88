"""The ticket: all that one work needs at the bench, on one page where it fits, on a second where it does not.

Read in this order: who; what spoils the work if it is forgotten; the picture of it; then the two things the hand
copies, settings at the left and sizes at the right. Findings, fitting, workings and what was measured come last: they
are read once, sitting.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from fourply.drawing.lettering import write, write_lines
from fourply.drawing.page import Paper
from fourply.drawing.pen import Pen
from fourply.drawing.record import Drawing, Recorder
from fourply.drawing.shapes import Box
from fourply.drawing.text import box
from fourply.sheets.front import compose_front
from fourply.sheets.furniture import Head, columns, compose_foot, compose_head, content, rule
from fourply.sheets.lists import (
    BLANK_ROW,
    blanks_rows,
    compose_blanks,
    compose_findings,
    compose_pieces,
    compose_steps,
    compose_workings,
    pieces_height,
)
from fourply.sheets.section import compose_section
from fourply.sheets.settings import compose_settings, settings_height
from fourply.sheets.types import CAPTION, HEADING, LEAST, STEP
from fourply.sheets.view import FindingRow, FirstStep, PieceRow, SettingRow, SettingsView, TicketView, WorkingRow

_LEAST_DRAWING = 92.0
_LEAST_NOTES = 20.0
_TABLES_LIMIT = 92.0
_DRAWINGS = (52, 48)
_TABLES = (57, 43)
_NOTES = (50, 52, 76)
_SCALE_NOTE = "Drawings are to scale when printed at 100 % (no scaling to page). Sizes hold whatever the printer does."


@dataclass(frozen=True, slots=True)
class _Left:
    """What did not fit on the first page."""

    settings: Sequence[SettingRow]
    pieces: Sequence[PieceRow]
    findings: Sequence[FindingRow]
    fitting: Sequence[str]
    workings: Sequence[WorkingRow]

    def any(self) -> bool:
        return bool(self.settings or self.pieces or self.findings or self.fitting or self.workings)


def compose_ticket(view: TicketView, paper: Paper) -> tuple[Drawing, ...]:
    """Return the pages of a ticket, one or more."""
    title = f"{view.number} {view.title}"
    first = Recorder()
    left = _first_page(first, paper, view)
    pens = [first]
    while left.any():
        pen = Recorder()
        before, left = left, _next_page(pen, paper, view, left)
        pens.append(pen)
        if left == before:  # a page that takes nothing would go on for ever
            break
    for number, pen in enumerate(pens, start=1):
        here = f"{view.number} · page {number} of {len(pens)} · fourply" if len(pens) > 1 else "fourply"
        compose_foot(pen, paper, _SCALE_NOTE, LEAST.fit(here, 60))
    return tuple(pen.drawing(paper.width, paper.height, title=title) for pen in pens)


def _first_page(pen: Pen, paper: Paper, view: TicketView) -> _Left:
    area = content(paper)
    top = compose_head(pen, area, Head(view.number, view.title, view.lines, view.corner))
    top = _first_things(pen, Box(area.left, top, area.right, area.bottom), view.first)
    rule(pen, area, top)
    foot = _foot(pen, area, view)
    tables = min(_TABLES_LIMIT, _tables_height(area, view.settings, view.pieces)) + 2.5
    notes = min(_notes_height(area, view), max(_LEAST_NOTES, foot - top - tables - _LEAST_DRAWING))
    drawing = Box(area.left, top + 1.5, area.right, foot - notes - tables - 1.5)
    front, section = columns(drawing, _DRAWINGS)
    compose_front(pen, front, view.front)
    compose_section(pen, section, view.section)
    rule(pen, area, drawing.bottom + 1.5)
    left, right = columns(Box(area.left, drawing.bottom + 2.5, area.right, foot - notes - 1), _TABLES)
    settings = compose_settings(pen, left, view.settings)
    pieces = compose_pieces(pen, right, view.pieces)
    rule(pen, area, foot - notes)
    return _notes(pen, Box(area.left, foot - notes + 1.2, area.right, foot - 0.5), view, (settings, pieces))


def _tables_height(area: Box, settings: SettingsView, pieces: Sequence[PieceRow]) -> float:
    left, _ = columns(area, _TABLES)
    heights = (settings_height(settings, left.width) if settings.rows else 0.0, pieces_height(pieces) if pieces else 0.0)
    return max(heights)


def _first_things(pen: Pen, area: Box, steps: Sequence[FirstStep]) -> float:
    """Draw what must not be forgotten, numbered, side by side; return where what follows starts."""
    if not steps:
        return area.top + 0.8
    head = write(pen, (area.left, area.top + 6.0), "First", HEADING)
    cells = columns(Box(area.left + head + 6, area.top, area.right, area.bottom), [1] * len(steps), gap=5)
    bottom = area.top
    for number, (cell, step) in enumerate(zip(cells, steps, strict=True), start=1):
        write(pen, (cell.left, area.top + 6.0), str(number), STEP)
        lines = STEP.wrap(step.title, cell.width - 4.5)[:2]
        y = area.top + 6.0
        for line in lines:
            write(pen, (cell.left + 4.5, y), line, STEP)
            y += STEP.lead
        for line in CAPTION.wrap(step.detail, cell.width - 4.5)[:3]:
            write(pen, (cell.left + 4.5, y - 0.6), line, CAPTION)
            y += CAPTION.lead
        bottom = max(bottom, y - CAPTION.lead + 1.8)
    return bottom


def _foot(pen: Pen, area: Box, view: TicketView) -> float:
    """Draw what is measured and the cautions at the foot of the page; return where they start."""
    lines = [line for caution in view.cautions for line in LEAST.wrap(caution, area.width)]
    top = area.bottom - len(lines) * LEAST.lead - 0.6
    write_lines(pen, (area.left, top + 2.6), lines, LEAST)
    rows = len(blanks_rows(view.measured, area.width)) if view.measured else 0
    if rows:
        top -= rows * BLANK_ROW + 2.2
        compose_blanks(pen, Box(area.left, top, area.right, area.bottom), view.measured)
        rule(pen, area, top)
    return top


def _notes_height(area: Box, view: TicketView) -> float:
    """Return how high the last part of the page would like to be."""
    endless = Box(area.left, 0, area.right, 10_000)
    pen = Recorder()
    _notes(pen, endless, view, ((), ()))
    labels = pen.drawing(1, 1).labels
    return max((box(label).bottom for label in labels), default=0.0) + 3.0


def _notes(pen: Pen, area: Box, view: TicketView, before: tuple[Sequence[SettingRow], Sequence[PieceRow]]) -> _Left:
    findings, fitting, workings = columns(area, _NOTES)
    return _Left(
        *before,
        compose_findings(pen, findings, view.findings) if view.findings else (),
        compose_steps(pen, fitting, "Fitting", view.fitting) if view.fitting else (),
        compose_workings(pen, workings, view.workings) if view.workings else (),
    )


def _next_page(pen: Pen, paper: Paper, view: TicketView, left: _Left) -> _Left:
    """Draw what is left on a further page; return what still is."""
    area = content(paper)
    y = compose_head(pen, area, Head(view.number, view.title, ("continued",), view.corner)) + 2.5
    settings, pieces = left.settings, left.pieces
    if settings or pieces:
        tables, sizes = columns(Box(area.left, y, area.right, area.bottom), _TABLES)
        wanted = replace(view.settings, rows=tuple(settings))
        settings = compose_settings(pen, tables, wanted) if settings else ()
        pieces = compose_pieces(pen, sizes, pieces) if pieces else ()
        y += _tables_height(area, wanted, left.pieces) + 4
    rest = Box(area.left, min(y, area.bottom), area.right, area.bottom)
    if rest.height < 30:
        return replace(left, settings=settings, pieces=pieces)
    findings, fitting, workings = columns(rest, _NOTES)
    return _Left(
        settings,
        pieces,
        compose_findings(pen, findings, left.findings) if left.findings else (),
        compose_steps(pen, fitting, "Fitting", left.fitting) if left.fitting else (),
        compose_workings(pen, workings, left.workings) if left.workings else (),
    )
