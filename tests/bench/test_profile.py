"""A cutter that cannot be is refused with a word; a profile tells which constants are in force."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from tests.bench.cutters import FINE, MM, PINNED, measured, mid

from fourply.bench.calibration import Measured, accept, calibrate
from fourply.bench.constants import NAMES, Calibration, Constant, Name
from fourply.bench.fit import fit
from fourply.bench.profile import Arm, Blade, Cuts, Guide, Head, HeadKind, Position, Scale, untested
from fourply.bench.reach import Border, OutOfReach, Remedy, set_for
from fourply.errors import BadInput
from fourply.measure.length import ZERO, Length

ONE = Length.mm(1)
KNOWN = accept(MM, calibrate(MM, measured([mid("a", Length.mm(60), Length.mm(60))])))
LATER = replace(KNOWN.known, date="2026-04-01")


@pytest.mark.parametrize(
    ("make", "told"),
    [
        (lambda: replace(MM, name=" "), "a cutter has a name"),
        (lambda: replace(MM, bar=ZERO), "the bar is above nothing"),
        (lambda: replace(MM, bar=Length.mm(7000)), "at most 6 m"),
        (lambda: replace(MM, deepest=-ONE), "the thickest board is above nothing"),
        (lambda: replace(MM, turn_deg=6.0), "0 to 5 degrees"),
        (lambda: replace(MM, heads=()), "at least one head"),
        (lambda: replace(MM, heads=(MM.bevel, MM.bevel)), "a name of its own"),
        (lambda: replace(MM, calibrations=(LATER, KNOWN.known)), "in the order of their dates"),
        (lambda: replace(MM, heads=(Head("s", HeadKind.STRAIGHT),)).bevel, "has no bevel head"),
        (lambda: Head("b", HeadKind.BEVEL, angle_deg=10), "from 20 to 90 degrees"),
        (lambda: Head("b", HeadKind.BEVEL, cuts=(Cuts("white", "1"),)), "no position '1' for white"),
        (lambda: Blade(life=ZERO), "the life of a blade"),
        (lambda: Blade(positions=(Position("1", ONE), Position("1", ONE))), "a mark of its own"),
        (lambda: Guide(ONE, ONE, ONE), "above the least"),
        (lambda: Guide(ZERO, ONE, ZERO), "the step of a guide"),
        (lambda: Guide(ZERO, ONE, ONE, scale=Scale.PINNED), "pinned borders are given for a pinned guide"),
        (lambda: replace(PINNED.guide, pinned=(ONE,)), "between the least and the greatest"),
        (lambda: replace(MM.guide, strips=(ZERO,)), "the width of a strip"),
        (lambda: Arm(ZERO), "the length of a squaring arm"),
        (lambda: replace(LATER, date="soon"), "soon"),
        (lambda: replace(LATER, gain=Constant(3.0, 0.1)), "near 1, not 3"),
        (lambda: replace(LATER, angle=Constant(0.0, 0.1)), "a bevel angle"),
        (lambda: replace(LATER, skew=Constant(11.0, 0.1)), "a few degrees at most"),
        (lambda: replace(LATER, readings=-1), "counted from nothing"),
        (lambda: measured([mid("a", ONE, ONE), mid("a", ONE, ONE)]), "a name of its own"),
        (lambda: Border(ONE, length=-ONE), "not below it"),
    ],
)
def test_what_cannot_be_is_refused_with_a_word(make: Callable[[], object], told: str) -> None:
    with pytest.raises(ValueError, match=told):
        make()


def test_a_calibration_is_asked_for_its_constants_by_name() -> None:
    found = {name: Constant(1.0, 0.1) for name in NAMES}
    calibration = Calibration.of("2026-03-01", found)
    assert all(calibration.constant(name) == found[name] for name in NAMES)


def test_before_a_test_cut_the_head_states_what_is_likely() -> None:
    head = Head("b", HeadKind.BEVEL, angle_deg=52, start=Length.mm(2), stop=-ONE)
    likely = untested(head)
    assert [likely.constant(name).value for name in (Name.ANGLE, Name.START, Name.STOP)] == [52, 2, -1]
    profile = replace(MM, heads=(head,))
    assert (profile.start(Length.mm(3)), profile.stop(Length.mm(1))) == (Length.mm(2), -ONE)
    assert profile.calibration is None
    assert KNOWN.known is KNOWN.calibration


def test_without_readings_a_fit_is_what_is_likely() -> None:
    prior = dict.fromkeys(NAMES, (1.0, 0.5))
    found = fit([], prior)
    assert found.values.tolist() == [1.0] * len(NAMES)
    assert found.error([1.0, *[0.0] * 8]) == pytest.approx(0.5)


def test_readings_that_no_cutter_could_give_are_refused_even_where_they_are_kept() -> None:
    absurd = [mid(str(at), Length.mm(at), Length.mm(3 * at)) for at in (40, 80, 120)]
    with pytest.raises(BadInput, match="near 1"):
        calibrate(MM, Measured("2026-03-01", FINE, tuple(absurd), kept=("40", "80", "120")))


def test_beyond_its_last_pin_no_strip_helps() -> None:
    found = set_for(PINNED, Border(Length.inches(4)))
    assert isinstance(found, OutOfReach)
    assert [way.remedy for way in found.ways] == [Remedy.NEAREST]
