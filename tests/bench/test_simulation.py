"""From test cut to window: a thousand cutters with errors, each calibrated and then worked by the program's settings.

What is asked of a window: each border and the opening's width and height, at mid-length, within 1/32 in (0.8 mm, common
practice for border and opening), and no corner more than 1.5 mm over or under (what spoils a mat). The program is told
nothing of a cutter but what is read off its test cut; whatever it says is done to the letter.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cache
from random import Random

import pytest
from tests.bench.cutters import MM
from tests.bench.virtual_cutter import FAR, NEAR, Machine, Made, Told, border, crossing, cut, edge_of, overcuts, read

from fourply.bench.calibration import Measured, accept, calibrate
from fourply.bench.profile import Profile
from fourply.bench.readings import Precision, Reading, What
from fourply.bench.settings import settings
from fourply.bench.shop_cutter import bevel_angle, shop_cutter
from fourply.bench.trial import Box, Trial, trial
from fourply.measure.length import Length
from fourply.measure.rounding import from_mm
from fourply.measure.size import Size
from fourply.trade.materials import Board, Materials, Offer
from fourply.trade.money import Money
from fourply.trade.package import Package
from fourply.trade.resolve import resolve
from fourply.trade.treatment import METRIC, Bottom, BottomRule, MatRule
from fourply.trade.work import Artwork, Readings, Work

CASES = 1000
CALIPER = Length.mm(15, 10)
RUN = 1.5  # the blade of every machine stands at 45 degrees
BENCH = Precision(Length.mm(1, 10), Length.mm(2, 10))
WITHIN = Length.inches(1, 32).as_mm
SPOILT = 1.5
BOARD = Board(
    "plain", CALIPER, (Offer(Size(Length.mm(1600), Length.mm(1200)), Money(Decimal(9), "EUR")),), measured=True
)
MATERIALS = Materials(boards={"plain": BOARD})
DAYS = ("2026-03-01", "2026-03-02")


# ── the test cut, as its sheet says ──────────────────────────────────────────────────────────────────────────────


def window_of(machine: Machine, sheet: Trial) -> dict[str, Made]:
    """Cut the window of the sheet: pencil lines with the guide, the blade so far past their crossings as it says."""
    board = (sheet.blank.width.as_mm, sheet.blank.height.as_mm)
    start, stop = sheet.start.as_mm - RUN, sheet.stop.as_mm - RUN  # the index line has the run built in
    lines = {side: cut(machine, board, side, Told(sheet.border(side).as_mm, 0, 0), RUN) for side in FAR}
    made = {}
    for side in FAR:
        far = along(lines, board, side, FAR[side])
        near = along(lines, board, side, NEAR[side])
        told = Told(sheet.border(side).as_mm, edge_of(side, board) - far - start, near - stop)
        made[side] = cut(machine, board, side, told, RUN)
    return made


def along(lines: dict[str, Made], board: tuple[float, float], side: str, other: str) -> float:
    """Return where two pencil lines cross, along the edge of the first from its near corner."""
    x, y = crossing(lines[side].back, lines[other].back)
    return {"top": x, "left": y, "bottom": board[0] - x, "right": board[1] - y}[side]


def reading(box: Box, made: dict[str, Made], sheet: Trial, random: Random) -> Reading:
    """Return what a person reads for one box of the sheet."""
    board, side = (sheet.blank.width.as_mm, sheet.blank.height.as_mm), box.where.partition(",")[0]
    given = {"setting": box.setting, "length": box.length, "width": box.width, "height": box.height}
    match box.what:
        case What.MID | What.FAR | What.NEAR:
            value = border(made, board, side, box.what.value.removeprefix("border "))
        case What.START | What.STOP:
            value = overcuts(made)[side, "far" if box.what is What.START else "near"]
        case What.CORE:
            value = RUN
        case _:
            value = sheet.diagonal.length.as_mm
            given["second"] = from_mm(read(value, random))
    return Reading(box.number, box.what, from_mm(read(value, random)), caliper=sheet.caliper, **given)


def calibrated(machine: Machine, random: Random, profile: Profile = MM) -> Profile:
    """Cut, read and accept; a reading that the others deny is read again, which here means that it is kept."""
    sheet = trial(profile, CALIPER)
    made = window_of(machine, sheet)
    readings = tuple(reading(box, made, sheet, random) for box in sheet.boxes)
    measured = Measured(DAYS[len(profile.calibrations)], BENCH, readings)
    found = calibrate(profile, measured)
    if found.misfits:
        found = calibrate(profile, replace(measured, kept=tuple(each.name for each in readings)))
    return accept(profile, found)


# ── the work ─────────────────────────────────────────────────────────────────────────────────────────────────────


@cache
def works() -> tuple[tuple[Artwork, Length, Length], ...]:
    """Return the works to be cut: art, border, how much wider the bottom border is."""
    random = Random(5)  # noqa: S311
    sizes = [(random.randrange(150, 600), random.randrange(150, 600)) for _ in range(50)]
    return tuple(
        (
            Artwork(Readings.of(Length.mm(width)), Readings.of(Length.mm(height))),
            Length.mm(random.randrange(40, 110)),
            Length.mm(random.randrange(0, 20)),
        )
        for width, height in sizes
    )


def package(case: int, profile: Profile) -> Package:
    return resolved(case % len(works()), bevel_angle(profile)[0])


@cache
def resolved(number: int, angle: float) -> Package:
    artwork, width, more = works()[number]
    bottom = Bottom(BottomRule.AMOUNT, more) if more.nm else Bottom(BottomRule.EQUAL)
    treatment = replace(
        METRIC,
        border=width,
        bottom=bottom,
        mats=(MatRule("plain"),),
        mount="plain",
        backing="",
        glazing="",
        bevel_deg=angle,
    )
    return resolve(Work("1", "", artwork), treatment, MATERIALS)


@dataclass(frozen=True)
class Worst:
    """What is furthest off on one window, millimetres."""

    mid: float
    opening: float
    ends: float
    corner: float


def worked(machine: Machine, profile: Profile, case: int) -> Worst:
    """Cut the window of a work as its settings say, and measure it."""
    wanted = package(case, profile)
    (operation,) = settings(wanted, shop_cutter(profile)).operations
    mat = wanted.mats[0]
    board, made = (mat.blank.width.as_mm, mat.blank.height.as_mm), {}
    for each in operation.cuts:
        told = Told(each.guided.reading.as_mm, each.far.stop.as_mm, each.near.stop.as_mm)
        made[each.side] = cut(machine, board, each.side, told, RUN)
    borders = {side: length.as_mm for side, length in mat.borders.named()}

    def off(side: str, end: str) -> float:
        return border(made, board, side, end) - borders[side]

    across, upright = (off(one, "mid") + off(other, "mid") for one, other in (("left", "right"), ("top", "bottom")))
    return Worst(
        max(abs(off(side, "mid")) for side in FAR),
        max(abs(across), abs(upright)),
        max(abs(off(side, end)) for side in FAR for end in ("far", "near")),
        max(abs(each) for each in overcuts(made).values()),
    )


# ── a thousand of them ───────────────────────────────────────────────────────────────────────────────────────────


def shares(fence: float | None, *, twice: bool) -> dict[str, float]:
    """Return which share of windows is as asked for.

    `without` a test cut, with `one`, and with `two`: the guide is turned parallel by what the first says of it.
    """
    random, good = Random(91), Counter[str]()  # noqa: S311
    for case in range(CASES):
        machine = Machine.drawn(random, fence)
        count(good, "without", worked(machine, MM, case))
        profile = calibrated(machine, random)
        count(good, "one", worked(machine, profile, case))
        if not twice:
            continue
        turned = replace(machine, skew=machine.skew - profile.known.skew.value)
        count(good, "two", worked(turned, calibrated(turned, random, profile), case))
    return {name: number / CASES for name, number in good.items()}


def count(good: Counter[str], name: str, worst: Worst) -> None:
    window = worst.mid <= WITHIN and worst.opening <= WITHIN
    good[f"{name}, window"] += window
    good[f"{name}, ends"] += window and worst.ends <= WITHIN
    good[f"{name}, corners"] += worst.corner <= SPOILT


def test_windows_are_as_asked_for_where_boards_lie_alike_along_the_guide() -> None:
    good = shares(None, twice=False)
    assert good["without, window"] < 0.5
    assert good["without, corners"] < 0.7
    assert good["one, window"] >= 0.95
    assert good["one, corners"] >= 0.95


def test_windows_are_as_asked_for_from_end_to_end_once_the_guide_is_parallel() -> None:
    """Boards pushed against a fence: the middle of a longer board lies elsewhere along a guide that is askew."""
    good = shares(-300.0, twice=True)
    assert good["without, window"] < 0.5
    assert good["one, window"] > good["without, window"] + 0.3
    assert good["two, window"] >= 0.95
    assert good["two, ends"] >= 0.95
    assert good["two, corners"] >= 0.95


def test_a_cutter_without_errors_makes_what_is_asked_for_but_for_its_scale() -> None:
    """Half a division of its scale, 0.25 mm, is left on a border, and twice that on an opening."""
    true = Machine(1.0, 0.0, 0.0, 0.0, 0.0)
    for case in range(20):
        worst = worked(true, MM, case)
        assert worst.mid <= 0.25 + 1e-6
        assert worst.opening <= 0.5 + 1e-6
        assert worst.corner <= 0.5 + 1e-6


def test_each_error_of_a_cutter_shows_on_the_window_as_itself() -> None:
    """Derived: 1 mm of offset widens all borders by it and closes the opening by twice as much; a scale 1 % long by
    1 % of the border; a blade 1 mm short leaves each corner short by it."""
    true = Machine(1.0, 0.0, 0.0, 0.0, 0.0)
    plain = worked(true, MM, 0)
    offset = worked(replace(true, offset=1.0), MM, 0)
    assert offset.mid == pytest.approx(1.0, abs=plain.mid + 1e-6)
    assert offset.opening == pytest.approx(2.0, abs=plain.opening + 1e-6)
    widest = max(length.as_mm for _, length in package(0, MM).mats[0].borders.named())
    assert worked(replace(true, scale=1.01), MM, 0).mid == pytest.approx(0.01 * widest, abs=plain.mid + 1e-6)
    assert worked(replace(true, short_start=1.0), MM, 0).corner == pytest.approx(1.0, abs=plain.corner + 1e-6)


def test_what_the_test_cut_finds_is_what_is_wrong_with_the_cutter() -> None:
    machine = Machine(1.008, -0.7, 0.15, 1.2, -0.9)
    known = calibrated(machine, Random(7)).known  # noqa: S311
    for value, found in (
        (machine.scale, known.gain),
        (machine.offset, known.offset),
        (machine.skew, known.skew),
        (machine.short_start, known.start),
        (machine.short_stop, known.stop),
    ):
        assert abs(value - found.value) <= 4 * found.error
