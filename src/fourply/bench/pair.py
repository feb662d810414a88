"""What two people can do at once: one blanks, tapes and works by hand, the other stands at the mat cutter.

Each keeps the order of the list; a block begins when its person is free and what it needs is there.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from fourply.bench.blanks import Draft
from fourply.bench.steps import Block, Kind, Person

_AT_THE_CUTTER = (Kind.CUT, Kind.OVAL, Kind.MARK)
_CUTTER, _BENCH = "at the mat cutter", "at the straight cutter and the bench"


def two_people(drafts: Sequence[Draft], blocks: Sequence[Block]) -> tuple[Person, ...]:
    """Return who does which blocks, and when each may begin."""
    there: dict[object, float] = {}
    free = {_BENCH: 0.0, _CUTTER: 0.0}
    lists: dict[str, list[tuple[int, float]]] = {name: [] for name in free}
    for draft, block in zip(drafts, blocks, strict=True):
        name = _CUTTER if draft.kind in _AT_THE_CUTTER else _BENCH
        begins = max([free[name], *(there.get(need, 0.0) for need in _needs(draft.needs))])
        free[name] = begins + block.seconds
        lists[name].append((block.number, begins))
        for given in draft.gives:
            there[given] = max(there.get(given, 0.0), free[name])
    return tuple(
        Person(name, tuple(number for number, _ in each), tuple(begins for _, begins in each), free[name])
        for name, each in lists.items()
        if each
    )


def _needs(needs: Iterable[object]) -> Iterator[object]:
    """Yield what must be there: tasks by their numbers, and the blank of a piece by its key, whichever copy."""
    for need in needs:
        yield need[0] if isinstance(need, tuple) else need
