"""Dimensions show what they measure, and nothing stands on anything."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fourply.drawing import dimension
from fourply.drawing.check import collisions, crossed
from fourply.drawing.dimension import Bank, Dim, Side, lay_out
from fourply.drawing.ink import DIMENSION
from fourply.drawing.record import Drawing, Recorder
from fourply.drawing.shapes import bounds

WITHIN = (-1000.0, 1000.0)


def drawing_of(*banks: Bank) -> Drawing:
    pen = Recorder()
    for bank in banks:
        dimension.draw(pen, bank)
    return pen.drawing(200, 200)


def chain(stops: list[float]) -> list[Dim]:
    return [Dim(a, b, f"{b - a:.2f}") for a, b in itertools.pairwise(stops)]


spans = st.lists(st.floats(min_value=0.3, max_value=60), min_size=1, max_size=6).map(
    lambda widths: chain(list(itertools.accumulate(widths, initial=0.0)))
)


@settings(max_examples=300)
@given(st.lists(spans, min_size=1, max_size=4), st.sampled_from(Side))
def test_no_figure_touches_another_or_is_crossed_by_a_line(tiers: list[list[Dim]], side: Side) -> None:
    drawing = drawing_of(lay_out(side, 100, tiers, within=WITHIN))
    assert collisions(drawing) == []
    assert crossed(drawing) == []


@given(st.lists(spans, min_size=1, max_size=4), st.sampled_from(Side))
def test_every_figure_is_drawn_once(tiers: list[list[Dim]], side: Side) -> None:
    drawing = drawing_of(lay_out(side, 100, tiers, within=WITHIN))
    assert sorted(label.text for label in drawing.labels) == sorted(dim.text for tier in tiers for dim in tier)


@given(st.lists(spans, min_size=1, max_size=4), st.sampled_from(Side))
def test_a_bank_reaches_as_far_as_it_says(tiers: list[list[Dim]], side: Side) -> None:
    bank = lay_out(side, 0, tiers, within=WITHIN)
    boxes = [bounds(path.steps) for path in drawing_of(bank).paths]
    far = {
        Side.TOP: -min(box.top for box in boxes),
        Side.LEFT: -min(box.left for box in boxes),
        Side.BOTTOM: max(box.bottom for box in boxes),
        Side.RIGHT: max(box.right for box in boxes),
    }[side]
    assert far <= bank.depth + 1e-6


@pytest.mark.parametrize("side", Side)
def test_the_line_is_as_long_as_the_distance_it_measures(side: Side) -> None:
    drawing = drawing_of(lay_out(side, 50, [[Dim(10, 52.5, "x")]], within=WITHIN))
    lines = [bounds(path.steps) for path in drawing.paths if path.stroke == DIMENSION]
    assert max(max(line.width, line.height) for line in lines) == pytest.approx(42.5)


def test_a_short_line_has_oblique_strokes_and_a_long_one_arrowheads() -> None:
    short = drawing_of(lay_out(Side.TOP, 50, [[Dim(0, 5.9, "5")]], within=WITHIN))
    long = drawing_of(lay_out(Side.TOP, 50, [[Dim(0, 6.1, "5")]], within=WITHIN))
    assert [len(path.steps) for path in short.paths if len(path.steps) == 3] == []
    assert [len(path.steps) for path in long.paths if len(path.steps) == 3] == [3, 3]


def test_a_figure_between_neighbours_too_near_for_it_takes_a_tier_of_its_own() -> None:
    bank = lay_out(Side.BOTTOM, 0, [chain([0, 30, 32, 62])], within=WITHIN)
    tiers = {placed.dim.text: placed.v for placed in bank.placed}
    assert tiers["30.00"] < tiers["2.00"]


def test_an_outside_figure_stays_on_the_page() -> None:
    bank = lay_out(Side.BOTTOM, 0, [[Dim(0, 2, "2 3⁄4")]], within=(-1.0, 100.0))
    assert bank.placed[0].text_start > 2


def test_a_figure_without_room_on_either_side_still_stays_within_its_limits() -> None:
    bank = lay_out(Side.BOTTOM, 0, [[Dim(4, 6, "2 3⁄4")]], within=(0.0, 10.0))
    (placed,) = bank.placed
    assert placed.text_start >= 0
    assert placed.text_end <= 10


def test_neighbours_that_all_lack_room_take_tiers_of_their_own() -> None:
    bank = lay_out(Side.BOTTOM, 0, [chain([4, 6, 8, 10])], within=(0.0, 14.0))
    assert len({placed.v for placed in bank.placed}) == 3


def test_a_figure_steps_aside_for_an_extension_line_of_an_outer_tier() -> None:
    bank = lay_out(Side.BOTTOM, 0, [[Dim(0, 40, "40")], [Dim(0, 20, "20")]], within=WITHIN)
    placed = bank.placed[0]
    assert not placed.text_start < 20 < placed.text_end


def test_upright_figures_read_from_the_right() -> None:
    drawing = drawing_of(lay_out(Side.LEFT, 50, [[Dim(0, 40, "40")]], within=WITHIN))
    assert [label.angle for label in drawing.labels] == [90]


def test_extension_lines_start_clear_of_the_edge() -> None:
    pen = Recorder()
    dimension.draw(pen, lay_out(Side.BOTTOM, 100, [[Dim(10, 50, "40", foot=20)]], within=WITHIN))
    uprights = [bounds(path.steps) for path in pen.drawing(200, 200).paths if bounds(path.steps).width == 0]
    assert {round(line.top, 2) for line in uprights} == {80.78}


def test_no_dimensions_need_no_room() -> None:
    assert lay_out(Side.TOP, 0, [[], []], within=WITHIN).depth == 0
