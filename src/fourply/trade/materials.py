"""What a shop works with: boards, mouldings, glazing, backing, spacers, fillets, ready-made frames, the rack.

Every figure is data that a person can replace by a measurement: ply is a trade name, not a unit, so a board carries
the caliper that its bevels are worked out from, and says whether somebody has measured it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum

from fourply.errors import Unknown
from fourply.measure.length import ZERO, Length
from fourply.measure.size import Size
from fourply.trade.money import Money, Rate


@dataclass(frozen=True, slots=True)
class Offer:
    """A full sheet or pane that can be had: its size, its cost, how many (None for as many as wanted)."""

    size: Size
    cost: Money
    copies: int | None = None


@dataclass(frozen=True, slots=True)
class Stick:
    """A length of moulding, spacer or fillet that can be had."""

    length: Length
    cost: Money
    copies: int | None = None

    def __post_init__(self) -> None:
        _above_nothing("stick", length=self.length)


@dataclass(frozen=True, slots=True)
class Board:
    """A mat or mount board. `oriented` boards (grain, pattern) are never turned; colours are #rrggbb."""

    name: str
    caliper: Length
    sheets: tuple[Offer, ...]
    colour: str = "#efe9dc"
    core: str = "#ffffff"
    ply: str = ""
    measured: bool = False
    oriented: bool = False

    def __post_init__(self) -> None:
        _above_nothing(self.name, caliper=self.caliper)


class Pane(Enum):
    """What glazing is made of."""

    GLASS = "glass"
    ACRYLIC = "acrylic"


@dataclass(frozen=True, slots=True)
class Glazing:
    """A kind of glass or acrylic."""

    name: str
    kind: Pane
    thickness: Length
    sheets: tuple[Offer, ...]

    def __post_init__(self) -> None:
        _above_nothing(self.name, thickness=self.thickness)


@dataclass(frozen=True, slots=True)
class Backing:
    """A rear sheet that closes the package."""

    name: str
    thickness: Length
    sheets: tuple[Offer, ...]

    def __post_init__(self) -> None:
        _above_nothing(self.name, thickness=self.thickness)


@dataclass(frozen=True, slots=True)
class ChopTerms:
    """What a supplier asks for the rails of one frame, cut to size and mitred.

    `rate` is the price of the billed length: the perimeter of the size ordered and `mitres` (None: eight widths of the
    moulding), brought up to whole steps of `step` where there is one. `charge` is added for each frame, `least` is the
    least that a frame costs.
    """

    rate: Rate
    charge: Money | None = None
    least: Money | None = None
    mitres: Length | None = None
    step: Length | None = None

    def __post_init__(self) -> None:
        if self.mitres is not None and self.mitres < ZERO:
            msg = "what the mitres take is not below nothing"
            raise ValueError(msg)
        if self.step is not None:
            _above_nothing("chop", step=self.step)

    def prices(self) -> tuple[Money, ...]:
        """Return every price that is given."""
        return tuple(price for price in (self.rate.price, self.charge, self.least) if price is not None)


@dataclass(frozen=True, slots=True)
class Moulding:
    """A profile: face width, lip over the package, rabbet depth front to back, height of the stick.

    `kerf` is what the saw takes at each mitre; nothing for a chopper. `chop` says what rails cut to size by the
    supplier cost, `join` what it costs to have them joined as well; None where the supplier does not offer it.
    `profile` is how its face runs, for pictures alone: points from the outer edge (across 0) to the sight edge (across
    the width), each with its height over the wall side of the stick; without any a plain one of its size is drawn.
    """

    name: str
    width: Length
    lip: Length
    rabbet_depth: Length
    height: Length
    sticks: tuple[Stick, ...]
    colour: str = "#d8c29a"
    kerf: Length = ZERO
    chop: ChopTerms | None = None
    join: Money | None = None
    profile: tuple[tuple[Length, Length], ...] = ()

    def __post_init__(self) -> None:
        _above_nothing(self.name, width=self.width, rabbet_depth=self.rabbet_depth, height=self.height)
        if not ZERO <= self.lip < self.width:
            msg = f"{self.name}: the lip is within the width of the moulding"
            raise ValueError(msg)
        if self.kerf < ZERO:
            msg = f"{self.name}: a kerf is not below nothing"
            raise ValueError(msg)
        if self.rabbet_depth > self.height:
            msg = f"{self.name}: the rabbet is not deeper than the moulding is high"
            raise ValueError(msg)
        self._check_profile()
        self._check_service()

    def _check_profile(self) -> None:
        if not self.profile:
            return
        across, heights = zip(*self.profile, strict=True)
        if across[0] != ZERO or across[-1] != self.width or list(across) != sorted(across):
            msg = f"{self.name}: the profile runs from 0 across to the width, never back"
            raise ValueError(msg)
        if min(heights) < ZERO or max(heights) > self.height:
            msg = f"{self.name}: the profile stays within the height of the moulding"
            raise ValueError(msg)

    def _check_service(self) -> None:
        if self.join is not None and self.chop is None:
            msg = f"{self.name}: what is joined has been cut to size, so join needs the prices of chop too"
            raise ValueError(msg)
        if self.chop is not None:
            prices = (*self.chop.prices(), *(stick.cost for stick in self.sticks), *((self.join,) if self.join else ()))
            if len({price.currency for price in prices}) > 1:
                msg = f"{self.name}: sticks, chop and join in one currency, since they are compared"
                raise ValueError(msg)


