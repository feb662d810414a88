"""An order of many cuts, held against the orders that come to mind, and against what no order can beat."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from fourply.bench.order import ANY, Counted, Question
from fourply.bench.order_bound import bound
from fourply.bench.order_exact import best_order
from fourply.bench.order_search import search

EFFORT = 1_000_000
"""Places looked at for an order: a second or two for 300 mats."""
_EXACT = 24
_STATES = 12_000
"""Up to so many items are looked through for certain, at most so many states of the work."""
_FAR = 1.4
"""An order so much dearer than another is no start for a search."""
PIECE, SIZE, SETTING = "mat by mat", "size by size", "by setting"


@dataclass(frozen=True, slots=True)
class Found:
    """An order of the items, what it comes to, the bound, and what the obvious orders come to, by name."""

    order: tuple[int, ...]
    counted: Counted
    bound: int
    obvious: Mapping[str, Counted]


def find_order(asked: Question, effort: int = EFFORT, *, bounded: bool = True) -> Found:
    """Return the best order that can be found; it is never dearer than the best of the obvious ones.

    Where nobody asks for more than the order itself (not `bounded`) the bound is nothing and a search is enough. Items
    must stand in the order in which a person would do one piece after the other.
    """
    levels = _levels(asked)
    obvious = {
        PIECE: list(asked.ready(range(len(asked.items)))),
        SIZE: list(asked.ready(_by_size(asked, levels))),
        SETTING: list(asked.ready(_by_setting(asked, levels))),
    }
    counted = {name: asked.count(order) for name, order in obvious.items()}
    best = obvious[min(counted, key=lambda name: counted[name].cost)]
    least = bound(asked) if bounded else 0
    certain = None
    if asked.count(best).cost > least and bounded and len(asked.items) <= _EXACT:
        certain = best_order(asked, best, _STATES)
    if certain is not None:
        best, least = certain, asked.count(certain).cost
    elif asked.count(best).cost > least:
        best = _searched(asked, obvious, levels, effort)
    return Found(tuple(best), asked.count(best), least, counted)


def _searched(asked: Question, obvious: Mapping[str, list[int]], levels: Sequence[int], effort: int) -> list[int]:
    """Return the best order of searches by settings and by pieces, and of a last one with small chunks.

    A search does not begin where an order is far dearer than the best of the others.
    """
    starts = {
        SETTING: _runs(asked, obvious[SETTING], levels),
        PIECE: _pieces(asked, obvious[PIECE]),
        SIZE: _pieces(asked, obvious[SIZE]),
    }
    costs = {name: asked.count(order).cost for name, order in obvious.items()}
    near = [name for name in starts if costs[name] <= _FAR * min(costs.values())]
    share = effort // (len(near) + 1)
    found = [_carried(asked, search(asked, starts[name], share)) for name in near]
    best = min([*obvious.values(), *found], key=lambda order: asked.count(order).cost)
    fine = search(asked, _small(asked, best), share)
    return min((best, fine), key=lambda order: asked.count(order).cost)


def _levels(asked: Question) -> list[int]:
    """Return, by item, how many items come one after the other before it."""
    levels: list[int] = [0] * len(asked.items)
    for at in asked.ready(range(len(asked.items))):
        levels[at] = max((levels[each] + 1 for each in asked.items[at].after), default=0)
    return levels


def _by_setting(asked: Question, levels: Sequence[int]) -> list[int]:
    return sorted(range(len(asked.items)), key=lambda at: (levels[at], asked.items[at].state, asked.items[at].body))


def _by_size(asked: Question, levels: Sequence[int]) -> list[int]:
    """Return pieces that are cut alike together, one side of all of them after the other."""
    kinds: dict[int, list[tuple[int, ...]]] = {}
    place: list[int] = []
    for item in asked.items:
        cuts = kinds.setdefault(item.body, [])
        place.append(len(cuts))
        cuts.append((item.turn, *item.state))
    first: dict[tuple[tuple[int, ...], ...], int] = {}
    rank = {body: first.setdefault(tuple(cuts), len(first)) for body, cuts in kinds.items()}
    key = [(rank[item.body], levels[at], place[at], item.body) for at, item in enumerate(asked.items)]
    return sorted(range(len(asked.items)), key=key.__getitem__)


def _runs(asked: Question, order: Sequence[int], levels: Sequence[int]) -> list[tuple[int, ...]]:
    """Return the order in chunks of one state; those that wait for one another are in chunks of their own."""
    return list(_cut(order, [(levels[at], asked.items[at].state) for at in range(len(asked.items))]))


def _pieces(asked: Question, order: Sequence[int]) -> list[tuple[int, ...]]:
    return list(_cut(order, [asked.items[at].body for at in range(len(asked.items))]))


def _small(asked: Question, order: Sequence[int]) -> list[tuple[int, ...]]:
    return list(_cut(order, [(item.body, item.state) for item in asked.items]))


def _cut(order: Sequence[int], keys: Sequence[object]) -> Iterator[tuple[int, ...]]:
    """Yield an order in chunks of items that follow one another and have the same key."""
    chunk: list[int] = []
    for at in order:
        if chunk and keys[at] != keys[chunk[0]]:
            yield tuple(chunk)
            chunk = []
        chunk.append(at)
    if chunk:
        yield tuple(chunk)


def _carried(asked: Question, order: list[int]) -> list[int]:
    """Return the order with pieces that two states in turn have in common last in one and first in the next."""
    groups = [list(chunk) for chunk in _cut(order, [item.state for item in asked.items])]
    bodies = [{asked.items[at].body for at in group} for group in groups]
    kept = None
    for at in range(len(groups) - 1):
        shared = bodies[at] & bodies[at + 1]
        if len(bodies[at]) > 1:
            shared.discard(kept if kept is not None else ANY)
        kept = min(shared, default=None)
        if kept is not None:
            _ends_with(asked, groups[at], kept)
            _begins_with(asked, groups[at + 1], kept)
    carried = [at for group in groups for at in group]
    return carried if asked.holds(carried) and asked.count(carried).cost <= asked.count(order).cost else order


def _ends_with(asked: Question, group: list[int], body: int) -> None:
    group.sort(key=lambda at: asked.items[at].body == body)


def _begins_with(asked: Question, group: list[int], body: int) -> None:
    group.sort(key=lambda at: asked.items[at].body != body)
