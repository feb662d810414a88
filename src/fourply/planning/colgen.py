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

from fourply.planning.blocks import Blocks, Cap, Found, Reach
from fourply.planning.grid import Grid
from fourply.planning.lagrange import lagrange, within
from fourply.planning.master import Effort, Limits, Master, Relaxed, Whole, choose, row_limits
from fourply.planning.pace import Pace
from fourply.planning.patterns import Accept, Column, Pool, column
from fourply.planning.pricing import Levels, Pricer
from fourply.planning.strips import Strips, sides_of, strips_of, suits

Floats = NDArray[np.float64]

MARGIN = 1e-6
_FEW, _MANY = 1500, 20_000
_TRIES = ((1.0, _FEW), (0.98, _FEW), (1.0, _MANY), (0.995, _MANY), (0.98, _MANY), (0.95, _MANY), (0.9, _MANY))
"""Scale of the prices, and how many blocks may be built: what is cheap comes first, since it may prove enough."""

_SPARE = 1 - 1e-4
"""What a linear programme may lose to rounding where its prices are scaled so that they just prove enough."""

_NODES = 100
"""How many nodes of an integer programme count as a step."""

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
        left, steps = self.pace.left, self.pace.steps_left
        if steps is not None:
            nodes = min(nodes, _NODES * max(1, steps))
        seconds = None if left is None else min(left, max(0.1, left / 3))
        effort = Effort(nodes, seconds, lambda: self.pace.spend(0))
        self.pace.spend(max(1, nodes // _NODES))
        return choose(columns, wants, limits, below, effort)

    def reach(self, answer: Relaxed) -> Reach:
        """Return what bounds the worth of patterns at these prices."""
        return Reach(answer.prices, self.levels.ceiling.ceilings(answer.prices))


class Exact:
    """Exact pricing at the prices of one answer, scaled down where it is too much at the prices themselves.

    Rents scale with the prices, so a bound of scaled prices is the scaled bound, and a pattern that pays must pay more.
    """

    def __init__(self, shop: Workshop, answer: Relaxed) -> None:
        self.shop = shop
        self.rents = answer.rents[shop.rows]
        self.reach = shop.reach(answer)
        self.ceilings = shop.levels.ceiling.worth(self.reach.ceilings)
        self._settled: dict[tuple[int, float], Found] = {}

    def price(self, scale: float, cap: int) -> tuple[list[Column], Floats, bool]:
        """Return patterns that pay at scaled prices, the most that each kind can be worth, and if all were found."""
        most, asked = self.ceilings * scale, self.shop.costs - scale * self.rents
        found: list[Column] = []
        complete = True
        for kind in np.flatnonzero(most > asked + MARGIN):
            result = self._settled.get((int(kind), scale))
            if result is None:
                threshold = (float(asked[kind]) + MARGIN) / scale
                result = self.shop.blocks.above(int(kind), self.reach, threshold, Cap(cap))
                if result.complete:
                    self._settled[int(kind), scale] = result
            most[kind] = result.most * scale
            found += result.columns
            complete &= result.complete
        return found, most, complete


@dataclass(slots=True)
class Converged:
    """Where column generation ended: the last answer, the proved bound, whether no pattern is left that pays.

    It is `dry` where a sweep finds none; then only exact pricing knows.
    """

    answer: Relaxed
    bound: float
    complete: bool
    dry: bool = False


@dataclass(frozen=True, slots=True)
class Aim:
    """What column generation is for: proving that a plan of this cost is the best, in at most `rounds` where given.

    A bound of `enough` proves it, where the boards add up to no cost between the two. Where it is not `exact` it ends
    when a sweep finds nothing.
    """

    cost: int
    enough: float
    rounds: int | None = None
    exact: bool = True


def generate(shop: Workshop, master: Master, limits: Limits, aim: Aim) -> Converged | None:
    """Add patterns until none pays or the aim is reached; return None where the limits allow nothing."""
    bound = 0.0
    rounds = 0
    while True:
        answer = master.solve()
        if answer is None:
            return None
        rounds += 1
        if not shop.pace.spend() or (aim.rounds is not None and rounds > aim.rounds):
            return Converged(answer, bound, complete=False)
        if shop.quick(master, answer):
            continue
        if not aim.exact:
            return Converged(answer, bound, complete=False, dry=True)
        settled = _confirm(shop, master, limits, answer, aim)
        bound = max(bound, settled.bound)
        if settled.complete or bound >= aim.enough:
            return Converged(answer, bound, settled.complete)


def _confirm(shop: Workshop, master: Master, limits: Limits, answer: Relaxed, aim: Aim) -> Converged:
    """Price exactly; where that is too much at these prices, at slightly lower ones, which prove nearly as much."""
    bound = 0.0
    closer = within(shop.grid.stock, limits, aim.cost)
    exact = Exact(shop, answer)
    tries: tuple[tuple[float, int], ...] = _TRIES
    if answer.cost * _SPARE > aim.enough:
        just = aim.enough / (answer.cost * _SPARE)
        tries = ((just, _FEW), *_TRIES)
    for scale, cap in tries:
        shop.pace.work()
        found, most, complete = exact.price(scale, cap)
        for held in (limits, closer):
            proved = lagrange(shop.grid.stock, held, shop.wants, answer.prices * scale, most)
            bound = max(bound, min(proved, aim.cost))
        new = shop.pool.add(found)
        master.add(new)
        if new or bound >= aim.enough:
            return Converged(answer, bound, complete=False)
        if complete and (scale == 1.0 or cap == _MANY):
            break
    return Converged(answer, bound, complete=True)
