"""The template as a person has it: read from the PDF, its tiles laid mark on mark, all lines where they should be."""

from __future__ import annotations

import io
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import pdfplumber
import pikepdf
import pytest
from shapely import MultiLineString, hausdorff_distance
from tests.sheets.full_size import HIGH, INCH, MIDDLE, WIDE, oval_view, sample_view

from fourply.drawing.page import A4, LETTER, Paper
from fourply.drawing.shapes import flatten
from fourply.render import pdf
from fourply.sheets.template import compose_template, sheet_of
from fourply.sheets.template_tile import Sheet
from fourply.sheets.template_view import CUTS, Edge, TemplateView

PER_MM = 72 / 25.4
TOLERANCE = 0.01  # millimetres; what docs/templates.md promises
CUT = 0.6

type Point = tuple[float, float]
on_papers = pytest.mark.parametrize("paper", [A4, LETTER], ids=lambda paper: paper.name)


@dataclass
class Read:
    """One page: straight and curved lines by (weight, dashes), as points in millimetres from the top left."""

    lines: list[tuple[float, tuple[float, ...], list[Point]]]
    texts: str

    def of(self, weight: float) -> list[list[Point]]:
        return [points for width, _, points in self.lines if abs(width - weight) < 0.005]

    def rings(self) -> list[Point]:
        """Return the centres of the marks: closed curves 4.8 mm across."""
        boxes = [_box(points) for _, _, points in self.lines if len(points) > 20]
        return [
            ((left + right) / 2, (top + bottom) / 2)
            for left, top, right, bottom in boxes
            if abs(right - left - 4.8) < 0.01 and abs(bottom - top - 4.8) < 0.01
        ]


def _box(points: Sequence[Point]) -> tuple[float, float, float, float]:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def _points(path: Sequence[tuple[Any, ...]]) -> Iterator[Point]:
    here = start = (0.0, 0.0)
    for letter, *rest in path:
        ends = [(x / PER_MM, y / PER_MM) for x, y in rest]
        if letter == "c":
            (a, b, c), first = ends, here
            for i in range(1, 129):
                t = i / 128
                w = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
                yield (
                    w[0] * first[0] + w[1] * a[0] + w[2] * b[0] + w[3] * c[0],
                    w[0] * first[1] + w[1] * a[1] + w[2] * b[1] + w[3] * c[1],
                )
            here = c
        elif letter == "h":
            yield start
        else:
            here = ends[0]
            start = here if letter == "m" else start
            yield here


def read(view: TemplateView, paper: Paper) -> list[Read]:
    data = pdf.render(compose_template(view, paper))
    pages = []
    for page in pdfplumber.open(io.BytesIO(data)).pages:
        lines = [
            (mark["linewidth"] / PER_MM, tuple(mark["dash"][0]), list(_points(mark["path"])))
            for mark in (*page.lines, *page.rects, *page.curves)
            if mark["stroke"]
        ]
        pages.append(Read(lines, "".join(char["text"] for char in page.chars)))
    return pages


def _corner(first: Read) -> Point:
    """Return the upper left corner of the blank on the first tile: where its thin unbroken lines stand and lie."""
    thin = [_box(line) for w, dash, line in first.lines if abs(w - 0.25) < 0.005 and not dash]
    long = [box for box in thin if max(box[2] - box[0], box[3] - box[1]) > 4 * INCH + 1]  # longer than a ruler
    return min(box[0] for box in long), min(box[1] for box in long)


def laid_together(tiles: list[Read], sheet: Sheet) -> list[tuple[Read, Point]]:
    """Return the tiles with their shifts, found from marks alone: each is laid on its left or upper neighbour."""
    shifts: dict[tuple[int, int], Point] = {(0, 0): (0.0, 0.0)}
    laid = [(tiles[0], (0.0, 0.0))]
    placed = {(0, 0): tiles[0]}
    for tile, here in list(zip(sheet.printed, tiles, strict=True))[1:]:
        axis = 0 if tile.column else 1
        before = (tile.column - 1, tile.row) if tile.column else (tile.column, tile.row - 1)
        last = _at_end(placed[before].rings(), axis, max)
        first = _at_end(here.rings(), axis, min)
        ways = [(a[0] - b[0], a[1] - b[1]) for a, b in zip(last, first, strict=True)]
        # half a mark meets half a mark: all three of a seam agree
        assert max(math.dist(way, ways[0]) for way in ways) < TOLERANCE
        dx, dy = shifts[before]
        shifts[tile.column, tile.row] = (ways[0][0] + dx, ways[0][1] + dy)
        placed[tile.column, tile.row] = here
        laid.append((here, shifts[tile.column, tile.row]))
    return laid


def _at_end(rings: list[Point], axis: int, end: object) -> list[Point]:
    far = (max if end is max else min)(ring[axis] for ring in rings)
    return sorted(ring for ring in rings if abs(ring[axis] - far) < 0.01)


def apart(found: list[list[Point]], wanted: list[list[Point]], part: float = 0.25) -> float:
    """Return the greatest distance between two sets of lines, either way."""
    one, two = MultiLineString(found), MultiLineString(wanted)
    return max(float(hausdorff_distance(one, two, densify=part)), float(hausdorff_distance(two, one, densify=part)))


def outlines(view: TemplateView, edges: Sequence[Edge]) -> list[list[Point]]:
    made: list[list[Point]] = []
    for traced in view.outlines:
        if traced.edge in edges:
            closed = traced.steps[-1][0] == "Z"
            made += [[*outline, outline[0]] if closed else outline for outline in flatten(traced.steps, pieces=512)]
    return made


