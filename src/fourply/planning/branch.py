"""The search above column generation: how many sheets of each kind.

In the linear programme the fraction of a sheet is most of the gap, so branching on whole numbers of sheets closes it.
At a node whose gap is small all patterns that could still take part are listed, and an integer programme over them
settles the node for good.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from math import ceil, floor

import numpy as np

from fourply.planning.blocks import Cap
from fourply.planning.colgen import Aim, Converged, Workshop, generate
from fourply.planning.dive import Choice, dive
from fourply.planning.lagrange import enough, reachable, rounded
from fourply.planning.master import Limits, Master, Relaxed
from fourply.planning.pace import Spent
from fourply.planning.patterns import Column
from fourply.planning.repair import improve

_MOST_COLUMNS = 20_000
_FIRST_COLUMNS = 2500
_SHARES = (0.0, 0.3, 0.6)
_EARLY_COLUMNS, _EARLY_NODES = 200, 30
_CLOSE = 0.01
_LIST_BLOCKS = 12_000
_WHOLE = 1e-5
_TIES = 10
_DIVES, _DIVES_FIRST = 3, 10
_LONG = 60
_REPAIRS = 12
_LAST_REPAIRS = 72
_MENDS, _MEND_COLUMNS = 20, 400
_LARGE = 45


@dataclass(order=True, slots=True)
class Node:
    """Part of all plans: bounds for each row of stock, and the cost that every plan in it reaches."""

    bound: int
    number: int
    limits: Limits = field(compare=False)


class Search:
    """Best plan and proved bound so far, and the nodes that are still open. Costs are without what is sunk."""

    def __init__(self, shop: Workshop, start: Choice, cost: int, bound: int) -> None:
        self.shop = shop
        self.best = start
        self.ties: list[Choice] = []
        self.cost = cost
        self.floor = bound
        self.master = Master(int(shop.costs.max()), shop.wants, shop.limits)
        self.master.add(shop.pool.add([*(one for one, _ in start), *shop.singles()]))
        self.open: list[Node] = [Node(bound, 0, shop.limits)]
        self.numbers = 0
        self.at: Node | None = None
        self.stuck: list[Node] = []
        self.answer: Relaxed | None = None
        self.mends = 0

    @property
    def bound(self) -> int:
        """What no plan can beat."""
        open_too = [self.at.bound] if self.at is not None else []
        return max(self.floor, min([self.cost, *(node.bound for node in self.open + self.stuck), *open_too]))

    @property
    def below(self) -> float:
        """Only plans that cost less than this are of interest."""
        return self.cost - self.shop.grid.step + 0.5

    def offer(self, choice: Choice | None) -> bool:
        """Keep the plan if it is cheaper; return whether it is."""
        if choice is None:
            return False
        cost = sum(one.cost * times for one, times in choice)
        if cost == self.cost and len(self.ties) < _TIES:
            self.ties.append(choice)
        if cost >= self.cost:
            return False
        self.ties = []
        self.best, self.cost = choice, cost
        self.tell()
        return True

    def _raised(self, limits: Limits, bound: float) -> int:
        """Return the bound raised to the next cost that whole boards within the limits can have."""
        grid = self.shop.grid
        return reachable(grid.stock, limits, min(self.cost, rounded(grid.step, bound)), self.cost)

    def tell(self) -> None:
        """Report where the search stands."""
        sunk = self.shop.grid.sunk
        self.shop.pace.tell(self.cost + sunk, self.bound + sunk)

    def run(self) -> None:
        """Search until the plan is proved or the budget is spent."""
        with suppress(Spent):
            self._run()

    def _run(self) -> None:
        self._root()
        while self.open and self.floor < self.cost and not self.shop.pace.stopped:
            node = heapq.heappop(self.open)
            if node.bound >= self.cost:
                continue
            self.at = node
            settled = self._visit(node)
            if self.shop.pace.stopped and not settled:
                return
            self.at = None
            if not settled:
                self.stuck.append(node)
            self.tell()
        for round_ in range(_REPAIRS, _LAST_REPAIRS):
            self._improve(round_)
        for node in sorted(self.stuck):
            self._insist(node)

    def _root(self) -> None:
        """Look for plans now and then while the first prices are found: a good plan early beats a better one late."""
        pause, exact = 8, False
        limits = self.shop.limits
        while not self.shop.pace.stopped:
            self.master.limit(limits)
            reached = generate(
                self.shop,
                self.master,
                limits,
                self._aim(limits, pause, exact=exact),
            )
            if reached is None:
                return
            self.floor = max(self.floor, self._raised(limits, reached.bound))
            if self.floor >= self.cost:
                return
            share = 0.1 if len(self.shop.wants) > 80 else 0.0
            self.offer(dive(self.shop, self.master, limits, self.below, share=share))
            if reached.dry:
                exact = True
                self._early(reached.answer)
                continue
            if reached.complete or self.shop.pace.steps > _LONG:
                self.answer = reached.answer
                for round_ in range(_REPAIRS):
                    self._improve(round_)
            if reached.complete or self.floor >= self.cost:
                return
            pause *= 2

    def _aim(self, limits: Limits, rounds: int | None = None, *, exact: bool = True) -> Aim:
        return Aim(self.cost, enough(self.shop.grid.stock, limits, self.cost), rounds, exact)

    def _early(self, answer: Relaxed) -> None:
        """Look for a plan in the patterns of a small job before their prices are known to be right."""
        if sum(self.shop.wants) <= _LARGE:
            cheap = self.shop.near(self.master.columns, answer, self.below - answer.cost)[:_EARLY_COLUMNS]
            self._choose(cheap, self.shop.limits, _EARLY_NODES)

    def _improve(self, round_: int) -> None:
        """Mend a part of the best plan; one that is a single part is left to the search."""
        mends = self.best and self.answer is not None and sum(self.shop.wants) > _LARGE
        if mends and self.answer and not self.shop.pace.stopped and self.bound < self.cost:
            self.offer(improve(self.shop, self.best, self.master.columns, self.answer, round_))

    def _visit(self, node: Node) -> bool:
        """Settle a node or divide it; return False if the budget ended first."""
        shop = self.shop
        self.master.limit(node.limits)
        reached = generate(shop, self.master, node.limits, self._aim(node.limits))
        if reached is not None:
            node.bound = max(node.bound, self._raised(node.limits, reached.bound))
        if reached is None or node.bound >= self.cost:
            return True
        if not reached.complete:
            return False
        if node.number % _DIVES == 0 or (node.number < _DIVES_FIRST and sum(shop.wants) <= _LARGE):
            self.offer(dive(shop, self.master, node.limits, self.below))
        return self._close(node, reached)

    def _insist(self, node: Node) -> None:
        """Look once more for a plan in a node that could not be settled, in more patterns than before."""
        self.master.limit(node.limits)
        answer = self.master.solve()
        if answer is None or node.bound >= self.cost or self.shop.pace.stopped:
            return
        for share in _SHARES:
            self.offer(dive(self.shop, self.master, node.limits, self.below, share=share))
        if node.bound < self.cost:
            cheap = self.shop.near(self.master.columns, answer, self.below - node.bound)[:_FIRST_COLUMNS]
            self._choose(cheap, node.limits, 3000)

    def _close(self, node: Node, reached: Converged) -> bool:
        """Settle the node by the patterns that are left to consider where they are few, else divide it."""
        row, whole = self._fraction(reached.answer)
        if whole or self.below - reached.answer.cost <= _CLOSE * self.cost:
            self._combine(node, reached.answer)
            if node.bound >= self.cost or self._settle(node, reached):
                return True
        divided = [] if self.shop.pace.stopped else list(self._divide(node, reached.answer, row))
        for part in divided:
            heapq.heappush(self.open, part)
        return bool(divided)

    def _combine(self, node: Node, answer: Relaxed) -> None:
        """Look for a plan in the best of the patterns at hand."""
        cheap = self.shop.near(self.master.columns, answer, self.below - node.bound)
        large = sum(self.shop.wants) > _LARGE
        self._choose(cheap[: _MEND_COLUMNS if large else _FIRST_COLUMNS], node.limits, 300)
        for _ in range(_MENDS if large else 0):
            self.mends += 1
            self._improve(_LAST_REPAIRS + self.mends)

    def _choose(self, columns: list[Column], limits: Limits, nodes: int) -> bool:
        """Combine these columns to whole boards; return whether nothing cheaper is in them."""
        whole = self.shop.combine(columns, self.shop.wants, limits, self.below, nodes)
        if whole.use is not None:
            self.offer([(one, n) for one, n in zip(columns, whole.use, strict=True) if n])
        return whole.done

    def _settle(self, node: Node, reached: Converged) -> bool:
        """List every pattern that could take part in a better plan, and choose among all of them."""
        shop, answer = self.shop, reached.answer
        slack = self.below - answer.cost
        listed = self._listed(answer, slack)
        if listed is None:
            return False
        shop.pool.add(listed)
        listed = [made for one in listed if (made := shop.cuttable(one)) is not None]
        names = {one.name for one in listed}
        columns = listed + [one for one in shop.near(self.master.columns, answer, slack) if one.name not in names]
        columns = shop.near(columns, answer, slack)
        if len(columns) > _MOST_COLUMNS:
            return False
        if len(columns) > 2 * _FIRST_COLUMNS:
            self._choose(columns[:_FIRST_COLUMNS], node.limits, 2000)
            columns = shop.near(columns, answer, self.below - answer.cost)
        done = self._choose(columns, node.limits, 20_000)
        if not done or (shop.accept is not None and not shop.strips.exact):
            # A pattern that the cutter cannot make one way might be made another: then nothing is proved here.
            return False
        node.bound = self.cost
        return True

    def _listed(self, answer: Relaxed, slack: float) -> list[Column] | None:
        """Return all columns with a reduced cost within the slack; None where they are too many."""
        shop = self.shop
        reach = shop.reach(answer)
        most = shop.levels.ceiling.worth(reach.ceilings)
        asked = shop.asked(answer) - slack - 0.01
        found: list[Column] = []
        for kind in np.flatnonzero(most > asked):
            if not shop.pace.spend():
                return None
            result = shop.blocks.above(int(kind), reach, float(asked[kind]), Cap(_LIST_BLOCKS, _MOST_COLUMNS))
            found += result.columns
            if not result.complete or len(found) > _MOST_COLUMNS:
                return None
        return found

    def _fraction(self, answer: Relaxed) -> tuple[int, bool]:
        """Return the row of stock to divide next, sheets before all else, and whether all sheets are whole."""
        counts = self._counts(answer)
        parts = [abs(n - round(n)) for n in counts]
        sheets = [row for row in self.shop.grid.sheet_rows if parts[row] > _WHOLE]
        return max(sheets or range(len(parts)), key=lambda row: parts[row]), not sheets

    def _counts(self, answer: Relaxed) -> list[float]:
        counts = [0.0] * len(self.shop.limits)
        for one, use in zip(self.master.columns, answer.use, strict=False):  # the dive has added more since
            counts[one.row] += float(use)
        return counts

    def _divide(self, node: Node, answer: Relaxed, row: int) -> Iterator[Node]:
        """Yield the two parts: at most so many of one row of stock, or one more; nothing if they are whole."""
        count = self._counts(answer)[row]
        if abs(count - round(count)) <= _WHOLE:
            return
        least, most = node.limits[row]
        for low, high in ((least, float(floor(count))), (float(ceil(count)), most)):
            self.numbers += 1
            limits = list(node.limits)
            limits[row] = (low, high)
            yield Node(node.bound, self.numbers, limits)
