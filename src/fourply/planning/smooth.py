"""Prices for a job of thousands of sizes, and what they prove: smooth over the sizes, so that few numbers say them all.

A job of ten thousand pieces has thousands of sizes and no linear programme with a row for each is solved while somebody
waits. Here the price of a piece is read between the knots of a coarse net over width and height, the rent of an offcut
likewise. Knots are few, so the programme is small; patterns may repeat a piece, so one sweep without bookkeeping prices
them all. Whatever the prices, the bound recounted from them holds for the whole job.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import highspy
import numpy as np
from numpy.typing import NDArray

from fourply.planning.grid import Grid
from fourply.planning.lagrange import lagrange
from fourply.planning.master import bare_model, row_limits
from fourply.planning.pace import Pace
from fourply.planning.patterns import Column
from fourply.planning.pricing import Pricer
from fourply.planning.tables import Packing

Floats = NDArray[np.float64]

NETS = (6, 9, 13)
_MOST_ROUNDS = 40
_EACH = 100
_CUTS = 20
_NEVER = 1e18
_OLD = 0.3
_CLOSE = 0.001
_CAP = 1.5
_UNCUT = 1e-6


@dataclass(slots=True)
class Prices:
    """The best prices so far, the bound they prove (without what is sunk), and what each kind of stock is worth."""

    values: Floats
    bound: float
    worth: Floats


def net(widths: Floats, heights: Floats, counts: Floats, knots: int) -> Floats:
    """Return the weight of each knot of a net at each size, a row for each size; each row sums to 1.

    Knots stand where sizes are many, `knots` of them along each side; those that no size touches are left out.

    >>> net(np.array([1.0, 2.0, 3.0]), np.array([5.0, 5.0, 5.0]), np.ones(3), 2).sum(axis=1).tolist()
    [1.0, 1.0, 1.0]
    """
    across, up = (_hats(side, _knots(side, counts, knots)) for side in (widths, heights))
    weights = (across[:, :, None] * up[:, None, :]).reshape(len(widths), -1)
    return np.asarray(weights[:, weights.sum(axis=0) > 0])


def _knots(side: Floats, counts: Floats, knots: int) -> Floats:
    order = np.argsort(side, kind="stable")
    share = np.cumsum(counts[order]) / counts.sum()
    at = np.searchsorted(share, np.linspace(0.0, 1.0, knots)).clip(0, len(side) - 1)
    found = np.unique(np.concatenate([side[order][at], [side.min(), side.max()]]))
    return found if len(found) > 1 else np.array([found[0], found[0] + 1.0])


def _hats(values: Floats, knots: Floats) -> Floats:
    low = np.clip(np.searchsorted(knots, values, side="right") - 1, 0, len(knots) - 2)
    part = (values - knots[low]) / (knots[low + 1] - knots[low])
    weights = np.zeros((len(values), len(knots)))
    rows = np.arange(len(values))
    weights[rows, low] = 1.0 - part
    weights[rows, low + 1] += part
    return weights


@dataclass(slots=True)
class Pricing:
    """Column generation over smooth prices on one grid problem."""

    grid: Grid
    pace: Pace
    pricer: Pricer = field(init=False)
    best: Prices = field(init=False)
    columns: dict[tuple[int, tuple[tuple[int, int], ...]], Column] = field(init=False, default_factory=dict)
    costs: Floats = field(init=False)
    tops: Floats = field(init=False)
    wants: list[int] = field(init=False)

    def __post_init__(self) -> None:
        self.pricer = Pricer(self.grid)
        # Patterns may repeat a piece: a packing in which nothing collides.
        none, word = np.zeros(len(self.grid.items), np.int64), np.zeros(1, np.uint64)
        self.pricer.tables = replace(self.pricer.tables, packing=Packing(none, none, word, word, word))
        self.wants = [item.want for item in self.grid.items]
        self.costs = np.array([kind.cost for kind in self.grid.stock], float)
        self.tops = np.array([row_limits(self.grid)[kind.row][1] for kind in self.grid.stock])
        areas = np.array([item.w * item.h for item in self.grid.items], float)
        sheets = [kind for kind, top in zip(self.grid.stock, self.tops, strict=True) if top == np.inf]
        rate = min((kind.cost / (kind.roof[0] * kind.roof[1]) for kind in sheets or self.grid.stock), default=0.0)
        self.best = self._proved(areas * rate)

    def _proved(self, values: Floats) -> Prices:
        worth = self.pricer.worth(self.pricer.ceilings(values))
        bound = lagrange(self.grid.stock, row_limits(self.grid), self.wants, values, worth)
        free = self.tops == np.inf
        scale = float(np.min(self.costs[free] / np.maximum(worth[free], 1e-9), initial=1.0))
        return Prices(values * scale, bound, worth * scale)

    def run(self, knots: int) -> bool:
        """Improve the prices on a net of so many knots a side; return whether the budget allowed it to end."""
        master = _Coarse(self, knots)
        master.add(list(self.columns.values()))
        values, rents = self.best.values, np.zeros(len(self.costs))
        near = 0
        for round_ in range(_MOST_ROUNDS):
            new = self._patterns(values, rents)
            proved = self._proved(values)
            if proved.bound > self.best.bound:
                self.best = proved
            master.add(new)
            cost, values, rents = master.solve()
            near = near + 1 if cost <= self.best.bound * (1 + _CLOSE) else 0
            if not self.pace.spend():
                return False
            if not new or near > 1:
                if not master.short:
                    break
                master.raise_caps()
            if round_ > 2:
                values = (1 - _OLD) * values + _OLD * self.best.values
        return True

    def _patterns(self, values: Floats, rents: Floats) -> list[Column]:
        """Return new patterns that pay: on sheets many, on offcuts and fallouts those that pay most."""
        sweep = self.pricer.sweep(values)
        asked, free = self.costs - rents, self.tops == np.inf
        sheets = np.where(free, asked, _NEVER)
        found = self.pricer.harvest(sweep, sheets, _CUTS) + self.pricer.around_each(sweep, values, sheets, _EACH)
        gain = np.where(free, 0.0, self.pricer.reached(sweep) - asked)
        most = np.argsort(-gain, kind="stable")[:_EACH]
        few = np.full(len(asked), _NEVER)
        few[most] = asked[most]
        fresh = {one.name: one for one in found + self.pricer.harvest(sweep, few) if one.name not in self.columns}
        self.columns.update(fresh)
        return list(fresh.values())


class _Coarse:
    """The linear programme with a row for each knot: of the pieces (cover) and of the limited stock (not exceed)."""

    def __init__(self, of: Pricing, knots: int) -> None:
        items, stock = of.grid.items, of.grid.stock
        self.weights = _net_of([(i.w, i.h) for i in items], np.array(of.wants, float), knots)
        self.limited = np.flatnonzero(of.tops < np.inf)
        self.count = len(stock)
        sizes = [(stock[at].w, stock[at].h) for at in self.limited]
        self.rooms = _net_of(sizes, of.tops[self.limited], max(4, knots * 2 // 3)) if sizes else np.zeros((0, 0))
        self.place = {int(kind): at for at, kind in enumerate(self.limited)}
        self.model = bare_model()
        empty = (0, np.zeros(0, np.int32), np.zeros(0))
        for need in self.weights.T @ np.array(of.wants, float):
            self.model.addRow(float(need), highspy.kHighsInf, *empty)
        for most in self.rooms.T @ of.tops[self.limited]:
            self.model.addRow(-highspy.kHighsInf, float(most), *empty)
        self.pieces = self.weights.shape[1]
        # Prices may not exceed a cap at first: without it they leap about until there are patterns for every knot.
        mass = self.weights * np.array(of.wants, float)[:, None]
        self.caps = _CAP * (mass.T @ of.best.values) / mass.sum(axis=0) + 1.0
        for row in range(self.pieces):
            self.model.addCol(float(self.caps[row]), 0.0, highspy.kHighsInf, 1, np.array([row], np.int32), np.ones(1))
        self.short = False

    def add(self, columns: Sequence[Column]) -> None:
        """Take these patterns in."""
        for one in columns:
            share = np.zeros(self.pieces + self.rooms.shape[1])
            for item, n in one.counts:
                share[: self.pieces] += n * self.weights[item]
            if one.kind in self.place:
                share[self.pieces :] = self.rooms[self.place[one.kind]]
            rows = np.flatnonzero(share)
            self.model.addCol(float(one.cost), 0.0, highspy.kHighsInf, len(rows), rows.astype(np.int32), share[rows])

    def raise_caps(self) -> None:
        """Let prices rise further: there are knots whose pieces no pattern cuts at the present caps."""
        self.caps *= 2
        for row, cap in enumerate(self.caps):
            self.model.changeColCost(row, float(cap))

    def solve(self) -> tuple[float, Floats, Floats]:
        """Return the cost, the price of each kind of piece, and the rent of each kind of stock (not above 0)."""
        self.model.run()
        answer = self.model.getSolution()
        dual = np.array(answer.row_dual)
        self.short = sum(answer.col_value[: self.pieces]) > _UNCUT
        values = self.weights @ np.maximum(dual[: self.pieces], 0.0)
        rents = np.zeros(self.count)
        rents[self.limited] = self.rooms @ np.minimum(dual[self.pieces :], 0.0)
        return float(self.model.getInfo().objective_function_value), values, rents


def _net_of(sizes: Sequence[tuple[int, int]], counts: Floats, knots: int) -> Floats:
    sides = np.array(sizes, float)
    return net(sides[:, 0], sides[:, 1], counts, knots)
