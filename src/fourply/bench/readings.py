"""What is read off a test cut, each reading with its error, as one line of a linear model.

Borders are read on the back, from the edge that lay at the guide; over- and undercuts on the face, against the
corner that the cuts really make. The pencil lines of a test cut are drawn with the same guide as the cuts, so that a
wrong scale moves lines and cuts together and leaves the corners alone.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from types import MappingProxyType

from fourply.bench.constants import NAMES, NOMINAL_CALIPER
from fourply.bench.profile import Profile
from fourply.measure.length import ZERO, Length


class What(Enum):
    """What is read; a `start` or `stop` is an overcut where the blade entered or left, an undercut below nothing."""

    MID = "border mid"
    FAR = "border far"
    NEAR = "border near"
    START = "start"
    STOP = "stop"
    CORE = "core"
    DIAGONALS = "diagonals"
    FOUR_CUTS = "four cuts"


NEEDS: Mapping[What, tuple[str, ...]] = MappingProxyType(
    {
        What.MID: ("setting",),
        What.FAR: ("setting", "length"),
        What.NEAR: ("setting", "length"),
        What.START: ("caliper",),
        What.STOP: ("caliper",),
        What.CORE: ("caliper",),
        What.DIAGONALS: ("width", "height", "second"),
        What.FOUR_CUTS: ("length", "second"),
    }
)
"""What must be known beside the value of each reading."""


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading: what was read, its value, and what the reading needs beside it.

    `setting` is what the guide's scale showed, `length` that of the cut whose ends were read, `used` the constant the
    cut was made with (None: that of the profile before that day). Diagonals have the value of the one and the
    `second`, and are those of a blank of `width` by `height`. Four cuts, each squared on the one before, leave a strip
    of this value at its far end and of `second` at its near one, `length` apart.
    """

    name: str
    what: What
    value: Length
    setting: Length | None = None
    length: Length | None = None
    caliper: Length | None = None
    width: Length | None = None
    height: Length | None = None
    second: Length | None = None
    used: Length | None = None

    def __post_init__(self) -> None:
        for key in NEEDS[self.what]:
            given = getattr(self, key)
            if given is None or (given <= ZERO and key != "setting"):
                raise ValueError(f"a reading of {self.what.value} has a {key} above nothing")
        if self.what not in {What.START, What.STOP} and self.value <= ZERO:
            raise ValueError(f"a reading of {self.what.value} is above nothing")
        if self.what is What.FOUR_CUTS and abs(_taper(self)) > 0.5:
            raise ValueError("a strip off square by so much is no strip of four cuts")
        if self.what is What.DIAGONALS:
            _, _, sine = _diagonals(self)
            if abs(sine) > 0.5:
                raise ValueError("these diagonals are not those of a blank of this width and height")


