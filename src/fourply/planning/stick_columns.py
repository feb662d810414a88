"""Sticks to proved optimality: patterns priced by exact knapsacks, a linear programme, and whole numbers from it.

The knapsack runs over every grid length at once, so one serves all kinds of stick. A damaged stick is filled span by
span; for the bound its spans count as if each could have every rail.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fourply.planning.lagrange import lagrange, rounded
from fourply.planning.master import Effort, Limits, Master, Relaxed, choose
from fourply.planning.pace import Pace
from fourply.planning.patterns import Column, Pool
from fourply.planning.stick_counts import Row, count_bound
from fourply.planning.stick_every import Fillings, TooMany
from fourply.planning.stick_units import Cut, Job, cost_of

_EPS = 1e-6
_AGAIN = 5
_NODES = 2000
_TRIES, _MOST = 200_000, 4000
"""How many fillings are tried, and how many are chosen among, to prove a plan; what is beyond that stays open."""


@dataclass(frozen=True, slots=True)
class _Offer:
    cost: int
    row: int


class Knapsack:
    """The best use of every length up to the longest, each unit at most as often as it is wanted."""

    def __init__(self, lengths: Sequence[int], longest: int) -> None:
        self.lengths = lengths
        self.longest = longest

    def solve(self, values: NDArray[np.float64], copies: Sequence[int]) -> None:
        """Fill the tables for these values and copies."""
        self._lots: list[tuple[int, int]] = []
        for unit, (length, most) in enumerate(zip(self.lengths, copies, strict=True)):
            left, lot = min(most, self.longest // length) if values[unit] > _EPS else 0, 1
            while left:
                taken = min(lot, left)
                self._lots.append((unit, taken))
                left, lot = left - taken, lot * 2
        best = np.zeros(self.longest + 1)
        self._took = np.zeros((len(self._lots), self.longest + 1), np.bool_)
        for at, (unit, taken) in enumerate(self._lots):
            length = self.lengths[unit] * taken
            if length <= self.longest:
                with_it = best[: self.longest + 1 - length] + values[unit] * taken
                better = with_it > best[length:] + 1e-12
                self._took[at, length:] = better
                best[length:][better] = with_it[better]
        self.best = best

    def units(self, room: int) -> list[int]:
        """Return the units of the best use of this length."""
        taken: list[int] = []
        for at in range(len(self._lots) - 1, -1, -1):
            if self._took[at, room]:
                unit, times = self._lots[at]
                taken += [unit] * times
                room -= self.lengths[unit] * times
        return taken


class StickSearch:
    """Column generation on one job of sticks; `best` and `bound` are there at any moment."""

    def __init__(self, job: Job, start: list[Cut], bound: int, pace: Pace) -> None:
        self.job = job
        self.best = start
        self.bound = bound
        self.pace = pace
        self.wants = [unit.copies for unit in job.units]
        self.offers = [_Offer(cost, at) for at, cost in enumerate(job.costs)]
        copies = [b.stick.copies for b in job.bins] + [each.copies for each in job.sets]
        self.limits: Limits = [(0.0, np.inf if most is None else float(most)) for most in copies]
        self.step = int(np.gcd.reduce(job.costs)) or 1
        self.knapsack = Knapsack([u.length for u in job.units], max(max(b.spans, default=0) for b in job.bins))
        self.pool = Pool()
        self.fills: dict[tuple[int, tuple[tuple[int, int], ...]], Cut] = {}
        self.master = Master(max(o.cost for o in self.offers), self.wants, self.limits)
        self._add([*start, *(Cut(len(job.bins) + at, (each.units,)) for at, each in enumerate(job.sets))])

    @property
    def cost(self) -> int:
        """The cost of the best plan."""
        return cost_of(self.job, self.best)

    def _add(self, cuts: Sequence[Cut]) -> bool:
        columns = []
        for cut in cuts:
            counts = tuple(sorted(cut.units().items()))
            self.fills.setdefault((cut.bin, counts), cut)
            columns.append(Column(cut.bin, cut.bin, self.offers[cut.bin].cost, counts, ()))
        new = self.pool.add(columns)
        self.master.add(new)
        return bool(new)

    def run(self) -> None:
        """Search until the plan is proved or the budget is spent."""
        answer = self._converge(self.wants, prove=True)
        if answer is None or self.bound >= self.cost:
            return
        self._count(answer)
        if self.bound >= self.cost:
            return
        self._dive()
        self._combine(answer)
        self._prove(answer)

    def _converge(self, wants: Sequence[int], *, prove: bool) -> Relaxed | None:
        """Add patterns until none pays; raise the bound where the whole job is asked for."""
        while True:
            answer = self.master.solve()
            if answer is None or not self.pace.spend():
                return None
            found = self._priced(answer, wants, prove=prove)
            if prove and not self.pace.tell(self.cost, self.bound):
                return None
            if self.bound >= self.cost or not self._add(found):
                return answer

    def _priced(self, answer: Relaxed, wants: Sequence[int], *, prove: bool) -> list[Cut]:
        """Return patterns that pay, several that want different units."""
        found: list[Cut] = []
        values, left = answer.prices.copy(), list(wants)
        for again in range(_AGAIN):
            self.knapsack.solve(values, left)
            if prove and again == 0:
                most = self._most(answer.prices)
                bound = lagrange(self.offers, self.limits, self.wants, answer.prices, most)
                self.bound = max(self.bound, min(self.cost, rounded(self.step, bound)))
            fresh = [cut for at in range(len(self.job.bins)) if (cut := self._paying(at, answer, left)) is not None]
            found += fresh
            for unit in {u for cut in fresh for u in cut.units()}:
                left[unit] = 0
            if not fresh:
                break
        return found

    def _held(self, prices: NDArray[np.float64]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Return the prices lowered until no filling of unlimited sticks is worth more than it costs, and `_most`."""
        self.knapsack.solve(prices, self.wants)
        most = self._most(prices)
        pairs = zip(self.offers, self.limits, most, strict=True)
        share = min((o.cost / worth for o, (_, top), worth in pairs if top == np.inf and worth > o.cost), default=1.0)
        if share == 1.0:
            return prices, most
        lower = prices * (share * (1 - 1e-12))
        self.knapsack.solve(lower, self.wants)
        return lower, self._most(lower)

    def _most(self, prices: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return what one of each kind of stick and of each set can be worth at most."""
        sticks = [sum(float(self.knapsack.best[n]) for n in b.spans) for b in self.job.bins]
        sets = [sum(float(prices[unit]) for unit in each.units) for each in self.job.sets]
        return np.array(sticks + sets)

    def _paying(self, at: int, answer: Relaxed, left: Sequence[int]) -> Cut | None:
        spans = self.job.bins[at].spans
        asked = self.offers[at].cost - float(answer.rents[at])
        if len(spans) == 1:
            cut = Cut(at, (tuple(self.knapsack.units(spans[0])),))
        else:
            cut = self._span_by_span(at, answer, left)
        worth = sum(float(answer.prices[u]) for span in cut.fill for u in span)
        return cut if worth > asked + _EPS else None

    def _span_by_span(self, at: int, answer: Relaxed, left: Sequence[int]) -> Cut:
        spans, rest = self.job.bins[at].spans, list(left)
        fill: list[tuple[int, ...]] = [()] * len(spans)
        for span in sorted(range(len(spans)), key=lambda s: -spans[s]):
            own = Knapsack(self.knapsack.lengths, spans[span])
            own.solve(answer.prices, rest)
            fill[span] = tuple(own.units(spans[span]))
            for unit in fill[span]:
                rest[unit] -= 1
        return Cut(at, tuple(fill))

    def _offer(self, columns: Sequence[tuple[Column, int]]) -> None:
        """Keep a plan if it is cheaper, without what it cuts beyond what is wanted; a set stays whole."""
        left = Counter(dict(enumerate(self.wants)))
        cuts: list[Cut] = []
        for one, times in sorted(columns, key=lambda use: use[0].kind < len(self.job.bins)):
            for _ in range(times):
                cut = self.fills[one.name]
                fill = []
                for span in cut.fill:
                    kept = []
                    for unit in span:
                        if left[unit] > 0:
                            left[unit] -= 1
                            kept.append(unit)
                    fill.append(tuple(kept))
                if any(fill):
                    cuts.append(Cut(cut.bin, tuple(fill)))
        if not +left and cost_of(self.job, cuts) < self.cost:
            self.best = cuts
            self.pace.tell(self.cost, self.bound)

    def _count(self, answer: Relaxed) -> None:
        """Raise the bound by whole numbers of sticks and sets, where there are sets to choose."""
        if not self.job.sets or self.pace.stopped:
            return
        values = [np.array(self.knapsack.lengths, float), answer.prices]
        sticks = len(self.job.bins)
        self.master.limit([*self.limits[:sticks], *((0.0, 0.0) for _ in self.job.sets)])
        alone = self._converge(self.wants, prove=False)
        self.master.limit(self.limits)
        if alone is not None and alone.short <= _EPS:
            values.append(alone.prices)
        rows = []
        for each in values:
            self.knapsack.solve(each, self.wants)
            rows.append(Row([*self._most(each)], float(np.dot(each, self.wants))))
        bound = count_bound(self.job.costs, [top for _, top in self.limits], rows, _NODES)
        self.bound = max(self.bound, min(self.cost, rounded(self.step, bound)))
        self.pace.tell(self.cost, self.bound)

    def _dive(self) -> None:
        """Take what the linear programme uses most, price again for the rest, until all is cut or it cannot pay."""
        left, room = list(self.wants), list(self.limits)
        taken: list[tuple[Column, int]] = []
        spent = 0
        while any(left):
            self.master.demand(left)
            self.master.limit(room)
            answer = self._converge(left, prove=False)
            if answer is None or answer.short > _EPS or spent + answer.cost > self.cost - self.step + 0.5:
                break
            at = int(np.argmax(answer.use))
            one = self.master.columns[at]
            fit = min(left[u] // n for u, n in one.counts if left[u]) if any(left[u] for u, _ in one.counts) else 0
            times = int(min(max(1, int(answer.use[at] + 0.1)), max(fit, 1), room[one.row][1]))
            for unit, n in one.counts:
                left[unit] = max(0, left[unit] - n * times)
            room[one.row] = (0.0, room[one.row][1] - times)
            taken.append((one, times))
            spent += one.cost * times
        if not any(left):
            self._offer(taken)
        self.master.demand(self.wants)
        self.master.limit(self.limits)

    def _combine(self, answer: Relaxed) -> None:
        """Choose whole patterns among those at hand."""
        if self.pace.stopped or self.bound >= self.cost:
            return
        below = self.cost - self.step + 0.5
        worth = [
            sum(float(answer.prices[u]) * n for u, n in c.counts) + float(answer.rents[c.row])
            for c in self.pool.columns
        ]
        order = np.argsort([c.cost - w for c, w in zip(self.pool.columns, worth, strict=True)], kind="stable")
        columns = [self.pool.columns[at] for at in order[:4000]]
        whole = choose(columns, self.wants, self.limits, below, Effort(_NODES, self.pace.left))
        self.pace.spend(_NODES // 100)
        if whole.use is not None:
            self._offer([(one, n) for one, n in zip(columns, whole.use, strict=True) if n])

    def _prove(self, answer: Relaxed) -> None:
        """Choose whole patterns among all that a cheaper plan could use: what is found then, or nothing, is proved."""
        if self.pace.stopped or self.bound >= self.cost or any(len(b.spans) > 1 for b in self.job.bins):
            return
        try:
            columns = self._every(answer)
        except TooMany:
            return
        below = self.cost - self.step + 0.5
        whole = choose(columns, self.wants, self.limits, below, Effort(_NODES, self.pace.left))
        self.pace.spend(_NODES // 100)
        if whole.use is not None:
            self._offer([(one, n) for one, n in zip(columns, whole.use, strict=True) if n])
        if whole.done:
            self.bound = self.cost
        self.pace.tell(self.cost, self.bound)

    def _every(self, answer: Relaxed) -> list[Column]:
        """Return every set, and every filling that a plan cheaper than the best can use; raises TooMany."""
        prices, most = self._held(answer.prices)
        bound = lagrange(self.offers, self.limits, self.wants, prices, most)
        gap = self.cost - self.step - bound + 0.01 + 1e-6 * self.cost
        worth = [float(price) for price in prices]
        fillings = Fillings(self.knapsack.lengths, self.wants, worth, self.knapsack.best, _TRIES, _MOST)
        found = [one for one in self.pool.columns if one.kind >= len(self.job.bins)]
        for at, kind in enumerate(self.job.bins):
            if not kind.spans or not self.limits[at][1]:
                continue
            free = min(0.0, self.offers[at].cost - float(most[at])) if self.limits[at][1] < np.inf else 0.0
            for units in fillings.worth(kind.spans[0], self.offers[at].cost - free - gap):
                cut = Cut(at, (units,))
                counts = tuple(sorted(cut.units().items()))
                self.fills.setdefault((at, counts), cut)
                found.append(Column(at, at, self.offers[at].cost, counts, ()))
        return found
