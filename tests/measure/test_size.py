"""Sizes, edges and places."""

from __future__ import annotations

import pytest

from fourply.measure.length import ZERO, Length
from fourply.measure.size import Edges, Rect, Size

A, B, C, D = (Length.mm(number) for number in (1, 2, 3, 4))


@pytest.mark.parametrize(("width", "height"), [(ZERO, A), (A, ZERO), (-A, A)])
def test_a_size_is_above_nothing_both_ways(width: Length, height: Length) -> None:
    with pytest.raises(ValueError, match="above nothing both ways"):
        Size(width, height)


def test_a_size_turns_grows_and_holds() -> None:
    assert Size(A, B).turned() == Size(B, A)
    assert Size(A, B).grown(A) == Size(C, D)
    assert Size(C, D).grown(-A) == Size(A, B)
    assert Size(C, D).holds(Size(C, D))
    assert not Size(C, D).holds(Size(D, C))
    assert not Size(D, C).holds(Size(C, D))


def test_edges_go_round_clockwise_from_the_top() -> None:
    edges = Edges(A, B, C, D)
    assert edges.named() == (("top", A), ("right", B), ("bottom", C), ("left", D))
    assert (edges.across, edges.along, edges.least) == (B + D, A + C, A)
    assert edges.plus(A) == Edges(B, C, D, Length.mm(5))
    assert Edges.equal(A) == Edges(A, A, A, A)


def test_a_place_knows_its_edges() -> None:
    rect = Rect.at(A, B, C, D)
    assert (rect.left, rect.top, rect.right, rect.bottom) == (A, B, D, Length.mm(6))


@pytest.mark.parametrize(
    ("left", "top", "width", "height", "inside", "meets"),
    [
        (1, 1, 2, 2, True, True),
        (0, 0, 4, 4, True, True),
        (-1, 0, 2, 2, False, True),
        (0, -1, 2, 2, False, True),
        (3, 0, 2, 2, False, True),
        (0, 3, 2, 2, False, True),
        (4, 0, 2, 2, False, False),
        (0, 4, 2, 2, False, False),
        (-2, 0, 2, 2, False, False),
        (0, -2, 2, 2, False, False),
    ],
)
def test_places_lie_inside_or_meet_and_may_touch(
    left: int, top: int, width: int, height: int, *, inside: bool, meets: bool
) -> None:
    frame = Rect.at(ZERO, ZERO, D, D)
    rect = Rect.at(Length.mm(left), Length.mm(top), Length.mm(width), Length.mm(height))
    assert rect.inside(frame) is inside
    assert rect.meets(frame) is meets
    assert frame.meets(rect) is meets
