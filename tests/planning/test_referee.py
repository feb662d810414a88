"""The referee accepts good plans and rejects each way of spoiling one."""

from __future__ import annotations

from dataclasses import replace

import pytest

from fourply.errors import BadPlan
from fourply.planning.plan import Board, Node, Plan, Source, Way
from fourply.planning.problem import Box, Cutter, Fixed, Kind, Locked, Piece, Problem, Rect, Stock
from fourply.planning.referee import check

SHEET, RACK = Source(Kind.SHEET, "s"), Source(Kind.RACK, "r")
OLD = Source(Kind.FALLOUT, "a")

PROBLEM = Problem(
    pieces=(
        Piece(key="a", w=60, h=50, copies=2, fallouts=(Rect(40, 30), Rect(20, 45))),
        Piece(key="b", w=30, h=20, copies=3),
        Piece(key="c", w=20, h=40, most=Rect(22, 41)),
    ),
    stock=(Stock(key="s", w=130, h=60, cost=100), Stock(key="r", w=31, h=20, cost=7, kind=Kind.RACK, copies=1)),
    fallout_cost=2,
    cutter=Cutter(kerf=2, trim=3, least_strip=1),
    keep=Rect(10, 4),
)


def leaf(x: int, y: int, w: int, h: int, piece: str | None = None, *, turned: bool = False, kept: bool = False) -> Node:
    return Node(Box(x, y, w, h), piece=piece, turned=turned, kept=kept)


def node(box: tuple[int, int, int, int], cut: Way, *children: Node) -> Node:
    return Node(Box(*box), cut=cut, children=children)


def sheet() -> Node:
    """Two of a with a kerf between them, and 2 at the end for the saw to eat; below, a remnant worth keeping."""
    row = node((3, 3, 124, 50), Way.V, leaf(3, 3, 60, 50, "a"), leaf(65, 3, 60, 50, "a"))
    return node((3, 3, 124, 54), Way.H, row, leaf(3, 55, 124, 2))


def old(turned: str = "b") -> Node:
    row = node((0, 0, 40, 20), Way.V, leaf(0, 0, 30, 20, turned), leaf(32, 0, 8, 20))
    return node((0, 0, 40, 30), Way.H, row, leaf(0, 22, 40, 8, kept=True))


def narrow() -> Node:
    return node((0, 0, 20, 45), Way.H, leaf(0, 0, 20, 41, "c"), leaf(0, 43, 20, 2))


def rack() -> Node:
    return node((0, 0, 31, 20), Way.V, leaf(0, 0, 30, 20, "b"))


def third() -> Node:
    return node((3, 3, 124, 54), Way.H, node((3, 3, 124, 20), Way.V, leaf(3, 3, 30, 20, "b"), leaf(35, 3, 92, 20)),
                leaf(3, 25, 124, 32))  # fmt: skip


GOOD = Plan(
    boards=(
        Board(SHEET, sheet()),
        Board(SHEET, third()),
        Board(RACK, rack()),
        Board(OLD, old()),
        Board(Source(Kind.FALLOUT, "a", 1), narrow()),
    ),
    cost=211,
    lower_bound=150,
    engine="by hand",
)


def with_tree(at: int, tree: Node) -> Plan:
    boards = list(GOOD.boards)
    boards[at] = replace(boards[at], tree=tree)
    return replace(GOOD, boards=tuple(boards))


def test_a_good_plan_passes() -> None:
    check(PROBLEM, GOOD)


