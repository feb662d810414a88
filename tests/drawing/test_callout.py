"""Names beside a drawing keep their order and their distance."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fourply.drawing.callout import spread

places = st.lists(st.floats(min_value=0, max_value=100), max_size=12).map(sorted)


@given(places, st.floats(min_value=0.1, max_value=8))
def test_names_stand_at_least_so_far_apart(wanted: list[float], apart: float) -> None:
    given_places = spread(wanted, apart, 0, 100)
    assert len(given_places) == len(wanted)
    assert all(b - a >= apart - 1e-6 for a, b in itertools.pairwise(given_places))


@given(places)
def test_names_stay_between_the_ends_where_there_is_room(wanted: list[float]) -> None:
    assert all(-1e-6 <= place <= 100 + 1e-6 for place in spread(wanted, 8, 0, 100))


def test_names_that_are_far_enough_apart_stay_where_they_are() -> None:
    assert spread([0, 5, 11], 5, 0, 20) == [0, 5, 11]


def test_names_without_room_run_on_past_the_end() -> None:
    assert spread([0, 0, 0], 5, 0, 4) == pytest.approx([0, 5, 10])
