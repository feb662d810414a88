"""Outlines: what they refuse, and what can be asked of them."""

from __future__ import annotations

import math

import pytest

from fourply.errors import BadInput
from fourply.trade.shapes.outline import Outline, Segment, Sweep, polygon

SQUARE = polygon([(-10.0, -10.0), (10.0, -10.0), (10.0, 10.0), (-10.0, 10.0)])
CIRCLE = Outline((Sweep(0, 0, 10, 10, 0, 360),))


@pytest.mark.parametrize(
    ("pieces", "found"),
    [
        ((), "no piece"),
        ((Segment((0, 0), (1, 0)), Segment((1, 1e-5), (0, 0))), "a gap of 0.000010 mm after piece 1"),
        ((Segment((0, 0), (1, 0)), Segment((1, 0), (1, 1))), "a gap of 1.414214 mm after piece 2"),
        ((Sweep(0, 0, 5, 5, 0, -360),), "against the clock"),
        ((Segment((0, 0), (1, 0)), Segment((1, 0), (0, 0))), "against the clock"),
        ((Sweep(math.nan, 0, 5, 5, 0, 360),), "a gap of nan mm"),
    ],
)
def test_what_is_no_outline_does_not_exist(pieces: tuple[Segment | Sweep, ...], found: str) -> None:
    with pytest.raises(BadInput) as caught:
        Outline(pieces)

    assert found in caught.value.found


def test_a_chord_error_is_above_nothing() -> None:
    with pytest.raises(BadInput, match="above nothing"):
        CIRCLE.flatten(0.0)


@pytest.mark.parametrize(
    ("box", "held"),
    [
        ((-10, -10, 10, 10), True),
        ((-10, -10, 10 + 5e-10, 10), True),
        ((-10, -10, 10 + 1e-8, 10), False),
        ((0, 0, 0, 0), True),
        ((-11, -1, -10.5, 1), False),
        ((11, 11, 11, 11), False),
        ((-20, -1, 20, 1), False),
        ((-20, -20, 20, 20), False),
    ],
)
def test_a_square_holds_what_does_not_reach_over_its_edge(box: tuple[float, ...], *, held: bool) -> None:
    assert SQUARE.holds(*box) is held


def test_a_circle_holds_the_square_in_it_to_the_nanometre() -> None:
    half = 10 / math.sqrt(2)

    assert CIRCLE.holds(-half, -half, half, half)
    assert not CIRCLE.holds(-half, -half, half + 1e-6, half)


@pytest.mark.parametrize("y", [-9.9, -1e-300, 0.0, 1e-300, 9.9])
def test_no_ray_leaks_through_where_pieces_join(y: float) -> None:
    assert [CIRCLE.contains((x, y)) for x in (-20.0, -10.001, 0.0, 10.001)] == [False, False, True, False]


def test_a_chord_is_the_height_on_an_upright_line() -> None:
    assert CIRCLE.chord(6.0) == pytest.approx((-8, 8))
    assert CIRCLE.chord(11.0) is None


def test_points_that_coincide_are_one_corner() -> None:
    assert len(polygon([(0, 0), (0, 0), (4, 0), (4, 4), (4, 4), (0, 0)]).pieces) == 3
