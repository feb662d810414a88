"""Invented cutters for tests, and readings of one whose true constants are known."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from random import Random

from hypothesis import strategies as st

from fourply.bench.calibration import Measured
from fourply.bench.constants import NAMES, NOMINAL_CALIPER, PRIOR, Calibration, Constant, Name
from fourply.bench.cutter import StopDatum
from fourply.bench.profile import BoardFace, Guide, Head, HeadKind, Index, OvalScale, Profile, Scale, Stops
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


def found(profile: Profile, **values: float) -> Profile:
    """Return the profile with a calibration of these values, the others as they are likely."""
    constants = {name: Constant(values.get(name.value, PRIOR[name][0]), 0.001) for name in NAMES}
    return replace(profile, calibrations=(Calibration.of("2026-03-01", constants, readings=22),))


@st.composite
def profiles(draw: st.DrawFn) -> Profile:
    """Return cutters with errors, either datum, either index, stops or none, an oval head or none."""
    values = {
        Name.GAIN: draw(st.floats(0.98, 1.02)),
        Name.OFFSET: draw(st.floats(-2, 2)),
        Name.SKEW: draw(st.floats(-0.3, 0.3)),
        Name.START: draw(st.floats(-2, 2)),
        Name.STOP: draw(st.floats(-2, 2)),
        Name.START_BY_CALIPER: draw(st.floats(-1, 1)),
    }
    base = draw(st.sampled_from((MM, INCH, PINNED)))
    heads: tuple[Head, ...] = (replace(base.bevel, index=draw(st.sampled_from(Index))),)
    if draw(st.booleans()):
        heads += (
            Head("oval", HeadKind.OVAL, board=draw(st.sampled_from(BoardFace)), reads=draw(st.sampled_from(OvalScale))),
        )
    stops = Stops(draw(st.booleans()), draw(st.booleans()), draw(st.sampled_from(StopDatum)))
    return found(replace(base, heads=heads, stops=stops), **{name.value: value for name, value in values.items()})
