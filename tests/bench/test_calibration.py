"""Constants from test cuts: simulated cutters whose truth is known, contradictions, what to read next."""

from __future__ import annotations

import math
from dataclasses import replace
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.bench.cutters import FINE, INCH, MM, Truth, measured, mid, readings_of

from fourply.bench.calibration import Calibrated, Measured, accept, calibrate, drifts
from fourply.bench.constants import NAMES, NOMINAL_CALIPER, PRIOR, WITHIN_95, Constant, Name
from fourply.bench.profile import Head, HeadKind, Profile
from fourply.bench.reach import Border, Place, Setting, set_for
from fourply.bench.readings import Precision, Reading, What
from fourply.errors import BadInput, Unknown
from fourply.measure.length import ZERO, Length
from fourply.measure.rounding import from_mm

BENCH = Precision(Length.mm(1, 10), Length.mm(2, 10))
CASES = 1000


def drawn(random: Random) -> Truth:
    """Return a cutter with errors as large as they may be, all alike likely."""
    return Truth(
        1 + random.uniform(-0.01, 0.01),
        random.uniform(-1, 1),
        random.uniform(-0.2, 0.2),
        random.uniform(-1.5, 1.5),
        random.uniform(-1.5, 1.5),
    )


def calibrated(random: Random) -> tuple[Truth, Calibrated]:
    truth = drawn(random)
    readings = readings_of(truth, random, slip=0.2, rule=Length.mm(1, 10))
    return truth, calibrate(MM, Measured("2026-03-01", BENCH, tuple(readings)))


def test_the_interval_of_a_border_holds_95_times_in_100() -> None:
    random = Random(81)  # noqa: S311
    inside = {"border": 0, "skew": 0, "start": 0, "stop": 0}
    strangers = 0
    for _ in range(CASES):
        truth, found = calibrated(random)
        setting, along = random.uniform(30, 150), random.uniform(-450, 450)
        low, high = found.calibration.border(setting, along).interval
        inside["border"] += low <= truth.border(setting, along) <= high
        for name in ("skew", "start", "stop"):
            low, high = found.calibration.constant(Name(name)).interval
            inside[name] += low <= getattr(truth, name) <= high
        strangers += bool(found.misfits)
    assert strangers <= CASES // 500
    for name, count in inside.items():
        assert 0.93 <= count / CASES <= 0.97, (name, count)


def test_a_reading_that_cannot_be_is_found_and_changes_nothing_by_itself() -> None:
    random = Random(82)  # noqa: S311
    named = 0
    for _ in range(60):
        truth = drawn(random)
        readings = readings_of(truth, random, slip=0.2, rule=Length.mm(1, 10))
        at = random.randrange(len(readings))
        wrong = replace(readings[at], value=readings[at].value + Length.mm(random.choice([-3, 3])))
        readings[at] = wrong
        found = calibrate(MM, Measured("2026-03-01", BENCH, tuple(readings)))
        named += [misfit.name for misfit in found.misfits] == [wrong.name]
        with pytest.raises(BadInput, match="do not fit"):
            accept(MM, found)
        decided = calibrate(MM, Measured("2026-03-01", BENCH, tuple(readings), left_out=(wrong.name,)))
        assert not decided.misfits
        assert accept(MM, decided).known.left_out == (wrong.name,)
        kept = calibrate(MM, Measured("2026-03-01", BENCH, tuple(readings), kept=(wrong.name,)))
        assert wrong.name not in [misfit.name for misfit in kept.misfits]
        assert kept.calibration == found.calibration
    assert named == 60


def test_two_readings_that_deny_each_other_are_both_named() -> None:
    one, two = mid("one", Length.mm(60), Length.mm(60)), mid("two", Length.mm(60), Length.mm(61))
    (misfit,) = calibrate(MM, measured([one, two])).misfits
    assert {misfit.name, *misfit.instead} == {"one", "two"}


def test_a_slip_of_the_pen_is_found_in_a_single_reading() -> None:
    (misfit,) = calibrate(MM, measured([mid("one", Length.mm(60), Length.mm(90))])).misfits
    assert misfit.name == "one"
    assert misfit.off == pytest.approx(30, abs=1e-3)