@on_papers
@pytest.mark.parametrize(
    "name",
    ["double", "triple", "oval", "elliptical arch", "round arch", "stepped", "scooped", "polygon 6", "three in a row"],
)
def test_tiles_laid_mark_on_mark_make_the_outlines(name: str, paper: Paper) -> None:
    view = oval_view() if name == "oval" else sample_view(name)
    sheet = sheet_of(view, paper)
    key, *pages = read(view, paper)
    tiles = pages[-len(sheet.printed) :]  # after the pages of the key
    laid = laid_together(tiles, sheet)
    found = [[(x + dx, y + dy) for x, y in line] for tile, (dx, dy) in laid for line in tile.of(CUT)]
    corner = _corner(tiles[0])
    moved = [[(x - corner[0], y - corner[1]) for x, y in line] for line in found]
    assert apart(moved, outlines(view, CUTS)) < TOLERANCE
    assert key.of(CUT)


def test_pins_and_centres_are_crosses_where_they_should_be() -> None:
    view, paper = sample_view("elliptical arch"), LETTER
    sheet = sheet_of(view, paper)
    tiles = read(view, paper)[-len(sheet.printed) :]
    corner = _corner(tiles[0])
    found = [
        ((left + right) / 2 + dx - corner[0], (top + bottom) / 2 + dy - corner[1])
        for tile, (dx, dy) in laid_together(tiles, sheet)
        for left, top, right, bottom in (_box(line) for line in tile.of(0.25) if len(line) == 2)
        if right - left == pytest.approx(3.2, abs=0.01) == bottom - top
    ]
    assert [mark.name for mark in view.marks].count("top mat: pin") == 2
    for mark in view.marks:
        assert sum(math.dist((mark.x, mark.y), at) < TOLERANCE for at in found) >= 2  # both arms of its cross


@on_papers
def test_an_oval_read_back_has_the_axes_that_were_asked(paper: Paper) -> None:
    # 8 x 10 in and 8 1/2 x 10 1/2 in about the middle of 14 1/2 x 16 1/2 in, worked by hand
    view = oval_view()
    _, *tiles = read(view, paper)
    laid = laid_together(tiles, sheet_of(view, paper))
    corner = _corner(tiles[0])
    for tile, (dx, dy) in laid:
        for line in tile.of(CUT):
            for x, y in line:
                u, v = x + dx - corner[0] - MIDDLE[0], y + dy - corner[1] - MIDDLE[1]
                off = [
                    abs(math.hypot(u / a, v / b) - 1) * min(a, b)
                    for a, b in ((4 * INCH, 5 * INCH), (4.25 * INCH, 5.25 * INCH))
                ]
                assert min(off) < TOLERANCE
    edges = [
        x + dx for tile, (dx, dy) in laid for w, dash, line in tile.lines if w == pytest.approx(0.25) for x, y in line
    ]
    assert max(edges) - corner[0] == pytest.approx(WIDE, abs=TOLERANCE)
    assert HIGH > WIDE


@on_papers
@pytest.mark.parametrize("name", ["double", "stamp", "oval"])
def test_both_rulers_of_every_tile_are_100_mm_and_4_in(name: str, paper: Paper) -> None:
    view = oval_view() if name == "oval" else sample_view(name)
    for tile in read(view, paper)[1:]:
        for axis in (0, 1):
            feet = _scale(tile, axis)
            mm = [foot for foot, long in feet if long < 0]
            inches = [foot for foot, long in feet if long > 0]
            assert max(mm) - min(mm) == pytest.approx(100, abs=TOLERANCE)
            assert len(mm) == 101
            assert max(inches) - min(inches) == pytest.approx(4 * INCH, abs=TOLERANCE)
            assert len(inches) == 65


def _scale(tile: Read, axis: int) -> list[tuple[float, float]]:
    """Return the strokes of the ruler along an axis: where each stands, and how far it reaches to which side."""
    lines = [points for points in tile.of(0.13) if len(points) == 2]
    feet = []
    for (x1, y1), (x2, y2) in lines:
        along, across = (x1 - x2, y2 - y1) if axis == 0 else (y1 - y2, x2 - x1)
        if abs(along) < 1e-6 and 1.0 <= abs(across) <= 3.3:
            feet.append((x1 if axis == 0 else y1, across, y1 if axis == 0 else x1))
    bases = [round(base, 3) for *_, base in feet]
    ruler = max(set(bases), key=bases.count)
    return [(foot, across) for foot, across, base in feet if round(base, 3) == ruler]


@on_papers
def test_what_two_tiles_show_of_a_seam_is_the_same(paper: Paper) -> None:
    view = sample_view("double")
    sheet = sheet_of(view, paper)
    _, *tiles = read(view, paper)
    for tile, here in zip(sheet.printed, tiles, strict=True):
        right, below = sheet.neighbour(tile, 1, 0), sheet.neighbour(tile, 0, 1)
        marks = 3 * sum(sheet.neighbour(tile, *to) is not None for to in ((1, 0), (-1, 0), (0, 1), (0, -1)))
        assert len(here.rings()) == marks
        for other in (right, below):
            if other:
                assert f"cut here, lay over {other.letter}" in here.texts


def test_the_printer_is_asked_not_to_scale_and_pages_have_the_paper_s_size() -> None:
    data = pdf.render(compose_template(oval_view(), A4))
    with pikepdf.open(io.BytesIO(data)) as file:
        assert file.Root.ViewerPreferences.PrintScaling == pikepdf.Name("/None")
        for page in file.pages:
            assert sorted(float(side) / PER_MM for side in page.MediaBox[2:]) == pytest.approx([210, 297], abs=0.01)
