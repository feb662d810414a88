"""Column generation: patterns that pay are added until none is left, and what that proves.

The quick sweep finds nearly all patterns; exact pricing confirms that there are no more, and gives the prices from
which a bound follows that holds whatever the rounding of the linear programme: prices times wants, less what any kind
of stock could still earn.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from fourply.planning.blocks import Blocks, Cap
from fourply.planning.grid import Grid
from fourply.planning.lagrange import lagrange
from fourply.planning.master import Effort, Limits, Master, Relaxed, Whole, choose, row_limits
from fourply.planning.pace import Pace
from fourply.planning.patterns import Accept, Column, Pool, column
from fourply.planning.pricing import Levels, Pricer
from fourply.planning.strips import Strips, sides_of, strips_of, suits

Floats = NDArray[np.float64]

MARGIN = 1e-6
_SCALES = (1.0, 0.995, 0.98, 0.95, 0.9)

_MORE = 10
_EACH = 40


@dataclass(slots=True)
class Workshop:
    """All that belongs to solving one grid problem: its pricers, its pool, its master."""

    grid: Grid
    pace: Pace
    accept: Accept | None = None
    levels: Levels = field(init=False)
    strips: Strips = field(init=False)
    blocks: Blocks = field(init=False)
    pool: Pool = field(init=False)
    wants: list[int] = field(init=False)
    limits: Limits = field(init=False)
    costs: Floats = field(init=False)
    rows: NDArray[np.int64] = field(init=False)
    cap: int = 20_000

    def __post_init__(self) -> None:
        self.levels = Levels(self.grid, self.pace)
        self.strips = strips_of(self.grid)
        self.blocks = Blocks(self.grid, self.levels.ceiling.tables, self.levels.unit, self.strips, self.pace)
        self.pool = Pool(self.cuttable)
        self.wants = [item.want for item in self.grid.items]
        self.limits = row_limits(self.grid)
        self.costs = np.array([kind.cost for kind in self.grid.stock], float)
        self.rows = np.array([kind.row for kind in self.grid.stock], np.int64)

    @property
    def pricer(self) -> Pricer:
        """The quickest pricer."""
        return next(iter(self.levels))

    def singles(self) -> list[Column]:
        """Return for each kind of piece the cheapest board without limit that holds it alone."""
        found = []
        for at, item in enumerate(self.grid.items):
            offers = [
                (stock.cost, kind, turned)
                for kind, stock in enumerate(self.grid.stock)
                for turned, (w, h) in enumerate(((item.w, item.h), (item.h, item.w))[: 2 if item.turns else 1])
                if self.grid.limits[stock.row] is None and w <= stock.w and h <= stock.h
            ]
            if offers:
                _, kind, turned = min(offers)
                found.append(column(self.grid, kind, (2 * at + turned,)))
        return found

    def asked(self, answer: Relaxed) -> Floats:
        """Return what a pattern on each kind of stock must be worth to pay."""
        return self.costs - answer.rents[self.rows]

    def quick(self, master: Master, answer: Relaxed, more: int = _MORE) -> bool:
        """Add the patterns that one sweep finds to pay, on the coarsest grid on which one does; return if any did."""
        asked = self.asked(answer)
        for pricer in self.levels:
            sweep = pricer.sweep(answer.prices)
            found = pricer.harvest(sweep, asked, more)
            found += pricer.around_each(sweep, answer.prices, asked, _EACH)
            new = self.pool.add(found)
            master.add(new)
            if new:
                return True
        return False

    def cuttable(self, one: Column) -> Column | None:
        """Return the column as the cutter can make it, which may be laid in another way; None where it cannot."""
        if self.accept is not None and not self.strips.exact:
            return self.accept(one)
        if not self.strips.least:
            return one
        kind = self.grid.stock[one.kind]
        across, up = sides_of(self.grid, one.tree, self.strips)
        if suits(across, kind.w, self.strips.least) and suits(up, kind.h, self.strips.least):
            return one
        return self.blocks.relaid(one)

    def reduced(self, columns: Sequence[Column], answer: Relaxed) -> Floats:
        """Return what each column costs beyond what its pieces are worth at these prices."""
        prices, rents = answer.prices.tolist(), answer.rents.tolist()
        return np.array([c.cost - rents[c.row] - sum(prices[i] * n for i, n in c.counts) for c in columns])

    def near(self, columns: Sequence[Column], answer: Relaxed, slack: float) -> list[Column]:
        """Return the columns whose reduced cost is within the slack, best first."""
        reduced = self.reduced(columns, answer)
        order = np.argsort(reduced, kind="stable")
        return [columns[at] for at in order if reduced[at] <= slack + 0.01]

    def combine(
        self, columns: Sequence[Column], wants: Sequence[int], limits: Limits, below: float, nodes: int
    ) -> Whole:
        """Return the cheapest plan in these columns, within so many nodes and a third of the time that is left."""
        left = self.pace.left
        effort = Effort(nodes, None if left is None else min(left, max(0.1, left / 3)))
        self.pace.spend(max(1, nodes // 100))
        return choose(columns, wants, limits, below, effort)

    def exact(self, answer: Relaxed, scale: float = 1.0) -> tuple[list[Column], Floats, bool]:
        """Return patterns that pay at scaled prices, the most that each kind can be worth, and if all were found."""
        prices = answer.prices * scale
        ceilings = self.levels.ceiling.ceilings(prices)
        most = self.levels.ceiling.worth(ceilings)
        asked = self.asked(answer)
        found: list[Column] = []
        complete = True
        for kind in np.flatnonzero(most > asked + MARGIN):
            if self.pace.left == 0.0:
                return found, most, False
            result = self.blocks.above(int(kind), prices, ceilings, float(asked[kind]) + MARGIN, Cap(self.cap))
            most[kind] = result.most
            found += result.columns
            complete &= result.complete
        return found, most, complete


@dataclass(slots=True)
class Converged:
    """Where column generation ended: the last answer, the proved bound, whether no pattern is left that pays."""

    answer: Relaxed
    bound: float
    complete: bool


def generate(
    shop: Workshop, master: Master, limits: Limits, enough: float, pause: int | None = None
) -> Converged | None:
    """Add patterns until none pays, the bound reaches `enough`, or `pause` rounds are over.

    Returns None where the limits allow nothing.
    """
    bound = 0.0
    rounds = 0
    while True:
        answer = master.solve()
        if answer is None:
            return None
        rounds += 1
        if not shop.pace.spend() or (pause is not None and rounds > pause):
            return Converged(answer, bound, complete=False)
        if shop.quick(master, answer):
            continue
        settled = _confirm(shop, master, limits, answer)
        bound = max(bound, settled.bound)
        if settled.complete or bound >= enough:
            return Converged(answer, bound, settled.complete)


def _confirm(shop: Workshop, master: Master, limits: Limits, answer: Relaxed) -> Converged:
    """Price exactly; where that is too much at these prices, at slightly lower ones, which prove nearly as much."""
    bound = 0.0
    for scale in _SCALES:
        shop.pace.spend(2)
        found, most, complete = shop.exact(answer, scale)
        bound = max(bound, lagrange(shop.grid.stock, limits, shop.wants, answer.prices * scale, most))
        new = shop.pool.add(found)
        master.add(new)
        if new:
            return Converged(answer, bound, complete=False)
        if complete or shop.pace.stopped:
            break
    return Converged(answer, bound, complete=True)
