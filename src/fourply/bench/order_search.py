"""Good orders for many items: chunks of items moved about until no move helps, then shaken and moved again.

A chunk is what is worth doing together: all items in one state, or all of one piece. Moving a chunk changes the cost
only round where it was and where it comes to, since a state is forgotten as soon as everything in it is set anew; so a
move is weighed in a few steps however long the order is. No clock and no chance: the same question and the same effort
give the same order.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from fourply.bench.order import ANY, Item, Question, between

_SEED = 20_260
_LENGTHS = (1, 2, 3, 4, 6, 9, 12)
"""Chunks moved together."""
_LOOKS = 64
"""Places tried each way from where a run of chunks stands, before those far away are passed over."""

_PATIENCE = 4
"""Shakes in vain for each chunk before an order is taken for good."""

type Now = tuple[tuple[int, ...], int, int]
"""The state of the bench, the piece that lies on the cutter, which way it lies."""


@dataclass(frozen=True, slots=True)
class Chunk:
    """Items done one after the other, with what comes before and after any of them as bits of chunks."""

    items: tuple[int, ...]
    before: int
    bit: int


class Search:
    """An order of chunks, and how it is made better."""

    def __init__(self, asked: Question, groups: Sequence[tuple[int, ...]]) -> None:
        self.asked = asked
        self.chunks = _chunks(asked, groups)
        self.order = list(range(len(groups)))
        self.waiting = list(range(len(groups)))
        self.effort = 0
        self._steps: dict[tuple[int, Now], tuple[Now, int]] = {}
        self._gaps: dict[tuple[int, int], int] = {}
        self._far = sum(asked.prices.parts) + asked.prices.lay + 1

    def step(self, at: int, now: Now) -> tuple[Now, int]:
        """Return the state after a chunk and what it costs."""
        found = self._steps.get((at, now))
        if found is None:
            if len(self._steps) > 400_000:
                self._steps.clear()
            found = self._steps[at, now] = _run(self.asked, self.chunks[at].items, now)
        return found

    def items(self) -> list[int]:
        """Return the order of the items."""
        return [item for at in self.order for item in self.chunks[at].items]

    def cost(self) -> int:
        """Return what the order costs."""
        return self._states()[1]

    def _states(self) -> tuple[list[Now], int]:
        now: Now = ((ANY,) * len(self.asked.prices.parts), ANY, ANY)
        states, total = [now], 0
        for at in self.order:
            now, cost = self.step(at, now)
            states.append(now)
            total += cost
        return states, total

    def improve(self, effort: int) -> None:
        """Move runs of chunks while that saves, at most until so many places have been looked at."""
        effort += self.effort
        while self.waiting and self.effort < effort:
            chunk = self.waiting.pop()
            while self.effort < effort and self._move_one(self.order.index(chunk)):
                pass

    def _move_one(self, at: int) -> bool:
        """Move a run that begins here to where that saves most; tell whether there is such a place."""
        states, _ = self._states_cached()
        best = (0, 0, 0)
        for length in (each for each in _LENGTHS if at + each <= len(self.order)):
            run = self.order[at : at + length]
            saved = self._without(states, at, length)
            for to in self._places(at, length):
                self.effort += 1
                if not self._promises(at, length, to):
                    continue
                gain = saved - self._with(states, run, to, (at, length))
                if gain > best[0]:
                    best = (gain, length, to)
            if best[0]:
                break
        if not best[0]:
            return False
        _, length, to = best
        return self._take(at, length, to)

    def _take(self, at: int, length: int, to: int) -> bool:
        """Make a move if it does save; near the run itself the weighing of a move is only a guess."""
        before, was = self.order, self._states_cached()[1]
        self._put(at, length, to)
        if self._states_cached()[1] < was:
            return True
        self.order, self._kept = before, None
        return False

    def _put(self, at: int, length: int, to: int) -> None:
        """Put a run before place `to`, and have what stands at the seams looked at again."""
        before = self.order
        run, rest = before[at : at + length], before[:at] + before[at + length :]
        place = to if to <= at else to - length
        self.order = [*rest[:place], *run, *rest[place:]]
        self._kept = None
        for seam in (at, at + length, to):
            self.waiting += [each for each in before[max(0, seam - 3) : seam + 1] if each not in self.waiting]

    _kept: tuple[list[Now], int] | None = None

    def _states_cached(self) -> tuple[list[Now], int]:
        if self._kept is None:
            self._kept = self._states()
        return self._kept

    def _places(self, at: int, length: int) -> Iterator[int]:
        """Yield where a run may go, nearest first, as far as what comes before what allows."""
        run = self.order[at : at + length]
        bits = needs = 0
        for each in run:
            bits |= self.chunks[each].bit
            needs |= self.chunks[each].before
        for to in range(at - 1, max(-1, at - 1 - _LOOKS), -1):
            if self.chunks[self.order[to]].bit & needs:
                break
            yield to
        for to in range(at + length, min(len(self.order), at + length + _LOOKS)):
            if self.chunks[self.order[to]].before & bits:
                break
            yield to + 1

    def _promises(self, at: int, length: int, to: int) -> bool:
        """Tell whether the run would stand nearer to one of its new neighbours than to the old one; else none gains."""
        head, tail, order = self.order[at], self.order[at + length - 1], self.order
        if to and self._gap(order[to - 1], head) < (self._gap(order[at - 1], head) if at else self._far):
            return True
        after = at + length
        return to < len(order) and self._gap(tail, order[to]) < (
            self._gap(tail, order[after]) if after < len(order) else self._far
        )

    def _gap(self, one: int, other: int) -> int:
        """Return what it costs to go on with one chunk after another, as far as the two tell."""
        found = self._gaps.get((one, other))
        if found is None:
            items, prices = self.asked.items, self.asked.prices
            last, first = items[self.chunks[one].items[-1]], items[self.chunks[other].items[0]]
            held = prices.turn * (last.turn != first.turn) if last.body == first.body else prices.lay
            found = self._gaps[one, other] = between(last.state, first.state, prices) + held
        return found

    def _without(self, states: list[Now], at: int, length: int) -> int:
        """Return what is saved where the run is taken out."""
        cost = sum(self.step(self.order[each], states[each])[1] for each in range(at, at + length))
        return cost - self._after(states, states[at], at + length)

    def _after(self, states: list[Now], now: Now, at: int) -> int:
        """Return how much dearer what follows gets, from another state, until all is as it was."""
        dearer = 0
        while at < len(self.order) and now != states[at]:
            now, cost = self.step(self.order[at], now)
            dearer += cost - self.step(self.order[at], states[at])[1]
            at += 1
        return dearer

    def _with(self, states: list[Now], run: list[int], to: int, left: tuple[int, int]) -> int:
        """Return what it costs to put the run in before place `to`."""
        now, cost = states[to], 0
        if to == left[0] + left[1]:
            now = states[left[0]]
        for each in run:
            now, more = self.step(each, now)
            cost += more
        return cost + self._after(states, now, to)

    def back_to(self, order: list[int]) -> None:
        """Take up an order that was left."""
        self.order, self._kept, self.waiting = list(order), None, []

    def shake(self, chance: random.Random) -> None:
        """Move a few runs wherever they may go."""
        for _ in range(4):
            at = chance.randrange(len(self.order))
            length = chance.randint(1, min(3, len(self.order) - at))
            places = list(self._places(at, length))
            if places:
                self._put(at, length, chance.choice(places))


def search(asked: Question, groups: Sequence[tuple[int, ...]], effort: int) -> list[int]:
    """Return an order of the items no dearer than that of the groups, after so many places looked at.

    `groups` hold every item once, in an order that keeps what comes before what, both between and within them.
    """
    tried = Search(asked, groups)
    tried.improve(effort)
    best, least = list(tried.order), tried.cost()
    chance = random.Random(_SEED)  # noqa: S311 (no secret: the same question gives the same order)
    vain = 0
    while tried.effort < effort and vain < _PATIENCE * len(groups):
        tried.shake(chance)
        tried.effort += 1
        tried.improve(effort - tried.effort)
        cost = tried.cost()
        if cost < least:
            best, least, vain = list(tried.order), cost, 0
        else:
            vain += 1
            tried.back_to(best)
    tried.order = best
    return tried.items()


def _run(asked: Question, items: tuple[int, ...], now: Now) -> tuple[Now, int]:
    state, body, turn = list(now[0]), now[1], now[2]
    prices, cost = asked.prices, 0
    for at in items:
        item: Item = asked.items[at]
        for part, value in enumerate(item.state):
            if value >= 0 and value != state[part]:
                cost += prices.parts[part]
            if value != ANY:
                state[part] = value
        if item.body != body:
            cost += prices.lay
        elif item.turn != turn:
            cost += prices.turn
        body, turn = item.body, item.turn
    return (tuple(state), body, turn), cost


def _chunks(asked: Question, groups: Sequence[tuple[int, ...]]) -> list[Chunk]:
    chunk_of = {item: at for at, items in enumerate(groups) for item in items}
    chunks = []
    for at, items in enumerate(groups):
        mask = 0
        for item in items:
            mask |= asked.before[item]
        before = 0
        while mask:
            low = mask & -mask
            before |= 1 << chunk_of[low.bit_length() - 1]
            mask ^= low
        chunks.append(Chunk(items, before & ~(1 << at), 1 << at))
    return chunks
