"""Lower bounds that hold whatever the rounding of a linear programme: any prices will do, what they prove is recounted.

Prices times wants is what all pieces are worth. No pattern on a kind of stock is worth more than `most`; what it costs
beyond that, times how often it must or may be used, corrects the sum.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, inf
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from fourply.planning.master import Limits

Floats = NDArray[np.float64]


class Priced(Protocol):
    """A kind of stock: what one costs, and the row that limits it."""

    @property
    def cost(self) -> int:
        """The cost of one."""

    @property
    def row(self) -> int:
        """The row of the master that counts it."""


def lagrange(stock: Sequence[Priced], limits: Limits, wants: Sequence[int], prices: Floats, most: Floats) -> float:
    """Return a cost that every plan within the limits reaches.

    `prices` are any prices of the pieces, `most` what a pattern on each kind of stock can be worth at most.
    """
    scale = 1.0
    for kind, worth in zip(stock, most, strict=True):
        if limits[kind.row][1] == inf and worth > kind.cost:
            scale = min(scale, kind.cost / worth)
    spare: dict[int, float] = {}
    for kind, worth in zip(stock, most, strict=True):
        spare[kind.row] = min(spare.get(kind.row, inf), kind.cost - scale * worth)
    bound = scale * float(np.dot(np.array(wants, float), prices))
    for row, left in spare.items():
        least, top = limits[row]
        bound += top * left if left < 0 and top < inf else least * max(left, 0.0)
    return bound


def within(stock: Sequence[Priced], limits: Limits, below: float) -> Limits:
    """Return the limits with as many of each row at most as a plan can have that costs no more than `below`.

    >>> from types import SimpleNamespace
    >>> within([SimpleNamespace(cost=10, row=0)], [(0.0, inf)], 34)
    [(0.0, 3.0)]
    """
    cheapest: dict[int, int] = {}
    for kind in stock:
        cheapest[kind.row] = min(kind.cost, cheapest.get(kind.row, kind.cost))
    needed = sum(least * cheapest.get(row, 0) for row, (least, _) in enumerate(limits))
    closer = list(limits)
    for row, cost in cheapest.items():
        least, most = limits[row]
        if cost > 0:
            closer[row] = least, max(least, min(most, least + (below - needed + 1e-6) // cost))
    return closer


def rounded(step: int, bound: float) -> int:
    """Return the bound raised to the next possible cost, with a margin for the arithmetic of floats."""
    return ceil((bound - 1e-6 * max(1.0, abs(bound))) / step) * step


def reachable(stock: Sequence[Priced], limits: Limits, bound: int, most: int) -> int:
    """Return the least cost from `bound` on that some numbers of boards within the limits add up to; at most `most`."""
    base, sums = _sums(stock, limits, most)
    above = sums >> max(0, bound - base)
    return min(most, max(bound, base) + (above & -above).bit_length() - 1) if above else most


def enough(stock: Sequence[Priced], limits: Limits, cost: int) -> float:
    """Return a bound that proves this cost: it is above all lower costs that boards within the limits add up to.

    >>> from types import SimpleNamespace
    >>> enough([SimpleNamespace(cost=10, row=0)], [(0.0, inf)], 40)
    30.25006
    """
    base, sums = _sums(stock, limits, cost - 1)
    highest = base + sums.bit_length() - 1 if sums else 0
    return highest + 0.25 + 2e-6 * highest


def _sums(stock: Sequence[Priced], limits: Limits, most: int) -> tuple[int, int]:
    """Return a cost that must be spent, and the bits of what sums beyond it boards within the limits can have.

    With odd prices few sums are possible, fewer still where the numbers of sheets are settled.
    """
    counts: dict[int, list[float]] = {}
    for row, cost in {kind.row: kind.cost for kind in stock}.items():
        least, top = limits[row]
        held = counts.setdefault(cost, [0.0, 0.0])
        held[0] += least
        held[1] += top - least
    base = sum(int(cost * least) for cost, (least, _) in counts.items())
    if base > most:
        return base, 0
    mask = (1 << (most - base + 1)) - 1
    sums = 1
    for cost, (_, more) in counts.items():
        left, lot = int(min(more, (most - base) // cost)) if cost else 0, 1
        while left:
            taken = min(lot, left)
            sums |= sums << (cost * taken) & mask
            left, lot = left - taken, lot * 2
    return base, sums
