"""Exhaustive search for tiny problems: every way to share the pieces out, every cut, no planner code.

Only for problems without kerf, trim, lots, damage or locked boards; of the cutter's rules it knows the least strip,
the least that can be held, and the longest cut.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from functools import cache

from fourply.planning.problem import Problem

Sizes = tuple[tuple[int, int], ...]


def cheapest(problem: Problem) -> int:  # noqa: C901 — one closed search, easier to trust whole
    """Return the least cost of all plans."""
    each = [p for p in problem.pieces for _ in range(p.copies)]
    turns = [problem.may_turn(p) for p in each]
    cutter = problem.cutter
    strip = 0 if cutter.free else max(1, cutter.least_strip)
    longest = cutter.longest_cut or 1 << 60

    @cache
    def fits(group: frozenset[int], w: int, h: int) -> bool:
        """Whether some guillotine layout puts the group into w by h: one piece whole, or a cut that parts them."""
        if sum(each[i].w * each[i].h for i in group) > w * h:
            return False
        if strip:
            return not group or breaks(group, w, h)
        if len(group) == 1:
            (one,) = group
            a, b = each[one].w, each[one].h
            return (a <= w and b <= h) or (turns[one] and b <= w and a <= h)
        return any(
            fits(first, at, h) and fits(group - first, w - at, h) for first in _halves(group) for at in _sums(first, w)
        ) or any(
            fits(first, w, at) and fits(group - first, w, h - at) for first in _halves(group) for at in _sums(first, h)
        )

    def breaks(group: frozenset[int], w: int, h: int) -> bool:
        """Whether the group comes of w by h by breaks that leave a strip on both sides, wherever they are made."""
        if len(group) == 1:
            (one,) = group
            size = each[one].w, each[one].h
            if size == (w, h) or (turns[one] and size == (h, w)):
                return True
        if min(w, h) < cutter.least_held:
            return False
        parts = list(_subsets(group))
        across = range(strip, w - strip + 1) if h <= longest else ()
        along = range(strip, h - strip + 1) if w <= longest else ()
        return any(fits(part, at, h) and fits(group - part, w - at, h) for at in across for part in parts) or any(
            fits(part, w, at) and fits(group - part, w, h - at) for at in along for part in parts
        )

    @cache
    def _sums(group: frozenset[int], most: int) -> tuple[int, ...]:
        sums = {0}
        for i in group:
            sums |= {s + side for s in sums for side in (each[i].w, each[i].h) if s + side <= most}
        return tuple(sorted(s for s in sums if 0 < s < most))

    offers = [(s.cost, s.w, s.h, s.copies, s.key) for s in problem.stock]
    offers += [
        (problem.fallout_cost, p.fallouts[0].w, p.fallouts[0].h, p.copies, f"fallout {p.key}")
        for p in problem.pieces
        if p.fallouts
    ]
    best = [1 << 60]

    def share(left: frozenset[int], spent: int, used: Counter[str]) -> None:
        if spent >= best[0]:
            return
        if not left:
            best[0] = spent
            return
        first = min(left)
        for rest in _subsets(left - {first}):
            group = rest | {first}
            for cost, w, h, copies, key in offers:
                if (copies is None or used[key] < copies) and fits(group, w, h):
                    share(left - group, spent + cost, used + Counter({key: 1}))

    share(frozenset(range(len(each))), 0, Counter())
    return best[0]


def _subsets(group: frozenset[int]) -> Iterator[frozenset[int]]:
    items = sorted(group)
    for bits in range((1 << len(items)) - 1, -1, -1):
        yield frozenset(item for at, item in enumerate(items) if bits >> at & 1)


def _halves(group: frozenset[int]) -> Iterator[frozenset[int]]:
    return (part for part in _subsets(group) if part and part != group)
