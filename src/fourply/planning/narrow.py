"""A part of a grid problem as a grid problem of its own: some of the pieces, what stock is left for them.

Patterns go in and out by number: those of the part name its own kinds, those of the whole name the whole's.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from fourply.planning.grid import Grid, Item
from fourply.planning.patterns import Column, Tree

Choice = list[tuple[Column, int]]


@dataclass(frozen=True, slots=True)
class Narrow:
    """The part, and for each of its kinds of piece and of stock the number in the whole."""

    whole: Grid
    grid: Grid
    items: list[int]
    kinds: list[int]
    rows: list[int]

    def outside(self, choice: Iterable[tuple[Column, int]]) -> Choice:
        """Return patterns of the part as patterns of the whole."""
        return [(_renamed(one, self.items, self.kinds, self.rows), n) for one, n in choice]

    def inside(self, choice: Iterable[tuple[Column, int]]) -> Choice:
        """Return patterns of the whole as patterns of the part; all they use must be in it."""
        items = _places(self.items, len(self.whole.items))
        kinds = _places(self.kinds, len(self.whole.stock))
        rows = _places(self.rows, len(self.whole.limits))
        return [(_renamed(one, items, kinds, rows), n) for one, n in choice]


def narrowed(grid: Grid, left: Sequence[int], room: Sequence[int | None], keep: Iterable[int] = ()) -> Narrow:
    """Return the part with `left` pieces of each kind and `room` boards in each row of stock (None: no limit).

    Stock that holds none of the pieces is left out, but for the kinds to `keep`.
    """
    items = [at for at, n in enumerate(left) if n]
    kept = set(keep)
    holds = _holding(grid, items)
    kinds = [at for at, kind in enumerate(grid.stock) if at in kept or (room[kind.row] != 0 and holds[at])]
    rows = sorted({grid.stock[at].row for at in kinds})
    place = {row: at for at, row in enumerate(rows)}
    part = replace(
        grid,
        items=[_fewer(grid.items[at], left[at]) for at in items],
        stock=[replace(grid.stock[at], row=place[grid.stock[at].row]) for at in kinds],
        limits=[room[row] for row in rows],
        sunk=0,
    )
    return Narrow(grid, part, items, kinds, rows)


def _fewer(item: Item, want: int) -> Item:
    pieces = []
    for piece, n, flipped in item.pieces:
        taken = min(n, want)
        want -= taken
        if taken:
            pieces.append((piece, taken, flipped))
    return replace(item, pieces=tuple(pieces))


def _holding(grid: Grid, items: Sequence[int]) -> list[bool]:
    """Return for each kind of stock whether any of the pieces fits what it could be at most."""
    sides = np.array([(grid.items[at].w, grid.items[at].h) for at in items]).reshape(-1, 2)
    either = np.array([grid.items[at].turns for at in items], bool)
    found = []
    for kind in grid.stock:
        w, h = kind.roof
        upright = (sides[:, 0] <= w) & (sides[:, 1] <= h)
        across = either & (sides[:, 1] <= w) & (sides[:, 0] <= h)
        found.append(bool((upright | across).any()))
    return found


def _places(numbers: Sequence[int], count: int) -> list[int]:
    places = [-1] * count
    for at, number in enumerate(numbers):
        places[number] = at
    return places


def _renamed(one: Column, items: Sequence[int], kinds: Sequence[int], rows: Sequence[int]) -> Column:
    tree: Tree = tuple(code if code < 0 else 2 * items[code >> 1] + (code & 1) for code in one.tree)
    counts = tuple(sorted((items[at], n) for at, n in one.counts))
    return Column(kinds[one.kind], rows[one.row], one.cost, counts, tree)