@dataclass(frozen=True, slots=True)
class Spacer:
    """Strips that hold the glazing off the art: depth from glass to mat, width seen from above."""

    name: str
    depth: Length
    width: Length
    sticks: tuple[Stick, ...]

    def __post_init__(self) -> None:
        _above_nothing(self.name, depth=self.depth, width=self.width)


@dataclass(frozen=True, slots=True)
class Fillet:
    """A small inner moulding under the mat: the width that shows, its lip under the mat, its thickness."""

    name: str
    shown: Length
    lip: Length
    thickness: Length
    sticks: tuple[Stick, ...]
    colour: str = "#b08d57"

    def __post_init__(self) -> None:
        _above_nothing(self.name, shown=self.shown, lip=self.lip, thickness=self.thickness)


@dataclass(frozen=True, slots=True)
class ReadyFrame:
    """A ready-made frame: the package size it is sold for, and its moulding."""

    name: str
    size: Size
    moulding: str
    cost: Money


@dataclass(frozen=True, slots=True)
class Offcut:
    """A piece in the rack: of which material, its usable size, what using it costs (its handling)."""

    material: str
    size: Size
    cost: Money
    place: str = ""


@dataclass(frozen=True, slots=True)
class Hardware:
    """Something bought by the piece: hangers, wire, points, bumpers."""

    name: str
    cost: Money
    per_frame: int = 1


@dataclass(frozen=True, slots=True)
class CuttingRules:
    """How the shop cuts full sheets and sticks down.

    `trim` comes off each factory edge of a board, `end_trim` off a fresh stick; `least_piece` is the narrowest piece
    that the cutter holds, `longest_cut` the longest it makes; `least_break` is the narrowest strip of glass that
    breaks cleanly; `keep_*` is the least remnant worth keeping; `fallout_cost` what squaring up one fallout costs, in
    hundredths of the currency. With a `labour_rate` (an hour) the minutes that it takes to chop and to join a frame
    count where ways of getting frames are compared; without one, no labour counts.
    """

    trim: Length = Length.inches(1, 8)
    end_trim: Length = Length.inches(1)
    least_piece: Length = ZERO
    longest_cut: Length | None = None
    least_break: Length = Length.inches(1)
    keep_width: Length = Length.inches(5)
    keep_height: Length = Length.inches(7)
    keep_stick: Length = Length.inches(12)
    fallout_cost: int = 20
    labour_rate: Money | None = None
    chop_minutes: int = 6
    join_minutes: int = 5


@dataclass(frozen=True, slots=True)
class Materials:
    """Everything that a shop can use, by name."""

    boards: Mapping[str, Board] = field(default_factory=dict)
    mouldings: Mapping[str, Moulding] = field(default_factory=dict)
    glazings: Mapping[str, Glazing] = field(default_factory=dict)
    backings: Mapping[str, Backing] = field(default_factory=dict)
    spacers: Mapping[str, Spacer] = field(default_factory=dict)
    fillets: Mapping[str, Fillet] = field(default_factory=dict)
    frames: Mapping[str, ReadyFrame] = field(default_factory=dict)
    hardware: Mapping[str, Hardware] = field(default_factory=dict)
    rack: tuple[Offcut, ...] = ()
    cutting: CuttingRules = CuttingRules()

    def board(self, name: str) -> Board:
        """Return the board of that name; raises Unknown."""
        return _find("board", self.boards, name)

    def moulding(self, name: str) -> Moulding:
        """Return the moulding of that name; raises Unknown."""
        return _find("moulding", self.mouldings, name)

    def glazing(self, name: str) -> Glazing:
        """Return the glazing of that name; raises Unknown."""
        return _find("glazing", self.glazings, name)

    def backing(self, name: str) -> Backing:
        """Return the backing of that name; raises Unknown."""
        return _find("backing", self.backings, name)

    def spacer(self, name: str) -> Spacer:
        """Return the spacer of that name; raises Unknown."""
        return _find("spacer", self.spacers, name)

    def fillet(self, name: str) -> Fillet:
        """Return the fillet of that name; raises Unknown."""
        return _find("fillet", self.fillets, name)

    def frame(self, name: str) -> ReadyFrame:
        """Return the ready-made frame of that name; raises Unknown."""
        return _find("ready-made frame", self.frames, name)


def _find[T](kind: str, known: Mapping[str, T], name: str) -> T:
    try:
        return known[name]
    except KeyError:
        raise Unknown(kind, name, tuple(known)) from None


def _above_nothing(name: str, **lengths: Length) -> None:
    for what, length in lengths.items():
        if length <= ZERO:
            msg = f"{name}: {what.replace('_', ' ')} is above nothing"
            raise ValueError(msg)
