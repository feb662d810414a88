"""Other layouts of the same patterns, for the sake of the wishes: the same pieces on the same boards at the same cost.

A pattern of few pieces can be laid in every way that no other way beats in both width and height. Each board's ways are
tried in turn, the rest of the plan as it is, and the way that the bench would rather have is kept.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from fourply.errors import CannotHonour
from fourply.planning.grid import Grid
from fourply.planning.patterns import CUT_X, CUT_Y, Column, Tree
from fourply.planning.plan import Board
from fourply.planning.realise import boards_of
from fourply.planning.wishes import rank

_MOST_PIECES = 6
_MOST_TRIALS = 120
_MOST_BOARDS = 40

Choice = list[tuple[Column, int]]
_Way = tuple[int, int, Tree]


def laid_best(grid: Grid, choice: Choice) -> tuple[Board, ...]:
    """Return the boards of this choice, laid as the wishes would have them; equal cost, whichever way.

    Raises CannotHonour where the cutter's rules allow no layout.
    """
    boards = boards_of(grid, choice)
    if not grid.problem.cutter.free or sum(n for _, n in choice) > _MOST_BOARDS:
        return boards
    best = rank(boards, grid.problem.wishes)
    trials = 0
    for at, (one, n) in enumerate(choice):
        for other in others(grid, one):
            trials += 1
            if trials > _MOST_TRIALS:
                return boards
            changed = [*choice[:at], (other, n), *choice[at + 1 :]]
            try:
                laid = boards_of(grid, changed)
            except CannotHonour:
                continue
            now = rank(laid, grid.problem.wishes)
            if now < best:
                boards, best, choice = laid, now, changed
    return boards


def others(grid: Grid, one: Column) -> Iterator[Column]:
    """Yield the same pieces on the same kind of stock, laid in other ways; none where there are many pieces."""
    items = [item for item, n in one.counts for _ in range(n)]
    if len(items) > _MOST_PIECES:
        return
    stock = grid.stock[one.kind]
    for w, h, tree in _ways(grid, items, (stock.w, stock.h)):
        if w <= stock.w and h <= stock.h and tree != one.tree:
            yield replace(one, tree=tree)


def _ways(grid: Grid, items: list[int], room: tuple[int, int]) -> list[_Way]:
    """Return the ways to lay all pieces of which none is both as narrow and as low as another."""
    known: dict[int, list[_Way]] = {}
    for part in range(1, 1 << len(items)):
        known[part] = _least(_single(grid, items, part) or list(_joined(known, part)), room)
    return known[(1 << len(items)) - 1]


def _single(grid: Grid, items: list[int], part: int) -> list[_Way]:
    if part & (part - 1):
        return []
    at = items[part.bit_length() - 1]
    item = grid.items[at]
    upright: list[_Way] = [(item.w, item.h, (2 * at,))]
    return [*upright, (item.h, item.w, (2 * at + 1,))] if item.turns else upright


def _joined(known: dict[int, list[_Way]], whole: int) -> Iterator[_Way]:
    half = (whole - 1) & whole
    while half:
        for w, h, one in known[half]:
            for v, g, other in known[whole ^ half]:
                yield w + v, max(h, g), (CUT_X, *one, *other)
                yield max(w, v), h + g, (CUT_Y, *one, *other)
        half = (half - 1) & whole


def _least(ways: list[_Way], room: tuple[int, int]) -> list[_Way]:
    kept: list[_Way] = []
    for way in sorted(ways):
        if way[0] <= room[0] and way[1] <= room[1] and (not kept or way[1] < kept[-1][1]):
            kept.append(way)
    return kept
