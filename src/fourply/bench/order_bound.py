"""What no order can beat.

The states that items need are joined by a tree of least changes, pulled towards a path by prices on its branchings
(Held and Karp); no order can visit all of them for less. Beside that every piece is laid once for each state that it
needs, unless it is held while the bench is set anew, and then that change is paid on the spot. Holding saves handling
and spends changes: the bound takes the best mixture that both could allow, so it holds for every order, whatever comes
before what.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from fractions import Fraction

from fourply.bench.order import Question, between

_ROUNDS = 160
_WORK = 2_000_000
"""Distances looked at while the tree is pulled towards a path: some seconds at most."""


def bound(asked: Question) -> int:
    """Return a cost that no order of the items is below.

    >>> from fourply.bench.order import Item, Prices
    >>> two = (Item(0, 0, (1,)), Item(1, 0, (2,)), Item(1, 1, (2,)))
    >>> bound(Question(two, Prices((10,), 3, 1)))
    27
    """
    if not asked.items:
        return 0
    changes = _changes(asked)
    laid, holds = _handling(asked)
    return laid + _best_mixture(changes, holds)


def _changes(asked: Question) -> int:
    """Return what setting the bench costs at least."""
    parts = range(len(asked.prices.parts))
    values = [{item.state[part] for item in asked.items if item.state[part] >= 0} for part in parts]
    by_part = sum(len(values[part]) * asked.prices.parts[part] for part in parts)
    full = {item.state for item in asked.items}
    most = max(_needed(state) for state in full)
    nodes = sorted(state for state in full if _needed(state) == most)
    mask = [value >= 0 for value in nodes[0]]
    nodes = [state for state in nodes if [value >= 0 for value in state] == mask]
    in_nodes = [{state[part] for state in nodes if state[part] >= 0} for part in parts]
    others = sum(len(values[part] - in_nodes[part]) * asked.prices.parts[part] for part in parts)
    first = sum(asked.prices.parts[part] for part in parts if mask[part])
    return max(by_part, first + others + _path(nodes, asked))


def _needed(state: tuple[int, ...]) -> int:
    return sum(value >= 0 for value in state)


def _path(nodes: list[tuple[int, ...]], asked: Question) -> int:
    """Return what a path through all states costs at least."""
    size = len(nodes)
    if size < 2:
        return 0
    lines = [[between(one, other, asked.prices) for other in nodes] for one in nodes]
    weights, best = [0] * size, 0
    rounds = max(2, min(_ROUNDS, _WORK // size**2))
    largest = max(max(line) for line in lines)
    for turn in range(rounds):
        tree, degrees = _tree(lines, weights)
        # The two ends of a path are joined by a node that is no state and lies at no distance: least to the lightest.
        ends = sorted(range(size), key=weights.__getitem__)[:2]
        best = max(best, tree - 2 * sum(weights) + sum(weights[at] for at in ends))
        for at in ends:
            degrees[at] += 1
        step = largest * (rounds - turn) // (100 * rounds)
        for at, degree in enumerate(degrees):
            weights[at] += step * (degree - 2)
    return best


def _tree(lines: list[list[int]], weights: list[int]) -> tuple[int, list[int]]:
    """Return the length of a least tree over all nodes with their weights added to lines, and its degrees (Prim)."""
    size = len(lines)
    degrees = [0] * size
    reach = [lines[0][at] + weights[0] + weights[at] for at in range(size)]
    via = [0] * size
    open_ = list(range(1, size))
    length = 0
    while open_:
        at = min(open_, key=reach.__getitem__)
        open_.remove(at)
        length += reach[at]
        degrees[at] += 1
        degrees[via[at]] += 1
        line, weight = lines[at], weights[at]
        for other in open_:
            far = line[other] + weight + weights[other]
            if far < reach[other]:
                reach[other] = far
                via[other] = at
    return length, degrees


def _handling(asked: Question) -> tuple[int, list[tuple[int, int]]]:
    """Return what handling costs where no piece is held over a change, and (change paid, saving) of each holding."""
    lay, turn = asked.prices.lay, min(asked.prices.turn, asked.prices.lay)
    bodies: dict[int, dict[tuple[int, ...], set[int]]] = {}
    for item in asked.items:
        bodies.setdefault(item.body, {}).setdefault(item.state, set()).add(item.turn)
    laid, holds = 0, []
    for groups in bodies.values():
        first = []
        for state, turns in groups.items():
            laid += lay + (len(turns) - 1) * turn
            others = [each for each in groups if each != state]
            if not others:
                continue
            change = min(between(state, other, asked.prices) for other in others)
            shared = len(turns & set[int]().union(*(groups[other] for other in others)))
            first.append((change, lay if shared else lay - turn))
            holds += [(change, turn)] * (shared - 1)
        # One of the states comes first and is not held into; which one is open, so each is granted the best saving.
        best = max((saves for _, saves in first), default=0)
        holds += [(change, best) for change, _ in sorted(first)[: len(groups) - 1]]
    return laid, holds


def _best_mixture(changes: int, holds: Iterable[tuple[int, int]]) -> int:
    """Return from below the least of max(changes, changes paid by holding) less savings, over all choices of holds.

    For every share between 0 and 1 the weighted mean of the two is such a bound; it bends where a hold begins to pay.
    """
    counts: dict[tuple[int, int], int] = {}
    for hold in holds:
        if hold[1] > 0:
            counts[hold] = counts.get(hold, 0) + 1
    shares = {Fraction(0), Fraction(1)} | {Fraction(saves, change) for change, saves in counts if change > saves}
    best = max(
        (1 - share) * changes
        + sum(count * min(Fraction(0), share * change - saves) for (change, saves), count in counts.items())
        for share in shares
    )
    return math.ceil(best)