def test_one_border_already_helps() -> None:
    before = MM.known.border(60.0)
    after = calibrate(MM, measured([mid("one", Length.mm(60), Length.mm(605, 10))], BENCH)).calibration.border(60.0)
    assert after.value == pytest.approx(60.5, abs=0.02)
    assert after.error < before.error / 10


def test_without_a_reading_there_is_nothing_to_say() -> None:
    with pytest.raises(BadInput, match="at least one reading"):
        calibrate(MM, measured([]))


def test_the_constant_that_changes_with_the_caliper_is_told_from_two_boards() -> None:
    truth, by_caliper = 0.4, 0.3
    readings = [
        Reading(str(at), What.START, from_mm(-(truth + by_caliper * (mm - NOMINAL_CALIPER))), caliper=from_mm(mm))
        for at, mm in enumerate((1.4, 3.0))
    ]
    profile = accept(MM, calibrate(MM, measured(readings)))
    assert profile.start(Length.mm(22, 10)).as_mm == pytest.approx(truth + by_caliper * 0.7, abs=0.01)
    assert profile.cutter(Length.mm(15, 10)).start.as_mm == pytest.approx(truth, abs=0.01)
    assert profile.cutter(Length.mm(15, 10)).tested
    assert not MM.cutter(Length.mm(15, 10)).tested


def test_an_overcut_is_taken_off_the_constant_it_was_cut_with() -> None:
    caliper = from_mm(NOMINAL_CALIPER)
    stated = replace(MM, heads=(replace(MM.bevel, start=Length.mm(1)),))
    overcut = Reading("a", What.START, Length.mm(3, 10), caliper=caliper)
    assert calibrate(stated, measured([overcut])).calibration.start.value == pytest.approx(0.7, abs=0.001)
    own = replace(overcut, used=Length.mm(2))
    assert calibrate(stated, measured([own])).calibration.start.value == pytest.approx(1.7, abs=0.001)


@given(st.floats(30, 80), st.floats(0.8, 3.2))
def test_the_angle_follows_from_core_and_caliper(angle: float, caliper: float) -> None:
    head = Head("bevel", HeadKind.BEVEL, angle_deg=angle)
    core = from_mm(caliper / math.tan(math.radians(angle)))
    reading = Reading("core", What.CORE, core, caliper=from_mm(caliper))
    found = calibrate(replace(MM, heads=(head,)), measured([reading])).calibration.angle
    assert found.value == pytest.approx(angle, abs=0.01)
    assert found.error < PRIOR[Name.ANGLE][1]


@given(st.data())
def test_no_set_of_readings_makes_a_constant_less_certain_than_nothing_does(data: st.DataObject) -> None:
    random = Random(83)  # noqa: S311
    made = readings_of(drawn(random), random, slip=0.2, rule=Length.mm(1, 10))
    some = data.draw(st.lists(st.sampled_from(made), min_size=1, unique_by=lambda reading: reading.name))
    found = calibrate(MM, Measured("2026-03-01", BENCH, tuple(some))).calibration
    for name in NAMES:
        assert found.constant(name).error <= PRIOR[name][1] * (1 + 1e-9)


def test_taking_the_reading_that_is_named_narrows_what_it_says() -> None:
    readings = [mid("0", Length.mm(60), Length.mm(60))]
    seen = []
    profile: Profile = MM
    for number in range(1, 12):
        after = calibrate(profile, Measured("2026-03-01", BENCH, tuple(readings))).next
        seen.append(after.constant)
        assert after.then < after.now
        readings += advised(after.what, after.at, number)
    assert after.now < 1.0
    assert len(set(seen)) >= 5


def test_a_guide_that_goes_down_to_nothing_is_advised_too() -> None:
    profile = replace(MM, guide=replace(MM.guide, least=ZERO, greatest=Length.mm(900)), bar=Length.mm(100))
    ends = [Reading(what.value, what, Length.mm(1), caliper=Length.mm(15, 10)) for what in (What.START, What.STOP)]
    known = [mid("1", Length.mm(900), Length.mm(900)), *ends]
    assert calibrate(profile, measured(known)).next.at >= ZERO


