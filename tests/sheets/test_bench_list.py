"""The bench list holds: nothing on top of anything, nothing off the page, everything on it that must be set."""

from __future__ import annotations

import io
import itertools
import math
from collections.abc import Sequence
from dataclasses import replace

import pdfplumber
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from tests.sheets.bench_steps import job
from tests.sheets.samples import INCHES, MILLIMETRES, TICKETS, inch
from tests.sheets.shaped import SHAPED
from tests.sheets.test_ticket import PAGES, PAPERS, faults, texts, texts_of_any_kind
from tests.trade.cases import MATERIALS
from tests.trade.designs import Design, designs

from fourply.bench.cutter import NOMINAL, Cutter, Side, StopDatum
from fourply.bench.steps import Block, Fall, Handling, Kind, Person, Setting, Strike
from fourply.drawing.page import A4, LETTER, Paper
from fourply.drawing.record import Drawing
from fourply.drawing.shapes import flatten
from fourply.drawing.text import PT, clean
from fourply.errors import BadTreatment
from fourply.measure.size import Size
from fourply.render import pdf
from fourply.sheets.bench_job import BenchJob
from fourply.sheets.bench_list import compose_bench
from fourply.sheets.bench_totals import minutes, numbered
from fourply.sheets.bench_view import Alone, Caution, Figure, Line, Tile, Tiles
from fourply.sheets.bench_words import bench_view
from fourply.sheets.types import LEAST
from fourply.trade.package import Package
from fourply.trade.resolve import resolve
from fourply.working.words import Words

PLAIN = tuple(package for package, _ in TICKETS.values())
MANY = tuple(package for package, _ in SHAPED.values())
FROM_BAR = Cutter(guide=Side.RIGHT, stops=StopDatum.BAR, tested=True)


def pages(made: BenchJob, paper: Paper = LETTER) -> tuple[Drawing, ...]:
    return compose_bench(bench_view(made), paper)


def tiles(made: BenchJob) -> list[Tile]:
    rows = [row for group in bench_view(made).groups() for strip in group.strips for row in strip]
    alone = [row.tile for row in rows if isinstance(row, Alone)]
    return alone + [tile for row in rows if isinstance(row, Tiles) for tile in row.tiles]


@pytest.mark.parametrize("paper", PAPERS, ids=lambda paper: paper.name)
@pytest.mark.parametrize("words", [INCHES, MILLIMETRES], ids=["inches", "millimetres"])
@pytest.mark.parametrize("packages", [PLAIN, MANY], ids=["plain", "shaped"])
def test_nothing_stands_on_anything_or_leaves_the_page(packages: Sequence[Package], words: Words, paper: Paper) -> None:
    made = job(packages, FROM_BAR, words)
    assert faults(pages(made, paper)) == []


def test_lines_to_pencil_are_no_cuts() -> None:
    made = pages(job(PLAIN, NOMINAL, pencil=True))
    assert faults(made) == []
    said = texts(made)
    assert "Pencil: V-groove" in said
    assert "pencil, no cut" in said


def resolved(design: Design) -> Package:
    try:
        return resolve(*design, MATERIALS)
    except BadTreatment:
        assume(False)  # noqa: FBT003
        raise


@PAGES
@given(
    st.lists(designs(), min_size=1, max_size=3),
    st.sampled_from((INCHES, MILLIMETRES)),
    st.sampled_from(Side),
    st.sampled_from(StopDatum),
)
def test_whatever_can_be_resolved_makes_a_clean_list_with_all_that_is_set(
    show: list[Design], words: Words, side: Side, datum: StopDatum
) -> None:
    packages = [resolved((replace(work, id=str(at)), rules)) for at, (work, rules) in enumerate(show, start=1)]
    made = job(packages, Cutter(guide=side, stops=datum), words)
    drawn = pages(made, A4 if words.metric else LETTER)
    assert faults(drawn) == []
    written = {label.text for page in drawn for label in page.labels}
    lengths = [
        length
        for block in made.steps.blocks
        for length in (block.setting.guide, block.setting.stop, block.setting.far, block.setting.near)
        if length is not None
    ]
    assert {clean(words.mark(length)) for length in lengths} - written == set()
    assert {handling.work for block in made.steps.blocks for handling in block.handlings} - written == {""}


def test_what_must_be_set_can_be_read_in_the_file() -> None:
    made = job(PLAIN, NOMINAL, Words(metric=True))
    file = pdf.render(pages(made, A4), title="bench list")
    with pdfplumber.open(io.BytesIO(file)) as opened:
        read = " ".join(page.extract_text() for page in opened.pages)
    words = set(read.split())
    for block in made.steps.blocks:
        for length in (block.setting.guide, block.setting.stop):
            if length is not None:
                assert made.words.mark(length) in words
        for handling in block.handlings:
            assert handling.work in words or not handling.work


