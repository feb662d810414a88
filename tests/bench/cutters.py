"""Invented cutters for tests, and readings of one whose true constants are known."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from random import Random

from fourply.bench.calibration import Measured
from fourply.bench.constants import NOMINAL_CALIPER
from fourply.bench.profile import Guide, Head, HeadKind, Profile, Scale
from fourply.bench.readings import Precision, Reading, What
from fourply.measure.length import ZERO, Length
from fourply.measure.notation import Unit
from fourply.measure.rounding import Grid, from_mm, half_even, to_grid

MM = Profile(
    "bench cutter",
    Guide(least=Length.mm(30), greatest=Length.mm(150), step=Length.mm(1, 2)),
    bar=Length.mm(1000),
    deepest=Length.mm(32, 10),
    slip=Length.mm(15, 10),
    heads=(Head("bevel", HeadKind.BEVEL),),
)
INCH = replace(
    MM,
    name="inch cutter",
    unit=Unit.INCH,
    guide=Guide(least=Length.inches(1), greatest=Length.inches(5), step=Length.inches(1, 64)),
    bar=Length.inches(40),
    deepest=Length.inches(1, 8),
    slip=Length.inches(1, 16),
)
PINNED = replace(
    INCH,
    name="pinned cutter",
    guide=Guide(
        least=Length.inches(1),
        greatest=Length.inches(4),
        step=Length.inches(1, 16),
        scale=Scale.PINNED,
        pinned=tuple(Length.inches(count, 2) for count in (3, 4, 5, 6)),
    ),
)
FINE = Precision(Length.mm(1, 100), ZERO, Length.mm(1, 100))


@dataclass(frozen=True)
class Truth:
    """What a simulated cutter really does: millimetres and degrees."""

    gain: float = 1.0
    offset: float = 0.0
    skew: float = 0.0
    start: float = 0.0
    stop: float = 0.0

    def border(self, setting: float, along: float = 0.0) -> float:
        return self.gain * setting + self.offset + along * math.tan(math.radians(self.skew))


def measured(readings: Sequence[Reading], precision: Precision = FINE, date: str = "2026-03-01") -> Measured:
    return Measured(date, precision, tuple(readings))


def mid(name: str, setting: Length, value: Length) -> Reading:
    return Reading(name, What.MID, value, setting=setting)


def readings_of(truth: Truth, random: Random, *, slip: float, rule: Length) -> list[Reading]:
    """Return the readings of one test cut: five borders, both ends of four cuts, over- or undercut at eight ends."""

    def read(value: float) -> Length:
        return to_grid(from_mm(value + random.uniform(-slip, slip)), Grid("rule", rule), half_even)

    made = [mid(f"mid {at}", Length.mm(at), read(truth.border(at))) for at in (40, 60, 80, 100, 120)]
    length, caliper = Length.mm(400), from_mm(NOMINAL_CALIPER)
    for at in (60, 60, 60, 60):
        for what, half in ((What.FAR, 200), (What.NEAR, -200)):
            value = read(truth.border(at, half))
            made.append(Reading(f"end {len(made)}", what, value, setting=Length.mm(at), length=length))
    for _ in range(4):
        for what, constant in ((What.START, truth.start), (What.STOP, truth.stop)):
            made.append(Reading(f"corner {len(made)}", what, read(-constant), caliper=caliper))
    return made
