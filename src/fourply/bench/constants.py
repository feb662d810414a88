"""The constants of a cutter that test cuts find, and what is thought of them before any test cut.

A border of M at a setting of S follows a line, `M = offset + gain · S`; a guide that is not parallel to the bar adds
`tan(skew) · x` at x from mid-length towards the far end. The blade enters `start` and leaves `stop` past the
geometric corner, both changing with the caliper, since a blade comes down at a slant. The bevel angle is that of the
blade to the board, `square` how far a blank's corner is from a right angle. Lengths are millimetres here, angles
degrees, as floats: they are measured, never exact.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date as calendar_date
from enum import Enum
from types import MappingProxyType
from typing import Self

NOMINAL_CALIPER = 1.5
"""The caliper in millimetres at which `start` and `stop` are stated: that of common 4-ply board."""

WITHIN_95 = 1.959964
"""Standard errors on either side within which 95 in 100 values of a normal distribution lie."""


class Name(Enum):
    """What can be found by test cuts, in the order of their tables."""

    GAIN = "gain"
    OFFSET = "offset"
    SKEW = "skew"
    START = "start"
    START_BY_CALIPER = "start_by_caliper"
    STOP = "stop"
    STOP_BY_CALIPER = "stop_by_caliper"
    ANGLE = "angle"
    SQUARE = "square"


NAMES = tuple(Name)
UNITS: Mapping[Name, str] = MappingProxyType(
    {
        Name.GAIN: "",
        Name.OFFSET: "mm",
        Name.SKEW: "deg",
        Name.START: "mm",
        Name.START_BY_CALIPER: "mm per mm",
        Name.STOP: "mm",
        Name.STOP_BY_CALIPER: "mm per mm",
        Name.ANGLE: "deg",
        Name.SQUARE: "deg",
    }
)

PRIOR: Mapping[Name, tuple[float, float]] = MappingProxyType(
    {
        Name.GAIN: (1.0, 0.01),
        Name.OFFSET: (0.0, 1.5),
        Name.SKEW: (0.0, 0.3),
        Name.START: (0.0, 2.0),
        Name.START_BY_CALIPER: (0.0, 1.0),
        Name.STOP: (0.0, 2.0),
        Name.STOP_BY_CALIPER: (0.0, 1.0),
        Name.ANGLE: (45.0, 3.0),
        Name.SQUARE: (0.0, 0.5),
    }
)
"""What is taken for likely before a test cut: value and standard error.

Wide enough that a handful of readings outweighs them, and narrow enough that one test cut already tells something of
what it did not measure: a scale is seldom 2 % long, a guide seldom half a degree askew. The value of `start`, `stop`
and `angle` is that of the head where its profile states one.
"""


@dataclass(frozen=True, slots=True)
class Constant:
    """A constant as found: its value and its standard error, in the unit of its name.

    >>> Constant(1.01, 0.002).interval
    (1.006080072, 1.013919928)
    """

    value: float
    error: float

    def __post_init__(self) -> None:
        if not (math.isfinite(self.value) and math.isfinite(self.error) and self.error >= 0):
            raise ValueError("a constant is a number with a standard error of nothing or more")

    @property
    def interval(self) -> tuple[float, float]:
        """Where the constant lies, 95 times in 100."""
        return self.value - WITHIN_95 * self.error, self.value + WITHIN_95 * self.error


@dataclass(frozen=True, slots=True)
class Calibration:
    """What the readings of one day say of a cutter: every constant, and what was read.

    `date` is written as 2026-03-01; it is empty for what is likely before any test cut. `together` are the covariances
    of gain with offset, gain with skew, and offset with skew: without them no border has an honest interval.
    """

    date: str
    gain: Constant
    offset: Constant
    skew: Constant
    start: Constant
    start_by_caliper: Constant
    stop: Constant
    stop_by_caliper: Constant
    angle: Constant
    square: Constant
    together: tuple[float, float, float] = (0.0, 0.0, 0.0)
    readings: int = 0
    left_out: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if self.date:
            calendar_date.fromisoformat(self.date)
        if not 0.5 < self.gain.value < 2:
            raise ValueError(f"the gain of a scale is near 1, not {self.gain.value:g}")
        if not 0 < self.angle.value <= 90:
            raise ValueError(f"a bevel angle is above 0 and at most 90 degrees, not {self.angle.value:g}")
        if abs(self.skew.value) > 10:
            raise ValueError(f"a guide is askew by a few degrees at most, not {self.skew.value:g}")
        if self.readings < 0:
            raise ValueError("readings are counted from nothing")

    @classmethod
    def of(
        cls,
        date: str,
        found: Mapping[Name, Constant],
        *,
        together: tuple[float, float, float] = (0.0, 0.0, 0.0),
        readings: int = 0,
        left_out: tuple[str, ...] = (),
    ) -> Self:
        """Return the calibration with these constants; raises KeyError where one is missing."""
        return cls(
            date,
            gain=found[Name.GAIN],
            offset=found[Name.OFFSET],
            skew=found[Name.SKEW],
            start=found[Name.START],
            start_by_caliper=found[Name.START_BY_CALIPER],
            stop=found[Name.STOP],
            stop_by_caliper=found[Name.STOP_BY_CALIPER],
            angle=found[Name.ANGLE],
            square=found[Name.SQUARE],
            together=together,
            readings=readings,
            left_out=left_out,
        )

    def constant(self, name: Name) -> Constant:
        """Return one of the constants."""
        found: Constant = getattr(self, name.value)
        return found

    def border(self, setting: float, along: float = 0.0) -> Constant:
        """Return the border that a setting gives, `along` from mid-length towards the far end, in millimetres."""
        radians = math.radians(self.skew.value)
        turn = math.radians(1) / math.cos(radians) ** 2 * along
        value = self.offset.value + self.gain.value * setting + math.tan(radians) * along
        with_offset, with_skew, both = self.together
        variance = (
            (setting * self.gain.error) ** 2
            + self.offset.error**2
            + (turn * self.skew.error) ** 2
            + 2 * (setting * with_offset + setting * turn * with_skew + turn * both)
        )
        return Constant(value, math.sqrt(max(variance, 0.0)))
