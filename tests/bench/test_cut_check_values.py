"""The check values of bevels, grooves, ovals and shaped openings, through the cuts of a package.

Beside each row stands its source. The window is the art itself: nothing covered, no rounding in the way.
"""

from __future__ import annotations

from typing import Any

import pytest
from tests.trade.cases import PLAIN, art, but, inch, made, mm

from fourply.bench.cuts import Arc, Oval, Shave, Slant
from fourply.bench.cutter import NOMINAL
from fourply.bench.settings import Settings
from fourply.bench.settings import settings as set_up
from fourply.measure.length import ZERO, Length
from fourply.measure.rounding import HALF_MILLIMETRE
from fourply.trade.accents import GrooveRule
from fourply.trade.shapes.rule import ShapeKind, ShapeRule
from fourply.trade.treatment import MatRule


def cut(width: Length, height: Length, **more: Any) -> Settings:
    """Return the cuts of a mat whose window is of this size."""
    treatment = but(PLAIN, overlap=ZERO, overlap_least=ZERO, **more)
    return set_up(made(treatment, art(width, height)), NOMINAL)


def oval(width: Length, height: Length, at: int = -1, **more: Any) -> Oval:
    task = cut(width, height, shape=ShapeRule(ShapeKind.OVAL), **more).operations[at].tasks[0]
    assert isinstance(task, Oval)
    return task


def near(length: Length, inches: float, tolerance: float) -> bool:
    return abs(float(length.as_inches) - inches) <= tolerance


def test_cv059_the_blade_starts_1_4_before_and_stops_1_4_past_the_crossing_lines() -> None:
    """CV059, derived."""
    (window,) = cut(mm(200), mm(250), grid=HALF_MILLIMETRE, mats=(MatRule("grey"),)).operations
    for each in window.cuts:
        for end in (each.far, each.near):
            assert abs((end.crossing - end.blade).as_mm - 1.4) <= 0.05
    assert {each.length.as_mm for each in window.cuts} == {202.8, 252.8}


def test_cv064_a_shave_that_stays_short_makes_the_groove_narrow_and_shallow() -> None:
    """CV064, derived: width 3/32, depth 0.0469."""
    groove = cut(inch(10), inch(13), grooves=(GrooveRule(inch(1, 2), shave=-inch(1, 32)),)).operations[0]
    shave = groove.tasks[-1]
    assert isinstance(shave, Shave)
    assert shave.sliver == inch(3, 32)
    assert shave.depth is not None
    assert near(shave.depth, 0.0469, 0.001)


def test_cv065_a_shave_past_the_arris_is_refused_since_the_groove_would_stand_open() -> None:
    """CV065, derived: 1/32 too far leaves a gap of 1/32 that cannot be closed on all four sides."""
    with pytest.raises(ValueError, match="stands open"):
        GrooveRule(inch(1, 2), shave=inch(1, 32))


def test_cv067_pins_of_a_16_by_10_oval() -> None:
    """CV067, common practice (published 12 1/2 and 6 1/4)."""
    found = oval(inch(16), inch(10))
    assert near(found.pins, 12.49, 0.01)
    assert near(found.pin, 6.245, 0.005)


def test_cv068_the_loop_of_string_round_both_pins() -> None:
    """CV068, common practice (rule); derived."""
    assert near(oval(inch(16), inch(10)).loop, 28.49, 0.02)


def test_cv069_an_8_by_10_oval_by_the_3_4_5_triangle() -> None:
    """CV069, derived: pins 6 apart, 3 from the centre, loop 16."""
    found = oval(inch(8), inch(10))
    assert (found.pins, found.pin, found.loop) == (inch(6), inch(3), inch(16))


def test_cv070_the_trammel_of_a_16_by_10_oval() -> None:
    """CV070, common practice (rule): 8 and 5, the sliders 3 apart."""
    found = oval(inch(16), inch(10))
    assert found.semi == (inch(8), inch(5))
    assert found.difference == inch(3)


def test_cv071_the_difference_of_the_axes_stays_through_the_mats() -> None:
    """CV071, common practice: 8 x 10 with a reveal of 1/4 is 8 1/2 x 10 1/2 above; the difference is 2 in both."""
    mats = (MatRule("white"), MatRule("white", inch(1, 4)))
    top, under = (oval(inch(8), inch(10), at, mats=mats) for at in (0, 1))
    assert (top.axes.width, top.axes.height) == (inch(17, 2), inch(21, 2))
    assert 2 * top.difference == 2 * under.difference == inch(2)


def test_cv076_a_segmental_arch() -> None:
    """CV076, derived: width 8, rise 2: radius 5, arc 9.273."""
    found = cut(inch(8), inch(10), shape=ShapeRule(ShapeKind.ARCH, rise=inch(2))).operations[0].tasks[0]
    assert isinstance(found, Arc)
    assert found.radius == found.upright == inch(5)
    assert near(found.line, 9.273, 0.001)
    assert found.centre.down == inch(3) + inch(5)


def test_cv077_a_segmental_arch_in_millimetres() -> None:
    """CV077, derived: width 200, rise 60: radius 113.33."""
    treatment = {"grid": HALF_MILLIMETRE, "shape": ShapeRule(ShapeKind.ARCH, rise=mm(60))}
    found = cut(mm(200), mm(250), **treatment).operations[0].tasks[0]
    assert isinstance(found, Arc)
    assert abs(found.radius.as_mm - 113.33) <= 0.01


def test_cv078_a_regular_octagon_in_a_square() -> None:
    """CV078, derived: in 8 in the corner cut is 2.343 and the side 3.314."""
    found = cut(inch(8), inch(8), shape=ShapeRule(ShapeKind.OCTAGON)).operations[0]
    border = dict(zip(("top", "left", "bottom", "right"), (each.guide for each in found.cuts), strict=True))
    assert all(near(each.far.crossing - border[each.far.towards], 2.343, 0.001) for each in found.cuts)
    slants = [task for task in found.tasks if isinstance(task, Slant)]
    assert [near(slant.line, 3.314, 0.001) for slant in slants] == [True] * 4


def test_cv079_guide_settings_of_stepped_corners() -> None:
    """CV079, common practice (method); derived: 2 1/2, 2 3/4, 3 in twelve cuts, the outermost rectangle first."""
    steps = ShapeRule(ShapeKind.STEPPED, steps=(inch(1, 4), inch(1, 4)))
    found = cut(inch(8), inch(10), shape=steps, border=inch(5, 2)).operations[0]
    assert [each.guide for each in found.cuts] == [inch(5, 2)] * 4 + [inch(11, 4)] * 4 + [inch(3)] * 4
    assert [each.far.crossing for each in found.cuts] == [inch(3)] * 4 + [inch(11, 4)] * 4 + [inch(5, 2)] * 4


def test_cv080_the_leg_of_a_clipped_corner_on_the_under_mat() -> None:
    """CV080, derived: a leg of 2 in is 1.854 in where all edges lie 1/4 further in."""
    rule = ShapeRule(ShapeKind.CLIPPED, leg=Length(round(1.8535533905932737 * 25_400_000)))
    mats = (MatRule("white"), MatRule("white", inch(1, 4)))
    top, under = cut(inch(10), inch(13), shape=rule, mats=mats).operations
    legs = [each.cuts[0].far.crossing - each.cuts[1].guide for each in (top, under)]
    assert near(legs[0], 2, 0.002)
    assert near(legs[1], 1.854, 0.002)
