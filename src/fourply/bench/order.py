"""The order of many cuts at one bench as a question of its own, without a word of the trade.

An item needs the bench in some state, a value for each part of it (head, board, guide, stops); what it does not need
stays as it is. To change a part costs; so does laying another piece on the cutter, and turning the one that lies
there. Some items come after others. All costs are whole ticks, so equal orders are equal and a bound is exact.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

ANY = -1
"""Of a part of the state: not needed, stays as it is. Also what nobody has set yet."""
LOST = -2
"""Of a part of the state: not needed, and not as it was afterwards."""


@dataclass(frozen=True, slots=True)
class Item:
    """One cut: the piece it is made in, which way that lies, the state it needs, the items that come before it."""

    body: int
    turn: int
    state: tuple[int, ...]
    after: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Prices:
    """What changing each part of the state costs, laying a piece on the cutter and taking it off, turning it."""

    parts: tuple[int, ...]
    lay: int
    turn: int


@dataclass(frozen=True, slots=True)
class Counted:
    """What an order comes to: how often each part of the state is set, a piece is laid, one is turned; the cost."""

    parts: tuple[int, ...]
    laid: int
    turned: int
    cost: int


@dataclass(frozen=True, slots=True)
class Question:
    """Items and prices; `before` holds, by item, all that come before it, as the bits of a number."""

    items: tuple[Item, ...]
    prices: Prices
    before: tuple[int, ...] = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "before", _closure(self.items))

    def count(self, order: Sequence[int]) -> Counted:
        """Return what an order comes to.

        >>> prices = Prices(parts=(10,), lay=3, turn=1)
        >>> asked = Question((Item(0, 0, (7,)), Item(0, 1, (8,)), Item(1, 0, (7,))), prices)
        >>> asked.count([0, 1, 2]).cost, asked.count([0, 2, 1]).cost
        (37, 29)
        """
        now = [ANY] * len(self.prices.parts)
        sets = [0] * len(now)
        laid = turned = 0
        last: Item | None = None
        for at in order:
            item = self.items[at]
            for part, value in enumerate(item.state):
                if value >= 0 and value != now[part]:
                    sets[part] += 1
                if value != ANY:
                    now[part] = value
            if last is None or item.body != last.body:
                laid += 1
            elif item.turn != last.turn:
                turned += 1
            last = item
        prices = self.prices
        cost = sum(count * price for count, price in zip(sets, prices.parts, strict=True))
        return Counted(tuple(sets), laid, turned, cost + laid * prices.lay + turned * prices.turn)

    def holds(self, order: Sequence[int]) -> bool:
        """Tell whether an order has each item once, after all that come before it."""
        done = 0
        for at in order:
            if self.before[at] & ~done or done >> at & 1:
                return False
            done |= 1 << at
        return done == (1 << len(self.items)) - 1

    def ready(self, left: Iterable[int]) -> Iterator[int]:
        """Yield the items in their order, each as early as what comes before it allows.

        `left` is a wish: an item that cannot come yet waits until it can.
        """
        waiting = list(left)
        done = 0
        while waiting:
            later = []
            for at in waiting:
                if self.before[at] & ~done:
                    later.append(at)
                else:
                    done |= 1 << at
                    yield at
            if len(later) == len(waiting):
                raise ValueError(f"items {later} wait for one another")
            waiting = later


def between(one: tuple[int, ...], other: tuple[int, ...], prices: Prices) -> int:
    """Return what the change from one state to another costs at least.

    >>> between((1, 2), (1, 3), Prices((5, 7), 0, 0)), between((1, ANY), (2, 3), Prices((5, 7), 0, 0))
    (7, 5)
    """
    return sum(price for a, b, price in zip(one, other, prices.parts, strict=True) if a != b and a >= 0 and b >= 0)


def _closure(items: tuple[Item, ...]) -> tuple[int, ...]:
    """Return all that come before each item; raises ValueError where items wait for one another in a ring."""
    before: list[int | None] = [None] * len(items)
    for start in range(len(items)):
        path = [start]
        while path:
            at = path[-1]
            if before[at] is not None:
                path.pop()
                continue
            open_ = [each for each in items[at].after if before[each] is None]
            if open_:
                if open_[0] in path:
                    raise ValueError(f"item {at} waits for itself")
                path.append(open_[0])
                continue
            mask = 0
            for each in items[at].after:
                mask |= 1 << each | (before[each] or 0)
            before[at] = mask
            path.pop()
    return tuple(mask or 0 for mask in before)
