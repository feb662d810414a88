"""A problem cannot exist wrong."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from fourply.errors import BadInput
from fourply.planning.problem import Box, Cutter, Fixed, Kind, Locked, Piece, Problem, Rect, Stock

SHEET = Stock(key="s", w=100, h=80, cost=5)
PIECE = Piece(key="p", w=50, h=40)

WRONG: dict[str, Callable[[], object]] = {
    "a size of zero": lambda: Rect(0, 5),
    "a size that is no whole number": lambda: Rect(5, 2.5),  # type: ignore[arg-type]
    "a corner before the board": lambda: Box(-1, 0, 5, 5),
    "a negative cost": lambda: Stock(key="s", w=1, h=1, cost=-1),
    "negative copies of stock": lambda: Stock(key="s", w=1, h=1, cost=1, copies=-1),
    "a fallout as stock": lambda: Stock(key="s", w=1, h=1, cost=1, kind=Kind.FALLOUT),
    "a damaged zone off the sheet": lambda: Stock(key="s", w=9, h=9, cost=1, zones=(Box(5, 5, 5, 1),)),
    "no copy of a piece": lambda: Piece(key="p", w=1, h=1, copies=0),
    "a fallout as large as its piece": lambda: Piece(key="p", w=5, h=5, fallouts=(Rect(5, 5),)),
    "a fallout wider than its piece": lambda: Piece(key="p", w=5, h=9, fallouts=(Rect(6, 2),)),
    "a most below the least": lambda: Piece(key="p", w=5, h=5, most=Rect(6, 4)),
    "a negative kerf": lambda: Cutter(kerf=-1),
    "a longest cut of nothing": lambda: Cutter(longest_cut=0),
    "no piece": lambda: Problem(pieces=(), stock=(SHEET,)),
    "two pieces of one key": lambda: Problem(pieces=(PIECE, PIECE), stock=(SHEET,)),
    "two boards of one key": lambda: Problem(pieces=(PIECE,), stock=(SHEET, SHEET)),
    "a negative fallout cost": lambda: Problem(pieces=(PIECE,), stock=(SHEET,), fallout_cost=-1),
    "a locked board of no stock": lambda: Problem(
        pieces=(PIECE,), stock=(SHEET,), locked=(Locked("t", (Fixed("p", 0, 0),)),)
    ),
    "more fixed than wanted": lambda: Problem(
        pieces=(PIECE,), stock=(SHEET,), locked=(Locked("s", (Fixed("p", 0, 0), Fixed("p", 50, 0))),)
    ),
    "a locked board without pieces": lambda: Locked("s", ()),
}


@pytest.mark.parametrize("make", WRONG.values(), ids=WRONG.keys())
def test_impossible_values_are_refused(make: Callable[[], object]) -> None:
    with pytest.raises(BadInput):
        make()


def test_only_factory_edges_are_trimmed() -> None:
    cutter = Cutter(trim=3)
    offcut = Stock(key="r", w=50, h=40, cost=1, kind=Kind.RACK, copies=1)
    half = Stock(key="f", w=50, h=40, cost=1, kind=Kind.RACK, copies=1, factory_edges=True)
    problem = Problem(pieces=(PIECE,), stock=(SHEET, offcut, half), cutter=cutter)
    boxes = [problem.usable(stock) for stock in problem.stock]
    assert boxes == [Box(3, 3, 94, 74), Box(0, 0, 50, 40), Box(3, 3, 44, 34)]


def test_a_sheet_that_is_all_trim_is_no_stock() -> None:
    small = Stock(key="s", w=6, h=80, cost=5)
    assert Problem(pieces=(PIECE,), stock=(small,), cutter=Cutter(trim=3)).usable(small) is None


def test_an_oriented_board_lets_nothing_turn() -> None:
    assert not Problem(pieces=(PIECE,), stock=(SHEET,), oriented=True).may_turn(PIECE)
    assert Problem(pieces=(PIECE,), stock=(SHEET,)).may_turn(PIECE)
