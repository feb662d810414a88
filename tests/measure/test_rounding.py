"""Rounding by name, to grids, and of parts that must add up."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fourply.measure.length import ZERO, Length, total
from fourply.measure.rounding import (
    GRIDS,
    HALF_MILLIMETRE,
    SIXTEENTH,
    THIRTY_SECOND,
    Grid,
    Rule,
    down,
    from_mm,
    half_even,
    half_up,
    round_parts,
    times,
    to_grid,
    up,
)

RULES = [down, up, half_even, half_up]
lengths = st.integers(-(10**11), 10**11).map(Length)
grids = st.sampled_from(list(GRIDS.values()))


@pytest.mark.parametrize(
    ("rule", "values"),
    [
        (down, (-2, -2, 1, 2, 2)),
        (up, (-1, -1, 2, 3, 3)),
        (half_even, (-2, -1, 2, 2, 3)),
        (half_up, (-1, -1, 2, 3, 3)),
    ],
)
def test_each_rule_rounds_as_its_name_says(rule: Rule, values: tuple[int, ...]) -> None:
    ratios = [Fraction(-3, 2), Fraction(-5, 4), Fraction(3, 2), Fraction(5, 2), Fraction(8, 3)]
    assert tuple(rule(ratio) for ratio in ratios) == values


@given(lengths, grids, st.sampled_from(RULES))
def test_on_a_grid_a_length_is_a_whole_number_of_steps_and_less_than_one_away(
    length: Length, grid: Grid, rule: Rule
) -> None:
    rounded = to_grid(length, grid, rule)
    assert rounded % grid.step == ZERO
    assert abs(rounded - length) < grid.step


@pytest.mark.parametrize(
    ("mm", "grid", "rule", "rounded"),
    [
        (445, SIXTEENTH, down, Length.inches(35, 2)),
        (445, SIXTEENTH, up, Length.inches(281, 16)),
        (212, THIRTY_SECOND, half_even, Length.inches(267, 32)),
    ],
)
def test_a_millimetre_figure_is_marked_in_fractions_of_an_inch(
    mm: int, grid: Grid, rule: Rule, rounded: Length
) -> None:
    assert to_grid(Length.mm(mm), grid, rule) == rounded


@given(st.lists(lengths, min_size=1, max_size=6), grids, st.sampled_from(RULES))
def test_rounded_parts_add_up_to_the_rounded_whole(parts: list[Length], grid: Grid, rule: Rule) -> None:
    rounded = round_parts(parts, grid, rule)
    assert total(rounded) == to_grid(total(parts), grid, rule)
    assert all(abs(after - before) <= grid.step for before, after in zip(parts, rounded, strict=True))


def test_a_ratio_of_a_length_is_rounded_once() -> None:
    assert times(Length(10), Fraction(1, 4)) == Length(2)
    assert times(Length(10), Fraction(1, 4), up) == Length(3)


def test_physics_comes_back_to_the_nanometre() -> None:
    assert from_mm(1.4) == Length.mm(14, 10)
    assert from_mm(0.0000015, down) == Length(1)


def test_the_step_of_a_grid_is_above_nothing() -> None:
    with pytest.raises(ValueError, match="above nothing"):
        Grid("none", ZERO)


def test_grids_are_known_by_how_people_call_them() -> None:
    assert GRIDS["0.5 mm"] is HALF_MILLIMETRE
    assert all(name == grid.name for name, grid in GRIDS.items())
