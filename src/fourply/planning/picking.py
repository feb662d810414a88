"""A plan for thousands of pieces at once: with good prices known, patterns that waste nearly nothing are taken first.

What a pattern wastes is what its board is worth less what its pieces are worth. Each round one sweep finds hundreds of
patterns; those that waste least and want no piece twice are taken. As good ones run out more waste is allowed, on
offcuts and fallouts much sooner than on sheets: one that is left over is lost as a whole.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from fourply.planning.grid import Grid
from fourply.planning.narrow import Choice, narrowed
from fourply.planning.pace import Pace
from fourply.planning.patterns import Accept, Column, column
from fourply.planning.pricing import Pricer
from fourply.planning.smooth import Prices

Floats = NDArray[np.float64]
Accepting = Callable[[Grid], Accept | None]
"""Gives the test that patterns on a grid must pass, None where every pattern can be cut."""

_START = 0.003
_WIDER = 1.3
_SCRAPS = 30.0
_MOST_SCRAP = 0.95
_FEW = 0.004
_SHARE = 0.2
_CUTS = 20
_NEVER = 1e18
_CARRIED = 0.15


@dataclass(slots=True)
class Picker:
    """What is still to be cut, what stock there is, and what has been taken, in the order of taking."""

    grid: Grid
    prices: Prices
    pace: Pace
    accepting: Accepting
    left: list[int] = field(init=False)
    room: list[int | None] = field(init=False)
    taken: Choice = field(init=False, default_factory=list)

    def __post_init__(self) -> None:
        self.left = [item.want for item in self.grid.items]
        self.room = list(self.grid.limits)

    def run(self, size: int) -> Choice | None:
        """Return patterns that cut all, found `size` pieces at a time; None where the stock or the time ends first."""
        parts = max(1, round(sum(self.left) / size))
        pieces = [item for item, n in enumerate(self.left) for _ in range(n)]
        boards = [row for row, n in enumerate(self.room) for _ in range(n or 0)]
        left, room = [0] * len(self.left), [None if n is None else 0 for n in self.room]
        for at in range(parts):
            for item in pieces[at::parts]:
                left[item] += 1
            for row in boards[at::parts]:
                room[row] = (room[row] or 0) + 1
            last = at == parts - 1
            if not self._part(left, room, 0 if last else int(_CARRIED * len(pieces) / parts)):
                return None
        return self.taken

    def _part(self, left: list[int], room: list[int | None], stop: int) -> bool:
        """Take patterns until so few pieces are left; both lists are counted down."""
        narrow = narrowed(self.grid, left, room)
        values, worth = self.prices.values[narrow.items], self.prices.worth[narrow.kinds]
        part = _Part(narrow.grid, values, worth, self.accepting(narrow.grid))
        wide = _START
        while sum(part.left) > stop:
            if not self.pace.spend():
                return False
            before = sum(part.left)
            count = part.round(wide)
            if count < max(2, int(_FEW * before)):
                if wide > 1:
                    part.singles()
                    break
                wide *= _WIDER
        for one, n in narrow.outside(part.taken):
            self.taken.append((one, n))
            for item, each in one.counts:
                left[item] -= each * n
            known = room[one.row]
            room[one.row] = None if known is None else known - n
        return sum(left) <= stop


@dataclass(slots=True)
class _Part:
    """So many pieces as one sweep can hold."""

    grid: Grid
    values: Floats
    known: Floats
    accept: Accept | None
    taken: Choice = field(init=False, default_factory=list)
    pricer: Pricer = field(init=False)
    worth: Floats = field(init=False)
    free: NDArray[np.bool_] = field(init=False)
    left: list[int] = field(init=False)
    room: list[int | None] = field(init=False)

    def __post_init__(self) -> None:
        self.pricer = Pricer(self.grid)
        self.left = [item.want for item in self.grid.items]
        self.room = list(self.grid.limits)
        self.free = np.array([self.grid.limits[kind.row] is None for kind in self.grid.stock])
        costs = np.array([kind.cost for kind in self.grid.stock], float)
        self.worth = np.where(self.free, costs, np.maximum(costs, self.known))

    def round(self, wide: float) -> int:
        """Take what one sweep finds that wastes no more than this part of its board; return how many patterns."""
        allowed = np.where(self.free, wide, np.minimum(_MOST_SCRAP, wide * _SCRAPS))
        there = np.array([self.room[kind.row] != 0 for kind in self.grid.stock])
        asked = np.where(there, self.worth * (1 - np.minimum(allowed, _MOST_SCRAP)), _NEVER)
        now = np.where(np.array(self.left) > 0, self.values, 0.0)
        sweep = self.pricer.sweep(now)
        found = self.pricer.harvest(sweep, asked, _CUTS)
        found += self.pricer.around_each(sweep, now, asked, len(self.left))
        ranked = sorted({one.name: (self._waste(one), at, one) for at, one in enumerate(found)}.values())
        most, count = max(3, int(_SHARE * sum(self.left))), 0
        for waste, _, one in ranked:
            if waste > wide or count >= most:
                break
            count += self._take(one)
        return count

    def _waste(self, one: Column) -> float:
        """Return which part of its board's worth a pattern wastes, that of scraps counted low."""
        worth = float(self.worth[one.kind])
        wasted = 1 - sum(float(self.values[item]) * n for item, n in one.counts) / max(worth, 1e-9)
        return wasted if self.free[one.kind] else wasted / _SCRAPS

    def _take(self, one: Column) -> bool:
        room = self.room[one.row]
        if room == 0 or any(self.left[item] < n for item, n in one.counts):
            return False
        kept = one if self.accept is None else self.accept(one)
        if kept is None:
            return False
        for item, n in one.counts:
            self.left[item] -= n
        self.room[one.row] = None if room is None else room - 1
        self.taken.append((kept, 1))
        return True

    def singles(self) -> None:
        """Cut what is still left one by one, each from the cheapest board without limit that holds it."""
        for item in range(len(self.left)):
            while self.left[item]:
                offers = sorted(lone(self.grid, item), key=lambda one: one.cost)
                if not any(self._take(one) for one in offers):
                    break


def lone(grid: Grid, item: int) -> Iterator[Column]:
    """Yield the patterns of one piece alone, on every kind of stock that holds it."""
    w, h = grid.items[item].w, grid.items[item].h
    for kind, stock in enumerate(grid.stock):
        for turned, (a, b) in enumerate(((w, h), (h, w))[: 2 if grid.items[item].turns else 1]):
            if a <= stock.w and b <= stock.h:
                yield column(grid, kind, (2 * item + turned,))
