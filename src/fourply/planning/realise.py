"""From patterns back to boards: every pattern gets a board, a place for each cut, and pieces with their keys.

What a pattern cuts beyond what is wanted is left out; waste is cut off whole where it is worth keeping. Where the
cutter imposes rules, other orders of the same cuts are tried; a pattern that no order makes possible is not accepted.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from fourply.errors import CannotHonour
from fourply.planning.grid import Grid, Home, Item
from fourply.planning.obstacles import open_board
from fourply.planning.patterns import CUT_X, Column, Tree, turned, without
from fourply.planning.plan import Board, Source, Way
from fourply.planning.problem import Cutter, Kind, Piece, Problem, Rect
from fourply.planning.slots import Slot, finish, gather, may_cut, place
from fourply.planning.strips import Sides, beside, folded, shared
from fourply.planning.wishes import rank

_Ways = tuple[Way, Way]
_V_FIRST: _Ways = (Way.V, Way.H)
_H_FIRST: _Ways = (Way.H, Way.V)


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a pattern in nanometres: a piece, or two parts and the cut between them.

    Its size is the least box that it can be cut from; `loose` is how its sides are marked where strips can be too
    narrow, see `strips`.
    """

    size: Rect
    loose: tuple[bool, bool] = (False, False)
    cut: Way | None = None
    parts: tuple[Part, ...] = ()
    piece: Piece | None = None
    turned: bool = False


class Keys:
    """Hands out the pieces of each kind one by one."""

    def __init__(self, items: list[Item]) -> None:
        self.items = items
        self._left = [[(piece, flipped) for piece, n, flipped in item.pieces for _ in range(n)] for item in items]

    def next(self, code: int) -> tuple[Piece | None, bool]:
        """Return a piece for this number of a pattern, None when all are cut, and whether it lies turned."""
        if not self._left[code >> 1]:
            return None, False
        piece, flipped = self._left[code >> 1].pop()
        return piece, bool(code & 1) ^ flipped


def boards_of(grid: Grid, choice: Iterable[tuple[Column, int]]) -> tuple[Board, ...]:
    """Return the boards on which these columns are cut, each piece exactly as often as wanted."""
    keys = Keys(grid.items)
    homes = _Homes(grid)
    filled: list[tuple[Source, Slot]] = list(grid.locked)
    for kind, tree in _needed(grid, choice):
        home = homes.next(kind)
        part = _part(tree_for(grid, kind, home, tree), keys, grid.problem.cutter)
        slot = _best_laid(grid, home, part)
        if home.slot is None:
            filled.append((home.source, _around(grid.problem, home, slot)))
        else:
            home.slot.cut, home.slot.parts, home.slot.piece, home.slot.turned = (
                slot.cut,
                slot.parts,
                slot.piece,
                slot.turned,
            )
    return gather(grid.problem, filled)


def fits_rules(grid: Grid, one: Column) -> bool:
    """Whether the cutter can make this pattern, and the pieces of each lot are in it together or not at all."""
    there = dict(one.counts)
    for item, kind in enumerate(grid.items):
        lot = kind.pieces[0][0].lot
        if lot is not None and there.get(item, 0) not in (0, kind.want):
            return False
        if lot is not None and any(
            (there.get(at, 0) > 0) != (there.get(item, 0) > 0)
            for at, other in enumerate(grid.items)
            if other.pieces[0][0].lot == lot
        ):
            return False
    keys = Keys(grid.items)
    kind2d = grid.stock[one.kind]
    home = kind2d.homes[0]
    part = _part(tree_for(grid, one.kind, home, one.tree), keys, grid.problem.cutter)
    size = home.room.size
    return part.size.fits(size) and _direction_kept(grid, one) and lay(Slot(home.room), part, grid.problem)


def _direction_kept(grid: Grid, one: Column) -> bool:
    """Pieces that keep the direction of the board are not cut from the fallout of one that may be turned."""
    problem = grid.problem
    if all(problem.may_turn(grid.items[i].pieces[0][0]) for i, _ in one.counts):
        return True
    parents = {p.key: p for p in problem.pieces}
    fallouts = [h for h in grid.stock[one.kind].homes if h.source.kind is Kind.FALLOUT]
    return not any(problem.may_turn(parents[h.source.key]) for h in fallouts)


