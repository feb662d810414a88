"""Sticks filled one after the other, each as full as it can be: a good plan at once."""

from __future__ import annotations

from collections.abc import Iterable

from fourply.errors import BadInput
from fourply.planning.stick_units import Cut, Job

_MOST_BITS = 400_000


def fill_in_turn(job: Job) -> list[Cut]:
    """Return a plan made stick by stick: the cheapest fill per length that holds the longest unit left."""
    left = [u.copies for u in job.units]
    have = [b.stick.copies for b in job.bins]
    cuts: list[Cut] = []
    while any(left):
        cut = _cheapest(job, left, have)
        units = cut.units()
        stock = have[cut.bin]
        times = min([left[at] // n for at, n in units.items()] + ([] if stock is None else [stock]))
        cuts.extend([cut] * times)
        for at, n in units.items():
            left[at] -= n * times
        have[cut.bin] = None if stock is None else stock - times
    return cuts


def _cheapest(job: Job, left: list[int], have: list[int | None]) -> Cut:
    first = next(at for at, n in enumerate(left) if n)
    length = job.units[first].length
    found: list[tuple[float, int, Cut]] = []
    for at, kind in enumerate(job.bins):
        if have[at] == 0 or max(kind.spans, default=0) < length:
            continue
        cut = Cut(at, _fill(job, kind.spans, left, first))
        found.append((kind.stick.cost / job.total(cut), at, cut))
    if not found:
        key = job.units[first].rails[0].key
        raise BadInput(f"rail {key}", "sticks that suffice")
    return min(found, key=lambda offer: offer[:2])[2]


def _fill(job: Job, spans: tuple[int, ...], left: list[int], first: int) -> tuple[tuple[int, ...], ...]:
    """Fill the spans one after the other, each as full as it can be; the longest unit goes where it fits closest."""
    left = list(left)
    length = job.units[first].length
    home = min((n, at) for at, n in enumerate(spans) if n >= length)[1]
    fill: list[tuple[int, ...]] = [()] * len(spans)
    for at in sorted(range(len(spans)), key=lambda at: (at != home, -spans[at])):
        taken = [first] if at == home else []
        room = spans[at] - (length if at == home else 0)
        left[first] -= len(taken)
        taken += fullest(room, [(u, job.units[u].length, n) for u, n in enumerate(left) if n])
        for unit in taken[1 if at == home else 0 :]:
            left[unit] -= 1
        fill[at] = tuple(taken)
    return tuple(fill)


def fullest(room: int, units: list[tuple[int, int, int]]) -> list[int]:
    """Return units, given as (name, length, copies) longest first, that fill the room as full as can be.

    Reachable sums are kept as the bits of one integer; a room too long for that is filled longest first.
    """
    if room > _MOST_BITS:
        return _longest_first(room, units)
    mask = (1 << (room + 1)) - 1
    sums = [1]
    single = [(name, length) for name, length, copies in units for _ in range(min(copies, room // length))]
    for _, length in single:
        sums.append((sums[-1] | sums[-1] << length) & mask)
        if sums[-1] >> room:
            break
    at = sums[-1].bit_length() - 1
    taken: list[int] = []
    for i in range(len(sums) - 1, 0, -1):
        name, length = single[i - 1]
        if not sums[i - 1] >> at & 1:
            taken.append(name)
            at -= length
    return taken


def _longest_first(room: int, units: Iterable[tuple[int, int, int]]) -> list[int]:
    taken: list[int] = []
    for name, length, copies in units:
        fit = min(copies, room // length)
        taken.extend([name] * fit)
        room -= fit * length
    return taken
