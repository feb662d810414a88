"""A cutter's constants from test cuts: what they are, what does not fit, what to read next, what has changed.

Each calibration stands by itself. The one before is no part of what is likely beforehand: it would hide that a guide
has moved. Nothing changes a profile but `accept`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from fourply.bench.constants import NAMES, WITHIN_95, Calibration, Constant, Name
from fourply.bench.fit import Fit, Misfit, Prior, fit, misfits
from fourply.bench.next_reading import Next, next_reading
from fourply.bench.profile import Profile, untested
from fourply.bench.readings import Precision, Reading, rows, undecided
from fourply.errors import BadInput, Unknown


@dataclass(frozen=True, slots=True)
class Measured:
    """The readings of one day, and what a person decided of those that do not fit."""

    date: str
    precision: Precision
    readings: tuple[Reading, ...]
    left_out: tuple[str, ...] = ()
    kept: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        names = [reading.name for reading in self.readings]
        if len(set(names)) < len(names):
            raise ValueError("each reading has a name of its own")
        for name in undecided(self.readings, (*self.left_out, *self.kept)):
            raise Unknown("reading", name, names)


@dataclass(frozen=True, slots=True)
class Calibrated:
    """What readings say of a cutter before anybody has accepted it."""

    calibration: Calibration
    misfits: tuple[Misfit, ...]
    next: Next


@dataclass(frozen=True, slots=True)
class Drift:
    """How a constant has moved from one calibration to the next; `beyond` what the errors of both explain."""

    name: Name
    before: Constant
    after: Constant
    beyond: bool


def calibrate(profile: Profile, measured: Measured) -> Calibrated:
    """Return the constants that the readings make, the readings that do not fit, the reading to take next.

    Raises BadInput where no reading is left, or where they make no cutter; ValueError for one without a bevel head.
    """
    used = [reading for reading in measured.readings if reading.name not in measured.left_out]
    if not used:
        raise BadInput("no reading", "give at least one reading that is not left out")
    lines, prior = rows(_before(profile, measured.date), used, measured.precision), _prior(profile)
    found = fit(lines, prior)
    return Calibrated(
        _calibration(measured, len(used), found),
        misfits(lines, prior, measured.kept),
        next_reading(profile, found, measured.precision),
    )


def _before(profile: Profile, date: str) -> Profile:
    """Return the profile as it was when the test was cut, so that the same readings say the same once accepted."""
    return replace(profile, calibrations=tuple(each for each in profile.calibrations if each.date < date))


def _prior(profile: Profile) -> Prior:
    likely = untested(profile.bevel)
    return {name: (likely.constant(name).value, likely.constant(name).error) for name in NAMES}


def accept(profile: Profile, found: Calibrated) -> Profile:
    """Return the profile with these constants in force.

    Raises BadInput while readings do not fit, where they are older than the constants in force, or are those.
    """
    if found.misfits:
        names = ", ".join(misfit.name for misfit in found.misfits)
        raise BadInput(names, "these readings do not fit: leave each out or keep it before anything is accepted")
    before = profile.calibration
    if before is not None and found.calibration.date < before.date:
        raise BadInput(found.calibration.date, f"the calibration in force is newer: {before.date}")
    if before == found.calibration:
        raise BadInput(before.date, "these readings are in force already")
    return replace(profile, calibrations=(*profile.calibrations, found.calibration))


def drifts(profile: Profile) -> tuple[Drift, ...]:
    """Return how each constant moved between the last two calibrations; nothing where there are not two."""
    if len(profile.calibrations) < 2:
        return ()
    before, after = profile.calibrations[-2:]
    return tuple(_drift(name, before.constant(name), after.constant(name)) for name in NAMES)


def _drift(name: Name, before: Constant, after: Constant) -> Drift:
    error = math.hypot(before.error, after.error)
    return Drift(name, before, after, beyond=abs(after.value - before.value) > WITHIN_95 * error)


def _calibration(measured: Measured, count: int, found: Fit) -> Calibration:
    by_name = {
        name: Constant(float(found.values[at]), math.sqrt(float(found.covariance[at, at])))
        for at, name in enumerate(NAMES)
    }
    pairs = ((Name.GAIN, Name.OFFSET), (Name.GAIN, Name.SKEW), (Name.OFFSET, Name.SKEW))
    one, two, three = (float(found.covariance[NAMES.index(a), NAMES.index(b)]) for a, b in pairs)
    try:
        return Calibration.of(
            measured.date, by_name, together=(one, two, three), readings=count, left_out=measured.left_out
        )
    except ValueError as bad:
        raise BadInput("the readings", str(bad)) from bad