def _needed(grid: Grid, choice: Iterable[tuple[Column, int]]) -> Iterator[tuple[int, Tree]]:
    """Yield each board's pattern without what is cut elsewhere already; the dearest boards are emptied first."""
    boards = sorted((one for one, times in choice for _ in range(times)), key=lambda one: -one.cost)
    made = Counter(item for one in boards for item, n in one.counts for _ in range(n))
    surplus = {item: made[item] - kind.want for item, kind in enumerate(grid.items) if made[item] > kind.want}
    whole = [one for one in boards if all(surplus.get(item, 0) >= n for item, n in one.counts)]
    for one in whole:
        if all(surplus.get(item, 0) >= n for item, n in one.counts):
            for item, n in one.counts:
                surplus[item] -= n
            boards.remove(one)
    for one in boards:
        # A strip that is left out might leave one too narrow for the cutter beside it; then it stays, as waste.
        tree = without(one.tree, surplus) if grid.problem.cutter.free else one.tree
        if tree is not None:
            yield one.kind, tree


class _Homes:
    """Hands out the boards of each kind of stock one by one."""

    def __init__(self, grid: Grid) -> None:
        self._grid = grid
        self._used: Counter[tuple[Kind, str, int]] = Counter()

    def next(self, kind: int) -> Home:
        for home in self._grid.stock[kind].homes:
            name = (home.source.kind, home.source.key, id(home.slot))
            if home.count is None or self._used[name] < home.count:
                self._used[name] += 1
                return home
        msg = "more boards of a kind than there are"
        raise RuntimeError(msg)


def _best_laid(grid: Grid, home: Home, part: Part) -> Slot:
    """Return the board with the pattern laid as the bench would rather have it: as it is, or transposed as a whole."""
    found: list[tuple[tuple[int, ...], int, Slot]] = []
    for at, way in enumerate((part, _across(part)) if grid.symmetric else (part,)):
        slot = Slot(home.room)
        if lay(slot, way, grid.problem):
            board = Board(home.source, finish(slot, grid.problem.keep, grid.problem.cutter.least_held))
            found.append((rank([board], grid.problem.wishes), at, slot))
    if not found:
        raise CannotHonour("columns", f"the cutter's rules on board {home.source.key}")
    return min(found, key=lambda one: one[:2])[2]


def _across(part: Part) -> Part:
    """Return the part transposed; a square piece stays as it is."""
    size, parts = part.size.turned, tuple(_across(p) for p in part.parts)
    cut = None if part.cut is None else Way.H if part.cut is Way.V else Way.V
    turned_too = part.turned ^ (part.piece is not None and size != part.size)
    return Part(size, part.loose[::-1], cut, parts, part.piece, turned_too)


def _around(problem: Problem, home: Home, slot: Slot) -> Slot:
    """Return the root of the whole board: the slot itself, or a damaged board with the slot in its clear part."""
    if home.part is None:
        return slot
    stock = next(s for s in problem.stock if s.key == home.source.key)
    root = open_board(problem, stock)
    for leaf in root.open_leaves() if root is not None else []:
        if leaf.box == slot.box:
            leaf.cut, leaf.parts, leaf.piece, leaf.turned = slot.cut, slot.parts, slot.piece, slot.turned
    return root or slot


def tree_for(grid: Grid, kind: int, home: Home, tree: Tree) -> Tree:
    """Return the pattern as it lies on this board: transposed where the board stands the other way."""
    stock = grid.stock[kind]
    across = (stock.w <= stock.h) != (home.room.w <= home.room.h)
    return turned(tree, [item.turns for item in grid.items]) if grid.symmetric and across else tree


