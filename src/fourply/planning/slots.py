"""Cut trees while they grow: slots that a planner divides and fills, and the finished node that comes of them.

A slot is a rectangle of a board that is still open, filled, or divided in two by one cut. Planners think in single
cuts; the finished tree gathers parallel cuts into one node, as a person reads them.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from fourply.planning.plan import Board, Node, Source, Way
from fourply.planning.problem import Box, Cutter, Kind, Piece, Problem, Rect


@dataclass(slots=True)
class Slot:
    """One rectangle of a board under construction."""

    box: Box
    cut: Way | None = None
    parts: list[Slot] = field(default_factory=list)
    piece: str | None = None
    turned: bool = False
    spoilt: bool = False

    def divide(self, way: Way, at: int, kerf: int) -> list[Slot]:
        """Cut once, `at` from the low edge; return the two parts, or one where the saw eats the rest."""
        x, y, w, h = self.box.x, self.box.y, self.box.w, self.box.h
        rest = (w if way is Way.V else h) - at - kerf
        self.cut = way
        if way is Way.V:
            boxes = [Box(x, y, at, h)] + ([Box(x + at + kerf, y, rest, h)] if rest > 0 else [])
        else:
            boxes = [Box(x, y, w, at)] + ([Box(x, y + at + kerf, w, rest)] if rest > 0 else [])
        self.parts = [Slot(box) for box in boxes]
        return self.parts

    def open_leaves(self) -> list[Slot]:
        """Return the slots below that are neither filled nor divided nor damaged."""
        if self.cut is None:
            return [] if self.piece is not None or self.spoilt else [self]
        return [leaf for part in self.parts for leaf in part.open_leaves()]


def may_cut(cutter: Cutter, size: Rect, way: Way, at: int) -> bool:
    """Whether the cutter can make this cut in a piece of that size; `at` equal to the side means no cut at all."""
    length, side = (size.h, size.w) if way is Way.V else (size.w, size.h)
    if at == side:
        return True
    rest = side - at - cutter.kerf
    held = min(size.w, size.h) >= cutter.least_held
    strips = at >= cutter.least_strip and (rest <= 0 or rest >= cutter.least_strip)
    return held and strips and (cutter.longest_cut is None or length <= cutter.longest_cut)


def stretch(least: int, most: int, side: int, cutter: Cutter) -> int:
    """Return how long a piece of free size is cut along one side: the whole of it where that saves the cut."""
    return side if least <= side <= most else least if side - least - cutter.kerf >= cutter.least_strip else most


def place(slot: Slot, piece: Piece, ways: tuple[Way, Way], *, turned: bool, cutter: Cutter) -> list[Slot] | None:
    """Cut the piece out of the slot's low corner, first one way, then the other.

    Return the open slots that are left, or None where the cutter cannot make these cuts; the slot is then unchanged.
    """
    least, most = piece.size, piece.most or piece.size
    if turned:
        least, most = least.turned, most.turned
    size = slot.box.size
    if not least.fits(size):
        return None
    w, h = stretch(least.w, most.w, size.w, cutter), stretch(least.h, most.h, size.h, cutter)
    if not _can(size, Rect(min(w, size.w), min(h, size.h)), ways, cutter):
        return None
    return _carve(slot, piece.key, Rect(min(w, size.w), min(h, size.h)), ways, (turned, cutter.kerf))


def _can(size: Rect, want: Rect, ways: tuple[Way, Way], cutter: Cutter) -> bool:
    first, second = ways
    at_first, at_second = (want.w, want.h) if first is Way.V else (want.h, want.w)
    after = Rect(want.w, size.h) if first is Way.V else Rect(size.w, want.h)
    return may_cut(cutter, size, first, at_first) and may_cut(cutter, after, second, at_second)


def _carve(slot: Slot, key: str, want: Rect, ways: tuple[Way, Way], how: tuple[bool, int]) -> list[Slot]:
    turned, kerf = how
    left: list[Slot] = []
    for way in ways:
        at, side = (want.w, slot.box.w) if way is Way.V else (want.h, slot.box.h)
        if at < side:
            slot, *rest = slot.divide(way, at, kerf)
            left.extend(rest)
    slot.piece, slot.turned = key, turned
    return left


def finish(root: Slot, keep: Rect | None, least_held: int = 0) -> Node:
    """Return the finished tree: parallel cuts gathered, open slots marked as remnants to keep or as waste.

    Gathered parts are cut from low to high. Where a piece must be large enough to be held, a low part that is divided
    once more stays by itself: cut in that order, what is left beside it might be too small.
    """
    if root.cut is None:
        kept = root.piece is None and not root.spoilt and keep is not None and _worth(root.box.size, keep)
        return Node(root.box, piece=root.piece, turned=root.turned, kept=kept)
    parts = tuple(finish(part, keep, least_held) for part in _gathered(root, low=not least_held))
    return Node(root.box, cut=root.cut, children=parts)


def _gathered(slot: Slot, *, low: bool) -> Iterable[Slot]:
    """Return the parts of parallel cuts; of a `low` part that is divided again its own, of a high one always."""
    todo = list(reversed(slot.parts))
    while todo:
        part = todo.pop()
        if part.cut is slot.cut and (low or not todo):
            todo.extend(reversed(part.parts))
        else:
            yield part


def _worth(size: Rect, keep: Rect) -> bool:
    return keep.fits(size) or keep.turned.fits(size)


def gather(problem: Problem, filled: Iterable[tuple[Source, Slot]]) -> tuple[Board, ...]:
    """Return the boards in an order that can be worked, equal ones as copies of one; locked or lot boards stay single.

    What is cut from a fallout is smaller than the piece that left it, so boards of stock come first and then the
    fallouts of the larger pieces before those of the smaller.
    """
    lots = {p.key for p in problem.pieces if p.lot is not None}
    counted: dict[tuple[Source, Node, int], int] = {}
    for i, (source, slot) in enumerate(filled):
        tree = finish(slot, problem.keep, problem.cutter.least_held)
        single = i + 1 if any(node.piece in lots for node in tree.walk()) else 0
        counted[source, tree, single] = counted.get((source, tree, single), 0) + 1
    return in_order(problem, [Board(source, tree, copies) for (source, tree, _), copies in counted.items()])


def in_order(problem: Problem, boards: Iterable[Board]) -> tuple[Board, ...]:
    """Return the boards in an order that can be worked."""
    area = {p.key: p.w * p.h for p in problem.pieces}
    fallout = Kind.FALLOUT
    return tuple(sorted(boards, key=lambda b: (1, -area[b.source.key]) if b.source.kind is fallout else (0, 0)))


def cost_of(problem: Problem, boards: Iterable[Board]) -> int:
    """Return what the stock that these boards use costs."""
    costs = {s.key: s.cost for s in problem.stock}
    return sum(
        b.copies * (problem.fallout_cost if b.source.kind is Kind.FALLOUT else costs[b.source.key]) for b in boards
    )
