"""One tile of a template: the part of it that fits one paper at full size, with rulers, seams and marks.

The ruler across stands below the part that is drawn; the one that goes up stands in a free place among the lines, or
where some tile has none, in a strip at the left of every tile. A tile is cut along its right and its lower seam, if it
has a neighbour there, and laid over that neighbour: half a mark meets half a mark.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from fourply.drawing.clip import clip
from fourply.drawing.ink import EXTENSION, THIN, VISIBLE, Ink
from fourply.drawing.lettering import Type, write
from fourply.drawing.page import Paper
from fourply.drawing.pen import Path, Pen, Steps
from fourply.drawing.shapes import Box, Point, circle, polyline, rectangle
from fourply.drawing.signs import disc, stroke
from fourply.drawing.text import CAP_HEIGHT
from fourply.sheets.free import Free, Segment, foot, straight
from fourply.sheets.outlines import moved
from fourply.sheets.ruler import ABOVE, BELOW, LENGTH, compose_ruler
from fourply.sheets.template_lines import SEAM, STROKES
from fourply.sheets.template_marks import Mark
from fourply.sheets.template_view import TemplateView, Traced
from fourply.sheets.tiling import Tile, Tiling
from fourply.sheets.types import CAPTION, SMALL, STRONG

MARGIN = 6.5
"""What printers cannot reach, a quarter of an inch (common practice), and a little more."""

_STRIP = ABOVE + BELOW
_GRID = 5.0  # between the places at which an upright ruler is tried
_RING = 2.4
_ARM = 4.0
_MARKS = (0.15, 0.5, 0.85)
_NAME = Type(8.5, bold=True)
_LETTER = 5.2
_CROSS = 1.6


@dataclass(frozen=True, slots=True)
class Sheet:
    """What a tile is a part of: the view, its tiling, the tiles that are printed (an empty one is not), their paper.

    `aside` where the upright ruler stands in a strip of its own.
    """

    view: TemplateView
    tiling: Tiling
    printed: tuple[Tile, ...]
    paper: Paper
    aside: bool

    def neighbour(self, tile: Tile, across: int, down: int) -> Tile | None:
        """Return the printed tile so many places to the right and below, or nothing."""
        place = (tile.column + across, tile.row + down)
        return next((other for other in self.printed if (other.column, other.row) == place), None)


def field(paper: Paper, *, aside: bool) -> Box:
    """Return the part of a paper that shows the template, with a strip beside it for the upright ruler or without."""
    left = MARGIN + (_STRIP + 1 if aside else 0)
    return Box(left, MARGIN, paper.width - MARGIN, paper.height - MARGIN - _STRIP - 1.5)


def upright_ruler(sheet: Sheet, tile: Tile) -> Point | None:
    """Return where the upright ruler of a tile begins, on its paper, or nothing where it has no place."""
    place = field(sheet.paper, aside=sheet.aside)
    if sheet.aside:
        return MARGIN + ABOVE, place.top + LENGTH + 4
    return _free_ruler(_free(sheet, tile), _window(sheet, tile))


def _free_ruler(free: Free, window: Box) -> Point | None:
    """Return the first free place for a ruler, from the left and from the top."""
    wide, high = _STRIP, LENGTH + 8
    for across in range(int((window.width - wide) / _GRID) + 1):
        for down in range(int((window.height - high) / _GRID) + 1):
            left, top = window.left + across * _GRID, window.top + down * _GRID
            if free.fits(Box(left, top, left + wide, top + high)):
                return left + ABOVE, top + 4 + LENGTH
    return None


def _window(sheet: Sheet, tile: Tile) -> Box:
    """Return the part of the paper that a tile fills."""
    place = field(sheet.paper, aside=sheet.aside)
    return Box(place.left, place.top, place.left + tile.shown.width, place.top + tile.shown.height)


def _parts(sheet: Sheet, tile: Tile) -> list[tuple[Traced, Steps]]:
    """Return the lines of the template that a tile shows, where they lie on its paper."""
    x, y = _shift(sheet, tile)
    clipped = ((traced, clip(traced.steps, tile.shown)) for traced in sheet.view.outlines)
    return [(traced, moved(steps, x, y)) for traced, steps in clipped if steps]


def _shift(sheet: Sheet, tile: Tile) -> Point:
    place = field(sheet.paper, aside=sheet.aside)
    return place.left - tile.shown.left, place.top - tile.shown.top


def _free(sheet: Sheet, tile: Tile) -> Free:
    """Return what is free on a tile among its lines and seams."""
    free = Free(_window(sheet, tile).grown(-1.0))
    for _, steps in _parts(sheet, tile):
        free.add_lines(straight(steps))
    for seam in _seams(sheet, tile, _shift(sheet, tile)):
        free.add_lines(seam.lines)
    return free


def compose_tile(pen: Pen, sheet: Sheet, tile: Tile) -> None:
    """Draw one tile on its paper."""
    parts, shift, window = _parts(sheet, tile), _shift(sheet, tile), _window(sheet, tile)
    free = _free(sheet, tile)
    for traced, steps in parts:
        pen.path(Path(steps, STROKES[traced.edge]))
    for seam in _seams(sheet, tile, shift):
        seam.draw(pen)
    marks = [mark._replace(x=mark.x + shift[0], y=mark.y + shift[1]) for mark in sheet.view.marks]
    marks = [mark for mark in marks if window.left <= mark.x <= window.right and window.top <= mark.y <= window.bottom]
    for mark in marks:
        _cross(pen, free, mark)
    upright = upright_ruler(sheet, tile)
    if upright:
        compose_ruler(pen, upright, upright=True)
        free.take(Box(upright[0] - ABOVE, upright[1] - LENGTH - 4, upright[0] + BELOW, upright[1] + 4))
    _seam_words(pen, free, sheet, tile)
    for mark in marks:
        _named(pen, free, mark.name, [(mark.x, mark.y)])
    for traced, steps in parts:
        _named(pen, free, traced.name, _spread(steps))
    _strip(pen, sheet, tile)


@dataclass(frozen=True, slots=True)
class _Seam:
    """A seam as it lies on the paper, and its marks."""

    start: Point
    end: Point
    marks: tuple[Point, ...]

    @property
    def lines(self) -> list[Segment]:
        return [(self.start, self.end), *(line for mark in self.marks for line in _mark_lines(*mark))]

    def draw(self, pen: Pen) -> None:
        stroke(pen, self.start, self.end, SEAM)
        for x, y in self.marks:
            pen.path(Path(circle(x, y, _RING), THIN))
            stroke(pen, (x - _ARM, y), (x + _ARM, y), EXTENSION)
            stroke(pen, (x, y - _ARM), (x, y + _ARM), EXTENSION)


def _mark_lines(x: float, y: float) -> list[Segment]:
    """Return the lines of a mark: its ring and its two arms."""
    arms = [((x - _ARM, y), (x + _ARM, y)), ((x, y - _ARM), (x, y + _ARM))]
    return [*arms, *straight(circle(x, y, _RING))]


def _seams(sheet: Sheet, tile: Tile, by: Point) -> Iterator[_Seam]:
    """Yield the seams of a tile that has a neighbour beyond; both neighbours have the same marks in the same places."""
    kept, shown = tile.kept, tile.shown
    for side, edge in ((-1, kept.left), (1, kept.right)):
        if sheet.neighbour(tile, side, 0):
            marks = [(edge, kept.top + part * kept.height) for part in _MARKS]
            yield _moved(((edge, shown.top), (edge, shown.bottom)), marks, by)
    for side, edge in ((-1, kept.top), (1, kept.bottom)):
        if sheet.neighbour(tile, 0, side):
            marks = [(kept.left + part * kept.width, edge) for part in _MARKS]
            yield _moved(((shown.left, edge), (shown.right, edge)), marks, by)


def _moved(ends: Segment, marks: Sequence[Point], by: Point) -> _Seam:
    start, end, *rest = ((x + by[0], y + by[1]) for x, y in (*ends, *marks))
    return _Seam(start, end, tuple(rest))


def _cross(pen: Pen, free: Free, mark: Mark) -> None:
    """Draw a small oblique cross where a pin or a centre is, so that it is not taken for a mark on a seam."""
    x, y = mark.x, mark.y
    arms = [((x - _CROSS, y - dy), (x + _CROSS, y + dy)) for dy in (-_CROSS, _CROSS)]
    for arm in arms:
        stroke(pen, *arm, THIN)
    free.add_lines(arms)


def _seam_words(pen: Pen, free: Free, sheet: Sheet, tile: Tile) -> None:
    """Write beside each seam what is done there, in the waste beyond it."""
    kept, (dx, dy), high = tile.kept, _shift(sheet, tile), CAPTION.size * 0.8
    for side in (1, -1):
        other = sheet.neighbour(tile, side, 0)
        if other:
            x = (kept.right + 1.2 if side > 0 else kept.left - 1.2 - high) + dx
            spots = [(x, kept.top + dy + part / 40 * kept.height) for part in range(40, 0, -1)]
            _first(pen, free, _at_seam(other, side), spots, upright=True)
        other = sheet.neighbour(tile, 0, side)
        if other:
            y = (kept.bottom + 1.2 + high if side > 0 else kept.top - 1.2) + dy
            spots = [(kept.left + dx + part / 40 * kept.width, y) for part in range(40)]
            _first(pen, free, _at_seam(other, side), spots, upright=False)


def _at_seam(other: Tile, side: int) -> str:
    return f"cut here, lay over {other.letter}" if side > 0 else f"{other.letter} lies over this, up to the line"


def _first(pen: Pen, free: Free, text: str, spots: Sequence[Point], *, upright: bool) -> None:
    """Write a line at the first free one of several places."""
    wide, high = CAPTION.width(text), CAPTION.size * 0.8
    for x, y in spots:
        box = Box(x, y - wide, x + high, y) if upright else Box(x, y - high, x + wide, y + 0.3)
        if free.fits(box, about=0.4):
            free.take(box)
            write(pen, (x + high, y) if upright else (x, y), text, CAPTION, angle=90 if upright else 0)
            return


def _spread(steps: Steps) -> list[Point]:
    """Return points along a line, those near its middle first."""
    points = [point for start, end in straight(steps) for point in _between(start, end)]
    wanted = points[:: max(1, len(points) // 24)]
    middle = len(wanted) // 2
    return [*wanted[middle:], *wanted[:middle]]


def _named(pen: Pen, free: Free, name: str, points: Sequence[Point]) -> None:
    """Write a name near one of several points, with a leader to it, where there is a free place."""
    if not name:
        return
    found = free.beside(points, (_NAME.width(name), _NAME.size))
    if found is None:
        return
    box, point = found
    start = foot(box, point)
    stroke(pen, start, point, EXTENSION)
    pen.path(Path(circle(*point, 0.5), None, Ink.BLACK))
    free.take(box.grown(0.4))  # descenders reach below it, and later leaders must clear them
    free.add_lines([(start, point)])
    write(pen, (box.left, box.bottom - (1 - CAP_HEIGHT) / 2 * _NAME.size), name, _NAME)


def _between(start: Point, end: Point) -> Iterator[Point]:
    """Yield points along a straight line, some 15 mm apart and never at its ends."""
    count = max(1, round(((end[0] - start[0]) ** 2 + (end[1] - start[1]) ** 2) ** 0.5 / 15))
    for i in range(count):
        t = (i + 0.5) / count
        yield start[0] + t * (end[0] - start[0]), start[1] + t * (end[1] - start[1])


def _strip(pen: Pen, sheet: Sheet, tile: Tile) -> None:
    """Draw the ruler across, and beside it what this tile is."""
    paper, view = sheet.paper, sheet.view
    place = field(paper, aside=True)
    foot_line = paper.height - MARGIN - BELOW
    compose_ruler(pen, (place.left, foot_line))
    left = place.left + LENGTH + 9
    top = foot_line - ABOVE
    disc(pen, (left + _LETTER, top + _LETTER + 0.6), tile.letter, _LETTER)
    grid = _grid_size(sheet.tiling)
    room = paper.width - MARGIN - left - 2 * _LETTER - 3 - grid[0] - 3
    x = left + 2 * _LETTER + 3
    title = f"{view.number} {view.title}".strip()
    write(pen, (x, top + 3.2), STRONG.fit(title, room), STRONG)
    write(pen, (x, top + 7.2), CAPTION.fit(f"seen from the {view.side.value}, full size", room), CAPTION)
    write(pen, (x, top + 10.8), SMALL.fit("Measure both rulers first.", room), SMALL)
    _grid(pen, (paper.width - MARGIN - grid[0], top + 0.8), sheet, tile)


def _grid_size(tiling: Tiling) -> tuple[float, float]:
    columns, rows = len(tiling.xs) + 1, len(tiling.ys) + 1
    side = min(4.0, 10.5 / rows, 18.0 / columns)
    return columns * side, rows * side


def _grid(pen: Pen, at: Point, sheet: Sheet, tile: Tile) -> None:
    """Draw a little plan of all tiles, this one black, one that is not printed with a diagonal."""
    columns = len(sheet.tiling.xs) + 1
    side = _grid_size(sheet.tiling)[0] / columns
    for other in sheet.tiling.tiles:
        left, top = at[0] + other.column * side, at[1] + other.row * side
        cell = Box(left, top, left + side, top + side)
        fill = Ink.BLACK if other == tile else None
        pen.path(Path(rectangle(cell), VISIBLE._replace(width=0.2), fill))
        if other not in sheet.printed:
            pen.path(Path(polyline([(cell.left, cell.bottom), (cell.right, cell.top)]), EXTENSION))
