"""Every filling of a stick that a cheaper plan could use, so that whole numbers chosen among them prove the plan.

At given prices a filling costs its stick less what its units are worth. A plan costs at least the bound that the prices
prove and, on top, what each of its fillings costs so; one that costs more than the gap is in no cheaper plan. Fillings
with room for another unit are left out: the same with that unit is as good.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


class TooMany(Exception):
    """More fillings, or more tries, than allowed."""


@dataclass(slots=True)
class Fillings:
    """Units by length, longest first, how many of each, what each is worth, the best worth of every length."""

    lengths: Sequence[int]
    wants: Sequence[int]
    prices: Sequence[float]
    best: Floats
    tries: int
    most: int
    _taken: list[int] = field(default_factory=list)

    def worth(self, room: int, least: float) -> Iterator[tuple[int, ...]]:
        """Yield the units of every full filling of `room` that is worth at least `least`; raises TooMany."""
        self._taken = [0] * len(self.lengths)
        yield from self._fill(0, room, least)

    def _fill(self, at: int, room: int, least: float) -> Iterator[tuple[int, ...]]:
        self.tries -= 1
        if self.tries < 0:
            raise TooMany
        if float(self.best[room]) < least:
            return
        while at < len(self.lengths) and self.lengths[at] > room:
            at += 1
        if at == len(self.lengths):
            yield from self._full(room)
            return
        fit = min(self.wants[at], room // self.lengths[at])
        for times in range(fit, -1, -1):
            self._taken[at] = times
            rest = room - times * self.lengths[at]
            yield from self._fill(at + 1, rest, least - times * self.prices[at])
        self._taken[at] = 0

    def _full(self, room: int) -> Iterator[tuple[int, ...]]:
        units = zip(self._taken, self.wants, self.lengths, strict=True)
        if any(taken < want and length <= room for taken, want, length in units):
            return
        self.most -= 1
        if self.most < 0:
            raise TooMany
        yield tuple(unit for unit, times in enumerate(self._taken) for _ in range(times))
