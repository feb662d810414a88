"""All patterns of a small job, one by one: every set of pieces that some board can hold.

A set is tried only if every set that lacks one of its pieces was possible. For each the smallest boxes are kept, over
all ways to put two parts side by side or one above the other; a set fits a board if one of its boxes does. Where no
strip may be too narrow the sides of boxes are those of `strips`. Plain Python, for jobs so small that loading a
compiler would take longer.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from fourply.planning.grid import Grid
from fourply.planning.patterns import CUT_X, CUT_Y, Column, Tree, column
from fourply.planning.strips import Side, covers, joined, strips_of, suits

_Box = tuple[Side, Side, Tree]


def every_column(grid: Grid, most: int) -> list[Column] | None:
    """Return every pattern that some board can hold; None where that takes more than `most` joins."""
    listing = _Listing(grid, most)
    try:
        listing.run()
    except _TooMany:
        return None
    return list(listing.columns())


class _TooMany(Exception):
    """More joins than allowed."""


class _Listing:
    """The sets found so far, each with its smallest boxes."""

    def __init__(self, grid: Grid, most: int) -> None:
        self.grid = grid
        self.left = most
        self.each = [at for at, item in enumerate(grid.items) for _ in range(item.want)]
        self.first = {item: at for at, item in reversed(list(enumerate(self.each)))}
        self.plain = len(self.first) == len(self.each)
        self.roofs = _tallest({(k.w, k.h) for k in grid.stock})
        self.strips = strips_of(grid)
        self.boxes: dict[int, list[_Box]] = {}

    def run(self) -> None:
        """Find all sets, level by level."""
        level = []
        for bit, item in enumerate(self.each):
            new = 1 << bit
            found = self._smallest(_single(self.grid, item)) if self._form(new) == new else []
            if found:
                self.boxes[new] = found
                level.append(new)
        while level:
            level = list(self._next(level))

    def _next(self, level: list[int]) -> Iterator[int]:
        """Add one piece above the highest to every set of the level."""
        for old in level:
            for bit in range(old.bit_length(), len(self.each)):
                new = old | 1 << bit
                if self._form(new) != new or not self._heir(new, bit):
                    continue
                found = self._smallest(list(self._joined(new, 1 << bit)))
                if found:
                    self.boxes[new] = found
                    yield new

    def _heir(self, new: int, last: int) -> bool:
        """Whether every set that lacks one of the pieces was possible."""
        return all(self._form(new & ~(1 << b)) in self.boxes for b in range(last) if new >> b & 1)

    def _form(self, subset: int) -> int:
        """Return the set of the same kinds that takes equal pieces in their order."""
        if self.plain:
            return subset
        seen: Counter[int] = Counter()
        form = 0
        for bit, item in enumerate(self.each):
            if subset >> bit & 1:
                form |= 1 << (self.first[item] + seen[item])
                seen[item] += 1
        return form

    def _joined(self, new: int, last: int) -> Iterator[_Box]:
        rest = part = new & ~last
        strip = self.strips.least
        while part:
            part = (part - 1) & rest
            ones, others = self.boxes[self._form(part | last)], self.boxes[self._form(rest & ~part)]
            self.left -= len(ones) * len(others)
            if self.left < 0:
                raise _TooMany
            for aw, ah, one in ones:
                for bw, bh, two in others:
                    if strip:
                        for cut in (CUT_X, CUT_Y):
                            yield *joined((aw, ah), (bw, bh), cut, strip), (cut, *one, *two)
                    else:
                        yield (aw[0] + bw[0], False), max(ah, bh), (CUT_X, *one, *two)
                        yield max(aw, bw), (ah[0] + bh[0], False), (CUT_Y, *one, *two)

    def _smallest(self, found: list[_Box]) -> list[_Box]:
        """Return the boxes that some board can hold and that no other box replaces."""
        strip = self.strips.least
        kept: list[_Box] = []
        low = 1 << 62
        for box in sorted(found, key=lambda b: (b[0], b[1])):
            w, h, _ = box
            if not strip and h[0] >= low:
                continue
            fits = any(w[0] <= wide and h[0] <= high for wide, high in self.roofs)
            low = h[0] if fits else low
            if fits and not any(covers(v, w, strip) and covers(g, h, strip) for v, g, _ in kept):
                kept.append(box)
        return kept

    def columns(self) -> Iterator[Column]:
        """Yield every set on every kind of stock that holds it."""
        strip = self.strips.least
        for found in self.boxes.values():
            for kind, stock in enumerate(self.grid.stock):
                fit = next(
                    (tree for w, h, tree in found if suits(w, stock.w, strip) and suits(h, stock.h, strip)), None
                )
                if fit is not None:
                    yield column(self.grid, kind, fit)


def _single(grid: Grid, item: int) -> list[_Box]:
    kind = grid.items[item]
    w, h = (kind.w, False), (kind.h, False)
    upright: list[_Box] = [(w, h, (2 * item,))]
    return [*upright, (h, w, (2 * item + 1,))] if kind.turns else upright


def _tallest(sizes: set[tuple[int, int]]) -> list[tuple[int, int]]:
    """Return the board sizes that are not inside another."""
    return [a for a in sizes if not any(a != b and a[0] <= b[0] and a[1] <= b[1] for b in sizes)]
