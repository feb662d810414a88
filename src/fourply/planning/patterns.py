"""Patterns: what is cut from one board, as a cut tree written before-order in a few numbers.

A number of at least 0 is a piece, 2 * kind + turned; CUT_X puts the two parts that follow side by side, CUT_Y one above
the other. The numbers say nothing of where waste lies: a pattern is as wide and high as its parts need.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from fourply.planning.grid import Grid
from fourply.planning.plan import Node, Way

CUT_X, CUT_Y = -1, -2

Tree = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Column:
    """A pattern on one kind of stock: its pieces as (kind, count) in order, its cost, its cut tree."""

    kind: int
    row: int
    cost: int
    counts: tuple[tuple[int, int], ...]
    tree: Tree

    @property
    def name(self) -> tuple[int, tuple[tuple[int, int], ...]]:
        """What makes two columns the same to the master: stock and pieces."""
        return self.kind, self.counts


def column(grid: Grid, kind: int, tree: Tree) -> Column:
    """Return the column of a cut tree on a kind of stock."""
    counts = Counter(code >> 1 for code in tree if code >= 0)
    stock = grid.stock[kind]
    return Column(kind, stock.row, stock.cost, tuple(sorted(counts.items())), tree)


def size_of(grid: Grid, tree: Tree) -> tuple[int, int]:
    """Return the width and height that a cut tree needs."""
    stack: list[tuple[int, int]] = []
    for code in reversed(tree):
        if code >= 0:
            item = grid.items[code >> 1]
            stack.append((item.h, item.w) if code & 1 else (item.w, item.h))
            continue
        (w, h), (v, g) = stack.pop(), stack.pop()
        stack.append((w + v, max(h, g)) if code == CUT_X else (max(w, v), h + g))
    return stack.pop()


def turned(tree: Tree, turns: Sequence[bool]) -> Tree:
    """Return the cut tree transposed as a whole; pieces whose turning changes nothing keep their number."""
    return tuple((code ^ 1 if turns[code >> 1] else code) if code >= 0 else CUT_X + CUT_Y - code for code in tree)


def stacked(cut: int, trees: Sequence[Tree]) -> Tree:
    """Return one tree that puts several one after the other."""
    return (cut,) * (len(trees) - 1) + tuple(code for tree in trees for code in tree)


def tree_of(node: Node, code_of: dict[tuple[str, bool], int]) -> Tree | None:
    """Return the cut tree of a finished board's node without its waste; None for waste.

    `code_of` gives the number of a piece by key and whether it lies turned.
    """
    if node.cut is None:
        return None if node.piece is None else (code_of[node.piece, node.turned],)
    parts = [tree for child in node.children if (tree := tree_of(child, code_of)) is not None]
    return stacked(CUT_X if node.cut is Way.V else CUT_Y, parts) if parts else None


def without(tree: Tree, surplus: dict[int, int]) -> Tree | None:
    """Return the tree with so many fewer of some kinds; None if nothing is left. `surplus` is counted down."""
    parts: list[Tree | None] = []
    for code in reversed(tree):
        if code >= 0:
            if surplus.get(code >> 1, 0):
                surplus[code >> 1] -= 1
                parts.append(None)
            else:
                parts.append((code,))
            continue
        first, second = parts.pop(), parts.pop()
        parts.append((code, *first, *second) if first and second else first or second)
    return parts.pop()


Accept = Callable[[Column], Column | None]
"""Returns a column as it can be cut, or None."""


class Pool:
    """All columns found so far that are accepted, each kept once."""

    def __init__(self, accept: Accept | None = None) -> None:
        self.accept = accept
        self.columns: list[Column] = []
        self._known: set[tuple[int, tuple[tuple[int, int], ...]]] = set()
        self._refused: set[tuple[int, Tree]] = set()

    def add(self, found: Iterable[Column]) -> list[Column]:
        """Keep the columns that are new, and return them."""
        fresh = list(self._fresh(found))
        self.columns.extend(fresh)
        return fresh

    def _fresh(self, found: Iterable[Column]) -> Iterator[Column]:
        for one in found:
            if one.name in self._known or (one.kind, one.tree) in self._refused:
                continue
            made = one if self.accept is None else self.accept(one)
            if made is None:
                self._refused.add((one.kind, one.tree))
            else:
                self._known.add(one.name)
                yield made
