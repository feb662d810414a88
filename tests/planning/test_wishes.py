"""Among plans of equal cost the user's order of wishes decides."""

from __future__ import annotations

from dataclasses import replace
from itertools import permutations

import pytest

from fourply.planning.boards import plan_boards
from fourply.planning.budget import Budget
from fourply.planning.plan import Board, Node, Source, Way
from fourply.planning.problem import Box, Kind, Piece, Problem, Rect, Stock, Wish
from fourply.planning.wishes import cuts, rank


def leaf(x: int, y: int, w: int, h: int, *, kept: bool = False) -> Node:
    return Node(Box(x, y, w, h), kept=kept)


def node(box: tuple[int, int, int, int], cut: Way, *children: Node) -> Node:
    return Node(Box(*box), cut=cut, children=children)


SHEET = Source(Kind.SHEET, "s")
STRIPS = node((0, 0, 30, 20), Way.V, leaf(0, 0, 10, 20), leaf(10, 0, 10, 20), leaf(20, 0, 10, 20, kept=True))
STEPS = node((0, 0, 30, 20), Way.V, leaf(0, 0, 10, 20), node((10, 0, 20, 20), Way.H, leaf(10, 0, 20, 5), leaf(10, 5, 20, 15, kept=True)))  # fmt: skip  # noqa: E501


def test_one_cut_is_made_after_each_part_that_does_not_reach_the_edge() -> None:
    assert cuts(STRIPS) == 2
    assert cuts(STEPS) == 2
    assert cuts(node((0, 0, 31, 20), Way.V, leaf(0, 0, 30, 20))) == 1
    assert cuts(leaf(0, 0, 5, 5)) == 0


def test_equal_strips_need_one_setting() -> None:
    assert rank([Board(SHEET, STRIPS)], [Wish.SETTINGS]) == (1,)
    assert rank([Board(SHEET, STEPS)], [Wish.SETTINGS]) == (2,)


def test_the_largest_remnant_counts_not_their_sum() -> None:
    both = [Board(SHEET, STRIPS, 2), Board(SHEET, STEPS)]
    assert rank(both, [Wish.REMNANT]) == (-300,)
    assert rank(both, [Wish.CUTS]) == (6,)


def test_the_order_of_the_wishes_is_the_users() -> None:
    boards = [[Board(SHEET, STRIPS)], [Board(SHEET, STEPS)]]
    assert min(boards, key=lambda b: rank(b, [Wish.REMNANT, Wish.SETTINGS])) == boards[1]
    assert min(boards, key=lambda b: rank(b, [Wish.SETTINGS, Wish.REMNANT])) == boards[0]


@pytest.mark.parametrize("wishes", list(permutations(Wish)))
def test_wishes_never_change_the_cost(wishes: tuple[Wish, ...]) -> None:
    sizes = [(41, 33), (52, 28), (37, 37), (61, 24), (29, 47), (55, 31), (44, 26), (33, 58)]
    pieces = tuple(Piece(key=f"{w}x{h}", w=w, h=h) for w, h in sizes)
    problem = Problem(pieces=pieces, stock=(Stock(key="s", w=80, h=100, cost=7),), keep=Rect(10, 10))
    first = plan_boards(problem, Budget(steps=300))
    plan = plan_boards(replace(problem, wishes=wishes), Budget(steps=300))
    assert (plan.cost, plan.lower_bound) == (first.cost, first.lower_bound)


def test_the_remnant_of_a_lone_piece_is_kept_whole() -> None:
    problem = Problem(
        pieces=(Piece(key="a", w=40, h=30),), stock=(Stock(key="s", w=80, h=100, cost=7),), keep=Rect(10, 10)
    )
    areas = [box.w * box.h for _, box in plan_boards(problem, Budget(steps=9)).remnants()]
    assert max(areas) == 80 * 70
