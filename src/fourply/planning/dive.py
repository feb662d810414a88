"""Plans out of the linear programme: what it uses almost wholly is taken as whole, and the rest asked again.

After each taking the prices change, so one sweep looks for better patterns for what is left. The dive is given up as
soon as what it has taken and what the rest must cost cannot beat the best plan. The last few pieces of a
large job are settled by an integer programme.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from fourply.planning.colgen import Workshop
from fourply.planning.master import Limits, Master, Relaxed
from fourply.planning.patterns import Column

_NEARLY = 0.9
_FEW = 24
_LARGE = 60
_MOST = 500

Choice = list[tuple[Column, int]]


def dive(shop: Workshop, master: Master, limits: Limits, below: float, *, share: float = 0.0) -> Choice | None:
    """Return columns that cut everything at a cost less than `below`; None where this dive finds none.

    `share` of the columns in use are taken at each step, at least one. The master is left as it was found.
    """
    left, room = list(shop.wants), list(limits)
    taken: Choice = []
    spent = 0.0
    few = _FEW if sum(left) > _LARGE else 0
    try:
        while any(left):
            answer = _asked(shop, master, left, room)
            if answer is None or answer.short > 1e-6 or spent + answer.cost >= below - 1e-6:
                return None
            if sum(left) <= few and taken:
                rest = _rest(shop, master.columns, answer, (left, room), below - spent)
                if rest is not None:
                    return taken + rest
            picks = _picks(master.columns, answer, left, room, share)
            if not picks or not shop.pace.spend():
                return None
            for one, times in picks:
                spent += one.cost * times
                _take(one, times, left, room)
            taken += picks
    finally:
        master.demand(shop.wants)
        master.limit(limits)
    return taken if spent < below else None


def _asked(shop: Workshop, master: Master, left: Sequence[int], room: Limits) -> Relaxed | None:
    """Solve for what is left, with the patterns that one more sweep finds to pay."""
    master.demand(left)
    master.limit(room)
    answer = master.solve()
    if answer is not None and shop.quick(master, answer, 3):
        answer = master.solve()
    return answer


def _rest(
    shop: Workshop, columns: Sequence[Column], answer: Relaxed, open_: tuple[list[int], Limits], below: float
) -> Choice | None:
    """Return the best whole use of the patterns at hand for the few pieces that are left."""
    cheap = shop.near(columns, answer, below - answer.cost)[:_MOST]
    whole = shop.combine(cheap, *open_, below, 50)
    return None if whole.use is None else [(one, n) for one, n in zip(cheap, whole.use, strict=True) if n]


def _picks(columns: Sequence[Column], answer: Relaxed, left: Sequence[int], room: Limits, share: float) -> Choice:
    """Return the columns to take now: all that are used almost wholly, or else the most used."""
    used = np.flatnonzero(answer.use > 1e-6)
    order = used[np.argsort(-answer.use[used], kind="stable")]
    least = max(1, int(share * len(order)))
    rest, space = list(left), list(room)
    picks: Choice = []
    for at in order:
        one, use = columns[at], float(answer.use[at])
        if use < _NEARLY and len(picks) >= least:
            break
        times = min(max(1, int(use + 1 - _NEARLY)), _fits(one, rest, space))
        if times:
            picks.append((one, times))
            _take(one, times, rest, space)
    return picks


def _fits(one: Column, left: Sequence[int], room: Limits) -> int:
    """Return how often the column can be taken: as long as all it cuts but one piece at most is still wanted."""
    most = room[one.row][1]
    spare = sum(max(0, n - left[item]) for item, n in one.counts)
    if spare and spare >= sum(n for _, n in one.counts) - spare:
        return 0
    whole = min((left[item] // n for item, n in one.counts if left[item] >= n), default=0)
    return int(min(max(whole, 1), most))


def _take(one: Column, times: int, left: list[int], room: Limits) -> None:
    for item, n in one.counts:
        left[item] = max(0, left[item] - n * times)
    least, most = room[one.row]
    room[one.row] = (max(0.0, least - times), most - times)
