"""The bench list on paper: one large figure a setting, under it what is done with it set, in the order of work.

Read standing, at arm's length: what to set is the largest thing on the page, what to pick up the next. Strips stay
whole; a group that goes on overleaf repeats its figure. Totals, read once and sitting, come last in small type.
"""

from __future__ import annotations

from collections.abc import Iterator

from fourply.drawing.ink import HEAVY_RULE, VISIBLE
from fourply.drawing.lettering import Anchor, Type, write, write_lines
from fourply.drawing.page import Paper
from fourply.drawing.record import Drawing, Recorder
from fourply.drawing.shapes import Box
from fourply.drawing.signs import stroke
from fourply.sheets.bench_rows import BIG, BIG_LEFT, compose_row, packed, row_height
from fourply.sheets.bench_table import PlacedTable
from fourply.sheets.bench_view import BenchView, Figure, Group, Part, Strip, Table
from fourply.sheets.furniture import Head, compose_foot, compose_head, content
from fourply.sheets.types import CAPTION, HEADING

_SIDE = 49.0
_BETWEEN = 6.0
_PAIR = Type(28, bold=True)
_PAIR_LEFT = Type(28)
_NAME = Type(18, bold=True)
_PART = Type(15, bold=True)
_NOTE = Type(9.5)
_PART_ROOM = 11.0
_BIG_BASE = 17.5
_PAIR_ROW = 15.5
_FOOT_OF_GROUP = 2.6
_SHORT = 0.33  # of a page: what is no higher is not parted


def compose_bench(view: BenchView, paper: Paper) -> tuple[Drawing, ...]:
    """Return the pages of a bench list, one or more."""
    pages = _Pages(view, paper)
    for part in view.parts:
        pages.part(part)
        for group in part.groups:
            pages.group(group)
    for table in view.totals:
        pages.table(table)
    return tuple(pages.drawings())


