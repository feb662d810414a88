"""What is set otherwise in an order of work after a measurement: guide, stops, where the blade enters and leaves."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from fourply.bench.again import Again
from fourply.bench.steps import Block, Handling, Steps
from fourply.working.working import Figures, Value

_SET = (("guide", ("set", "guide")), ("far", ("far.stop", "far.crossing")), ("near", ("near.stop", "near.crossing")))
_BLADE = (("blade at the far end", ("far.blade",)), ("blade at the near end", ("near.blade",)))
_KNOWN = frozenset(leaf for _, leaves in (*_SET, *_BLADE) for leaf in leaves)
_FOLLOWS = frozenset(("length", "gives", "far.index", "near.index"))
"""Figures of a cut that nobody sets: they follow from what is set."""


@dataclass(frozen=True, slots=True)
class Reset:
    """One thing that is set otherwise for a piece in a block: for which sides, what it was and what it is now.

    `board` begins the figures of the piece. Without sides it holds for the whole piece: the board under the blade.
    """

    block: int
    board: str
    name: str
    what: str
    sides: tuple[str, ...]
    was: Value
    now: Value


def resets(again: Again, figures: Figures, steps: Steps) -> Iterator[Reset]:
    """Yield what is set otherwise in each block of an order of work, by the figures of the work as they are now."""
    for block in steps.blocks:
        for handling in block.handlings:
            if handling.work == again.work:
                yield from _resets(again, figures, block, handling)


def _resets(again: Again, figures: Figures, block: Block, handling: Handling) -> Iterator[Reset]:
    changed = {change.figure: (change.was, change.now) for change in again.changed}
    caliper = f"{handling.board}.caliper"
    if block.setting.board is not None and caliper in changed:
        yield Reset(block.number, handling.board, handling.name, "board under the blade", (), *changed[caliper])
    found: dict[tuple[str, Value, Value], list[str]] = {}
    for strike in handling.strikes:
        for what, path in _shown(strike.figure, figures) if strike.figure else ():
            if path in changed:
                found.setdefault((what, *changed[path]), []).append(strike.side or strike.operation)
    for (what, was, now), sides in found.items():
        yield Reset(block.number, handling.board, handling.name, what, tuple(dict.fromkeys(sides)), was, now)


def _shown(figure: str, figures: Figures) -> Iterator[tuple[str, str]]:
    """Yield what a cut is set by, in words and as a path: what the cutter shows where it shows it, else the border."""
    for what, leaves in (*_SET, *_BLADE):
        path = next((path for leaf in leaves if (path := f"{figure}.{leaf}") in figures), None)
        if path is not None:
            yield what, path
    for path in figures:
        leaf = path.removeprefix(f"{figure}.")
        if leaf != path and leaf not in _KNOWN and leaf not in _FOLLOWS:
            yield leaf.replace(".", " ").replace("_", " "), path