@dataclass(frozen=True, slots=True)
class Precision:
    """How well was read: the division of the rule, how far a reading may be off either way, the same of a caliper.

    A reading is rounded to the rule and off by anything up to `slip`, all equally likely.

    >>> round(Precision(Length.mm(1, 2), Length.mm(1, 5)).sigma, 4)
    0.1848
    """

    rule: Length
    slip: Length = ZERO
    caliper: Length = Length.mm(5, 100)

    def __post_init__(self) -> None:
        if self.rule <= ZERO or self.slip < ZERO or self.caliper <= ZERO:
            raise ValueError("the division of a rule is above nothing, and a reading error not below it")

    @property
    def sigma(self) -> float:
        """The standard error of one reading in millimetres: both errors are uniform."""
        return math.sqrt(self.rule.as_mm**2 / 12 + self.slip.as_mm**2 / 3)

    @property
    def caliper_sigma(self) -> float:
        """The standard error of a caliper in millimetres."""
        return self.caliper.as_mm / math.sqrt(12)


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the model: the share of each constant, the value that they make, its standard error."""

    name: str
    shares: tuple[float, ...]
    value: float
    error: float


def rows(profile: Profile, readings: Sequence[Reading], precision: Precision) -> tuple[Row, ...]:
    """Return the readings as lines of the model, in their order."""
    return tuple(_row(profile, reading, precision) for reading in readings)


def shares(**given: float) -> tuple[float, ...]:
    """Return the share of every constant, nothing for those that are not named.

    >>> shares(gain=50.0, offset=1.0)[:3]
    (50.0, 1.0, 0.0)
    """
    return tuple(given.get(name.value, 0.0) for name in NAMES)


def _row(profile: Profile, reading: Reading, precision: Precision) -> Row:
    value, sigma = reading.value.as_mm, precision.sigma
    match reading.what:
        case What.MID | What.FAR | What.NEAR:
            return Row(reading.name, _border(reading), value, sigma)
        case What.START | What.STOP:
            return Row(reading.name, *_end(profile, reading), sigma)
        case What.CORE:
            return Row(reading.name, shares(angle=1.0), *_angle(reading, precision))
        case What.FOUR_CUTS:
            error = math.degrees(math.sqrt(2) * sigma / _mm(reading.length)) / 4
            return Row(reading.name, shares(square=1.0), math.degrees(math.atan(_taper(reading))) / 4, error)
        case _:
            one, two, sine = _diagonals(reading)
            sides = 4 * _mm(reading.width) * _mm(reading.height)
            error = math.degrees(2 * math.hypot(one, two) * sigma / sides / math.sqrt(1 - sine * sine))
            return Row(reading.name, shares(square=1.0), math.degrees(math.asin(sine)), error)


def _border(reading: Reading) -> tuple[float, ...]:
    """Return the shares of a border; the turn of a guide by 1 degree or less is its tangent within 1 in 10 000."""
    along = {What.MID: 0.0, What.FAR: 0.5, What.NEAR: -0.5}[reading.what]
    length = 0.0 if reading.length is None else reading.length.as_mm
    return shares(gain=_mm(reading.setting), offset=1.0, skew=math.radians(along * length))


def _end(profile: Profile, reading: Reading) -> tuple[tuple[float, ...], float]:
    """Return the shares of an end, and the constant it asks for: the one used less the overcut."""
    caliper = reading.caliper or ZERO
    is_start = reading.what is What.START
    used = reading.used
    if used is None:
        used = profile.start(caliper) if is_start else profile.stop(caliper)
    more = caliper.as_mm - NOMINAL_CALIPER
    found = shares(start=1.0, start_by_caliper=more) if is_start else shares(stop=1.0, stop_by_caliper=more)
    return found, used.as_mm - reading.value.as_mm


def _angle(reading: Reading, precision: Precision) -> tuple[float, float]:
    """Return the angle of a bevel from core and caliper, and its error from those of both."""
    core, caliper = reading.value.as_mm, _mm(reading.caliper)
    error = math.hypot(core * precision.caliper_sigma, caliper * precision.sigma) / (core**2 + caliper**2)
    return math.degrees(math.atan2(caliper, core)), math.degrees(error)


def _diagonals(reading: Reading) -> tuple[float, float, float]:
    """Return both diagonals and the sine of the angle by which a corner is off square."""
    one, two = reading.value.as_mm, _mm(reading.second)
    return one, two, (one**2 - two**2) / (4 * _mm(reading.width) * _mm(reading.height))


def _taper(reading: Reading) -> float:
    """Return by how much the strip of four cuts widens, as the tangent of an angle."""
    return (reading.value.as_mm - _mm(reading.second)) / _mm(reading.length)


def _mm(length: Length | None) -> float:
    return (length or ZERO).as_mm


def undecided(readings: Sequence[Reading], names: Sequence[str]) -> Iterator[str]:
    """Yield the names that no reading has."""
    known = {reading.name for reading in readings}
    return (name for name in names if name not in known)
