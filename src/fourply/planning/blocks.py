"""Exact pricing: the dearest pattern of a kind of stock, or all that are worth more than a threshold.

Used when the quick sweep finds nothing more that pays; what it proves makes the lower bound. How much can be added to
a block is looked up on a grid that may be coarser, with pieces rounded down; the blocks themselves are exact.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from fourply.planning import blockloop
from fourply.planning.grid import Grid
from fourply.planning.pace import Pace
from fourply.planning.patterns import CUT_X, CUT_Y, Column, Tree, column
from fourply.planning.strips import Strips
from fourply.planning.tables import Tables, fields

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
_PAIRS = 2_000_000
_CELLS = 20_000_000
_RELAID = 600


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


@dataclass(slots=True)
class Reach:
    """Values of the pieces, with a table of upper bounds of every box at these values, and what follows from it.

    Where all values are scaled alike all of it scales too, so a lower threshold does instead.
    """

    values: Floats
    ceilings: Floats
    more: dict[int, Floats] = field(default_factory=dict)


class Blocks:
    """Block building on one grid problem; `tables` are those of the grid of ceilings, `unit` of its units long."""

    def __init__(self, grid: Grid, tables: Tables, unit: int, strips: Strips, pace: Pace) -> None:
        self.grid = grid
        self.tables = tables
        self.unit = unit
        self.strips = strips
        self.pace = pace
        self.least = min(min(i.w, i.h) for i in grid.items)
        x, y = tables.x.points, tables.y.points
        self._rooms = [(k.roof[0] // unit, k.roof[1] // unit) for k in grid.stock]
        lengths = np.arange(max(max(k.roof) for k in grid.stock) + 1)
        self._coarse = _floors(x, lengths // unit), _floors(y, lengths // unit)
        self._floors = _floors(x, lengths), _floors(y, lengths)
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
        self._loose = np.array([3 if strips.loose[kind] else 0 for kind, _ in self._starts], np.int64)
        self._kinds = np.array([kind for kind, _ in self._starts])
        self._areas = np.array([i.w * i.h for i in grid.items], float)
        self._wants = np.array([i.want for i in grid.items], np.int64)
        self._relaid: dict[tuple[int, tuple[tuple[int, int], ...]], Column | None] = {}
        self._fields = fields([i.want for i in grid.items])

    def above(self, kind: int, reach: Reach, threshold: float, cap: Cap) -> Found:
        """Return every pattern on one kind of stock worth more than the threshold; raises Spent."""
        values, ceilings = reach.values, reach.ceilings
        wide, high = self.grid.stock[kind].roof
        i, j = self._coarse[0][wide], self._coarse[1][high]
        ceiling, rest = float(ceilings[i, j]), self._rest(values)
        none = np.zeros(len(self._packing[0]), np.uint64)
        if ceiling <= threshold or not blockloop.enough(none, none, rest, float(wide * high), threshold):
            return Found([], min(ceiling, threshold), complete=True)
        worth = values[self._kinds]
        use = np.argsort(-worth, kind="stable")
        use = use[worth[use] > 0]
        starts = (self._sizes[use], worth[use], self._masks[use], self._loose[use])
        if kind not in reach.more:
            reach.more[kind] = self._around(ceilings, (int(i), int(j)), self._rooms[kind])
        tables = (reach.more[kind], *self._coarse)
        board = (wide, high, threshold, self.strips.least, self.least)
        heap = self._heap(cap.blocks)
        at, count = 0, blockloop.start(heap, starts, tables, board)
        while at < count <= cap.blocks:
            at, count = blockloop.grow(heap, self._packing, tables, board, rest, (at, count, _PAIRS))
            self.pace.work()
        complete, count = count <= cap.blocks, min(count, cap.blocks)
        value = heap[1]
        paying = np.flatnonzero(blockloop.paying(heap, count, board))
        paying = paying[np.argsort(-value[paying], kind="stable")]
        columns = [column(self.grid, kind, self._tree(int(at), heap[3], use)) for at in paying[: cap.columns]]
        most = max(threshold, float(value[paying[0]]) if len(paying) else threshold)
        return Found(columns, most if complete else min(ceiling, _by_area(rest, float(wide * high))), complete)

    def relaid(self, one: Column) -> Column | None:
        """Return another layout of the same pieces that leaves no strip too narrow, None where there is none."""
        if one.name not in self._relaid:
            self._relaid[one.name] = self._searched(one)
        return self._relaid[one.name]

    def _searched(self, one: Column) -> Column | None:
        counts = dict(one.counts)
        use = np.array([at for at, (kind, _) in enumerate(self._starts) if kind in counts], np.int64)
        starts = (self._sizes[use], np.ones(len(use)), self._masks[use], self._loose[use])
        wide, high = self.grid.stock[one.kind].roof
        board = (wide, high, 0.0, self.strips.least, self.least)
        lengths = np.arange(max(wide, high) + 1)
        reach = (np.ones((1, 1)), 0 * lengths, 0 * lengths)
        heap, rest = self._heap(_RELAID), self._rest(np.zeros(len(self._areas)))
        at, count = 0, blockloop.start(heap, starts, reach, board)
        while at < count <= _RELAID:
            at, count = blockloop.grow(heap, self._packing, reach, board, rest, (at, count, _PAIRS))
        wanted = np.zeros(len(self._packing[0]), np.uint64)
        for kind, n in one.counts:
            wanted += self._masks[self._kinds == kind][0] * np.uint64(n)
        count = min(count, _RELAID)
        same = (heap[2][:count] == wanted).all(axis=1) & blockloop.paying(heap, count, board)
        found = np.flatnonzero(same)
        return column(self.grid, one.kind, self._tree(int(found[0]), heap[3], use)) if len(found) else None

    def _rest(self, values: Floats) -> blockloop.Rest:
        """Return the kinds of pieces by their value for their area."""
        order = np.argsort(-values / self._areas, kind="stable")
        order = order[values[order] > 0]
        p = self.tables.packing
        return (
            self._areas[order],
            values[order],
            self._wants[order],
            p.word[order],
            p.shift[order],
            self._fields[order],
        )

    def _heap(self, cap: int) -> blockloop.Heap:
        words = len(self._packing[0])
        box, join = np.zeros((cap, 2), np.int64), np.zeros((cap, 3), np.int64)
        following, first = np.full(cap, -1, np.int64), np.full(2 * cap + 1, -1, np.int64)
        lots = np.full(cap // blockloop.LOT + 1, 1 << 62, np.int64)
        masks, loose = np.zeros((cap, words), np.uint64), np.zeros(cap, np.int64)
        return box, np.zeros(cap), masks, join, following, first, loose, lots

    def _around(self, ceilings: Floats, corner: tuple[int, int], room: tuple[int, int]) -> Floats:
        """Return what can be added to blocks on a board, a part of the table at a time."""
        x, y = self.tables.x.points, self.tables.y.points
        right, top = corner
        steps, more = blockloop.steps_of(ceilings, right, top), np.zeros((right + 1, top + 1))
        each = max(1, _CELLS // ((top + 1) * (right + top + 2)))
        for row in range(right, -1, -each):
            if row < right:
                self.pace.work()
            spot = np.array([right, top, *room, row, max(0, row - each + 1)], np.int64)
            blockloop.around((x, y), self._floors, ceilings, spot, steps, more)
        return more

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


def _floors(points: Ints, lengths: Ints) -> Ints:
    """Return for each length the index of the last point that is not beyond it."""
    return np.searchsorted(points, lengths, side="right").astype(np.int64) - 1


def _by_area(rest: blockloop.Rest, room: float) -> float:
    """Return what pieces can be worth that take up no more than the room, the last of them in part."""
    area, value, wants = rest[:3]
    taken = np.minimum(np.cumsum(area * wants), room)
    return float((np.diff(taken, prepend=0.0) * value / area).sum()) * (1 + 1e-12)
