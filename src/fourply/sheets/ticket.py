"""The ticket: all that one work needs at the bench, on one page where it fits, on front and back where it does not.

Read in this order: who; what spoils the work if it is forgotten; the picture of it; then the two things the hand
copies, settings at the left and sizes at the right. Findings, fitting, workings and what was measured come last: they
are read once, sitting. Where they would squeeze the picture they go to the back, and only what is amiss stays in
front. Type never shrinks to make room.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Self

from fourply.drawing.check import collisions, crossed
from fourply.drawing.lettering import write, write_lines
from fourply.drawing.page import Paper
from fourply.drawing.pen import Pen
from fourply.drawing.record import Drawing, Recorder
from fourply.drawing.shapes import Box
from fourply.drawing.text import box
from fourply.sheets.front import compose_front, front_scale
from fourply.sheets.furniture import Head, columns, compose_foot, compose_head, content, rule
from fourply.sheets.lists import (
    BLANK_ROW,
    blanks_rows,
    compose_blanks,
    compose_findings,
    compose_pieces,
    compose_steps,
    compose_workings,
    findings_height,
    pieces_height,
)
from fourply.sheets.section import compose_section, section_scale
from fourply.sheets.settings import compose_settings, settings_height
from fourply.sheets.types import CAPTION, HEADING, LEAST, STEP
from fourply.sheets.view import (
    FindingRow,
    FirstStep,
    PieceRow,
    SettingRow,
    SettingsView,
    TicketView,
    Weight,
    WorkingRow,
)

_LEAST_DRAWING = 84.0  # below this the notes go to the back, unless nothing collides for it
_SQUEEZED_DRAWING = 64.0  # below this they go to the back in any case
_SMALLEST_DRAWING = 78.0  # below this rows of the tables go to a further page
_DRAWINGS = ((52, 48), (57, 43), (62, 38), (47, 53))
_TABLES = (57, 43)
_SCALE_NOTE = "Drawings are to scale when printed at 100 % (no scaling to page). Sizes hold whatever the printer does."


@dataclass(frozen=True, slots=True)
class _Left:
    """What is still to be put on a page; `measured` where the lines to write on are too."""

    settings: Sequence[SettingRow]
    pieces: Sequence[PieceRow]
    findings: Sequence[FindingRow]
    fitting: Sequence[str]
    workings: Sequence[WorkingRow]
    measured: bool = False

    @classmethod
    def of(cls, view: TicketView) -> Self:
        return cls((), (), view.findings, view.fitting, view.workings)

    def any(self) -> bool:
        rows = self.settings or self.pieces or self.findings or self.fitting or self.workings
        return bool(rows) or self.measured


def compose_ticket(view: TicketView, paper: Paper) -> tuple[Drawing, ...]:
    """Return the pages of a ticket, one or more."""
    pens = [Recorder()]
    left, squeezed = _front_page(pens[0], paper, view, _SQUEEZED_DRAWING)
    if squeezed and not _is_clean(pens[0], paper):
        pens = [Recorder()]
        left, _ = _front_page(pens[0], paper, view, _LEAST_DRAWING)
    while left.any():
        pens.append(Recorder())
        before, left = left, _further_page(pens[-1], paper, view, left)
        if left == before:  # a page that takes nothing would go on for ever
            break
    for number, pen in enumerate(pens, start=1):
        here = f"{view.number} · page {number} of {len(pens)} · fourply" if len(pens) > 1 else "fourply"
        compose_foot(pen, paper, _SCALE_NOTE, LEAST.fit(here, 60))
    title = f"{view.number} {view.title}"
    return tuple(pen.drawing(paper.width, paper.height, title=title) for pen in pens)


def _is_clean(pen: Recorder, paper: Paper) -> bool:
    """Tell whether no word of a page meets another, or a line."""
    page = pen.drawing(paper.width, paper.height)
    return not collisions(page) and not crossed(page)


def _front_page(pen: Pen, paper: Paper, view: TicketView, least: float) -> tuple[_Left, bool]:
    """Draw the first page, with all notes where that leaves the picture so high.

    Returns what is left, and whether the picture had to give way for the notes.
    """
    area = content(paper)
    top = compose_head(pen, area, Head(view.number, view.title, view.lines, view.corner))
    top = _first_things(pen, Box(area.left, top, area.right, area.bottom), view.first)
    rule(pen, area, top)
    foot = _cautions(pen, area, view.cautions)
    rest = Box(area.left, top, area.right, foot)
    tables = _tables_height(area, view.settings, view.pieces) + 2.5
    wanted = _beside_tables(area, tables, view)
    blanks = _blanks_height(area, view)
    notes = _notes_height(area, wanted)
    picture = rest.height - tables - notes - blanks
    if picture >= least:
        found = _page(pen, Box(area.left, top, area.right, foot - notes - blanks), view, (tables, view.findings))
        left = replace(wanted, settings=found.settings, pieces=found.pieces)
        left = _notes(pen, Box(area.left, foot - notes - blanks, area.right, foot - blanks), left)
        _blanks(pen, Box(area.left, foot - blanks, area.right, foot), view)
        return left, picture < _LEAST_DRAWING
    amiss = tuple(finding for finding in view.findings if finding.weight is not Weight.HOLDS)
    return _page(pen, rest, view, (min(tables, rest.height - _SMALLEST_DRAWING), amiss)), False


def _page(pen: Pen, area: Box, view: TicketView, tables: tuple[float, Sequence[FindingRow]]) -> _Left:
    """Draw the picture, the tables, and in the gap below the shorter one the findings; return what is left."""
    height, findings = tables
    _drawings(pen, Box(area.left, area.top, area.right, area.bottom - height), view)
    left, right = columns(Box(area.left, area.bottom - height + 1, area.right, area.bottom - 1), _TABLES)
    settings = compose_settings(pen, left, view.settings)
    pieces = compose_pieces(pen, right, view.pieces)
    gap = _gap(left, right, view)
    drawn: Sequence[FindingRow] = ()
    if findings and findings_height(findings, gap.width) <= gap.height:
        compose_findings(pen, gap, findings)
        drawn = findings
    others = tuple(finding for finding in view.findings if finding not in drawn)
    return _Left(settings, pieces, others, view.fitting, view.workings, measured=True)


def _gap(left: Box, right: Box, view: TicketView) -> Box:
    """Return the free place below the shorter of the two tables."""
    settings = left.top + settings_height(view.settings, left.width) + 2.5
    pieces = right.top + pieces_height(view.pieces) + 2.0
    if settings < pieces:
        return Box(left.left, min(settings, left.bottom), left.right, left.bottom)
    return Box(right.left, min(pieces, right.bottom), right.right, right.bottom)


def _beside_tables(area: Box, tables: float, view: TicketView) -> _Left:
    """Return what the notes hold: the findings only where they do not fit beside the tables."""
    left, right = columns(Box(area.left, 0, area.right, tables - 2), _TABLES)
    gap = _gap(left, right, view)
    fit = findings_height(view.findings, gap.width) <= gap.height
    return _Left((), (), () if fit else view.findings, view.fitting, view.workings)


def _drawings(pen: Pen, area: Box, view: TicketView) -> None:
    """Draw front view and section side by side, the room shared so that both come out large; a rule below them."""
    inside = Box(area.left, area.top + 1.5, area.right, area.bottom - 1.5)

    def size(shares: Sequence[float]) -> float:
        front, section = columns(inside, shares)
        return front_scale(front, view.front).of(1) ** 2 * section_scale(section, view.section).of(1)

    front, section = columns(inside, max(_DRAWINGS, key=size))
    compose_front(pen, front, view.front)
    compose_section(pen, section, view.section)
    rule(pen, area, area.bottom)


def _tables_height(area: Box, settings: SettingsView, pieces: Sequence[PieceRow]) -> float:
    left, _ = columns(area, _TABLES)
    heights = (
        settings_height(settings, left.width) if settings.rows else 0.0,
        pieces_height(pieces) if pieces else 0.0,
    )
    return max(heights)


def _first_things(pen: Pen, area: Box, steps: Sequence[FirstStep]) -> float:
    """Draw what must not be forgotten, numbered, side by side; return where what follows starts."""
    if not steps:
        return area.top + 0.8
    head = write(pen, (area.left, area.top + 6.0), "First", HEADING)
    cells = columns(Box(area.left + head + 4.5, area.top, area.right, area.bottom), [1] * len(steps), gap=3.5)
    bottom = area.top + 8.5
    for number, (cell, step) in enumerate(zip(cells, steps, strict=True), start=1):
        write(pen, (cell.left, area.top + 6.0), str(number), STEP)
        lines = STEP.wrap(step.title, cell.width - 4)[:2]
        y = area.top + 6.0
        for line in lines:
            write(pen, (cell.left + 4, y), line, STEP)
            y += STEP.lead
        for line in CAPTION.wrap(step.detail, cell.width - 4)[:3]:
            write(pen, (cell.left + 4, y - 0.6), line, CAPTION)
            y += CAPTION.lead
        bottom = max(bottom, y - CAPTION.lead + 1.8)
    return bottom


def _cautions(pen: Pen, area: Box, cautions: Sequence[str]) -> float:
    """Draw the cautions at the foot of the page; return where they start."""
    lines = LEAST.wrap(" ".join(cautions), area.width)
    top = area.bottom - len(lines) * LEAST.lead - 0.6
    write_lines(pen, (area.left, top + 3.0), lines, LEAST)
    return top


def _blanks_height(area: Box, view: TicketView) -> float:
    return len(blanks_rows(view.measured, area.width)) * BLANK_ROW + 1.6 if view.measured else 0.0


def _blanks(pen: Pen, area: Box, view: TicketView) -> None:
    if view.measured:
        rule(pen, area, area.top)
        compose_blanks(pen, area, view.measured)


def _notes_height(area: Box, left: _Left) -> float:
    """Return how high findings, fitting and workings would like to be."""
    pen = Recorder()
    _notes(pen, Box(area.left, 0, area.right, 10_000), left)
    return max((box(label).bottom for label in pen.drawing(1, 1).labels), default=0.0) + 4.0


def _notes(pen: Pen, area: Box, left: _Left) -> _Left:
    """Draw what there is of findings, fitting and workings side by side; return what has no room."""
    shares = {"findings": 50, "fitting": 50, "workings": 84}
    there = [name for name in shares if getattr(left, name)]
    if not there:
        return left
    rule(pen, area, area.top)
    inside = Box(area.left, area.top + 1.2, area.right, area.bottom)
    boxes = dict(zip(there, columns(inside, [shares[name] for name in there]), strict=True))
    return replace(
        left,
        findings=compose_findings(pen, boxes["findings"], left.findings) if left.findings else (),
        fitting=compose_steps(pen, boxes["fitting"], "Fitting", left.fitting) if left.fitting else (),
        workings=compose_workings(pen, boxes["workings"], left.workings) if left.workings else (),
    )


def _further_page(pen: Pen, paper: Paper, view: TicketView, left: _Left) -> _Left:
    """Draw what is left on a further page; return what still is."""
    area = content(paper)
    top = compose_head(pen, area, Head(view.number, view.title, ("continued",), view.corner)) + 2.5
    if left.settings or left.pieces:
        tables, sizes = columns(Box(area.left, top, area.right, area.bottom), _TABLES)
        wanted = replace(view.settings, rows=tuple(left.settings))
        top += _tables_height(area, wanted, left.pieces) + 4
        settings = compose_settings(pen, tables, wanted) if left.settings else ()
        left = replace(left, settings=settings, pieces=compose_pieces(pen, sizes, left.pieces) if left.pieces else ())
    blanks = area.bottom - (_blanks_height(area, view) if left.measured else 0.0)
    if blanks - top < 30:
        return left
    if left.measured:
        top += 2
        _blanks(pen, Box(area.left, top, area.right, area.bottom), view)
        top += _blanks_height(area, view) + 2
    return replace(_notes(pen, Box(area.left, top, area.right, area.bottom), left), measured=False)
