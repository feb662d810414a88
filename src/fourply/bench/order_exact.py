"""The best order of a few items, found for certain.

States of the work (what is done, how the bench stands, what lies on the cutter) are looked at in the order of what
they cost at least (A*). What can be done without cost is done at once, since it never costs less later; of pieces that
are cut alike the first is begun first.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator, Sequence
from functools import cache

from fourply.bench.order import ANY, Question

type Now = tuple[tuple[int, ...], int, int]


def best_order(asked: Question, known: Sequence[int], effort: int) -> list[int] | None:
    """Return an order that none is below, `known` itself if that is one; None where looking took more than the effort.

    >>> from fourply.bench.order import Item, Prices
    >>> items = (Item(0, 0, (7,)), Item(0, 1, (8,)), Item(1, 0, (7,)))
    >>> best_order(Question(items, Prices((10,), 3, 1)), [0, 1, 2], 100)
    [1, 0, 2]
    """
    return _Look(asked).look(list(known), effort)


class _Look:
    """One question looked through."""

    def __init__(self, asked: Question) -> None:
        self.asked = asked
        self.all = (1 << len(asked.items)) - 1
        self.first_alike = _alike(asked)
        self.rest = cache(self._rest)

    def look(self, known: list[int], effort: int) -> list[int] | None:
        limit = self.asked.count(known).cost
        start: Now = ((ANY,) * len(self.asked.prices.parts), ANY, ANY)
        open_ = [(self._least(0, start), 0, 0, start)]
        cheapest: dict[tuple[int, Now], int] = {(0, start): 0}
        came: dict[tuple[int, Now], tuple[int, Now, tuple[int, ...]]] = {}
        while open_:
            _, cost, done, now = heapq.heappop(open_)
            if cost > cheapest[done, now]:
                continue
            if done == self.all:
                return _trace(came, done, now)
            effort -= 1
            if effort < 0:
                return None
            for at in self._next(done):
                after, more, took = self._do(done, now, at)
                new = done
                for each in took:
                    new |= 1 << each
                total = cost + more
                if total < cheapest.get((new, after), total + 1):
                    least = total + self._least(new, after)
                    if least < limit:
                        cheapest[new, after] = total
                        came[new, after] = (done, now, took)
                        heapq.heappush(open_, (least, total, new, after))
        return known

    def _next(self, done: int) -> Iterator[int]:
        """Yield what can be done next; of pieces cut alike only one of those that are not begun."""
        for at in range(len(self.asked.items)):
            if done >> at & 1 or self.asked.before[at] & ~done:
                continue
            ahead = self.first_alike[at]
            if ahead is None or ahead & done:
                yield at

    def _do(self, done: int, now: Now, at: int) -> tuple[Now, int, tuple[int, ...]]:
        """Return the state after an item and whatever then costs nothing, what it costs, and which items these are."""
        now, cost = self._step(now, at)
        took = [at]
        done |= 1 << at
        again = True
        while again:
            again = False
            for each in self._next(done):
                after, more = self._step(now, each)
                if more == 0 and after == now:
                    took.append(each)
                    done |= 1 << each
                    again = True
                    break
        return now, cost, tuple(took)

    def _step(self, now: Now, at: int) -> tuple[Now, int]:
        item, prices = self.asked.items[at], self.asked.prices
        state, cost = list(now[0]), 0
        for part, value in enumerate(item.state):
            if value >= 0 and value != state[part]:
                cost += prices.parts[part]
            if value != ANY:
                state[part] = value
        if item.body != now[1]:
            cost += prices.lay
        elif item.turn != now[2]:
            cost += prices.turn
        return (tuple(state), item.body, item.turn), cost

    def _least(self, done: int, now: Now) -> int:
        """Return what the rest costs at least: every value that is still needed is set once, every piece laid once."""
        values, bodies = self.rest(done)
        prices = self.asked.prices
        cost = 0
        for part, needed in enumerate(values):
            cost += (len(needed) - (now[0][part] in needed)) * prices.parts[part]
        turn = min(prices.turn, prices.lay)
        for body, turns in bodies.items():
            if body == now[1]:
                cost += (len(turns) - (now[2] in turns)) * turn
            else:
                cost += prices.lay + (len(turns) - 1) * turn
        return cost

    def _rest(self, done: int) -> tuple[list[set[int]], dict[int, set[int]]]:
        values: list[set[int]] = [set() for _ in self.asked.prices.parts]
        bodies: dict[int, set[int]] = {}
        for at, item in enumerate(self.asked.items):
            if not done >> at & 1:
                bodies.setdefault(item.body, set()).add(item.turn)
                for part, value in enumerate(item.state):
                    if value >= 0:
                        values[part].add(value)
        return values, bodies


def _trace(came: dict[tuple[int, Now], tuple[int, Now, tuple[int, ...]]], done: int, now: Now) -> list[int]:
    order: list[int] = []
    while done:
        done, now, took = came[done, now]
        order[:0] = took
    return order


def _alike(asked: Question) -> list[int | None]:
    """Return, by item, the items of the piece before it that is cut alike, as bits; None where there is none.

    Pieces are alike only where nothing outside waits for them, nor they for anything outside.
    """
    bodies: dict[int, list[int]] = {}
    for at, item in enumerate(asked.items):
        bodies.setdefault(item.body, []).append(at)
    masks = {body: sum(1 << at for at in items) for body, items in bodies.items()}
    outside = 0
    for at, item in enumerate(asked.items):
        if asked.before[at] & ~masks[item.body]:
            outside |= asked.before[at] | masks[item.body]
    ahead: list[int | None] = [None] * len(asked.items)
    last: dict[tuple[object, ...], int] = {}
    for body, items in bodies.items():
        if masks[body] & outside:
            continue
        place = {at: index for index, at in enumerate(items)}
        kind = tuple(
            (asked.items[at].turn, asked.items[at].state, tuple(sorted(place[each] for each in asked.items[at].after)))
            for at in items
        )
        if kind in last:
            for at in items:
                ahead[at] = masks[last[kind]]
        last[kind] = body
    return ahead