SPOILT = {
    "a cost that is not the sum": replace(GOOD, cost=210),
    "a bound above the cost": replace(GOOD, lower_bound=212),
    "a piece missing": replace(GOOD, boards=GOOD.boards[:2] + GOOD.boards[3:], cost=204),
    "a piece too many": replace(GOOD, boards=(*GOOD.boards, Board(SHEET, third())), cost=311),
    "no copies": replace(GOOD, boards=(replace(GOOD.boards[0], copies=0), *GOOD.boards[1:])),
    "stock that is not there": replace(GOOD, boards=(Board(Source(Kind.SHEET, "x"), sheet()), *GOOD.boards[1:])),
    "stock of the wrong kind": replace(GOOD, boards=(Board(Source(Kind.RACK, "s"), sheet()), *GOOD.boards[1:])),
    "more offcuts than there are": replace(
        GOOD, boards=(GOOD.boards[0], Board(RACK, rack(), 2), *GOOD.boards[3:]), cost=118
    ),
    "a fallout before its piece is cut": replace(GOOD, boards=(GOOD.boards[3], *GOOD.boards[:3], GOOD.boards[4])),
    "a fallout more often than its piece": replace(GOOD, boards=(*GOOD.boards[:3], Board(OLD, old(), 3))),
    "a fallout that the piece does not leave": replace(
        GOOD, boards=(*GOOD.boards[:4], Board(Source(Kind.FALLOUT, "a", 2), narrow()))
    ),
    "a fallout of a piece that leaves none": replace(
        GOOD, boards=(*GOOD.boards[:3], Board(Source(Kind.FALLOUT, "b"), old()), GOOD.boards[4])
    ),
    "both rectangles of one fallout": replace(
        GOOD, boards=(*GOOD.boards[:3], Board(OLD, old(), 2), GOOD.boards[4]), cost=213
    ),
    "a board without a piece": replace(
        GOOD, boards=(*GOOD.boards, Board(SHEET, leaf(3, 3, 124, 54))), cost=311
    ),
    "an untrimmed sheet": with_tree(0, leaf(0, 0, 130, 60, "a")),
    "a piece of the wrong size": with_tree(
        3, node((0, 0, 40, 30), Way.H, node((0, 0, 40, 21), Way.V, leaf(0, 0, 30, 21, "b"), leaf(32, 0, 8, 21)),
                leaf(0, 23, 40, 7))
    ),
    "a piece beyond its largest size": with_tree(4, leaf(0, 0, 20, 45, "c")),
    "a piece that is not asked for": with_tree(3, old("z")),
    "parts without a kerf between": with_tree(
        3, node((0, 0, 40, 30), Way.H, node((0, 0, 40, 20), Way.V, leaf(0, 0, 30, 20, "b"), leaf(30, 0, 10, 20)),
                leaf(0, 22, 40, 8))
    ),
    "parts that do not reach the edge": with_tree(
        3, node((0, 0, 40, 30), Way.H, node((0, 0, 40, 20), Way.V, leaf(0, 0, 30, 20, "b"), leaf(32, 0, 5, 20)),
                leaf(0, 22, 40, 8))
    ),
    "parts that run over the edge": with_tree(
        3, node((0, 0, 40, 30), Way.H, node((0, 0, 40, 20), Way.V, leaf(0, 0, 30, 20, "b"), leaf(32, 0, 9, 20)),
                leaf(0, 22, 40, 8))
    ),
    "a part that is lower than its strip": with_tree(
        3, node((0, 0, 40, 30), Way.H, node((0, 0, 40, 20), Way.V, leaf(0, 0, 30, 20, "b"), leaf(32, 0, 8, 19)),
                leaf(0, 22, 40, 8))
    ),
    "a cut that leaves the whole": with_tree(2, node((0, 0, 31, 20), Way.V, leaf(0, 0, 31, 20, "b"))),
    "a cut that leaves nothing": with_tree(2, node((0, 0, 31, 20), Way.V)),
    "parts but no cut": with_tree(2, Node(Box(0, 0, 31, 20), children=(leaf(0, 0, 30, 20, "b"),), piece="b")),
    "a piece that is cut up": with_tree(2, replace(rack(), piece="b")),
    "a remnant not worth keeping": with_tree(
        3, node((0, 0, 40, 30), Way.H, node((0, 0, 40, 20), Way.V, leaf(0, 0, 30, 20, "b"),
                                             leaf(32, 0, 8, 20)), node((0, 22, 40, 8), Way.V, leaf(0, 22, 36, 8),
                                                                       leaf(38, 22, 2, 8, kept=True)))
    ),
    "a piece that is kept as a remnant": with_tree(2, node((0, 0, 31, 20), Way.V, leaf(0, 0, 30, 20, "b", kept=True))),
}  # fmt: skip


@pytest.mark.parametrize("plan", SPOILT.values(), ids=SPOILT.keys())
def test_a_spoilt_plan_is_rejected(plan: Plan) -> None:
    with pytest.raises(BadPlan):
        check(PROBLEM, plan)