def _part(tree: Tree, keys: Keys, cutter: Cutter) -> Part:
    """Return the pattern with the sizes that its pieces have in nanometres."""
    strip = 0 if cutter.kerf else cutter.least_strip

    def join(code: int, first: Part, second: Part) -> Part:
        (aw, ah), (bw, bh) = _sides(first), _sides(second)
        if code == CUT_X:
            w, h, way = beside(aw, (bw[0] + cutter.kerf, bw[1])), shared(ah, bh, strip), Way.V
        else:
            w, h, way = shared(aw, bw, strip), beside(ah, (bh[0] + cutter.kerf, bh[1])), Way.H
        return Part(Rect(w[0], h[0]), (w[1], h[1]), way, (first, second))

    return folded(tree, lambda code: _leaf(code, keys), join)


def _sides(part: Part) -> Sides:
    return (part.size.w, part.loose[0]), (part.size.h, part.loose[1])


def _leaf(code: int, keys: Keys) -> Part:
    """Return the part of one piece; one beyond what is wanted keeps its place but is left as waste."""
    piece, across = keys.next(code)
    if piece is not None:
        return Part(piece.size.turned if across else piece.size, piece=piece, turned=across)
    like, _, flipped = keys.items[code >> 1].pieces[0]
    return Part(like.size.turned if bool(code & 1) ^ flipped else like.size)


def lay(slot: Slot, part: Part, problem: Problem) -> bool:
    """Cut the part out of the slot; return False, the slot unchanged, where the cutter cannot do it."""
    if not part.size.fits(slot.box.size):
        return False
    if part.piece is None and not part.parts:
        return True
    for way in _worth_first(slot, part, problem):
        if _cut_off(slot, part, way, problem):
            return True
    if part.piece is not None:
        ways = (_V_FIRST, _H_FIRST) if _wide_rest(slot, part) else (_H_FIRST, _V_FIRST)
        return any(place(slot, part.piece, w, turned=part.turned, cutter=problem.cutter) is not None for w in ways)
    orders = (part.parts,) if problem.cutter.free else (part.parts, part.parts[::-1])
    return any(_divide(slot, part, order, problem) for order in orders) or (
        not problem.cutter.free and any(_cut_off(slot, part, way, problem) for way in Way)
    )


def _wide_rest(slot: Slot, part: Part) -> bool:
    """Whether the larger remnant lies beside the piece, not above it."""
    over_w, over_h = slot.box.w - part.size.w, slot.box.h - part.size.h
    return over_w * slot.box.h >= over_h * slot.box.w


def _worth_first(slot: Slot, part: Part, problem: Problem) -> list[Way]:
    """Return the ways in which a strip that is worth keeping can be cut off before all else, the largest first."""
    if problem.keep is None:
        return []
    kerf = problem.cutter.kerf
    found: list[tuple[int, int, Way]] = []
    for at, (way, over, along) in enumerate(
        ((Way.V, slot.box.w - part.size.w - kerf, slot.box.h), (Way.H, slot.box.h - part.size.h - kerf, slot.box.w))
    ):
        if (
            over > 0
            and min(over, along) >= min(problem.keep.w, problem.keep.h)
            and max(over, along) >= max(problem.keep.w, problem.keep.h)
        ):
            found.append((-over * along, at, way))
    return [way for _, _, way in sorted(found)]


def _cut_off(slot: Slot, part: Part, way: Way, problem: Problem) -> bool:
    """Cut the strip beyond the part off, and lay the part in what is left."""
    at, side = (part.size.w, slot.box.w) if way is Way.V else (part.size.h, slot.box.h)
    if at >= side or not may_cut(problem.cutter, slot.box.size, way, at):
        return False
    first = slot.divide(way, at, problem.cutter.kerf)[0]
    return lay(first, part, problem) or _undo(slot)


def _divide(slot: Slot, part: Part, order: tuple[Part, ...], problem: Problem) -> bool:
    """Cut between the two parts and lay each in its own."""
    first, second = order
    way = part.cut or Way.V
    at = first.size.w if way is Way.V else first.size.h
    if not may_cut(problem.cutter, slot.box.size, way, at):
        return False
    halves = slot.divide(way, at, problem.cutter.kerf)
    laid = len(halves) == 2 and lay(halves[0], first, problem) and lay(halves[1], second, problem)
    return laid or _undo(slot)


def _undo(slot: Slot) -> bool:
    slot.cut, slot.parts = None, []
    return False
