"""Exact pricing: the dearest pattern of a kind of stock, or all that are worth more than a threshold.

Used when the quick sweep finds nothing more that pays; what it proves makes the lower bound.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fourply.planning import blockloop
from fourply.planning.grid import Grid
from fourply.planning.patterns import CUT_X, CUT_Y, Column, Tree, column
from fourply.planning.tables import Tables

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Found:
    """All patterns above a threshold on one kind of stock, dearest first; the most that any pattern is worth.

    `complete` is False where the cap was met: then `most` is only the ceiling given.
    """

    columns: list[Column]
    most: float
    complete: bool


@dataclass(frozen=True, slots=True)
class Cap:
    """How many blocks may be built for one kind of stock, and how many columns are wanted of them."""

    blocks: int
    columns: int = 400


class Blocks:
    """Block building on one grid problem."""

    def __init__(self, grid: Grid, tables: Tables) -> None:
        self.grid = grid
        self.tables = tables
        x, y = tables.x.points, tables.y.points
        longest = int(max(x[-1], y[-1], tables.stock.max())) + 1
        lengths = np.arange(longest + 1)
        self._floors = (
            np.searchsorted(x, lengths, side="right").astype(np.int64) - 1,
            np.searchsorted(y, lengths, side="right").astype(np.int64) - 1,
        )
        p = tables.packing
        self._packing = (p.single, p.bias, p.guard)
        self._starts: list[tuple[int, int]] = []
        sizes, masks = [], []
        for kind, item in enumerate(grid.items):
            packed = np.zeros(p.words, np.uint64)
            packed[p.word[kind]] = np.uint64(1) << np.uint64(p.shift[kind])
            for turned in (0, 1) if item.turns else (0,):
                self._starts.append((kind, turned))
                sizes.append((item.h, item.w) if turned else (item.w, item.h))
                masks.append(packed)
        self._sizes = np.array(sizes, np.int64)
        self._masks = np.array(masks, np.uint64)
        self._kinds = np.array([kind for kind, _ in self._starts])

    def above(self, kind: int, values: Floats, ceilings: Floats, threshold: float, cap: Cap) -> Found:
        """Return every pattern worth more than the threshold on this kind of stock.

        `ceilings` is a table of upper bounds for every box at the same values.
        """
        stock, t = self.grid.stock[kind], self.tables
        wide, high = stock.roof
        i, j = t.x.floor(wide), t.y.floor(high)
        ceiling = float(ceilings[i, j])
        if ceiling <= threshold:
            return Found([], ceiling, complete=True)
        spot = np.array([i, j, wide, high], np.int64)
        more = blockloop.around((t.x.points, t.y.points), self._floors, ceilings, spot)
        worth = values[self._kinds]
        use = np.argsort(-worth, kind="stable")
        use = use[worth[use] > 0]
        starts = (self._sizes[use], worth[use], self._masks[use])
        reach, board = (more, *self._floors), (wide, high, threshold)
        count, value, join = blockloop.grow(starts, self._packing, reach, board, cap.blocks)
        complete, count = count <= cap.blocks, min(count, cap.blocks)
        paying = np.flatnonzero(value[:count] > threshold)
        paying = paying[np.argsort(-value[paying], kind="stable")]
        columns = [column(self.grid, kind, self._tree(int(at), join, use)) for at in paying[: cap.columns]]
        most = max(threshold, float(value[paying[0]]) if len(paying) else threshold)
        return Found(columns, most if complete else ceiling, complete)

    def _tree(self, at: int, join: NDArray[np.int64], use: NDArray[np.int64]) -> Tree:
        out: list[int] = []
        stack = [at]
        while stack:
            first, second, way = join[stack.pop()]
            if second < 0:
                kind, turned = self._starts[int(use[first])]
                out.append(2 * kind + turned)
                continue
            out.append(CUT_Y if way else CUT_X)
            stack += [int(second), int(first)]
        return tuple(out)