CUTTERS = {
    "a strip too narrow to be cut off": Cutter(kerf=2, trim=3, least_strip=3),
    "a piece too small to be held": Cutter(kerf=2, trim=3, least_held=25),
    "a cut longer than the cutter": Cutter(kerf=2, trim=3, longest_cut=123),
    "another kerf": Cutter(kerf=1, trim=3),
    "another trim": Cutter(kerf=2, trim=2),
}


@pytest.mark.parametrize("cutter", CUTTERS.values(), ids=CUTTERS.keys())
def test_a_plan_for_another_cutter_is_rejected(cutter: Cutter) -> None:
    with pytest.raises(BadPlan):
        check(replace(PROBLEM, cutter=cutter), GOOD)


SMALL = Problem(pieces=(Piece(key="b", w=30, h=20),), stock=(Stock(key="s", w=30, h=30, cost=1),))
TURNED = Plan(
    (Board(SHEET, node((0, 0, 30, 30), Way.V, leaf(0, 0, 20, 30, "b", turned=True), leaf(20, 0, 10, 30))),),
    1,
    1,
    "by hand",
)


def test_a_piece_may_be_turned_unless_the_board_has_a_direction() -> None:
    check(SMALL, TURNED)
    with pytest.raises(BadPlan, match="turned"):
        check(replace(SMALL, oriented=True), TURNED)
    with pytest.raises(BadPlan, match="turned"):
        check(replace(SMALL, pieces=(replace(SMALL.pieces[0], turnable=False),)), TURNED)


def test_a_piece_may_not_lie_on_damage() -> None:
    clean, hit = Box(20, 0, 9, 9), Box(19, 0, 9, 9)
    check(replace(SMALL, stock=(replace(SMALL.stock[0], zones=(clean,)),)), TURNED)
    with pytest.raises(BadPlan, match="damaged"):
        check(replace(SMALL, stock=(replace(SMALL.stock[0], zones=(hit,)),)), TURNED)


def test_a_lot_comes_from_one_board() -> None:
    pieces = (Piece(key="a", w=30, h=15, lot="x"), Piece(key="b", w=30, h=15, lot="x"))
    problem = Problem(pieces=pieces, stock=SMALL.stock)
    both = node((0, 0, 30, 30), Way.H, leaf(0, 0, 30, 15, "a"), leaf(0, 15, 30, 15, "b"))
    check(problem, Plan((Board(SHEET, both),), 1, 0, "by hand"))
    apart = [node((0, 0, 30, 30), Way.H, leaf(0, 0, 30, 15, key), leaf(0, 15, 30, 15)) for key in "ab"]
    with pytest.raises(BadPlan, match="lot"):
        check(problem, Plan(tuple(Board(SHEET, tree) for tree in apart), 2, 0, "by hand"))
    same = replace(problem, pieces=(replace(pieces[0], copies=2),))
    with pytest.raises(BadPlan, match="lot"):
        check(same, Plan((Board(SHEET, apart[0], 2),), 2, 0, "by hand"))


def test_a_locked_board_is_kept_as_it_was_fixed() -> None:
    locked = Locked("s", (Fixed("b", 0, 0, turned=True),))
    check(replace(SMALL, locked=(locked,)), TURNED)
    for moved in (Fixed("b", 10, 0, turned=True), Fixed("b", 0, 0, turned=False)):
        with pytest.raises(BadPlan, match="locked"):
            check(replace(SMALL, locked=(Locked("s", (moved,)),)), TURNED)


def test_a_fallout_that_may_be_turned_has_no_direction() -> None:
    parent = Piece(key="a", w=30, h=30, fallouts=(Rect(20, 25),))
    problem = Problem(pieces=(parent, Piece(key="b", w=20, h=25, turnable=False)), stock=SMALL.stock)
    plan = Plan((Board(SHEET, leaf(0, 0, 30, 30, "a")), Board(OLD, leaf(0, 0, 20, 25, "b"))), 1, 0, "by hand")
    with pytest.raises(BadPlan, match="may be turned"):
        check(problem, plan)
    check(replace(problem, oriented=True), plan)