def advised(what: What, at: Length, number: int) -> list[Reading]:
    """Return the readings that were advised, as a cutter without errors gives them."""
    name = f"{number}"
    match what:
        case What.MID:
            return [mid(name, at, at)]
        case What.FAR | What.NEAR:
            wide = Length.mm(150)
            return [
                Reading(f"{name} {each.value}", each, wide, setting=wide, length=at) for each in (What.FAR, What.NEAR)
            ]
        case What.START | What.STOP:
            return [Reading(name, what, ZERO, caliper=at)]
        case What.CORE:
            return [Reading(name, what, at, caliper=at)]
        case _:
            width = from_mm(at.as_mm * 0.75)
            across = from_mm(at.as_mm * 1.25)
            return [Reading(name, What.DIAGONALS, across, width=width, height=at, second=across)]


def ends(far: Length, near: Length) -> list[Reading]:
    more = {"setting": Length.mm(70), "length": Length.mm(600)}
    return [Reading("far", What.FAR, far, **more), Reading("near", What.NEAR, near, **more)]


def test_a_guide_that_has_moved_is_seen_and_one_that_has_not_is_not() -> None:
    days = [(Length.mm(70), Length.mm(74)), (Length.mm(70), Length.mm(74)), (Length.mm(72), Length.mm(72))]
    profile, moved = MM, []
    for month, (far, near) in enumerate(days, start=1):
        found = calibrate(profile, measured(ends(far, near), BENCH, date=f"2026-0{month}-01"))
        profile = accept(profile, found)
        moved.append([drift.name for drift in drifts(profile) if drift.beyond])
    assert moved == [[], [], [Name.SKEW]]
    assert len(profile.calibrations) == 3


def test_an_older_calibration_does_not_replace_a_newer_one() -> None:
    first = accept(MM, calibrate(MM, measured([mid("a", Length.mm(60), Length.mm(60))])))
    older = calibrate(first, measured([mid("a", Length.mm(60), Length.mm(60))], date="2026-02-01"))
    with pytest.raises(BadInput, match="newer"):
        accept(first, older)


def test_a_decision_about_a_reading_that_is_not_there_is_refused() -> None:
    with pytest.raises(Unknown, match="'b'"):
        Measured("2026-03-01", FINE, (mid("a", Length.mm(60), Length.mm(60)),), left_out=("b",))


def test_the_setting_that_follows_is_right_for_the_true_cutter() -> None:
    random = Random(84)  # noqa: S311
    for _ in range(50):
        truth, found = calibrated(random)
        profile = accept(MM, found)
        place, length = random.choice(list(Place)), Length.mm(random.randrange(100, 900))
        border = Border(Length.mm(random.randrange(40, 140)), place, length)
        setting = set_for(profile, border)
        assert isinstance(setting, Setting)
        real = truth.border(setting.reading.as_mm, border.along.as_mm)
        # half a division of the scale, and four standard errors of what is known of the cutter
        spread = 4 * setting.spread.as_mm / WITHIN_95
        assert abs(real - border.width.as_mm) <= MM.guide.step.as_mm / 2 + spread + 1e-4
        assert abs(setting.left) <= MM.guide.step


def test_constants_are_numbers() -> None:
    with pytest.raises(ValueError, match="a number"):
        Constant(math.nan, 1.0)
    with pytest.raises(ValueError, match="a number"):
        Constant(1.0, -1.0)


def test_an_inch_cutter_is_calibrated_in_its_own_divisions() -> None:
    precision = Precision(Length.inches(1, 64))
    reading = mid("one", Length.inches(3), Length.inches(97, 32))
    profile = accept(INCH, calibrate(INCH, Measured("2026-03-01", precision, (reading,))))
    setting = set_for(profile, Border(Length.inches(3)))
    assert isinstance(setting, Setting)
    assert setting.reading == Length.inches(95, 32)
