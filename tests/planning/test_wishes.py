"""Among plans of equal cost the user's order of wishes decides."""

from __future__ import annotations

from dataclasses import replace
from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.planning.cases import problems

from fourply.planning.boards import plan_boards
from fourply.planning.budget import Budget
from fourply.planning.everyset import every_column
from fourply.planning.grid import grid_of
from fourply.planning.layouts import laid_best, others
from fourply.planning.patterns import column
from fourply.planning.plan import Board, Node, Plan, Source, Way
from fourply.planning.problem import Box, Kind, Piece, Problem, Rect, Stock, Wish
from fourply.planning.realise import boards_of
from fourply.planning.referee import check
from fourply.planning.slots import cost_of
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


@pytest.mark.parametrize(
    ("piece", "sheet", "left"),
    [
        # CV010, common practice: 16x20 by a first cut of 16 off the 40 leaves 24x32 and 12x16.
        ((16, 20), (32, 40), {(24, 32), (12, 16)}),
        # CUT-04, common practice: 8x34 leaves 24x40, and a scrap of 6x8.
        ((8, 34), (32, 40), {(24, 40), (6, 8)}),
    ],
)
def test_what_is_left_of_a_sheet_is_left_as_large_as_it_can_be(
    piece: tuple[int, int], sheet: tuple[int, int], left: set[tuple[int, int]]
) -> None:
    pieces = (Piece(key="a", w=piece[0], h=piece[1]),)
    stock = (Stock(key="s", w=sheet[0], h=sheet[1], cost=7),)
    for keep in (Rect(5, 5), Rect(10, 20)):
        plan = plan_boards(Problem(pieces=pieces, stock=stock, keep=keep), Budget(steps=9))
        found = {(min(box.w, box.h), max(box.w, box.h)) for _, box in plan.remnants()}
        assert found == {(a, b) for a, b in left if a >= keep.w and b >= keep.h}


@settings(max_examples=25, deadline=None)
@given(problems(7, plain=True), st.permutations(list(Wish)))
def test_laying_patterns_another_way_costs_nothing_and_stands_no_worse(problem: Problem, wishes: list[Wish]) -> None:
    grid = grid_of(replace(problem, wishes=tuple(wishes)))
    columns = every_column(grid, 30_000) or []
    want = {at: item.want for at, item in enumerate(grid.items)}
    choice = []
    for one in sorted(columns, key=lambda c: (-len(c.tree), c.cost)):
        if grid.limits[one.row] is None and all(want[i] >= n for i, n in one.counts):
            choice.append((one, 1))
            want = {i: n - dict(one.counts).get(i, 0) for i, n in want.items()}
    if any(want.values()):
        return
    plain, best = boards_of(grid, choice), laid_best(grid, choice)
    cost = cost_of(problem, plain)
    check(problem, Plan(best, cost, 0, "columns"))
    assert rank(best, wishes) <= rank(plain, wishes)


def test_a_pattern_has_another_way_to_lie() -> None:
    pieces = (Piece(key="a", w=40, h=30), Piece(key="b", w=40, h=30), Piece(key="c", w=20, h=60))
    grid = grid_of(Problem(pieces=pieces, stock=(Stock(key="s", w=80, h=100, cost=7),)))
    one = column(grid, 0, (-1, -1, 0, 0, 2))
    ways = list(others(grid, one))
    assert ways
    assert all(way.counts == one.counts and way.kind == one.kind for way in ways)
