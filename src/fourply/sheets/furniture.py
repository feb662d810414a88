"""What every sheet has: the head that says whose it is, the rules between its parts, the foot.

The foot says what the drawings are true to, and which page this is of how many.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fourply.drawing.ink import HEAVY_RULE, RULE
from fourply.drawing.lettering import Anchor, Type, write
from fourply.drawing.page import Paper
from fourply.drawing.pen import Pen
from fourply.drawing.record import Drawing, Recorder, replay
from fourply.drawing.shapes import Box
from fourply.drawing.signs import stroke
from fourply.sheets.types import CONTEXT, LEAST, LINE, NUMBER, SMALL, TITLES
from fourply.working.letterhead import NO_LETTERHEAD, Letterhead

_MARGIN = 14.0
_FOOT = 4.5
_ABOVE = 8.0
_BELOW = 7.2  # what most printers reach


@dataclass(frozen=True, slots=True)
class Head:
    """The head of a sheet: the number in the largest type (or none), title, lines below it, words at the right."""

    number: str
    title: str
    lines: tuple[str, ...]
    corner: tuple[str, ...] = ()


def content(paper: Paper) -> Box:
    """Return the part of a paper that is printed, the foot left out."""
    return Box(_MARGIN, _MARGIN - 2, paper.width - _MARGIN, paper.height - _MARGIN + 3 - _FOOT)


def compose_head(pen: Pen, area: Box, head: Head) -> float:
    """Draw the head at the top of the area, a heavy rule below it; return where what follows starts."""
    words = [SMALL.fit(line, area.width * 0.3) for line in head.corner]
    corner = max((SMALL.width(line) for line in words), default=0.0)
    for i, line in enumerate(words):
        write(pen, (area.right, area.top + 3.4 + i * SMALL.lead), line, SMALL, anchor=Anchor.END)
    kind = _number_type(head.number, area.width * 0.36)
    number = kind.fit(head.number, area.width * 0.36)
    left = area.left + (write(pen, (area.left - 0.8, area.top + 14.6), number, kind) + 4.5 if number else 0)
    room = area.right - left - (corner + 4 if corner else 0)
    y = _title(pen, (left, area.top), head.title, room)
    for i, line in enumerate(line for line in head.lines if line):
        style = LINE if i == 0 else CONTEXT
        write(pen, (left, y), style.fit(line, room if i == 0 else area.right - left), style)
        y += style.lead
    bottom = max(y - CONTEXT.lead + 2.6, area.top + 18.7)
    stroke(pen, (area.left, bottom), (area.right, bottom), HEAVY_RULE)
    return bottom


def _number_type(number: str, room: float) -> Type:
    """Return the largest type in which a number or name of a work keeps to its place."""
    wide = NUMBER.width(number)
    return NUMBER if wide <= room else Type(max(9.0, NUMBER.points * room / wide), bold=True)


def _title(pen: Pen, at: tuple[float, float], title: str, room: float) -> float:
    """Write the title in the largest type that takes it in one line, else in two lines; return the next base line."""
    left, top = at
    for kind in TITLES:
        if kind.width(title) <= room:
            write(pen, (left, top + 5.6), title, kind)
            return top + 11.2
    small = TITLES[-1]
    first, *rest = small.wrap(title, room)
    write(pen, (left, top + 3.8), first, small)
    write(pen, (left, top + 3.8 + small.lead), small.fit(" ".join(rest), room), small)
    return top + 3.8 + 2 * small.lead


def compose_foot(pen: Pen, paper: Paper, left: str, right: str) -> None:
    """Draw the foot of the page."""
    y = paper.height - _MARGIN + 3
    wide = LEAST.width(right)
    write(pen, (_MARGIN, y), LEAST.fit(left, paper.width - 2 * _MARGIN - wide - 4), LEAST)
    write(pen, (paper.width - _MARGIN, y), right, LEAST, anchor=Anchor.END)


def with_letterhead(page: Drawing, letterhead: Letterhead) -> Drawing:
    """Return a page with what its shop has printed on every one: outside the area that sheets are drawn in."""
    if letterhead == NO_LETTERHEAD:
        return page
    pen, room = Recorder(), page.width - 2 * _MARGIN
    replay(page.marks, pen)
    right = LEAST.fit(letterhead.right, room * 0.6)
    wide = LEAST.width(right) + 6 if right else 0.0
    write(pen, (_MARGIN, _ABOVE), LEAST.fit(letterhead.left, room - wide), LEAST)
    write(pen, (page.width - _MARGIN, _ABOVE), right, LEAST, anchor=Anchor.END)
    write(pen, (_MARGIN, page.height - _BELOW), LEAST.fit(letterhead.foot, room), LEAST)
    return pen.drawing(page.width, page.height, title=page.title)


def rule(pen: Pen, area: Box, y: float) -> None:
    """Draw a thin rule across the area."""
    stroke(pen, (area.left, y), (area.right, y), RULE)


def columns(area: Box, shares: Sequence[float], gap: float = 5.0) -> list[Box]:
    """Return the area divided into columns by their shares, with gaps between.

    >>> [round(column.width) for column in columns(Box(0, 0, 110, 9), (1, 1), gap=10)]
    [50, 50]
    """
    room = area.width - gap * (len(shares) - 1)
    boxes: list[Box] = []
    left = area.left
    for share in shares:
        wide = room * share / sum(shares)
        boxes.append(Box(left, area.top, left + wide, area.bottom))
        left += wide + gap
    return boxes
