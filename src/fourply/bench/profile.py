"""A cutter as its owner knows it: heads, guide, stops, bar, blade, and what test cuts have found.

A shop may have several cutters. A profile says what can be set and read on one, never what it is called in a
catalogue. What test cuts find is kept beside it with its date, the last one being in force (`calibrations`).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum

from fourply.bench.constants import NOMINAL_CALIPER, PRIOR, Calibration, Constant, Name
from fourply.bench.cutter import Cutter, Direction, Side, StopDatum
from fourply.measure.length import ZERO, Length
from fourply.measure.notation import Unit
from fourply.measure.rounding import from_mm

LONGEST_BAR = Length.mm(6_000)


class HeadKind(Enum):
    """What a head cuts."""

    STRAIGHT = "straight"
    BEVEL = "bevel"
    OVAL = "oval"


class Index(Enum):
    """What the index line of a head is set to."""

    PENCIL = "pencil line"
    BLADE = "blade entry"


class Scale(Enum):
    """How a guide is set: anywhere to what can be read, at notches, or at pinned borders only."""

    CONTINUOUS = "continuous"
    STEPS = "steps"
    PINNED = "pinned"


class BoardFace(Enum):
    """Which way the face of the board lies under an oval cutter."""

    UP = "up"
    DOWN = "down"


class OvalScale(Enum):
    """Which edge of the opening the scale of an oval cutter reads."""

    SIGHT = "sight"
    FACE = "face"


@dataclass(frozen=True, slots=True)
class Position:
    """A place in which a blade can be held: its mark, and how far the blade then stands out, along the blade."""

    mark: str
    extension: Length

    def __post_init__(self) -> None:
        _above("the extension of a blade", self.extension)


@dataclass(frozen=True, slots=True)
class Blade:
    """A blade: what the shop calls it, the positions it can be held in, the cut length after which to change it.

    No positions: it is set by its extension. `life` is the limit on what it has cut, None where nobody counts.
    """

    name: str = "blade"
    positions: tuple[Position, ...] = ()
    life: Length | None = None

    def __post_init__(self) -> None:
        if self.life is not None:
            _above("the life of a blade", self.life)
        marks = [position.mark for position in self.positions]
        if len(set(marks)) < len(marks):
            raise ValueError("each position of a blade has a mark of its own")

    def position(self, extension: Length) -> Position | None:
        """Return the position that stands out least but enough, None where none does."""
        enough = [position for position in self.positions if position.extension >= extension]
        return min(enough, key=lambda position: position.extension, default=None)


@dataclass(frozen=True, slots=True)
class Cuts:
    """Which position of the blade cuts a board: its name as in the materials."""

    board: str
    position: str


@dataclass(frozen=True, slots=True)
class Head:
    """A head: what it cuts, what its index line is set to, its blade.

    `start` and `stop` are what is known of where the blade enters and leaves past the geometric corner before any
    test cut. `board` and `reads` are those of an oval cutter.
    """

    name: str
    kind: HeadKind
    index: Index = Index.PENCIL
    angle_deg: float = 45.0
    direction: Direction = Direction.TOWARDS
    start: Length = ZERO
    stop: Length = ZERO
    board: BoardFace = BoardFace.DOWN
    reads: OvalScale = OvalScale.SIGHT
    blade: Blade = field(default_factory=Blade)
    cuts: tuple[Cuts, ...] = ()

    def __post_init__(self) -> None:
        if not 20 <= self.angle_deg <= 90:
            raise ValueError(f"the angle of a blade to the board is from 20 to 90 degrees, not {self.angle_deg:g}")
        marks = {position.mark for position in self.blade.positions}
        for each in self.cuts:
            if each.position not in marks:
                raise ValueError(f"the blade of {self.name} has no position {each.position!r} for {each.board}")


@dataclass(frozen=True, slots=True)
class Guide:
    """The guide: its side, how it is set, the borders it reaches, the strips of known width that widen them.

    `step` is the finest division that can be set; it says nothing of a pinned guide, whose borders are `pinned`.
    """

    least: Length
    greatest: Length
    step: Length
    side: Side = Side.LEFT
    scale: Scale = Scale.CONTINUOUS
    pinned: tuple[Length, ...] = ()
    strips: tuple[Length, ...] = ()

    def __post_init__(self) -> None:
        _above("the step of a guide", self.step)
        if not ZERO <= self.least < self.greatest:
            raise ValueError("the greatest border of a guide is above the least")
        if (self.scale is Scale.PINNED) != bool(self.pinned):
            raise ValueError("pinned borders are given for a pinned guide, and for no other")
        if any(not self.least <= border <= self.greatest for border in self.pinned):
            raise ValueError("pinned borders lie between the least and the greatest")
        for strip in self.strips:
            _above("the width of a strip", strip)


@dataclass(frozen=True, slots=True)
class Arm:
    """The squaring arm: how long an edge it squares, and whether the guide comes off for it."""

    length: Length
    guide_off: bool = False

    def __post_init__(self) -> None:
        _above("the length of a squaring arm", self.length)


@dataclass(frozen=True, slots=True)
class Stops:
    """Whether there is a far and a near stop, and what they are measured from."""

    far: bool = True
    near: bool = True
    datum: StopDatum = StopDatum.EDGE


@dataclass(frozen=True, slots=True)
class Profile:
    """A cutter: `bar` is its longest cut, `deepest` the thickest board it takes, `slip` the slip sheet under it.

    `turn_deg` is how far a board may be turned when it is laid again for the second pass of a cut longer than the bar,
    `unit` that of its scales.
    """

    name: str
    guide: Guide
    bar: Length
    deepest: Length
    slip: Length
    heads: tuple[Head, ...]
    stops: Stops = field(default_factory=Stops)
    arm: Arm | None = None
    turn_deg: float = 0.1
    unit: Unit = Unit.MM
    calibrations: tuple[Calibration, ...] = ()

    def __post_init__(self) -> None:
        if not self.name.strip():
            raise ValueError("a cutter has a name")
        for what, length in (
            ("the bar", self.bar),
            ("the thickest board", self.deepest),
            ("the slip sheet", self.slip),
        ):
            _above(what, length)
        if self.bar > LONGEST_BAR:
            raise ValueError("a bar is at most 6 m long")
        if not 0 <= self.turn_deg <= 5:
            raise ValueError(f"a board laid again is turned by 0 to 5 degrees, not {self.turn_deg:g}")
        names = [head.name for head in self.heads]
        if not names or len(set(names)) < len(names):
            raise ValueError("a cutter has at least one head, each with a name of its own")
        dates = [each.date for each in self.calibrations]
        if dates != sorted(dates):
            raise ValueError("calibrations stand in the order of their dates")

    @property
    def bevel(self) -> Head:
        """The head that cuts bevels; raises ValueError for a cutter that has none."""
        for head in self.heads:
            if head.kind is HeadKind.BEVEL:
                return head
        raise ValueError(f"{self.name} has no bevel head")

    @property
    def calibration(self) -> Calibration | None:
        """The calibration in force, None before the first."""
        return self.calibrations[-1] if self.calibrations else None

    @property
    def known(self) -> Calibration:
        """The constants in force; before the first test cut what is likely, with its wide errors."""
        return self.calibration or untested(self.bevel)

    def start(self, caliper: Length) -> Length:
        """Return how far past the geometric corner the blade enters in board of this caliper."""
        return _at(caliper, self.known.start, self.known.start_by_caliper)

    def stop(self, caliper: Length) -> Length:
        """Return how far past the geometric corner the blade leaves in board of this caliper."""
        return _at(caliper, self.known.stop, self.known.stop_by_caliper)

    def cutter(self, caliper: Length) -> Cutter:
        """Return what the settings of cuts in board of this caliper need to know of the cutter."""
        return Cutter(
            self.name,
            self.guide.side,
            self.stops.datum,
            self.start(caliper),
            self.stop(caliper),
            tested=self.calibration is not None,
            direction=self.bevel.direction,
        )


def untested(head: Head) -> Calibration:
    """Return what is likely of a cutter before any test cut: the common values, but for what its head states."""
    stated = {Name.START: head.start.as_mm, Name.STOP: head.stop.as_mm, Name.ANGLE: head.angle_deg}
    return Calibration.of(
        "", {name: Constant(stated.get(name, value), error) for name, (value, error) in PRIOR.items()}
    )


def _at(caliper: Length, constant: Constant, by_caliper: Constant) -> Length:
    return from_mm(constant.value + by_caliper.value * (caliper.as_mm - NOMINAL_CALIPER))


def _above(what: str, length: Length) -> None:
    if length <= ZERO:
        raise ValueError(f"{what} is above nothing")