class _Pages:
    """Pages as they fill: what does not fit below goes to the top of the next."""

    def __init__(self, view: BenchView, paper: Paper) -> None:
        self.view = view
        self.paper = paper
        self.area = content(paper)
        self.pens: list[Recorder] = []
        self.heading = self.state = ""
        self.y = 0.0
        self._turn()

    # ── pages ──

    def _turn(self, heading: str = "") -> None:
        """Begin a page: the first with the head, others with a heading and what the bench is set to."""
        pen = Recorder()
        self.pens.append(pen)
        area = self.area
        if len(self.pens) == 1:
            self.y = compose_head(pen, area, Head("", self.view.title, self.view.lines, self.view.corner))
            return
        base = area.top + 4.2
        wide = write(pen, (area.left, base), HEADING.fit(heading, area.width * 0.4), HEADING) + 3 * bool(heading)
        wide += write(pen, (area.left + wide, base), _NOTE.fit(self.state, area.width * 0.3), _NOTE)
        title = CAPTION.fit(self.view.title, area.width - wide - 6)
        write(pen, (area.right, base), title, CAPTION, anchor=Anchor.END)
        self.y = area.top + 6.8
        stroke(pen, (area.left, self.y), (area.right, self.y), HEAVY_RULE)

    @property
    def pen(self) -> Recorder:
        return self.pens[-1]

    @property
    def room(self) -> float:
        return self.area.bottom - self.y

    def drawings(self) -> Iterator[Drawing]:
        for number, pen in enumerate(self.pens, start=1):
            here = f"page {number} of {len(self.pens)} · fourply"
            compose_foot(pen, self.paper, self.view.foot, here)
            title = f"{self.view.title}, page {number}"
            yield pen.drawing(self.paper.width, self.paper.height, title=title)

    # ── parts and groups ──

    def part(self, part: Part) -> None:
        """Draw the name of a part, never without its first group."""
        first = part.groups[0] if part.groups else None
        needed = _PART_ROOM + (self._wanted(first) if first else 0)
        if self.room < needed:
            self._turn()
        base = self.y + 7.6
        wide = write(self.pen, (self.area.left, base), _PART.fit(part.name, self.area.width * 0.6), _PART)
        note = _NOTE.fit(part.note, self.area.width - wide - 3)
        write(self.pen, (self.area.left + wide + 3, base), note, _NOTE)
        self.heading = f"{part.name} continued"
        self.y += _PART_ROOM

    def _wanted(self, group: Group) -> float:
        """Return the room that a group wants where it begins: all of it if it is short, else its first strip."""
        heights = [_strip_height(strip, self._width) for strip in group.strips]
        whole = max(_side_height(group), sum(heights))
        least = max(_side_height(group), *heights[:1])
        return (whole if whole <= self.area.height * _SHORT else least) + _FOOT_OF_GROUP

    @property
    def _width(self) -> float:
        return self.area.width - _SIDE - _BETWEEN

    def group(self, group: Group) -> None:
        """Draw a group, over as many pages as it takes."""
        heights = [_strip_height(strip, self._width) for strip in group.strips]
        if self.room < self._wanted(group):
            self._turn(self.heading)
        left = self.area.left + _SIDE + _BETWEEN
        start = self._open(group)
        for at, (strip, height) in enumerate(zip(group.strips, heights, strict=True)):
            if at and self.y + height > self.area.bottom - _FOOT_OF_GROUP:
                self._turn(self.heading)
                start = self._open(group, again=True)
            self._strip(Box(left, self.y, self.area.right, self.y + height), strip)
            self.y += height
            self.state = group.states[at] if group.states else ""
        self.y = max(self.y, start + _side_height(group)) + _FOOT_OF_GROUP

    def _open(self, group: Group, *, again: bool = False) -> float:
        """Draw what stands at the left of a group and the rule over it; return where it starts."""
        top = self.y
        stroke(self.pen, (self.area.left, top), (self.area.right, top), VISIBLE)
        self._side(Box(self.area.left, top, self.area.left + _SIDE, self.area.bottom), group, again=again)
        return top

    def _side(self, area: Box, group: Group, *, again: bool) -> None:
        y = area.top
        if group.small:
            figure = group.big[0]
            write(self.pen, (area.left, y + 9.4), figure.text, _fitted(figure, (_PAIR, _PAIR_LEFT), area.width))
            y += 13.4
        elif len(group.big) == 1:
            kind = _fitted(group.big[0], (BIG, BIG_LEFT), area.width)
            write(self.pen, (area.left - 0.8, y + _BIG_BASE), group.big[0].text, kind)
            y += _BIG_BASE + 5.6
        elif group.big:
            for figure in group.big:
                kind = _fitted(figure, (_PAIR, _PAIR_LEFT), area.width)
                write(self.pen, (area.left, y + 9.6), figure.text, kind)
                write(self.pen, (area.left, y + 13.4), figure.name, CAPTION)
                y += _PAIR_ROW
            y += 4.2
        else:
            write(self.pen, (area.left, y + 8.0), _NAME.fit(group.name, area.width), _NAME)
            y += 13.2
        lines = [*_notes(group), *(["continued"] if again else [])]
        write_lines(self.pen, (area.left, y), [_NOTE.fit(line, area.width) for line in lines], _NOTE)

    def _strip(self, area: Box, strip: Strip) -> None:
        y = area.top
        for row in strip:
            height = row_height(row, area.width)
            compose_row(self.pen, Box(area.left, y, area.right, y + height), row)
            y += height

    # ── totals ──

    def table(self, table: Table) -> None:
        """Draw a table of the totals, whole where a page holds it."""
        self.state = ""
        placed = PlacedTable(table, self.area.width)
        if self.room < min(placed.height, self.area.height - 20):
            self._turn("Totals")
        stroke(self.pen, (self.area.left, self.y), (self.area.right, self.y), VISIBLE)
        at = 0
        while True:
            at, self.y = placed.compose(self.pen, Box(self.area.left, self.y, self.area.right, self.area.bottom), at)
            if at >= len(table.rows):
                return
            self._turn("Totals")


def _fitted(figure: Figure, kinds: tuple[Type, Type], room: float) -> Type:
    """Return the type of a large figure: bold to set it, light to leave it, smaller only where it has no room."""
    kind = kinds[0] if figure.reset else kinds[1]
    wide = kind.width(figure.text)
    return kind if wide <= room else Type(kind.points * room / wide, kind.bold)


def _strip_height(strip: Strip, width: float) -> float:
    return sum(row_height(row, width) for row in strip)


def _notes(group: Group) -> list[str]:
    """Return what stands below the large figures, as lines."""
    return packed(group.notes, _SIDE, _NOTE)


def _side_height(group: Group) -> float:
    notes = len(_notes(group)) * _NOTE.lead
    if group.small:
        return 11.6 + notes
    if len(group.big) == 1:
        return _BIG_BASE + 3.6 + notes
    return len(group.big) * _PAIR_ROW + 2.6 + notes if group.big else 11.0 + notes
