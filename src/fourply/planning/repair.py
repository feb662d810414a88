"""Mending a plan: a few of its boards are taken apart, and their pieces planned anew from the patterns at hand.

The integer programme over a part is small and quick where that over the whole is not. Which boards are taken apart
follows from the number of the round alone, so the same search mends the same way each time.
"""

from __future__ import annotations

from collections.abc import Sequence
from random import Random

from fourply.planning.colgen import Workshop
from fourply.planning.dive import Choice
from fourply.planning.master import Limits, Relaxed
from fourply.planning.patterns import Column

_PIECES = 45
_MOST = 1500


def improve(shop: Workshop, plan: Choice, columns: Sequence[Column], answer: Relaxed, round_: int) -> Choice | None:
    """Return a cheaper plan that keeps all but some boards of this one; None where there is none in the columns."""
    boards = [one for one, times in plan for _ in range(times)]
    loose, kept = _parted(shop, boards, answer, round_)
    left, room = _open(shop, kept)
    loose_cost = sum(one.cost for one in loose)
    cheap = [one for one in shop.near(columns, answer, float(loose_cost)) if any(left[i] for i, _ in one.counts)]
    below = loose_cost - shop.grid.step + 0.5
    whole = shop.combine(cheap[:_MOST], left, room, below, 200)
    if whole.use is None:
        return None
    fresh = [(one, n) for one, n in zip(cheap, whole.use, strict=False) if n]
    return [(one, 1) for one in kept] + fresh


def _parted(shop: Workshop, boards: list[Column], answer: Relaxed, round_: int) -> tuple[list[Column], list[Column]]:
    """Choose the boards to take apart: the most wasteful first in even rounds, at random in odd ones."""
    reduced = shop.reduced(boards, answer)
    chance = Random(round_)  # noqa: S311 — a fixed order that looks like none
    weight = [
        (-float(waste) if round_ % 2 == 0 else 0.0) * chance.random() + 1e-9 * chance.random() for waste in reduced
    ]
    if round_ % 2:
        weight = [chance.random() for _ in boards]
    order = sorted(range(len(boards)), key=lambda at: weight[at])
    loose: list[Column] = []
    kept: list[Column] = []
    pieces = 0
    for at in order:
        own = sum(n for _, n in boards[at].counts)
        if pieces + own <= _PIECES:
            pieces += own
            loose.append(boards[at])
        else:
            kept.append(boards[at])
    return loose, kept


def _open(shop: Workshop, kept: list[Column]) -> tuple[list[int], Limits]:
    """Return what is still to be cut and what stock there is when the kept boards are cut."""
    left, room = list(shop.wants), list(shop.limits)
    for one in kept:
        for item, n in one.counts:
            left[item] = max(0, left[item] - n)
        least, most = room[one.row]
        room[one.row] = (max(0.0, least - 1), most - 1)
    return left, room
