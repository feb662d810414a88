"""Where nothing narrower than a certain strip can be cut off: which lengths suit a pattern, and which do not.

A side is the least length that suits and a mark. A firm side suits a box of just that length, or of at least a strip
more; a loose one any box that is not shorter. Sides that lie end to end add up, and are loose if one of them is. Of two
sides that share a box the longer counts if it leaves a strip beside the shorter, else a strip must lie beside both.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from fourply.planning.grid import Grid
from fourply.planning.patterns import CUT_X, Tree

Side = tuple[int, bool]
Sides = tuple[Side, Side]


@dataclass(frozen=True, slots=True)
class Strips:
    """The narrowest strip in units of the grid, 0 for none; which kinds of pieces may give way and so are loose.

    `exact` says that a pattern which suits by these sides can be cut, and that no other can.
    """

    least: int
    loose: tuple[bool, ...]
    exact: bool


def strips_of(grid: Grid) -> Strips:
    """Return what the cutter of the problem asks of strips; nothing where a saw may eat what is too narrow."""
    problem, cutter = grid.problem, grid.problem.cutter
    least = 0 if cutter.kerf or not grid.even else -(-cutter.least_strip // grid.unit)
    loose = tuple(any(piece.most is not None for piece, _, _ in item.pieces) for item in grid.items)
    sides = [side for p in problem.pieces for side in (p.w, p.h)]
    held = min(sides) >= max(cutter.least_strip, cutter.least_held) and cutter.longest_cut is None
    alike = problem.oriented or all(p.turnable for p in problem.pieces)
    whole = all(home.part is None for kind in grid.stock for home in kind.homes)
    plain = alike and whole and not any(loose) and all(p.lot is None for p in problem.pieces)
    return Strips(least, loose, least > 0 and held and plain)


def beside(a: Side, b: Side) -> Side:
    """Return the side of two that lie end to end.

    >>> beside((30, False), (20, True))
    (50, True)
    """
    return a[0] + b[0], a[1] or b[1]


def shared(a: Side, b: Side, strip: int) -> Side:
    """Return the side that suits what suits both.

    >>> shared((30, False), (20, False), 5), shared((30, False), (28, False), 5)
    ((30, False), (35, True))
    """
    (low, low_loose), (high, high_loose) = sorted((a, b))
    if low_loose == high_loose:
        close = not low_loose and low != high and high - low < strip
        return (high + strip, True) if close else (high, low_loose)
    firm, loose = (high, low) if low_loose else (low, high)
    return (firm, False) if firm >= loose else (max(loose, firm + strip), True)


def suits(side: Side, length: int, strip: int) -> bool:
    """Whether the side suits a box of that length.

    >>> [suits((30, False), length, 5) for length in (29, 30, 31, 35)]
    [False, True, False, True]
    """
    least, loose = side
    return length >= least and (loose or length == least or length - least >= strip)


def covers(a: Side, b: Side, strip: int) -> bool:
    """Whether every length that suits the second side suits the first.

    >>> covers((30, False), (31, False), 5), covers((30, False), (35, True), 5)
    (False, True)
    """
    if a[1] or strip <= 1:  # lengths are whole: a strip of one leaves none out
        return b[0] >= a[0]
    return b == a or b[0] - a[0] >= strip


def joined(a: Sides, b: Sides, cut: int, strip: int) -> Sides:
    """Return the sides of two parts side by side (CUT_X) or one above the other."""
    if cut == CUT_X:
        return beside(a[0], b[0]), shared(a[1], b[1], strip)
    return shared(a[0], b[0], strip), beside(a[1], b[1])


def sides_of(grid: Grid, tree: Tree, strips: Strips) -> Sides:
    """Return the sides of a cut tree on the grid."""

    def leaf(code: int) -> Sides:
        item, loose = grid.items[code >> 1], strips.loose[code >> 1]
        w, h = (item.h, item.w) if code & 1 else (item.w, item.h)
        return (w, loose), (h, loose)

    return folded(tree, leaf, lambda cut, a, b: joined(a, b, cut, strips.least))


def folded[T](tree: Tree, leaf: Callable[[int], T], join: Callable[[int, T, T], T]) -> T:
    """Return what comes of a cut tree when every piece is made by `leaf` and every cut by `join`."""
    stack: list[T] = []
    for code in reversed(tree):
        if code >= 0:
            stack.append(leaf(code))
        else:
            first, second = stack.pop(), stack.pop()
            stack.append(join(code, first, second))
    return stack.pop()
