"""Fills the compiler's cache, so that the first plan is as quick as any: `python -m fourply.planning.warm`.

Plans a small made-up job that reaches every compiled loop, both with pieces that may be turned and with a direction.
"""

from __future__ import annotations

from fourply.planning.boards import plan_boards
from fourply.planning.budget import Budget
from fourply.planning.problem import Piece, Problem, Rect, Stock

_SIZES = ((41, 33), (52, 28), (37, 37), (61, 24), (29, 47), (55, 31), (44, 26), (33, 58), (49, 35), (27, 51))


def warm() -> None:
    """Compile every inner loop, or load it from the cache."""
    pieces = tuple(
        Piece(key=f"{w}x{h} {n}", w=w + n, h=h, copies=1 + n, fallouts=(Rect(w - 10, h - 10),))
        for n in range(2)
        for w, h in _SIZES
    )
    stock = (Stock(key="s", w=80, h=100, cost=1037), Stock(key="t", w=100, h=150, cost=2091))
    for oriented in (False, True):
        plan_boards(Problem(pieces=pieces, stock=stock, fallout_cost=23, oriented=oriented), Budget(steps=60))


if __name__ == "__main__":
    warm()
