"""A board problem seen on a coarser grid, where sweeps are quick: for patterns rounded up, for bounds rounded down.

A layout of pieces that are rounded up fits in truth. What fits in truth fits with pieces rounded down: cuts add sides
or compare them, and the sum of two whole parts is never more than the whole part of the sum.
"""

from __future__ import annotations

from dataclasses import replace

from fourply.planning.grid import Grid


def coarser(grid: Grid, unit: int, *, up: bool) -> Grid:
    """Return the grid problem with sides in so many units; pieces rounded up or down, boards always down."""
    more = unit - 1 if up else 0
    items = [replace(i, w=(i.w + more) // unit, h=(i.h + more) // unit) for i in grid.items]
    stock = [replace(k, w=k.w // unit, h=k.h // unit, roof=(k.roof[0] // unit, k.roof[1] // unit)) for k in grid.stock]
    return replace(grid, items=items, stock=stock)


def unit_for(grid: Grid, points: int, *, up: bool) -> int:
    """Return the unit near which the longest board has so many points, of those about it the one that loses least."""
    longest = max(max(k.roof) for k in grid.stock)
    least = min(min(i.w, i.h) for i in grid.items)
    fair = max(1, min(longest // points, least // 2))
    return min(range(max(1, 4 * fair // 5), fair + 1), key=lambda unit: (_loss(grid, unit, up=up), -unit))


def _loss(grid: Grid, unit: int, *, up: bool) -> float:
    """Return how much of the sides of pieces and dear boards is lost to rounding, as a part of each."""
    sides = [side for item in grid.items for side in (item.w, item.h)]
    dearest = max(kind.cost for kind in grid.stock)
    boards = [side for kind in grid.stock if 2 * kind.cost > dearest for side in (kind.w, kind.h)]
    own = sum(((-side % unit) if up else side % unit) / side for side in sides) / len(sides)
    return own + (sum(side % unit / side for side in boards) / len(boards) if up else 0.0)
