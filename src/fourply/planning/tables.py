"""The grid problem as arrays for the inner loops: points, room left after a cut, and piece counts packed in bits.

A pattern's pieces are packed into 64-bit words, a field for each kind of piece: one bit where a single copy is
wanted, else a counter with a guard bit on top. Two patterns can be joined if the single bits are disjoint and no
counter, raised by its bias, reaches its guard. No field crosses the edge of a word.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fourply.planning.grid import Grid
from fourply.planning.points import reachable

Ints = NDArray[np.int64]
Words = NDArray[np.uint64]
Floats = NDArray[np.float64]

WORD = 64


@dataclass(frozen=True, slots=True)
class Packing:
    """Where each kind's count lies in the words, and the masks that test a sum of two patterns."""

    word: Ints
    shift: Ints
    single: Words
    bias: Words
    guard: Words

    @property
    def words(self) -> int:
        """How many words a pattern takes."""
        return len(self.single)


def pack(wants: list[int]) -> Packing:
    """Return the packing for so many copies of each kind."""
    word, shift = np.zeros(len(wants), np.int64), np.zeros(len(wants), np.int64)
    single, bias, guard = [0], [0], [0]
    at = 0
    for kind, want in enumerate(wants):
        bits = 1 if want == 1 else want.bit_length() + 1
        if at + bits > WORD:
            single.append(0)
            bias.append(0)
            guard.append(0)
            at = 0
        word[kind], shift[kind] = len(single) - 1, at
        if want == 1:
            single[-1] |= 1 << at
        else:
            bias[-1] |= ((1 << (bits - 1)) - 1 - want) << at
            guard[-1] |= 1 << (at + bits - 1)
        at += bits
    return Packing(word, shift, *(np.array(masks, np.uint64) for masks in (single, bias, guard)))


def fields(wants: list[int]) -> Words:
    """Return for each kind the mask of its count once it is shifted down."""
    return np.array([1 if want == 1 else (1 << want.bit_length()) - 1 for want in wants], np.uint64)


@dataclass(frozen=True, slots=True)
class Axis:
    """The points of one side of a box: lengths, the last one at half of each, the last one in what a cut leaves."""

    points: Ints
    half: Ints
    rest: Ints

    def floor(self, length: int) -> int:
        """Return the index of the last point that is not beyond the length."""
        return int(np.searchsorted(self.points, length, side="right")) - 1


def axis(points: list[int]) -> Axis:
    """Return the axis with these points, 0 first."""
    at = np.array(points, np.int64)
    half = np.searchsorted(at, at // 2, side="right").astype(np.int64) - 1
    left = at[:, None] - at[None, :]
    rest = np.searchsorted(at, np.maximum(left, 0).ravel(), side="right").reshape(left.shape).astype(np.int64) - 1
    return Axis(at, half, np.ascontiguousarray(rest))


@dataclass(frozen=True, slots=True)
class Tables:
    """All arrays of one grid problem. `sides` is each kind's width and height, `turns` whether both ways count.

    On a symmetric problem both axes are the same and only boxes that lie on their long side are computed. `cuts` are
    the axes for boxes that a cut can leave: a board's own sides, and what is shorter by at least a piece.
    """

    x: Axis
    y: Axis
    across: int
    cuts: tuple[Axis, Axis, int]
    sides: Ints
    turns: NDArray[np.bool_]
    wants: Ints
    packing: Packing
    stock: Ints
    symmetric: bool


def tables_of(grid: Grid, *, every: bool = False) -> Tables:
    """Return the arrays of a grid problem; with `every` all whole numbers are points, not only sums of sides."""
    wide, high = max(k.roof[0] for k in grid.stock), max(k.roof[1] for k in grid.stock)
    sums_x, sums_y = list(range((high if grid.symmetric else wide) + 1)), list(range(high + 1))
    if not every:
        sums_x, sums_y = sums_of(grid)
    x = axis(sums_x)
    y = x if grid.symmetric else axis(sums_y)
    least = min(min(i.w, i.h) for i in grid.items)
    sides_x = {side for k in grid.stock for side in (k.w, k.roof[0])}
    sides_y = {side for k in grid.stock for side in (k.h, k.roof[1])}
    if grid.symmetric:
        sides_x = sides_y = sides_x | sides_y
    cuts_x = axis(_useful(sums_x, sides_x, least))
    cuts_y = cuts_x if grid.symmetric else axis(_useful(sums_y, sides_y, least))
    return Tables(
        x=x,
        y=y,
        across=x.floor(wide),
        cuts=(cuts_x, cuts_y, cuts_x.floor(wide)),
        sides=np.array([(i.w, i.h) for i in grid.items], np.int64),
        turns=np.array([i.turns for i in grid.items], np.bool_),
        wants=np.array([i.want for i in grid.items], np.int64),
        packing=pack([i.want for i in grid.items]),
        stock=np.array([k.roof for k in grid.stock], np.int64),
        symmetric=grid.symmetric,
    )


def sums_of(grid: Grid) -> tuple[list[int], list[int]]:
    """Return the points that pieces laid end to end can reach, across and up."""
    wide, high = max(k.roof[0] for k in grid.stock), max(k.roof[1] for k in grid.stock)
    each = [item for item in grid.items for _ in range(item.want)]
    across = reachable([(i.w, i.h) if i.turns else (i.w,) for i in each], high if grid.symmetric else wide)
    return across, across if grid.symmetric else reachable([(i.h, i.w) if i.turns else (i.h,) for i in each], high)


def _useful(points: list[int], sides: set[int], least: int) -> list[int]:
    """Leave out points too near the longest board's edge for a piece to lie beyond, but for the sides of boards."""
    floors = {max(at for at in points if at <= side) for side in sides}
    return [at for at in points if at <= max(sides) - least or at in floors]
