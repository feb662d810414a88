"""Which patterns would pay at the present prices of the pieces: one sweep over all boxes prices every kind of stock.

On a fine grid with a large board a sweep is slow; then coarser grids are asked first.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fourply.planning import kernels
from fourply.planning.coarse import coarser, unit_for
from fourply.planning.grid import Grid
from fourply.planning.pace import Pace
from fourply.planning.patterns import CUT_X, CUT_Y, Column, Tree, column
from fourply.planning.tables import Axis, Tables, sums_of, tables_of

Floats = NDArray[np.float64]
_MARGIN = 1e-6
_SIZES = (200, 450)
"""Points along the longest board of the coarser grids."""
_FINEST = 700
"""The most points of a grid that is swept though there are coarser ones."""
_BOUNDED = 240
"""Points along the longest board of the grid of ceilings."""
_CLOSE = 1.4
_SWEPT, _RELAXED = 100_000_000, 100_000_000
"""How many cuts of boxes one step may look at, most of which are ruled out unseen."""


@dataclass(frozen=True, slots=True)
class Sweep:
    """What one sweep found: value, way of filling and packed pattern of every box."""

    best: Floats
    how: NDArray[np.int32]
    mask: NDArray[np.uint64]


class Pricer:
    """Prices patterns of one grid problem."""

    def __init__(self, grid: Grid, pace: Pace | None = None, *, every: bool = False) -> None:
        self.grid = grid
        self.pace = pace
        self.tables: Tables = tables_of(grid, every=every)
        t = self.tables
        self.x, self.y, self._across = t.cuts
        self._axes = _arrays(self.x, self.y)
        self._every = _arrays(t.x, t.y)
        self._rests = (self.x.rest.ravel(), self.y.rest.ravel())
        self._cells = [(self.x.floor(k.w), self.y.floor(k.h)) for k in grid.stock]
        self._corners = [(t.x.floor(k.roof[0]), t.y.floor(k.roof[1])) for k in grid.stock]
        self._floors = (_floors(self.x, grid), _floors(self.y, grid))
        self._base = 2 * len(grid.items)

    def sweep(self, values: Floats) -> Sweep:
        """Return real patterns for every box, as good as joining the best of smaller boxes makes them."""
        t, p = self.tables, self.tables.packing
        order = np.argsort(-values, kind="stable")[: int((values > 0).sum())]
        pieces = (t.sides, t.turns, values, p.word, p.shift)
        packs, symmetric = (p.single, p.bias, p.guard), int(t.symmetric)
        n, m = len(self.x.points), len(self.y.points)
        table, marks = kernels.table_for(n, m, p.words, symmetric), kernels.marks_for(n, m, symmetric)
        for rows in self._parts(self._across, (n, m), _SWEPT):
            kernels.fill(self._axes, order, pieces, packs, (self._across, symmetric, *rows), table, marks)
        return Sweep(table[0], table[2], table[3])

    def _parts(self, last: int, shape: tuple[int, int], most: int) -> Iterator[tuple[int, int]]:
        """Yield the rows of a table in parts of like work; raises Spent where the budget ends between two of them.

        The work of a row is the sum over its boxes of the cuts that one of them may have.
        """
        n, m = shape
        each = max(1, most // (m * (n + m)))
        for start in range(1, last + 1, each):
            if start > 1 and self.pace is not None:
                self.pace.work()
            yield start, start + each

    def ceilings(self, values: Floats) -> Floats:
        """Return for every box a value that no pattern exceeds."""
        t = self.tables
        order = np.argsort(-values, kind="stable")[: int((values > 0).sum())]
        pieces = (t.sides, t.turns, values, t.packing.word, t.packing.shift)
        n, m, symmetric = len(t.x.points), len(t.y.points), int(t.symmetric)
        best = np.zeros((n, m))
        tables, marks = (best, best if symmetric else np.zeros((m, n))), kernels.marks_for(n, m, symmetric)
        for rows in self._parts(t.across, (n, m), _RELAXED):
            kernels.relax(self._every, order, pieces, (t.across, symmetric, *rows), tables, marks)
        return best

    def worth(self, table: Floats) -> Floats:
        """Return for each kind of stock its value in a table of ceilings."""
        return np.array([table[corner] for corner in self._corners])

    def reached(self, sweep: Sweep) -> Floats:
        """Return for each kind of stock the value of the pattern that the sweep found for it."""
        return np.array([sweep.best[cell] for cell in self._cells])

    def harvest(self, sweep: Sweep, prices: Floats, more: int = 0) -> list[Column]:
        """Return a column for every kind of stock whose pattern is worth more than its price, best first.

        `more` further columns come from each kind's other first cuts where that kind has no limit.
        """
        found = []
        for kind, cell in enumerate(self._cells):
            if sweep.best[cell] <= prices[kind] + _MARGIN:
                continue
            tree = self._trace(sweep, cell)
            if tree is not None:
                found.append(column(self.grid, kind, tree))
            if more and self.grid.limits[self.grid.stock[kind].row] is None:
                found.extend(self._other_cuts(sweep, kind, prices[kind], more))
        return found

    def around_each(self, sweep: Sweep, values: Floats, prices: Floats, most: int) -> list[Column]:
        """Return patterns that pay for stock without limit, each built around another piece, best first."""
        found = []
        for kind, stock in enumerate(self.grid.stock):
            if self.grid.limits[stock.row] is not None:
                continue
            t, p = self.tables, self.tables.packing
            pieces = (t.sides, t.turns, values, p.word, p.shift)
            packing = (p.single, p.bias, p.guard)
            top, how = kernels.anchored((sweep.best, sweep.mask), self._floors, pieces, packing, (stock.w, stock.h))
            paying = np.flatnonzero(top > prices[kind] + _MARGIN)
            for item in paying[np.argsort(-top[paying], kind="stable")][:most]:
                tree = self._anchored(sweep, int(item), how[item])
                if tree is not None:
                    found.append(column(self.grid, kind, tree))
        return found

    def _anchored(self, sweep: Sweep, item: int, how: NDArray[np.int64]) -> Tree | None:
        turned, first, beside_i, beside_j, above_i, above_j = (int(n) for n in how)
        beside = self._trace(sweep, (beside_i, beside_j)) if sweep.best[beside_i, beside_j] > 0 else ()
        above = self._trace(sweep, (above_i, above_j)) if sweep.best[above_i, above_j] > 0 else ()
        if beside is None or above is None:
            return None
        piece: Tree = (2 * item + turned,)
        inner, outer = ((CUT_Y, above), (CUT_X, beside)) if first == 0 else ((CUT_X, beside), (CUT_Y, above))
        for cut, part in (inner, outer):
            piece = (cut, *piece, *part) if part else piece
        return piece

    def _trace(self, sweep: Sweep, cell: tuple[int, int]) -> Tree | None:
        out = np.zeros(512, np.int32)
        spot = np.array([*cell, int(self.tables.symmetric)], np.int64)
        end = kernels.trace(sweep.how, self._rests, self._base, spot, out)
        return tuple(out[:end].tolist()) if end > 0 else None

    def _other_cuts(self, sweep: Sweep, kind: int, price: float, more: int) -> list[Column]:
        i, j = self._cells[kind]
        t = self.tables
        spot = np.array([i, j], np.int64)
        values, cuts = kernels.first_cuts(sweep.best, self._rests, (self.x.half, self.y.half), spot)
        found: list[Column] = []
        for at in np.argsort(-values, kind="stable"):
            if values[at] <= price + _MARGIN or len(found) >= more:
                break
            first, second = self._halves((i, j), (int(cuts[at, 0]), int(cuts[at, 1])))
            p = t.packing
            if not kernels.joins(sweep.mask[first], sweep.mask[second], (p.single, p.bias, p.guard)):
                continue
            one, other = self._trace(sweep, first), self._trace(sweep, second)
            if one and other:
                found.append(column(self.grid, kind, (CUT_Y if cuts[at, 0] else CUT_X, *one, *other)))
        return found

    def _halves(self, cell: tuple[int, int], cut: tuple[int, int]) -> tuple[tuple[int, int], tuple[int, int]]:
        i, j = cell
        across_y, at = cut
        if across_y:
            return (i, at), (i, int(self.y.rest[j, at]))
        return (at, j), (int(self.x.rest[i, at]), j)


class Levels:
    """The pricers of one grid problem, the coarsest first, and the one that gives ceilings on units of `unit`."""

    def __init__(self, grid: Grid, pace: Pace) -> None:
        self.pace = pace
        points = max(len(sums) for sums in sums_of(grid))
        units = {unit_for(grid, size, up=True) for size in _SIZES if size * _CLOSE < points} - {1}
        self._grids = [coarser(grid, unit, up=True) for unit in sorted(units, reverse=True)]
        if points <= _FINEST or not units:
            self._grids.append(grid)
        self._made: list[Pricer] = []
        self.unit = unit_for(grid, _BOUNDED, up=False) if points > _BOUNDED * _CLOSE else 1
        lower = coarser(grid, self.unit, up=False)
        self.ceiling = Pricer(lower, pace, every=True) if self.unit > 1 else list(self)[-1]

    def __iter__(self) -> Iterator[Pricer]:
        """Yield the pricers, each made when it is first asked for."""
        for at, grid in enumerate(self._grids):
            if at == len(self._made):
                self._made.append(Pricer(grid, self.pace))
            yield self._made[at]


def _arrays(x: Axis, y: Axis) -> kernels.Axes:
    return x.points, x.half, x.rest.ravel(), y.points, y.half, y.rest.ravel()


def _floors(side: Axis, grid: Grid) -> NDArray[np.int64]:
    longest = max(max(k.roof) for k in grid.stock)
    return np.searchsorted(side.points, np.arange(longest + 1), side="right").astype(np.int64) - 1
