"""Exact lengths: sums, splits, and what is refused."""

from __future__ import annotations

import operator
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fourply.measure.length import ZERO, Length, total

lengths = st.integers(-(10**12), 10**12).map(Length)


@pytest.mark.parametrize(
    ("length", "nm"),
    [
        (Length.inches(1), 25_400_000),  # definition
        (Length.inches(1, 16), 1_587_500),  # CV001: 1.5875 mm
        (Length.inches(1, 32), 793_750),  # CV001: 0.79375 mm
        (Length.inches(1, 64), 396_875),
        (Length.inches(32), 812_800_000),  # CV002
        (Length.inches(60, 1000), 1_524_000),  # CV008: 60 pt of caliper
        (Length.mm(1, 10), 100_000),
    ],
)
def test_inches_and_millimetres_are_exact(length: Length, nm: int) -> None:
    assert length.nm == nm


@pytest.mark.parametrize("over", [3, 7, 128])
def test_what_is_no_whole_nanometre_is_refused(over: int) -> None:
    with pytest.raises(ValueError, match="name a rounding"):
        Length.inches(1, over)


@pytest.mark.parametrize("nm", [1.0, "1", True, None])
def test_a_length_is_made_of_a_whole_number_only(nm: Any) -> None:
    with pytest.raises(TypeError, match="a whole number of nanometres"):
        Length(nm)


@given(lengths, st.integers(1, 50))
def test_the_parts_of_a_split_add_up_and_differ_by_a_nanometre_at_most(length: Length, parts: int) -> None:
    split = length.split(parts)
    assert total(split) == length
    assert max(split) - min(split) <= Length(1)


@given(lengths)
def test_of_two_halves_the_larger_is_the_last(length: Length) -> None:
    first, last = length.split(2)
    assert first <= last


def test_a_length_splits_into_one_part_or_more() -> None:
    with pytest.raises(ValueError, match="one part or more"):
        Length(5).split(0)


@given(lengths, lengths, st.integers(-1000, 1000))
def test_arithmetic_is_that_of_whole_numbers(one: Length, two: Length, times: int) -> None:
    assert (one + two).nm == one.nm + two.nm
    assert (one - two).nm == one.nm - two.nm
    assert (-one).nm == -one.nm
    assert abs(one).nm == abs(one.nm)
    assert (one * times).nm == (times * one).nm == one.nm * times
    assert bool(one) is (one != ZERO)


@given(lengths, lengths.filter(bool))
def test_a_length_goes_into_another_a_whole_number_of_times_with_a_rest(one: Length, two: Length) -> None:
    count, rest = divmod(one, two)
    assert (one // two, one % two) == (count, rest)
    assert two * count + rest == one


def test_a_length_over_a_count_is_a_length() -> None:
    assert Length(7) // 2 == Length(3)


@pytest.mark.parametrize("wrong", [1.5, "1", None])
def test_lengths_do_not_mix_with_other_things(wrong: Any) -> None:
    for act in (operator.add, operator.sub, operator.mul, operator.floordiv, operator.mod):
        with pytest.raises((TypeError, AttributeError)):
            act(Length(1), wrong)


def test_a_length_is_not_divided_by_a_length() -> None:
    one: Any = Length(1)
    with pytest.raises(TypeError):
        _ = one / Length(2)


def test_the_float_in_millimetres_and_the_ratio_in_inches() -> None:
    assert Length.inches(1, 16).as_mm == 1.5875
    assert Length.inches(1, 16).as_inches == Fraction(1, 16)