def test_every_cut_stands_once_with_its_side_and_opening() -> None:
    made = job(MANY, NOMINAL)
    said = sorted(
        (handling.work, strike.side, strike.hole)
        for block in made.steps.blocks
        for handling in block.handlings
        for strike in handling.strikes
        if strike.side
    )
    shown = [
        (tile.number, side, hole)
        for tile in tiles(made)
        for hole, sides in openings(tile.sides)
        for side in sides
        if side
    ]
    assert sorted(shown) == said


def openings(text: str) -> list[tuple[int, list[str]]]:
    """Read `opening 2: top, left; opening 3: top` back."""
    found = []
    for part in text.split("; "):
        name, colon, sides = part.rpartition(": ")
        hole = int(name.removeprefix("opening ")) if colon else 0
        found.append((hole, sides.split(", ") if not sides.startswith("opening") else []))
    return found


def test_the_heavy_lines_of_a_picture_are_the_cuts_and_lie_on_its_board() -> None:
    for tile in tiles(job(PLAIN, NOMINAL)):
        width, height = tile.picture.size
        sides = [side for side in ("top", "left", "bottom", "right") if side in tile.sides]
        heavy = [steps for steps in tile.picture.heavy if len(steps) == 2]
        for side, ((_, x1, y1), (_, x2, y2)) in zip(sides, heavy, strict=False):  # type: ignore[misc]
            assert 0 <= min(x1, x2) <= max(x1, x2) <= width
            assert 0 <= min(y1, y2) <= max(y1, y2) <= height
            if len(sides) == 1:  # from behind, left in front lies at the right
                away = {"top": y1, "bottom": height - y1, "left": width - x1, "right": x1}
                assert away[side] <= max(away.values()) / 2


def test_type_is_never_too_small_to_read() -> None:
    made = [*pages(job(MANY, NOMINAL)), *pages(job(PLAIN, FROM_BAR, MILLIMETRES), A4)]
    assert min(label.size for page in made for label in page.labels) >= LEAST.points * PT - 1e-9


def test_a_figure_that_stays_is_light_and_one_that_is_set_bold() -> None:
    made = bench_view(job(PLAIN, NOMINAL, pencil=True))
    figures = [group.big[0] for group in made.groups() if group.big and group.big[0].name == "guide"]
    for before, figure in itertools.pairwise(figures):
        assert figure.reset is (figure.text != before.text)


def test_stops_of_a_single_cut_say_which_side_they_lie_towards() -> None:
    said = texts(pages(job(PLAIN[:1], NOMINAL)))
    assert "far end, left" in said
    assert "from the board edge" in said
    assert "from the bar" in texts(pages(job(PLAIN[:1], FROM_BAR)))


def test_ovals_and_shaves_stand_with_their_figures() -> None:
    said = texts(pages(job((SHAPED["oval"][0], TICKETS["double"][0]), NOMINAL)))
    assert "half the axes’ difference" in said
    assert "difference" in said
    assert "loop" in said
    assert "Shave the drop-out face up" in said


def test_blanks_say_stop_cut_label_and_what_comes_off() -> None:
    made = job(PLAIN[:1], NOMINAL)
    said = texts(pages(made))
    assert "trim" in said
    assert "Write “05 top”." in said
    view = bench_view(made)
    rings = [row.rings for group in view.groups() for strip in group.strips for row in strip if isinstance(row, Line)]
    assert ("2", "3") in rings


def test_a_head_and_a_caution_are_said_where_they_come_up_and_not_again() -> None:
    rows = [
        row
        for group in bench_view(job(PLAIN[:1], NOMINAL)).groups()
        for strip in group.strips
        for row in strip
        if isinstance(row, Line | Caution)
    ]
    said = [row.text if isinstance(row, Caution) else row.strong for row in rows]
    assert said.index("Bevel head on the bar.") + 1 == said.index("Cut a test corner first.")
    assert said.count("Bevel head on the bar.") == 1
    runs = [text for text, _ in itertools.groupby(text for text in said if text.startswith(("Cut a", "Fingers")))]
    assert said.count("Cut a test corner first.") == runs.count("Cut a test corner first.")


def test_a_long_group_repeats_its_figure_overleaf() -> None:
    size = Size(inch(16), inch(20))
    pieces = tuple(
        Handling(f"{at:03}", "mat.1", "top mat", "", size, (Strike("top mat window", "top"),)) for at in range(1, 91)
    )
    block = Block(1, Kind.CUT, "windows", Setting(guide=inch(5, 2)), ("guide",), pieces, (), 60.0, 60.0, ())
    made = job(PLAIN[:1], NOMINAL)
    drawn = pages(BenchJob(replace(made.steps, blocks=(block,)), {}, NOMINAL, INCHES))
    assert faults(drawn) == []
    assert len(drawn) >= 3
    for page in drawn[1:3]:
        said = [label.text for label in page.labels]
        assert "2 1⁄2" in said
        assert "continued" in said
        assert "Windows continued" in said


