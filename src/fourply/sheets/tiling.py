"""Where a thing larger than a sheet of paper is parted into tiles: the seams, and what each tile shows.

Neighbours overlap; the seam runs down the middle of the overlap, and what stands on it stands on both. Seams keep away
from lines that must be read or measured, as far as the papers leave a choice: first of all from axes, then from lines
that run along them.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from string import ascii_uppercase
from typing import NamedTuple

from fourply.drawing.shapes import Box

OVERLAP = 10.0
"""How much two neighbours both show, in millimetres."""

_STEP = 1.0
_NEAR = 1e-6
_LEAST = 2 * OVERLAP  # between two seams
_CLEAR = OVERLAP / 2 + 7  # so that what is avoided stands in no overlap


class Avoid(NamedTuple):
    """A place that a seam should stay clear of, and how much that matters."""

    at: float
    weight: float = 1.0


@dataclass(frozen=True, slots=True)
class Tile:
    """One tile: its letter, its place in the grid, what is left of it between its seams, and all that it shows."""

    letter: str
    column: int
    row: int
    kept: Box
    shown: Box


@dataclass(frozen=True, slots=True)
class Tiling:
    """The upright seams (xs), the level ones (ys), and how badly they lie: nothing where all are clear."""

    extent: Box
    xs: tuple[float, ...]
    ys: tuple[float, ...]
    badness: float

    @property
    def tiles(self) -> tuple[Tile, ...]:
        """The tiles, row by row from the top left."""
        columns = list(pairwise((self.extent.left, *self.xs, self.extent.right)))
        rows = list(pairwise((self.extent.top, *self.ys, self.extent.bottom)))
        half = OVERLAP / 2
        made: list[Tile] = []
        for row, (top, bottom) in enumerate(rows):
            for column, (left, right) in enumerate(columns):
                kept = Box(left, top, right, bottom)
                shown = Box(
                    left - half * (column > 0),
                    top - half * (row > 0),
                    right + half * (column < len(columns) - 1),
                    bottom + half * (row < len(rows) - 1),
                )
                made.append(Tile(letters(len(made)), column, row, kept, shown))
        return tuple(made)


def letters(number: int) -> str:
    """Return the letters of a tile by its number, from 0.

    >>> letters(0), letters(25), letters(26)
    ('A', 'Z', 'AA')
    """
    text = ""
    number += 1
    while number:
        number, letter = divmod(number - 1, 26)
        text = ascii_uppercase[letter] + text
    return text


def tile(extent: Box, room: tuple[float, float], across: Sequence[Avoid], down: Sequence[Avoid]) -> Tiling:
    """Return the tiling of an extent by papers that show so much each, as few as will do.

    `across` are the x that upright seams should avoid, `down` the y for level ones.
    """
    xs, bad_x = seams((extent.left, extent.right), room[0], across)
    ys, bad_y = seams((extent.top, extent.bottom), room[1], down)
    return Tiling(extent, xs, ys, bad_x + bad_y)


def seams(span: tuple[float, float], room: float, avoid: Sequence[Avoid]) -> tuple[tuple[float, ...], float]:
    """Return the seams of a span and how badly they lie, by dynamic programming over places a millimetre apart.

    >>> seams((0, 100), 60, ())
    ((50.0,), 0.0)
    >>> seams((0, 100), 60, (Avoid(50),))[0][0] in (45.0, 55.0)
    True
    """
    start, end = span
    pitch = room - OVERLAP
    count = max(1, math.ceil((end - start - OVERLAP) / pitch - _NEAR)) - 1
    best: dict[float, tuple[float, tuple[float, ...]]] = {start + OVERLAP / 2: (0.0, ())}
    for number in range(1, count + 1):
        low = max(start + _LEAST, end - room + OVERLAP / 2 - (count - number) * pitch)
        high = start + room - OVERLAP / 2 + (number - 1) * pitch
        even = start + (end - start) * number / (count + 1)
        following: dict[float, tuple[float, tuple[float, ...]]] = {}
        for at in _places(low, min(high, end - _LEAST), even):
            cost = _cost(at, even, avoid)
            ways = [
                (found[0] + cost, (*found[1], at))
                for before, found in best.items()
                if at - before <= pitch + _NEAR and (number == 1 or at - before >= _LEAST)
            ]
            if ways:
                following[at] = min(ways)
        best = following
    _, chosen = min(best.values())
    return chosen, sum(_clash(at, avoid) for at in chosen)


def _places(low: float, high: float, even: float) -> list[float]:
    high = max(low, high)
    places = {low, high, *(low + _STEP * i for i in range(math.floor((high - low) / _STEP) + 1))}
    if low <= even <= high:
        places.add(even)
    return sorted(places)


def _clash(at: float, avoid: Sequence[Avoid]) -> float:
    return math.fsum(each.weight * max(0.0, _CLEAR - abs(at - each.at)) for each in avoid)


def _cost(at: float, even: float, avoid: Sequence[Avoid]) -> float:
    return _clash(at, avoid) + 1e-6 * abs(at - even)
