"""The sheet of a test cut: what to cut, what to read where, and a numbered line to write each reading on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fourply.bench.profile import Index
from fourply.bench.readings import What
from fourply.bench.trial import ROUND, Box, Trial
from fourply.drawing.ink import CUT, HIDDEN, RULE, VISIBLE
from fourply.drawing.lettering import Anchor, Type, write, write_lines
from fourply.drawing.page import Paper, largest
from fourply.drawing.pen import Path, Pen
from fourply.drawing.record import Drawing, Recorder
from fourply.drawing.shapes import Box as Area
from fourply.drawing.shapes import rectangle
from fourply.drawing.signs import ring, stroke
from fourply.sheets.furniture import Head, columns, compose_foot, compose_head, content, rule
from fourply.sheets.lists import compose_steps
from fourply.sheets.types import CAPTION, HEADING, LEAST, SMALL, STRONG, TEXT
from fourply.working.words import Words

_VIEW = 108.0
_ROW = 7.0
_RING = 2.5
_FACTS = ("date", "finest division of the rule", "reading error, either way", "caliper, measured")
_CAUTION = (
    "Cutters and blades cut people: follow the maker's instructions, keep the free hand behind the head, and put no "
    "art near a test cut."
)


def compose_test_cut(trial: Trial, words: Words, paper: Paper) -> tuple[Drawing, ...]:
    """Return the sheet of a test cut, further pages for what has no room on the first."""
    title = f"Test cut: {trial.profile.name}"
    steps, boxes = tuple(_steps(trial, words)), trial.boxes
    pages: list[Drawing] = []
    while steps or boxes or not pages:
        pen, area = Recorder(), content(paper)
        first = not pages
        below = compose_head(pen, area, Head("", title, _lines(trial, words) if first else ("continued",)))
        top = below + 3.0
        if first:
            _view(pen, Area(area.left, top, area.left + area.width * 0.46, top + _VIEW), trial, words)
            steps = _said(pen, area, top, steps)
            top += _VIEW + 3.0
        elif steps:
            steps = tuple(compose_steps(pen, Area(area.left, top, area.right, area.bottom), "What to do", steps))
            top = area.bottom
        boxes = _table(pen, Area(area.left, top, area.right, area.bottom), boxes, words, facts=first)
        compose_foot(pen, paper, _CAUTION, f"page {len(pages) + 1} · fourply")
        pages.append(pen.drawing(paper.width, paper.height, title=title))
    return tuple(pages)


def _said(pen: Pen, area: Area, top: float, steps: Sequence[str]) -> tuple[str, ...]:
    room = Area(area.left + area.width * 0.5, top, area.right, top + _VIEW)
    return tuple(compose_steps(pen, room, "What to do", steps))


def _lines(trial: Trial, words: Words) -> tuple[str, ...]:
    unit = words.unit.value
    board = f"board of caliper {words.with_unit(trial.caliper)}"
    return (
        f"Blank {words.size(trial.blank)} {unit}, {board}, seen from the back.",
        "Readings of any boxes help; leave the others empty.",
    )


def _steps(trial: Trial, words: Words) -> Iterator[str]:
    write_ = words.write
    square = next(box.number for box in trial.boxes if box.what is What.DIAGONALS)
    blade = f"out by {write_(trial.blade.extension)} along its slant"
    if trial.blade.position is not None:
        blade = f"in position {trial.blade.position.mark} (at least {write_(trial.blade.extension)} along its slant)"
    yield (
        f"Cut a blank {words.size(trial.blank)} from scrap of the board you cut most, one edge squared on the other. "
        f"Box {square}: both diagonals, {write_(trial.diagonal.length)} each if it is square."
    )
    yield "Measure the board with a caliper, in three places."
    yield f"Put in a fresh blade, {blade}, and a fresh slip sheet."
    yield "Mark on the back which edge is up. Set the guide as drawn and pencil each line with it."
    past = f"{words.mark(trial.start)} past the pencil crossing"
    if trial.start == trial.stop:
        yield f"Cut top, left, bottom, right. Let the blade enter and leave {past}.{_index(trial)}"
    else:
        leaves = f"leave {words.mark(trial.stop)} past it"
        yield f"Cut top, left, bottom, right. Let the blade enter {past} and {leaves}.{_index(trial)}"
    yield "Borders: read on the back, square to the edge that lay at the guide. Far is the end away from you."
    yield "Corners: read on the face. Overcut: a plain number. Undercut: a minus before it. Clean: 0."
    yield "Core: the width of the bevel seen square-on, with a loupe."
    yield "Type the readings into the table that was made with this sheet, behind their numbers."


def _index(trial: Trial) -> str:
    if trial.profile.bevel.index is Index.PENCIL and trial.start == trial.stop == trial.run:
        return " The index line stands at the pencil line then."
    if trial.profile.bevel.index is Index.PENCIL:
        return " The index line stands one run of the bevel short of the blade."
    return " The index line shows where the blade is."


# ── the board ────────────────────────────────────────────────────────────────────────────────────────────────────


def _view(pen: Pen, area: Area, trial: Trial, words: Words) -> None:
    """Draw the board from the back, so that its left is on the right here, with a ring where each box is read."""
    scale = largest((trial.blank.width.as_mm, trial.blank.height.as_mm), (area.width - 2, area.height - 6))
    wide, high = scale.of(trial.blank.width.as_mm), scale.of(trial.blank.height.as_mm)
    board = Area(area.left + 1, area.top + 1, area.left + 1 + wide, area.top + 1 + high)
    top, left, bottom, right = (scale.of(trial.border(side).as_mm) for side in ROUND)
    opening = Area(board.left + right, board.top + top, board.right - left, board.bottom - bottom)
    stroke(pen, (board.left, board.top), (board.right, board.bottom), HIDDEN)
    pen.path(Path(rectangle(board), VISIBLE))
    pen.path(Path(rectangle(opening), CUT))
    ends = {
        "top": ((opening.left, opening.top), (opening.right, opening.top)),
        "left": ((opening.right, opening.top), (opening.right, opening.bottom)),
        "bottom": ((opening.right, opening.bottom), (opening.left, opening.bottom)),
        "right": ((opening.left, opening.bottom), (opening.left, opening.top)),
    }
    edge = {"top": (0.0, -1.0), "left": (1.0, 0.0), "bottom": (0.0, 1.0), "right": (-1.0, 0.0)}
    elsewhere = {
        What.CORE: (opening.left, opening.top + 0.7 * opening.height),
        What.DIAGONALS: (board.left + 0.08 * wide, board.top + 0.08 * high),
    }
    for box in trial.boxes:
        if box.what in elsewhere:
            ring(pen, elsewhere[box.what], box.number, _RING)
    for side in ROUND:
        _rings(pen, trial, side, (*_from_near(trial, side, ends[side]), edge[side]))
        _setting(pen, ends[side], edge[side], words.mark(trial.border(side)))
    write(pen, (board.left, board.bottom + 4.2), f"Seen from the back, {scale}. Bold: set the guide.", LEAST)


type _Point = tuple[float, float]


def _from_near(trial: Trial, side: str, ends: tuple[_Point, _Point]) -> tuple[_Point, _Point]:
    """Return the ends of a cut, the near one first; the sides are given clockwise as seen from the back."""
    following = {"top": "left", "left": "bottom", "bottom": "right", "right": "top"}
    return ends if trial.far[side] == following[side] else ends[::-1]


def _rings(pen: Pen, trial: Trial, side: str, line: tuple[_Point, _Point, _Point]) -> None:
    """Draw the rings of one side, along its line from the near end to the far one and to the sides of it."""
    (x1, y1), (x2, y2), out = line

    def at(along: float, off: float) -> _Point:
        return x1 + (x2 - x1) * along + out[0] * off, y1 + (y2 - y1) * along + out[1] * off

    places = {
        What.NEAR: at(0.14, 3.6),
        What.MID: at(0.5, 3.6),
        What.FAR: at(0.86, 3.6),
        What.START: at(0.14 if _starts_near(trial) else 0.86, -3.6),
        What.STOP: at(0.86 if _starts_near(trial) else 0.14, -3.6),
    }
    for box in trial.boxes:
        if box.where.startswith(f"{side},"):
            ring(pen, places[box.what], box.number, _RING)


def _setting(pen: Pen, ends: tuple[_Point, _Point], out: _Point, text: str) -> None:
    """Write the setting of a side inside its line."""
    (x1, y1), (x2, y2) = ends
    x, y = (x1 + x2) / 2 - out[0] * 4.4, (y1 + y2) / 2 - out[1] * 4.4
    if out[0]:
        write(pen, (x + 1.2, y), text, STRONG, anchor=Anchor.MIDDLE, angle=90)
    else:
        write(pen, (x, y + 1.2), text, STRONG, anchor=Anchor.MIDDLE)


def _starts_near(trial: Trial) -> bool:
    return not trial.profile.cutter(trial.caliper).is_start(far=True)


# ── the table ────────────────────────────────────────────────────────────────────────────────────────────────────


def _table(pen: Pen, area: Area, boxes: Sequence[Box], words: Words, *, facts: bool) -> tuple[Box, ...]:
    """Draw a line to write on for each fact and each box, in two columns; return the boxes that have no room."""
    if not boxes:
        return ()
    write(pen, (area.left, area.top + 3.6), "Readings", HEADING)
    top = area.top + 7.0
    if facts:
        for name, cell in zip(_FACTS, columns(area, (1, 1, 1, 1)), strict=True):
            write(pen, (cell.left, top + 2.6), name, LEAST)
            stroke(pen, (cell.left, top + 8.6), (cell.right, top + 8.6), RULE)
        top += 11.0
    rule(pen, area, top)
    rows = max(0, min(int((area.bottom - top) / _ROW), -(-len(boxes) // 2)))
    left = boxes
    for cell in columns(area, (1, 1)):
        here, left = left[:rows], left[rows:]
        for at, box in enumerate(here):
            _row(pen, Area(cell.left, top + at * _ROW, cell.right, top + (at + 1) * _ROW), box, words)
    return tuple(left)


def _row(pen: Pen, area: Area, box: Box, words: Words) -> None:
    ring(pen, (area.left + _RING + 0.3, area.top + _ROW / 2), box.number, _RING)
    kind = Type(TEXT.points, bold=True)
    write(pen, (area.left + 7.5, area.top + 3.2), kind.fit(_named(box), 42), kind)
    note = box.where if box.setting is None else f"{box.where}, set {words.mark(box.setting)}"
    write_lines(pen, (area.left + 7.5, area.top + 6.0), [SMALL.fit(note, 42)], SMALL)
    base = area.bottom - 1.0
    if box.what is What.DIAGONALS:
        middle = (area.left + 50 + area.right) / 2
        stroke(pen, (area.left + 50, base), (middle - 1.5, base), RULE)
        stroke(pen, (middle + 1.5, base), (area.right, base), RULE)
        return
    stroke(pen, (area.left + 50, base), (area.right, base), RULE)
    write(pen, (area.right, base - 0.6), words.unit.value, CAPTION, anchor=Anchor.END)


def _named(box: Box) -> str:
    over = {What.START: "over- or undercut, start", What.STOP: "over- or undercut, stop", What.CORE: "width of core"}
    return over.get(box.what, box.what.value)