@PAGES
@given(st.lists(texts_of_any_kind, min_size=8, max_size=8), st.integers(1, 60))
def test_whatever_is_written_on_a_list_keeps_to_its_place(names: list[str], count: int) -> None:
    size = Size(inch(16), inch(20))
    fall = Fall(names[0] or "fallout", names[1], names[2], size)
    strike = Strike(names[3], "top", "", 2, 0, "left", "right")
    handling = Handling(names[4], "mat.1", names[5], names[6], size, (strike, strike), names[7], 2, falls=(fall,))
    stops = Setting(guide=inch(2), far=inch(97, 64), near=inch(12))
    kinds = (Kind.BLANK, Kind.CUT, Kind.STACK, Kind.HAND)
    blocks = tuple(
        Block(
            at,
            kind,
            names[0],
            stops if kind is Kind.CUT else Setting(),
            ("guide", "far"),
            (handling,) * (at % 4 + 1),
            (names[1],),
            60.0,
            60.0 * at,
            (),
        )
        for at, kind in enumerate(kinds * count, start=1)
    )
    made = job(PLAIN[:1], NOMINAL)
    people = tuple(
        Person(
            name, tuple(range(first, 4 * count + 1, 2)), tuple(float(at) for at in range(first, 4 * count + 1, 2)), 9
        )
        for first, name in enumerate(names[:2], start=1)
    )
    steps = replace(made.steps, show=names[2], cutter=names[3], times=names[4], blocks=blocks, people=people)
    assert faults(pages(BenchJob(steps, {}, NOMINAL, INCHES))) == []


def test_the_totals_say_whether_the_order_is_proved() -> None:
    made = job(PLAIN[:1], NOMINAL)
    assert "proved" in texts(pages(made))
    open_ = replace(made, steps=replace(made.steps, bound=3600.0))
    assert "No order takes less than 1 h 00 min: at most 9 min could be won yet." in texts(pages(open_))


def test_times_and_numbers_read_as_they_are_said() -> None:
    assert [minutes(seconds) for seconds in (0, 29, 31, 3599, 5400)] == [
        "0 min",
        "under 1 min",
        "1 min",
        "1 h 00 min",
        "1 h 30 min",
    ]
    assert numbered([7]) == "block 7"


def test_a_figure_too_wide_for_its_place_is_set_smaller() -> None:
    made = job(PLAIN[:1], NOMINAL)
    wide = replace(made.steps.blocks[1], setting=Setting(stop=inch(123 * 64 + 63, 64)))
    drawn = pages(replace(made, steps=replace(made.steps, blocks=(wide,))))
    assert faults(drawn) == []
    [label] = [label for label in drawn[0].labels if label.text == "123 63⁄64"]
    assert label.size < 56 * PT
    assert Figure("stop", "1").reset


@pytest.mark.parametrize("name", [name for name in SHAPED if name != "nine in a grid"])
def test_arcs_ovals_and_slants_are_drawn_where_the_window_runs(name: str) -> None:
    for tile in tiles(job((SHAPED[name][0],), NOMINAL)):
        whole = [outline for steps in tile.picture.lines for outline in flatten(steps, pieces=90)]
        curved = [steps for steps in tile.picture.heavy if any(step[0] in "AC" for step in steps)]
        for point in (point for steps in curved if whole for outline in flatten(steps) for point in outline):
            assert min(math.dist(point, near) for outline in whole for near in outline) < _NEAR


_NEAR = 6.0
"""Millimetres between points of a flattened outline, at most twice this; a mirrored arc lies much further off."""


def test_a_page_says_what_the_bench_is_set_to_as_it_begins() -> None:
    drawn = pages(job(PLAIN, NOMINAL))
    heads = [[label.text for label in page.labels[:3]] for page in drawn[1:]]
    going_on = [head for head in heads if head[0] == "Windows continued"]
    assert len(going_on) > 2
    assert all(head[1] == "bevel, white 4-ply" for head in going_on)


def test_blocks_of_two_people_stand_in_rows_that_a_page_holds() -> None:
    person = Person("one", tuple(range(1, 2000, 2)), tuple(60.0 * at for at in range(1, 2000, 2)), 9)
    made = job(PLAIN[:1], NOMINAL)
    steps = replace(made.steps, people=(person, replace(person, name="two")))
    drawn = pages(BenchJob(steps, {}, NOMINAL, INCHES))
    assert faults(drawn) == []
    said = " ".join(label.text for page in drawn for label in page.labels)
    assert said.count("1999") >= 2
