"""What to set the guide to for a wanted border, and what can be done where it cannot be set."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum

from fourply.bench import set_up_rules as rules
from fourply.bench.constants import WITHIN_95, Calibration
from fourply.bench.profile import Profile, Scale
from fourply.measure.length import ZERO, Length
from fourply.measure.rounding import Grid, from_mm, half_even, to_grid, up
from fourply.working.ledger import Ledger
from fourply.working.working import Figures

TOLERANCE = Length.inches(1, 32)
"""How far a border may be off before it is no longer that border: a thirty-second of an inch (common practice)."""


class Place(Enum):
    """Where along a cut its border is wanted; the value is how many halves of its length from the middle."""

    MID = 0
    FAR = 1
    NEAR = -1


_WHERE = {Place.MID: "at mid-length", Place.FAR: "at the far end", Place.NEAR: "at the near end"}


@dataclass(frozen=True, slots=True)
class Border:
    """A border that is wanted at a place of a cut of some length; at mid-length that is of no matter."""

    width: Length
    place: Place = Place.MID
    length: Length = ZERO

    def __post_init__(self) -> None:
        if self.width <= ZERO or self.length < ZERO:
            raise ValueError("a border is above nothing, and the length of its cut not below it")

    @property
    def along(self) -> Length:
        """How far the place is from mid-length, towards the far end."""
        return self.length.split(2)[0] * self.place.value


@dataclass(frozen=True, slots=True)
class Setting:
    """What to set: `reading` on the scale, with what is `left` off the wanted border, within `spread` 95 in 100 times.

    With a `strip` between guide and board its width is in the reading.
    """

    wanted: Length
    reading: Length
    left: Length
    spread: Length
    strip: Length
    figures: Figures


class Remedy(Enum):
    """What can be done where a border is out of reach."""

    STRIP = "put a strip between guide and board"
    OTHER = "use another cutter"
    NEAREST = "take the nearest border that can be set"


@dataclass(frozen=True, slots=True)
class Way:
    """One way out: the cutter, what to set on it, and by how much the opening changes where the border does."""

    remedy: Remedy
    cutter: str
    setting: Setting
    opening: Length


@dataclass(frozen=True, slots=True)
class OutOfReach:
    """A border that this cutter cannot be set to, and the ways out, the truest first."""

    wanted: Length
    ways: tuple[Way, ...]


def set_for(profile: Profile, border: Border, others: Sequence[Profile] = ()) -> Setting | OutOfReach:
    """Return what to set for a border, or what can be done instead, with the other cutters of the shop."""
    setting = _setting(profile, border, ZERO)
    if _holds(profile, setting):
        return setting
    return OutOfReach(border.width, tuple(_ways(profile, border, others)))


def _setting(profile: Profile, border: Border, strip: Length) -> Setting:
    """Return the nearest that can be set, whether or not that is near enough."""
    known, ledger = profile.known, Ledger()
    ledger.given("guide.border", border.width, "asked for")
    at = "guide.border"
    wanted = border.width
    if strip:
        ledger.given("guide.strip", strip, "a strip of known width")
        at, operands = "guide.wanted", {"border": "guide.border", "strip": "guide.strip"}
        wanted = ledger.figure(at, wanted + strip, rules.WITH_STRIP, **operands)
    _enter(ledger, known, border)
    exact = from_mm((wanted.as_mm - known.border(0.0, border.along.as_mm).value) / known.gain.value)
    names = {"offset": "guide.offset", "skew": "guide.skew", "along": "guide.along", "gain": "guide.gain"}
    guide = profile.guide
    if guide.scale is Scale.PINNED:
        reading = min(guide.pinned, key=lambda pin: abs(pin - exact))
        ledger.given("guide.reading", reading, "the pinned border that is nearest")
    else:
        reading = _within(profile, exact)
        if guide.least <= exact <= guide.greatest:
            ledger.given("guide.grid", guide.step, "what the scale shows")
            ledger.figure("guide.reading", reading, rules.READING, wanted=at, grid="guide.grid", **names)
        else:
            ledger.given("guide.reading", reading, "the end of the guide's reach")
    found = known.border(reading.as_mm, border.along.as_mm)
    left = from_mm(found.value) - wanted
    ledger.figure("guide.left", left, rules.LEFT, wanted=at, reading="guide.reading", **names)
    return Setting(border.width, reading, left, from_mm(WITHIN_95 * found.error), strip, ledger.figures)


def _within(profile: Profile, exact: Length) -> Length:
    guide = profile.guide
    inside = min(max(exact, guide.least), guide.greatest)
    return to_grid(inside, Grid("step", guide.step), half_even)


def _enter(ledger: Ledger, known: Calibration, border: Border) -> None:
    origin = f"{known.readings} readings of {known.date}" if known.date else "no test cut on file"
    ledger.given("guide.gain", known.gain.value, origin)
    ledger.given("guide.offset", from_mm(known.offset.value), origin)
    ledger.given("guide.skew", known.skew.value, origin)
    ledger.given("guide.along", border.along, _WHERE[border.place])


def _holds(profile: Profile, setting: Setting) -> bool:
    """Tell whether the scale reaches the border: within its own division, or the tolerance where it is pinned."""
    slack = TOLERANCE if profile.guide.scale is Scale.PINNED else max(profile.guide.step, Length(2))
    return abs(setting.left) <= slack


def _ways(profile: Profile, border: Border, others: Sequence[Profile]) -> Iterator[Way]:
    for strip in _strips(profile, border):
        setting = _setting(profile, border, strip)
        if _holds(profile, setting):
            yield _way(Remedy.STRIP, profile.name, setting)
            break
    for other in others:
        setting = _setting(other, border, ZERO)
        if other.name != profile.name and _holds(other, setting):
            yield _way(Remedy.OTHER, other.name, setting)
    yield _way(Remedy.NEAREST, profile.name, _setting(profile, border, ZERO))


def _strips(profile: Profile, border: Border) -> Iterator[Length]:
    """Yield the shop's strips from the narrowest, then one that would do, for a border below what can be set."""
    guide = profile.guide
    yield from sorted(guide.strips)
    targets = [pin for pin in sorted(guide.pinned or (guide.least,)) if pin > border.width]
    if targets:
        yield to_grid(targets[0] - border.width, Grid("step", guide.step), up)


def _way(remedy: Remedy, cutter: str, setting: Setting) -> Way:
    ledger = Ledger(setting.figures)
    change = ledger.figure("guide.opening", setting.left * -2, rules.OPENING, off="guide.left")
    return Way(remedy, cutter, setting, change)
