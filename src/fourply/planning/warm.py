"""Gets the compiled loops ready: `load` in a moment from the compiler's cache, `warm` to fill that cache.

`python -m fourply.planning.warm` compiles all of them, so that the first plan is as quick as any.
"""

from __future__ import annotations

import numpy as np

from fourply.planning.blocks import Cap, Reach
from fourply.planning.boards import plan_boards
from fourply.planning.budget import Budget
from fourply.planning.colgen import Workshop
from fourply.planning.grid import grid_of
from fourply.planning.pace import Pace
from fourply.planning.problem import Piece, Problem, Rect, Stock

_SIZES = ((41, 33), (52, 28), (37, 37), (61, 24), (29, 47), (55, 31), (44, 26), (33, 58), (49, 35), (27, 51))
_STOCK = (Stock(key="s", w=80, h=100, cost=1037), Stock(key="t", w=100, h=150, cost=2091))


def load() -> None:
    """Have each compiled loop called once, on next to nothing."""
    pieces = tuple(Piece(key=f"{w}x{h}", w=w, h=h, copies=2) for w, h in _SIZES[:3])
    grid = grid_of(Problem(pieces=pieces, stock=_STOCK))
    shop = Workshop(grid, Pace(Budget(steps=1000)))
    pricer = shop.pricer
    values, asked = np.array([item.w * item.h for item in grid.items], float), np.ones(len(grid.stock))
    sweep = pricer.sweep(values)
    pricer.harvest(sweep, asked, 1)
    pricer.around_each(sweep, values, asked, 1)
    shop.blocks.above(0, Reach(values, shop.levels.ceiling.ceilings(values)), 1.0, Cap(10))


def warm() -> None:
    """Plan a small job that reaches every compiled loop, both with pieces that may be turned and with a direction."""
    pieces = tuple(
        Piece(key=f"{w}x{h} {n}", w=w + n, h=h, copies=1 + n, fallouts=(Rect(w - 10, h - 10),))
        for n in range(2)
        for w, h in _SIZES
    )
    for oriented in (False, True):
        plan_boards(Problem(pieces=pieces, stock=_STOCK, fallout_cost=23, oriented=oriented), Budget(steps=60))


if __name__ == "__main__":
    warm()
