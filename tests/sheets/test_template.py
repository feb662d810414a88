"""A template holds on every paper: nothing on top of anything, all lines told apart, seams well placed."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import HealthCheck, Phase, assume, given, settings
from hypothesis import strategies as st
from tests.sheets.full_size import faults, oval_view, sample_view
from tests.sheets.samples import INCHES, MILLIMETRES, TICKETS
from tests.sheets.shaped import SHAPED
from tests.trade.cases import MATERIALS
from tests.trade.designs import Design, designs

from fourply.drawing.page import A4, LETTER, Paper
from fourply.drawing.record import Drawing
from fourply.drawing.text import PT
from fourply.errors import BadTreatment
from fourply.sheets.template import compose_template, sheet_of
from fourply.sheets.template_figures import Group, Row
from fourply.sheets.template_lines import SEAM, STROKES
from fourply.sheets.template_tile import upright_ruler
from fourply.sheets.template_view import Edge, View, template_view
from fourply.trade.resolve import resolve
from fourply.working.words import Words

PAPERS = (A4, LETTER)
on_papers = pytest.mark.parametrize("paper", PAPERS, ids=lambda paper: paper.name)


def texts(*pages: Drawing) -> list[str]:
    return [label.text for page in pages for label in page.labels]


@on_papers
@pytest.mark.parametrize("view", View)
@pytest.mark.parametrize("name", TICKETS)
def test_nothing_stands_on_anything_or_leaves_the_page(name: str, view: View, paper: Paper) -> None:
    assert faults(compose_template(sample_view(name, view), paper)) == []


@pytest.mark.parametrize(("view", "paper"), [(View.BACK, LETTER), (View.FRONT, A4)])
@pytest.mark.parametrize("name", SHAPED)
def test_no_shape_and_no_accent_brings_words_on_one_another(name: str, view: View, paper: Paper) -> None:
    assert faults(compose_template(sample_view(name, view), paper)) == []


@on_papers
def test_an_oval_makes_four_clean_tiles(paper: Paper) -> None:
    pages = compose_template(oval_view(), paper)
    assert len(pages) == 5
    assert faults(pages) == []


@settings(
    max_examples=40,
    deadline=None,
    phases=(Phase.explicit, Phase.reuse, Phase.generate),
    suppress_health_check=[HealthCheck.too_slow],
)
@given(designs(), st.sampled_from((INCHES, MILLIMETRES)), st.sampled_from(View))
def test_whatever_can_be_resolved_makes_a_clean_template(design: Design, words: Words, view: View) -> None:
    try:
        package = resolve(*design, MATERIALS)
    except BadTreatment:
        assume(False)  # noqa: FBT003
    made_of = template_view(package, words, view)
    assume(made_of.width * made_of.height < 1e6)  # larger ones take a hundred tiles that are all alike
    assert faults(compose_template(made_of, A4 if words.metric else LETTER)) == []


def test_figures_that_have_no_room_go_on_a_further_page() -> None:
    groups = tuple(Group(f"Mat {i}", tuple(Row(f"row {i} {j}", "1") for j in range(5))) for i in range(20))
    shown = texts(*compose_template(replace(sample_view("stamp"), groups=groups), LETTER))
    assert all(shown.count(f"row {i} {j}") == 1 for i in range(20) for j in range(5))


@on_papers
def test_overlong_words_are_cut_off_or_wrapped_and_touch_nothing(paper: Paper) -> None:
    view = sample_view("oval with grooves")
    long = "Donaudampfschifffahrtsgesellschaft" * 4
    spoilt = replace(
        view,
        number=long,
        title=f"{long} {long}",
        lines=(long, long),
        outlines=tuple(traced._replace(name=f"{traced.name} {long}") for traced in view.outlines),
        marks=tuple(mark._replace(name=f"{mark.name} {long}") for mark in view.marks),
        groups=tuple(Group(long, tuple(Row(long, long) for _ in group.rows)) for group in view.groups),
        ways=view.ways and view.ways._replace(name=long, by_pins=f"{view.ways.by_pins} {long}"),
    )
    pages = compose_template(spoilt, paper)
    assert faults(pages) == []
    assert any("…" in text for text in texts(pages[0]))


def test_every_two_lines_differ_by_dashes_or_by_twice_the_weight() -> None:
    for one, two in combinations([*STROKES.values(), SEAM], 2):
        if max(one.width, two.width) >= 2 * min(one.width, two.width):
            continue
        assert one.dashes or two.dashes
        if one.dashes and two.dashes:
            longest = sorted((max(one.dashes[::2]), max(two.dashes[::2])))
            assert longest[1] >= 1.25 * longest[0] or len(one.dashes) != len(two.dashes)


@pytest.mark.parametrize(
    ("name", "edges"),
    [
        ("double", {Edge.TOP, Edge.UNDER, Edge.UNDER_BLANK, Edge.GROOVE}),
        ("triple", {Edge.TOP, Edge.UNDER, Edge.SECOND, Edge.UNDER_BLANK, Edge.GROOVE}),
        ("octagon", {Edge.TOP, Edge.PACKAGE}),
        ("spacer", {Edge.TOP, Edge.SPACER, Edge.UNDER, Edge.UNDER_BLANK}),
        ("inlay", {Edge.TOP, Edge.UNDER, Edge.UNDER_BLANK, Edge.INLAY}),
        ("sink", {Edge.TOP, Edge.UNDER, Edge.UNDER_BLANK, Edge.SINK}),
        ("three in a row", {Edge.TOP, Edge.UNDER, Edge.UNDER_BLANK, Edge.GROOVE, Edge.RULED}),
    ],
)
def test_the_key_lists_the_lines_that_occur_and_no_others(name: str, edges: set[Edge]) -> None:
    (key, *_) = compose_template(sample_view(name), LETTER)
    always = {Edge.FACE, Edge.BLANK, Edge.SHEET, Edge.AXIS}
    assert {edge for edge in Edge if edge.value in texts(key)} == edges | always


@pytest.mark.parametrize("view", View)
def test_every_sheet_says_which_side_is_seen_and_key_and_foot_say_not_to_scale(view: View) -> None:
    pages = compose_template(sample_view("triple", view), LETTER)
    for page in pages:
        assert any(f"seen from the {view.value}" in text for text in texts(page))
    assert "no scaling to page" in " ".join(texts(pages[0]))


def test_the_back_is_the_front_with_left_and_right_exchanged() -> None:
    front, back = sample_view("triple", View.FRONT), sample_view("triple", View.BACK)
    assert [(dim.text, dim.bold) for dim in back.bottom[0]] == [
        (dim.text, dim.bold) for dim in reversed(front.bottom[0])
    ]
    assert back.left == front.left
    for one, two in zip(front.outlines, back.outlines, strict=True):
        xs = sorted(step[1] for step in one.steps if step[0] == "L")
        mirrored = sorted(back.width - step[1] for step in two.steps if step[0] == "L")
        assert xs == pytest.approx(mirrored)


@on_papers
@pytest.mark.parametrize(
    "name", ["double", "triple", "poster", "oval", "oval with grooves", "rounded", "three in a row"]
)
def test_no_seam_lies_on_an_axis_or_a_pin(name: str, paper: Paper) -> None:
    view = oval_view() if name == "oval" else sample_view(name)
    sheet = sheet_of(view, paper)
    for mark in view.marks:
        assert all(abs(seam - mark.x) >= 5 for seam in sheet.tiling.xs)
        assert all(abs(seam - mark.y) >= 5 for seam in sheet.tiling.ys)


def test_tiles_on_which_nothing_stands_are_not_printed() -> None:
    sheet = sheet_of(sample_view("poster"), LETTER)
    assert len(sheet.printed) < len(sheet.tiling.tiles)
    shown = texts(*compose_template(sample_view("poster"), LETTER))
    gone = {tile.letter for tile in sheet.tiling.tiles} - {tile.letter for tile in sheet.printed}
    assert not gone.intersection(shown)
    assert not [text for text in shown if text.rpartition(" ")[2] in gone and text.startswith("cut here")]


@on_papers
def test_every_tile_has_a_ruler_that_goes_up(paper: Paper) -> None:
    for view in (oval_view(), sample_view("panorama"), sample_view("poster")):
        sheet = sheet_of(view, paper)
        assert all(upright_ruler(sheet, tile) is not None for tile in sheet.printed)


def test_each_mat_is_named_on_the_tiles() -> None:
    shown = " ".join(texts(*compose_template(sample_view("double"), LETTER)[1:]))
    for name in ("top mat: back line 11 × 13 3⁄4", "under-mat: back line 10 1⁄2 × 13 1⁄4", "groove: back line 12"):
        assert name in shown


def test_no_type_is_smaller_than_the_least() -> None:
    for page in compose_template(oval_view(), LETTER):
        # the letters in the discs of the key shrink to their disc
        assert min(label.size for label in page.labels if len(label.text) > 2) / PT >= 6.6 - 1e-6
