"""Which reading to take next: the one that narrows what is least known, weighed by what it spoils at the bench."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from fourply.bench.constants import NAMES, NOMINAL_CALIPER, WITHIN_95, Name
from fourply.bench.fit import Fit, narrowed
from fourply.bench.profile import Profile
from fourply.bench.readings import Precision, Reading, What, rows, shares
from fourply.measure.length import Length
from fourply.measure.rounding import from_mm

_BLANK = 0.75  # the sides of the blank to read diagonals on are as 3 to 4
_FOUR_PLY = from_mm(NOMINAL_CALIPER)


@dataclass(frozen=True, slots=True)
class Next:
    """The reading that would narrow the constant that matters most.

    `what` is read `at` this setting, length of cut, caliper or long side of a blank. `now` and `then` are the
    half-widths of the 95 % interval, before and after, of the error in millimetres that `constant` makes at the bench.
    """

    constant: Name
    what: What
    at: Length
    now: float
    then: float


def next_reading(profile: Profile, found: Fit, precision: Precision) -> Next:
    """Return the reading that narrows the worst constant most."""
    weights = effects(profile)
    worst = max(NAMES, key=lambda name: found.error(weights[name]))
    now = found.error(weights[worst])

    def then(candidate: tuple[Reading, ...]) -> float:
        return narrowed(found, rows(profile, candidate, precision)).error(weights[worst])

    best = min(_candidates(profile), key=then)
    (first, *_) = best
    at = next(each for each in (first.length, first.setting, first.caliper, first.height) if each is not None)
    return Next(worst, first.what, at, WITHIN_95 * now, WITHIN_95 * then(best))


def effects(profile: Profile) -> Mapping[Name, tuple[float, ...]]:
    """Return, for each constant, the error in millimetres that it makes at the bench, as shares of all constants.

    The offset counts by the border at the middle of the guide's reach, the gain by how it changes up to either end of
    it, the skew by the end of the longest cut, the caliper by the thickest board, the angle by the run of common
    board, the squareness by the far corner of the largest blank.
    """
    guide, thicker = profile.guide, abs(profile.deepest.as_mm - NOMINAL_CALIPER)
    middle, half = (guide.least.as_mm + guide.greatest.as_mm) / 2, (guide.greatest - guide.least).as_mm / 2
    run = NOMINAL_CALIPER / math.sin(math.radians(profile.bevel.angle_deg)) ** 2
    return {
        Name.GAIN: shares(gain=half),
        Name.OFFSET: shares(offset=1.0, gain=middle),
        Name.SKEW: shares(skew=math.radians(profile.bar.as_mm / 2)),
        Name.START: shares(start=1.0),
        Name.START_BY_CALIPER: shares(start_by_caliper=thicker),
        Name.STOP: shares(stop=1.0),
        Name.STOP_BY_CALIPER: shares(stop_by_caliper=thicker),
        Name.ANGLE: shares(angle=math.radians(run)),
        Name.SQUARE: shares(square=math.radians(_edge(profile).as_mm)),
    }


def _edge(profile: Profile) -> Length:
    """Return the longest edge that the cutter squares."""
    return profile.bar if profile.arm is None else min(profile.arm.length, profile.bar)


def _candidates(profile: Profile) -> Iterator[tuple[Reading, ...]]:
    """Yield what could be read next; the values are of no matter here, only what a reading tells."""
    guide, some = profile.guide, Length.mm(50)
    reach = guide.pinned or (guide.least, guide.greatest)
    for setting in (min(reach), max(reach)):
        yield (Reading("next", What.MID, some, setting=setting),)
    length = profile.bar * 9 // 10
    ends = (What.FAR, What.NEAR)
    yield tuple(Reading("next", what, some, setting=max(reach), length=length) for what in ends)
    for caliper in (min(_FOUR_PLY, profile.deepest), profile.deepest):
        yield (Reading("next", What.START, some, caliper=caliper),)
        yield (Reading("next", What.STOP, some, caliper=caliper),)
        yield (Reading("next", What.CORE, caliper, caliper=caliper),)
    height = _edge(profile) * 9 // 10
    width = from_mm(height.as_mm * _BLANK)
    across = from_mm(math.hypot(width.as_mm, height.as_mm))
    yield (Reading("next", What.DIAGONALS, across, width=width, height=height, second=across),)
