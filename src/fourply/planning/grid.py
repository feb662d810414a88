"""A board problem made ready for the strong planner: small whole numbers, equal things merged, useless ones dropped.

Kerf goes into sizes (a piece of w + k on a board of W + k) and everything is divided by the common grid of the pieces.
Where every piece may be turned a layout may be transposed as a whole, so boards lie on their long side. Locked boards
are cut free first; what is left of them is stock that costs nothing more.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from math import gcd

from fourply.errors import BadInput
from fourply.planning.bounds import fits, smallest
from fourply.planning.obstacles import open_board
from fourply.planning.plan import Source
from fourply.planning.problem import Box, Kind, Piece, Problem, Rect, Stock
from fourply.planning.slots import Slot


@dataclass(frozen=True, slots=True)
class Item:
    """Pieces of one size on the grid, `want` in all; each comes with how many, and whether it lies turned in it."""

    w: int
    h: int
    turns: bool
    pieces: tuple[tuple[Piece, int, bool], ...]

    @property
    def want(self) -> int:
        """How many are still to be cut."""
        return sum(count for _, count, _ in self.pieces)


@dataclass(frozen=True, slots=True)
class Home:
    """Where a pattern may be cut: a source, or (`slot`) an open part of a locked board.

    `part` is the box of a damaged board that is used; the whole of it counts for bounds.
    """

    source: Source
    box: Box
    slot: Slot | None = None
    count: int | None = None
    part: Box | None = None

    @property
    def room(self) -> Box:
        """The box that a pattern may fill."""
        return self.part or self.box


@dataclass(frozen=True, slots=True)
class Kind2D:
    """A kind of stock on the grid, with all the homes that are alike and the row that limits them together.

    `w` and `h` are what a pattern may fill; `roof` is what it could fill if a damaged board were whole.
    """

    w: int
    h: int
    roof: tuple[int, int]
    cost: int
    row: int
    homes: tuple[Home, ...]


@dataclass(slots=True)
class Grid:
    """The problem on the grid. `limits[r]` is how many of row r's kinds may be used in all, None without limit.

    `unit` is the length of a unit in nm; `even` says that boards too are whole units, so that what is left beside a
    pattern is known exactly.
    """

    problem: Problem
    items: list[Item]
    stock: list[Kind2D]
    limits: list[int | None]
    sunk: int
    symmetric: bool
    unit: int = 1
    even: bool = False
    locked: list[tuple[Source, Slot]] = field(default_factory=list)

    @property
    def count(self) -> int:
        """How many pieces are to be cut, copies counted."""
        return sum(item.want for item in self.items)

    @property
    def step(self) -> int:
        """All costs are whole multiples of this."""
        return gcd(*(kind.cost for kind in self.stock)) or 1

    @property
    def sheet_rows(self) -> list[int]:
        """The rows of the dear stock, whose numbers decide the plan: every row that any sheet belongs to."""
        return sorted(
            {k.row for k in self.stock if any(h.source.kind is Kind.SHEET and h.slot is None for h in k.homes)}
        )


_FINEST = 50_000
"""Units along the longest board, beyond which a finer grid costs too much."""

_Offers = list[tuple[Home, int, tuple[object, ...]]]


def grid_of(problem: Problem) -> Grid:
    """Return the problem on the grid; raises BadInput where a piece fits no stock."""
    locked, fixed = _locked(problem)
    pieces = [(p, p.copies - fixed[p.key]) for p in problem.pieces if p.copies > fixed[p.key]]
    kerf = problem.cutter.kerf
    unit = gcd(*(side + kerf for p, _ in pieces for side in (p.w, p.h))) or 1
    symmetric = all(problem.may_turn(p) or p.w == p.h for p, _ in pieces)
    small = smallest(problem, [p for p, _ in pieces])
    offers = _stock_offers(problem, small) + _fallout_offers(problem, small)
    for at, (source, root) in enumerate(locked):
        for leaf in root.open_leaves():
            home = Home(source, leaf.box, leaf, 1)
            if any(fits(problem, p, leaf.box.size) for p in small):
                offers.append((home, 0, ("locked", at, leaf.box.x, leaf.box.y)))
    if not problem.cutter.free:
        # The cutter's rules look at real strips: only boards of exactly one size are alike.
        offers = [(home, cost, (*group, home.room.size)) for home, cost, group in offers]
        unit = _even_unit(unit, kerf, [side for home, _, _ in offers for side in (home.room.w, home.room.h)])
    even = all((side + kerf) % unit == 0 for home, _, _ in offers for side in (home.room.w, home.room.h))
    items = _merged(problem, pieces, (kerf, unit))
    stock, limits = _rows(offers, (kerf, unit), symmetric=symmetric)
    grid = Grid(problem, items, stock, limits, _sunk(problem), symmetric, unit, even, locked)
    _check_all_fit(grid)
    return grid


def _even_unit(unit: int, kerf: int, sides: list[int]) -> int:
    """Return a unit in which boards are whole too, unless that makes it too fine to work with."""
    finer = gcd(unit, *(side + kerf for side in sides))
    return finer if max(sides, default=0) // finer <= _FINEST else unit


def _merged(problem: Problem, pieces: list[tuple[Piece, int]], scale: tuple[int, int]) -> list[Item]:
    """Gather pieces of one size, either way round where they may be turned; the largest come first."""
    kerf, unit = scale
    alike: dict[tuple[int, int, bool, str | None, Rect | None], list[tuple[Piece, int, bool]]] = {}
    for piece, want in pieces:
        w, h = (piece.w + kerf) // unit, (piece.h + kerf) // unit
        turns = problem.may_turn(piece) and w != h
        flipped = turns and w > h
        size = (h, w) if flipped else (w, h)
        # Where a strip can be too narrow, it matters how far a piece of free size may grow.
        most = None if problem.cutter.free else piece.most
        alike.setdefault((*size, turns, piece.lot, most), []).append((piece, want, flipped))
    items = [Item(w, h, turns, tuple(same)) for (w, h, turns, _, _), same in alike.items()]
    return sorted(items, key=lambda i: (-i.w * i.h, -i.h, i.turns))


def _locked(problem: Problem) -> tuple[list[tuple[Source, Slot]], Counter[str]]:
    stock = {s.key: s for s in problem.stock}
    boards: list[tuple[Source, Slot]] = []
    for lock in problem.locked:
        root = open_board(problem, stock[lock.stock], lock)
        if root is None:
            raise BadInput(f"locked board {lock.stock}", "a board that trimming leaves something of")
        boards.append((Source(stock[lock.stock].kind, lock.stock), root))
    return boards, Counter(f.piece for lock in problem.locked for f in lock.fixed)


def _sunk(problem: Problem) -> int:
    costs = {s.key: s.cost for s in problem.stock}
    return sum(costs[lock.stock] for lock in problem.locked)


def _stock_offers(problem: Problem, pieces: list[Piece]) -> _Offers:
    taken = Counter(lock.stock for lock in problem.locked)
    found: _Offers = []
    for stock in problem.stock:
        usable = problem.usable(stock)
        left = None if stock.copies is None else stock.copies - taken[stock.key]
        if left is not None and left < 0:
            raise BadInput(f"{taken[stock.key]} locked boards {stock.key}", "no more than there are")
        if usable is not None and left != 0 and any(fits(problem, p, usable.size) for p in pieces):
            part = _soundest(problem, stock) if stock.zones else None
            if stock.zones and part is None:
                continue
            home = Home(Source(stock.kind, stock.key), usable, count=left, part=part)
            group = ("plain", stock.kind) if stock.kind is Kind.RACK and left is not None else ("own", stock.key)
            found.append((home, stock.cost, group))
    return found


def _soundest(problem: Problem, stock: Stock) -> Box | None:
    """Return the largest clear part of a damaged board; None where nothing of it is clear."""
    root = open_board(problem, stock)
    leaves = root.open_leaves() if root is not None else []
    return max((leaf.box for leaf in leaves), key=lambda box: box.w * box.h, default=None)


def _fallout_offers(problem: Problem, pieces: list[Piece]) -> _Offers:
    sides = sorted({(min(p.w, p.h), max(p.w, p.h)) for p in pieces})
    found: _Offers = []
    for parent in problem.pieces:
        useful = [
            (choice, rect)
            for choice, rect in enumerate(parent.fallouts)
            if any(w <= min(rect.w, rect.h) for w, _ in sides) and any(fits(problem, p, rect) for p in pieces)
        ]
        rects = tuple(sorted((r.w, r.h) for _, r in useful))
        for choice, rect in useful:
            source = Source(Kind.FALLOUT, parent.key, choice)
            home = Home(source, Box(0, 0, rect.w, rect.h), count=parent.copies)
            group = ("plain", Kind.FALLOUT) if len(useful) == 1 else ("choice", rects)
            found.append((home, problem.fallout_cost, group))
    return found


def _rows(offers: _Offers, scale: tuple[int, int], *, symmetric: bool) -> tuple[list[Kind2D], list[int | None]]:
    """Merge what is alike; kinds that share a limit (the rectangles of one fallout) share a row."""
    kinds: dict[tuple[int, int, tuple[int, int], int, tuple[object, ...]], list[Home]] = {}
    for home, cost, group in offers:
        w, h = _on_grid(home.room, scale, symmetric=symmetric)
        roof = _on_grid(home.box, scale, symmetric=symmetric)
        kinds.setdefault((w, h, roof, cost, group), []).append(home)
    rows: dict[object, int] = {}
    stock: list[Kind2D] = []
    limits: list[int | None] = []
    for (w, h, roof, cost, group), homes in kinds.items():
        name: object = group[:2] if group[0] == "choice" else (w, h, roof, cost, group)
        if name not in rows:
            rows[name] = len(limits)
            counts = {(a.source.kind, a.source.key, a.box): a.count for a in homes}
            limits.append(None if None in counts.values() else sum(n for n in counts.values() if n is not None))
        stock.append(Kind2D(w, h, roof, cost, rows[name], tuple(homes)))
    return stock, limits


def _on_grid(box: Box, scale: tuple[int, int], *, symmetric: bool) -> tuple[int, int]:
    kerf, unit = scale
    size = ((box.w + kerf) // unit, (box.h + kerf) // unit)
    return (min(size), max(size)) if symmetric else size


def _check_all_fit(grid: Grid) -> None:
    for item in grid.items:
        if not any(_holds(kind, item) for kind in grid.stock):
            piece = item.pieces[0][0]
            found = f"piece {piece.key}, {piece.w} × {piece.h}"
            raise BadInput(found, "stock that it fits")


def _holds(kind: Kind2D, item: Item) -> bool:
    size, room = Rect(item.w, item.h), Rect(*kind.roof)
    either = item.turns or item.w == item.h
    return size.fits(room) or (either and size.turned.fits(room))
