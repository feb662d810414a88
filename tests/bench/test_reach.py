"""What to set for a border, what else can be done, how the blade is set, what two passes may be off."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.bench.cutters import INCH, MM, PINNED, measured, mid
from tests.trade.evaluate import fault

from fourply.bench.blade import blade_for, change_due
from fourply.bench.calibration import accept, calibrate
from fourply.bench.long_cuts import long_cut
from fourply.bench.profile import Arm, Blade, Cuts, Head, HeadKind, Position
from fourply.bench.reach import TOLERANCE, Border, OutOfReach, Place, Remedy, Setting, set_for
from fourply.bench.square import diagonal, guide_move
from fourply.errors import BadInput
from fourply.measure.length import ZERO, Length
from fourply.measure.size import Size
from fourply.working.working import Figures

TESTED = accept(
    INCH,
    calibrate(
        INCH,
        measured(
            [
                mid("a", Length.inches(2), Length.inches(203, 100)),
                mid("b", Length.inches(4), Length.inches(405, 100)),
            ]
        ),
    ),
)


def hold(figures: Figures) -> None:
    assert [told for path in figures if (told := fault(figures, path))] == []


@given(
    st.integers(64, 64 * 5).map(lambda count: Length.inches(count, 64)),
    st.sampled_from(Place),
    st.integers(0, 900).map(Length.mm),
)
def test_a_border_within_reach_is_off_by_less_than_half_a_division(width: Length, place: Place, length: Length) -> None:
    for profile in (INCH, TESTED):
        found = set_for(profile, Border(width, place, length))
        if isinstance(found, Setting):
            hold(found.figures)
            assert found.reading.nm % INCH.guide.step.nm == 0
            assert INCH.guide.least <= found.reading <= INCH.guide.greatest
            end = found.reading in {INCH.guide.least, INCH.guide.greatest}
            assert abs(found.left) <= (
                INCH.guide.step if end else Length(201_000)
            )  # half a division, grown by the gain
        else:
            assert profile is TESTED
            assert found.ways[-1].remedy is Remedy.NEAREST


def test_a_setting_says_why() -> None:
    found = set_for(TESTED, Border(Length.inches(3)))
    assert isinstance(found, Setting)
    assert found.reading == Length.inches(2 * 64 + 61, 64)
    working = found.figures["guide.reading"]
    assert working.rule.id == "guide.reading"
    assert {name for name, _ in working.operands} == {"wanted", "offset", "skew", "along", "gain", "grid"}
    assert found.figures["guide.gain"].origin == "2 readings of 2026-03-01"


def test_an_untested_cutter_says_how_little_is_known() -> None:
    found = set_for(INCH, Border(Length.inches(3)))
    assert isinstance(found, Setting)
    assert (found.reading, found.left) == (Length.inches(3), ZERO)
    assert found.spread > Length.mm(3)
    assert found.figures["guide.gain"].origin == "no test cut on file"


def test_below_the_least_border_the_narrowest_strip_that_reaches_is_taken() -> None:
    strips = (Length.inches(2), Length.inches(1, 4), Length.inches(1))
    profile = replace(INCH, guide=replace(INCH.guide, strips=strips))
    found = set_for(profile, Border(Length.inches(3, 4)))
    assert isinstance(found, OutOfReach)
    strip, nearest = found.ways
    hold(strip.setting.figures)
    assert (strip.remedy, strip.setting.strip, strip.setting.reading) == (
        Remedy.STRIP,
        Length.inches(1, 4),
        Length.inches(1),
    )
    assert (nearest.setting.reading, nearest.setting.left) == (Length.inches(1), Length.inches(1, 4))
    assert nearest.opening == -Length.inches(1, 2)


def test_a_strip_that_is_too_narrow_is_passed_over() -> None:
    profile = replace(INCH, guide=replace(INCH.guide, strips=(Length.inches(1, 4), Length.inches(1))))
    found = set_for(profile, Border(Length.inches(1, 2)))
    assert isinstance(found, OutOfReach)
    assert found.ways[0].setting.strip == Length.inches(1)


def test_without_strips_one_that_would_do_is_named() -> None:
    found = set_for(INCH, Border(Length.inches(3, 4)))
    assert isinstance(found, OutOfReach)
    assert found.ways[0].setting.strip == Length.inches(1, 4)


def test_beyond_the_greatest_border_another_cutter_is_named() -> None:
    wide = replace(INCH, name="wide", guide=replace(INCH.guide, greatest=Length.inches(8)))
    found = set_for(INCH, Border(Length.inches(6)), others=(INCH, wide, PINNED))
    assert isinstance(found, OutOfReach)
    assert [(way.remedy, way.cutter) for way in found.ways] == [
        (Remedy.OTHER, "wide"),
        (Remedy.NEAREST, "inch cutter"),
    ]


def test_a_pinned_cutter_reaches_its_pins_and_a_strip_or_the_nearest_between() -> None:
    reached = set_for(PINNED, Border(Length.inches(2)))
    assert isinstance(reached, Setting)
    assert reached.reading == Length.inches(2)
    found = set_for(PINNED, Border(Length.inches(9, 4)))
    assert isinstance(found, OutOfReach)
    strip, nearest = found.ways
    assert (strip.setting.strip, strip.setting.reading) == (Length.inches(1, 4), Length.inches(5, 2))
    assert abs(nearest.setting.left) == Length.inches(1, 4)
    for way in found.ways:
        hold(way.setting.figures)
    almost = set_for(PINNED, Border(Length.inches(2) + TOLERANCE))
    assert isinstance(almost, Setting)


@given(st.integers(100, 3000), st.integers(0, 50))
def test_two_passes_make_the_whole_edge(edge: int, tenths: int) -> None:
    profile = replace(MM, turn_deg=tenths / 10)
    found = long_cut(profile, Length.mm(edge), Length.mm(700), Size(Length.mm(500), Length.mm(600)))
    assert (found is None) == (edge <= 1000)
    if found is not None:
        hold(found.figures)
        assert found.first + found.second == Length.mm(edge)
        assert found.first == MM.bar
        assert found.other_first
        assert (found.parting > ZERO) == (tenths > 0)


def test_a_short_squaring_arm_needs_two_passes_where_the_bar_does_not() -> None:
    armed = replace(MM, arm=Arm(Length.mm(600)))
    piece = Size(Length.mm(700), Length.mm(700))
    assert long_cut(armed, Length.mm(800), Length.mm(800), piece) is None
    found = long_cut(armed, Length.mm(800), Length.mm(800), piece, squared=True)
    assert found is not None
    assert (found.first, found.other_first) == (Length.mm(600), False)


@given(st.floats(-1, 1), st.integers(1, 2000), st.integers(1, 2000))
def test_a_move_and_a_diagonal_say_why(skew: float, width: int, height: int) -> None:
    for found in (guide_move(skew, Length.mm(width)), diagonal(Size(Length.mm(width), Length.mm(height)))):
        hold(found.figures)
        assert found.figures[list(found.figures)[-1]].value == found.length


def test_the_blade_stands_out_by_board_and_position() -> None:
    positions = (Position("2", Length.mm(5)), Position("1", Length.mm(3)))
    profile = replace(MM, heads=(Head("bevel", HeadKind.BEVEL, blade=Blade(positions=positions)),))
    found = blade_for(profile, Length.mm(15, 10))
    hold(found.figures)
    assert found.extension.as_mm == pytest.approx(2 / 0.7071068, abs=1e-5)
    assert found.position == positions[1]
    assert blade_for(profile, Length.mm(3)).position == positions[0]
    assert blade_for(MM, Length.mm(3)).position is None
    with pytest.raises(BadInput, match=r"at most 3\.2 mm"):
        blade_for(profile, Length.mm(4))


def test_a_board_may_have_a_position_of_its_own() -> None:
    blade = Blade(positions=(Position("1", Length.mm(3)), Position("2", Length.mm(5))))
    head = Head("straight", HeadKind.STRAIGHT, angle_deg=90, blade=blade, cuts=(Cuts("cotton", "2"),))
    profile = replace(MM, heads=(*MM.heads, head))
    marks = [blade_for(profile, Length.mm(15, 10), head, board=board).position for board in ("cotton", "white")]
    assert [position.mark for position in marks if position] == ["2", "1"]


def test_a_blade_is_changed_after_what_it_may_cut() -> None:
    blade = Blade(life=Length.mm(20_000))
    assert [change_due(blade, Length.mm(mm)) for mm in (19_999, 20_000)] == [False, True]
    assert not change_due(Blade(), Length.mm(10**9))


@pytest.mark.parametrize("width", [Fraction(0), Fraction(-1)])
def test_a_border_is_above_nothing(width: Fraction) -> None:
    with pytest.raises(ValueError, match="above nothing"):
        Border(Length.mm(int(width)))
