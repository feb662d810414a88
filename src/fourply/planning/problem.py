"""What a planner is asked: pieces to cut, stock to cut them from, and the rules of the cutter.

One problem is one material. Lengths are whole nanometres, costs whole numbers of the smallest unit of money. The
planner knows nothing of what a piece is for: keys are opaque and come back unchanged in the plan.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum

from fourply.errors import BadInput


class Kind(Enum):
    """Where a piece of stock comes from."""

    SHEET = "sheet"
    RACK = "rack"
    FALLOUT = "fallout"


class Wish(Enum):
    """What a bench wants of plans that cost the same."""

    REMNANT = "largest remnant worth keeping"
    SETTINGS = "fewest different stop settings"
    CUTS = "fewest cuts"


def _check(*, ok: bool, found: str, expected: str) -> None:
    if not ok:
        raise BadInput(found, expected)


def _check_size(name: str, *lengths: int) -> None:
    for nm in lengths:
        _check(ok=type(nm) is int and nm > 0, found=f"{name}: {nm!r}", expected="a positive whole number of nanometres")


@dataclass(frozen=True, slots=True)
class Rect:
    """A size: width and height in nm."""

    w: int
    h: int

    def __post_init__(self) -> None:
        _check_size("size", self.w, self.h)

    @property
    def turned(self) -> Rect:
        """The same rectangle, turned by a quarter."""
        return Rect(self.h, self.w)

    def fits(self, other: Rect) -> bool:
        """Whether this lies inside the other without turning."""
        return self.w <= other.w and self.h <= other.h


@dataclass(frozen=True, slots=True)
class Box:
    """A place on a board: its corner nearest the board's origin, and its size."""

    x: int
    y: int
    w: int
    h: int

    def __post_init__(self) -> None:
        _check_size("size", self.w, self.h)
        ok = all(type(nm) is int and nm >= 0 for nm in (self.x, self.y))
        _check(ok=ok, found=f"corner ({self.x!r}, {self.y!r})", expected="whole nanometres from the board's own corner")

    @property
    def size(self) -> Rect:
        """Its width and height."""
        return Rect(self.w, self.h)

    def overlaps(self, other: Box) -> bool:
        """Whether the two share more than an edge."""
        return (
            self.x < other.x + other.w
            and other.x < self.x + self.w
            and self.y < other.y + other.h
            and other.y < self.y + self.h
        )

    def within(self, other: Box) -> bool:
        """Whether this lies wholly inside the other."""
        return (
            other.x <= self.x
            and other.y <= self.y
            and self.x + self.w <= other.x + other.w
            and self.y + self.h <= other.y + other.h
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """A kind of board in hand or on sale: size, cost of using one, how many there are (None: as many as wanted).

    Zones are damaged and no piece may touch them. A sheet has factory edges unless `factory_edges` says otherwise,
    an offcut has none unless it says so; trim is taken off all four where there are any.
    """

    key: str
    w: int
    h: int
    cost: int
    kind: Kind = Kind.SHEET
    copies: int | None = None
    zones: tuple[Box, ...] = ()
    factory_edges: bool | None = None

    def __post_init__(self) -> None:
        _check_size(f"stock {self.key}", self.w, self.h)
        _check(ok=type(self.cost) is int and self.cost >= 0, found=f"cost {self.cost!r}", expected="a whole number")
        ok = self.copies is None or (type(self.copies) is int and self.copies >= 0)
        _check(ok=ok, found=f"copies {self.copies!r}", expected="a whole number, or none for as many as wanted")
        _check(ok=self.kind is not Kind.FALLOUT, found="a fallout as stock", expected="fallouts given with their piece")
        whole = Box(0, 0, self.w, self.h)
        _check(ok=all(z.within(whole) for z in self.zones), found=f"zone off stock {self.key}", expected="a zone on it")

    @property
    def trimmed(self) -> bool:
        """Whether its edges are factory edges, to be trimmed."""
        return self.kind is Kind.SHEET if self.factory_edges is None else self.factory_edges


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A rectangle wanted `copies` times.

    `most` is the largest size it may have where its size is free; w and h are then the least. `fallouts` are the
    usable rectangles that fall out of one copy: any one of them may be used as stock, once a copy. Pieces with the
    same `lot` must all come from one and the same board. One that is not `turnable` keeps the board's direction.
    """

    key: str
    w: int
    h: int
    copies: int = 1
    fallouts: tuple[Rect, ...] = ()
    turnable: bool = True
    lot: str | None = None
    most: Rect | None = None

    def __post_init__(self) -> None:
        _check_size(f"piece {self.key}", self.w, self.h)
        ok = type(self.copies) is int and self.copies > 0
        _check(ok=ok, found=f"copies {self.copies!r}", expected="a positive whole number")
        for fallout in self.fallouts:
            ok = fallout.fits(self.size) and fallout != self.size
            _check(ok=ok, found=f"fallout {fallout}", expected=f"one that is smaller than its piece {self.key}")
        ok = self.most is None or self.size.fits(self.most)
        _check(ok=ok, found=f"most {self.most}", expected=f"at least the least size of piece {self.key}")

    @property
    def size(self) -> Rect:
        """Its size, the least one where it is free."""
        return Rect(self.w, self.h)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutter:
    """What the tool and the material impose on every cut, in nm.

    `kerf` is lost at each cut; `trim` comes off each factory edge; a piece is put on the cutter only if both sides
    are at least `least_held`; what a cut takes off, waste too, is at least `least_strip` wide; no cut is longer
    than `longest_cut`.
    """

    kerf: int = 0
    trim: int = 0
    least_held: int = 0
    least_strip: int = 0
    longest_cut: int | None = None

    def __post_init__(self) -> None:
        lengths = (self.kerf, self.trim, self.least_held, self.least_strip)
        ok = all(type(nm) is int and nm >= 0 for nm in lengths)
        _check(ok=ok, found=f"cutter {lengths}", expected="whole nanometres, none negative")
        if self.longest_cut is not None:
            _check_size("longest cut", self.longest_cut)

    @property
    def free(self) -> bool:
        """Whether any edge-to-edge cut is possible (kerf and trim aside)."""
        return not self.least_held and not self.least_strip and self.longest_cut is None


@dataclass(frozen=True, slots=True)
class Fixed:
    """A piece that the user has put in its place on a locked board."""

    piece: str
    x: int
    y: int
    turned: bool = False


@dataclass(frozen=True, slots=True)
class Locked:
    """One board that is used whatever it costs, with pieces in fixed places; what is left of it may be used."""

    stock: str
    fixed: tuple[Fixed, ...]

    def __post_init__(self) -> None:
        _check(ok=bool(self.fixed), found="a locked board without pieces", expected="at least one piece fixed on it")


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """All that one plan must answer: pieces, stock, rules.

    `fallout_cost` is the cost of using one fallout; `oriented` boards let nothing be turned; `keep` is the least
    remnant worth keeping; among plans of equal cost `wishes` decide, the first before the others.

    >>> sheet = Stock(key="a", w=100, h=80, cost=5)
    >>> Problem(pieces=(Piece(key="p", w=60, h=50, copies=2),), stock=(sheet,)).demand
    2
    """

    pieces: tuple[Piece, ...]
    stock: tuple[Stock, ...]
    fallout_cost: int = 0
    oriented: bool = False
    cutter: Cutter = Cutter()
    keep: Rect | None = None
    locked: tuple[Locked, ...] = ()
    wishes: tuple[Wish, ...] = (Wish.REMNANT, Wish.SETTINGS, Wish.CUTS)

    def __post_init__(self) -> None:
        _check(ok=bool(self.pieces), found="no piece", expected="at least one piece to cut")
        _check_keys("piece", (p.key for p in self.pieces))
        _check_keys("stock", (s.key for s in self.stock))
        ok = type(self.fallout_cost) is int and self.fallout_cost >= 0
        _check(ok=ok, found=f"fallout cost {self.fallout_cost!r}", expected="a whole number")
        stock, pieces = {s.key for s in self.stock}, {p.key: p.copies for p in self.pieces}
        fixed = Counter(f.piece for board in self.locked for f in board.fixed)
        for board in self.locked:
            _check(ok=board.stock in stock, found=f"locked board {board.stock}", expected="a board of the stock")
        for key, count in fixed.items():
            _check(
                ok=count <= pieces.get(key, 0), found=f"{count} fixed of piece {key}", expected="no more than wanted"
            )

    @property
    def demand(self) -> int:
        """How many pieces are to be cut, copies counted."""
        return sum(p.copies for p in self.pieces)

    def may_turn(self, piece: Piece) -> bool:
        """Whether the piece may be cut turned by a quarter."""
        return piece.turnable and not self.oriented

    def usable(self, stock: Stock) -> Box | None:
        """Return what trimming leaves of a board, in the board's own coordinates; None if it leaves nothing."""
        off = self.cutter.trim if stock.trimmed else 0
        w, h = stock.w - 2 * off, stock.h - 2 * off
        return Box(off, off, w, h) if min(w, h) > 0 else None


def _check_keys(what: str, keys: Iterable[str]) -> None:
    twice = [key for key, count in Counter(keys).items() if count > 1]
    _check(ok=not twice, found=f"{what} {twice[:1]} twice", expected="keys that are different")
