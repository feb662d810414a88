"""What two people can do at once: one blanks, tapes and works by hand, the other stands at the mat cutter.

The one at the mat cutter keeps the order of the list. The other does first what the mat cutter waits for first; all
sheets of one material stay together. A block begins when its person is free and what it needs is there.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from fourply.bench.blanks import Draft
from fourply.bench.steps import Block, Kind, Person

_AT_THE_CUTTER = (Kind.CUT, Kind.OVAL, Kind.MARK)
_CUTTER, _BENCH = "at the mat cutter", "at the straight cutter and the bench"


def two_people(drafts: Sequence[Draft], blocks: Sequence[Block]) -> tuple[Person, ...]:
    """Return who does which blocks, and when each may begin."""
    units = [list(run) for _, run in groupby(range(len(drafts)), key=lambda at: _unit(drafts[at], at))]
    needs = _unit_needs(drafts, units)
    first = _first_waits(drafts, units, needs)
    at_cutter = [at for at, unit in enumerate(units) if _cuts(drafts[unit[0]])]
    others = sorted(set(range(len(units))) - set(at_cutter), key=lambda at: (first[at], at))
    lists = {_BENCH: others, _CUTTER: at_cutter}
    begins = _schedule(lists, needs, [sum(blocks[at].seconds for at in unit) for unit in units])
    return tuple(_person(name, each, units, begins, blocks) for name, each in lists.items() if each)


def _person(
    name: str, own: Sequence[int], units: Sequence[Sequence[int]], begins: Sequence[float], blocks: Sequence[Block]
) -> Person:
    numbers, starts, free = list[int](), list[float](), 0.0
    for unit in own:
        free = begins[unit]
        for at in units[unit]:
            numbers.append(blocks[at].number)
            starts.append(free)
            free += blocks[at].seconds
    return Person(name, tuple(numbers), tuple(starts), free)


def _cuts(draft: Draft) -> bool:
    return draft.kind in _AT_THE_CUTTER


def _unit(draft: Draft, at: int) -> object:
    """Return what keeps the sheets of one material together; every other block is a unit of its own."""
    return (draft.setting.head, draft.setting.board, draft.needs) if draft.kind is Kind.BLANK else at


def _unit_needs(drafts: Sequence[Draft], units: Sequence[Sequence[int]]) -> list[set[int]]:
    """Return the units that each unit waits for: those before it that give what it needs."""
    givers: dict[object, list[int]] = {}
    found: list[set[int]] = []
    for number, unit in enumerate(units):
        needs = {need for at in unit for need in _needs(drafts[at].needs)}
        found.append({giver for need in needs for giver in givers.get(need, ()) if giver != number})
        for at in unit:
            for given in drafts[at].gives:
                givers.setdefault(given, []).append(number)
    return found


def _needs(needs: Iterable[object]) -> Iterator[object]:
    """Yield what must be there: tasks by their numbers, and the blank of a piece by its key, whichever copy."""
    for need in needs:
        yield need[0] if isinstance(need, tuple) else need


def _first_waits(drafts: Sequence[Draft], units: Sequence[Sequence[int]], needs: Sequence[set[int]]) -> list[int]:
    """Return when the mat cutter first waits for each unit, by the numbers of units; what it never needs comes last."""
    first = [at if _cuts(drafts[units[at][0]]) else len(units) for at in range(len(units))]
    for at in reversed(range(len(units))):
        for need in needs[at]:
            first[need] = min(first[need], first[at])
    return first


def _schedule(lists: dict[str, list[int]], needs: Sequence[set[int]], seconds: Sequence[float]) -> list[float]:
    """Return when each unit begins, both lists worked down in their order."""
    ends: dict[int, float] = {}
    begins = [0.0] * len(seconds)
    free = dict.fromkeys(lists, 0.0)
    place = dict.fromkeys(lists, 0)
    while any(place[name] < len(own) for name, own in lists.items()):
        for name, own in lists.items():
            while place[name] < len(own) and all(need in ends for need in needs[own[place[name]]]):
                unit = own[place[name]]
                begins[unit] = max([free[name], *(ends[need] for need in needs[unit])])
                ends[unit] = free[name] = begins[unit] + seconds[unit]
                place[name] += 1
    return begins
