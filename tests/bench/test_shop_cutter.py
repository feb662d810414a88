"""Settings on a cutter of the shop: what its scale, its stops and its blade are set to, and what is out of reach."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from tests.bench.cutters import INCH, MM, PINNED, found, profiles
from tests.trade.cases import FRAMED, MATERIALS, art, artworks, but, inch, made, mm, rules_of, treatments
from tests.trade.evaluate import fault

from fourply.bench.cuts import Cut, Oval
from fourply.bench.cutter import NOMINAL, StopDatum
from fourply.bench.first import first_things
from fourply.bench.profile import Arm, BoardFace, Head, HeadKind, Index, OvalScale, Profile, Stops
from fourply.bench.settings import Settings
from fourply.bench.settings import settings as set_up
from fourply.bench.shop_cutter import bevel_angle, shop_cutter
from fourply.errors import FourplyError
from fourply.measure.length import Length
from fourply.trade.accents import SinkRule
from fourply.trade.findings import Level
from fourply.trade.package import Package
from fourply.trade.resolve import resolve
from fourply.trade.shapes.rule import ShapeKind, ShapeRule
from fourply.trade.treatment import Bevel, MatRule, Treatment
from fourply.trade.work import Artwork, Work
from fourply.working.words import Words

HALF_STEP = INCH.guide.step.as_mm / 2


TESTED = found(INCH, gain=1.008, offset=0.6, start=0.7, start_by_caliper=0.4, stop=-0.5)


def on(profile: Profile, package: Package, *others: Profile) -> Settings:
    return set_up(package, shop_cutter(profile, others))


def cuts(made_: Settings) -> list[Cut]:
    return [task for task in made_.tasks if isinstance(task, Cut)]


# ── guide ────────────────────────────────────────────────────────────────────────────────────────────────────────


def test_the_guide_is_set_so_that_the_border_comes_out() -> None:
    """Derived: S = (wanted - offset) / gain; what is left is at most half a division of the scale."""
    package = made()
    for cut in cuts(on(TESTED, package)):
        assert cut.guide == dict(package.mats[0].borders.named())[cut.side]
        assert cut.guided.reading.nm % INCH.guide.step.nm == 0
        comes_out = 1.008 * cut.guided.reading.as_mm + 0.6
        assert comes_out == pytest.approx(cut.guided.gives.as_mm, abs=1e-5)
        assert abs(comes_out - cut.guide.as_mm) <= HALF_STEP * 1.008 + 1e-5
        assert cut.guided.reading != cut.guide


def test_an_untested_cutter_with_a_fine_scale_is_set_as_a_nominal_one() -> None:
    package = made()
    plain, own = cuts(set_up(package, NOMINAL)), cuts(on(INCH, package))
    assert [cut.guided.reading for cut in own] == [cut.guide for cut in plain]
    assert [cut.far.blade for cut in own] == [cut.far.blade for cut in plain]
    assert not on(INCH, package).cutter.tested


def test_a_border_below_the_reach_takes_a_strip_whose_width_is_in_the_setting() -> None:
    """Common practice: border 3/4 with a strip of 2 is set to 2 3/4."""
    narrow = replace(INCH, guide=replace(INCH.guide, least=inch(5, 2), strips=(inch(2),)))
    made_ = on(narrow, made(but(border=inch(3, 4))))
    for cut in cuts(made_):
        assert (cut.guided.reading, cut.guided.strip, cut.guided.gives) == (inch(11, 4), inch(2), inch(3, 4))
        assert cut.guided.reached
    (finding,) = made_.findings
    assert finding.level is Level.NOTE
    assert "strip of 2 " in finding.advice(Words(metric=False).write)


def test_a_border_above_the_reach_names_another_cutter_and_the_nearest() -> None:
    wide = replace(INCH, name="wide", guide=replace(INCH.guide, greatest=inch(9)))
    made_ = on(INCH, made(but(border=inch(6))), wide, INCH)
    assert not any(cut.guided.reached for cut in cuts(made_))
    finding = next(each for each in made_.findings if each.rule == "cutter.reach")
    said = finding.advice(Words(metric=False).write)
    assert finding.level is Level.CAUTION
    assert "wide, set to 6" in said
    assert "the nearest, 5, which makes the opening 2 larger" in said


def test_a_pinned_guide_gives_the_pin_that_is_near_enough() -> None:
    made_ = on(PINNED, made(but(border=inch(2))))
    assert {cut.guided.reading for cut in cuts(made_)} == {inch(2)}
    assert not made_.findings


# ── stops, constants ─────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize("board", ["white", "thick"])
def test_the_constants_are_those_of_the_caliper_of_the_board(board: str) -> None:
    package = made(but(mats=(MatRule(board),)))
    caliper, run = package.mats[0].board.caliper.as_mm, package.mats[0].run.as_mm
    deep = replace(TESTED, deepest=mm(4))
    for cut in cuts(on(deep, package)):
        start = 0.7 + 0.4 * (caliper - 1.5)
        assert (cut.far.crossing - cut.far.blade).as_mm == pytest.approx(run + start, abs=1e-5)
        assert (cut.near.crossing - cut.near.blade).as_mm == pytest.approx(run - 0.5, abs=1e-5)


@pytest.mark.parametrize(("index", "lead"), [(Index.PENCIL, 1), (Index.BLADE, 0)])
@pytest.mark.parametrize("datum", StopDatum)
def test_a_stop_holds_the_head_where_its_index_line_belongs(index: Index, lead: int, datum: StopDatum) -> None:
    """Common practice: an index line that is set to the pencil line has the run of the bevel in it."""
    profile = replace(TESTED, heads=(replace(TESTED.bevel, index=index),), stops=Stops(datum=datum))
    package = made()
    for cut in cuts(on(profile, package)):
        size = package.mats[0].blank
        edge = (size.width if cut.side in ("top", "bottom") else size.height).as_mm
        for far, end in ((True, cut.far), (False, cut.near)):
            place = end.blade.as_mm + lead * package.mats[0].run.as_mm
            wanted = edge - place if far and datum is StopDatum.BAR else place
            assert abs(end.stop.as_mm - wanted) <= HALF_STEP + 1e-6
            comes = edge - end.stop.as_mm if far and datum is StopDatum.BAR else end.stop.as_mm
            assert end.off.as_mm == pytest.approx(place - comes, abs=1e-5)


def test_a_stop_that_is_not_there_is_neither_read_nor_reset() -> None:
    profile = replace(TESTED, stops=Stops(far=False))
    for cut in cuts(on(profile, made())):
        assert (cut.far.stopped, cut.near.stopped) == (False, True)
        assert "far" not in cut.reset
        assert cut.far.stop == cut.far.crossing


def test_an_upright_blade_has_the_constants_of_its_own_head() -> None:
    straight = Head("straight", HeadKind.STRAIGHT, Index.BLADE, angle_deg=90, start=mm(2), stop=mm(1))
    profile = replace(TESTED, heads=(*TESTED.heads, straight))
    thick = but(sink=SinkRule("thick", inch(1, 8)))
    package = made(thick, art(inch(10), inch(13), thickness=inch(3, 16)))
    sink = [cut for cut in cuts(on(profile, package)) if ".sink." in cut.figure]
    assert len(sink) == 4
    assert {cut.far.crossing - cut.far.blade for cut in sink} == {mm(2)}
    assert {cut.near.crossing - cut.near.blade for cut in sink} == {mm(1)}


# ── every figure ─────────────────────────────────────────────────────────────────────────────────────────────────


@settings(max_examples=40, deadline=None)
@given(artworks(), treatments(), profiles())
def test_every_figure_of_a_cutter_agrees_with_its_formula(
    artwork: Artwork, treatment: Treatment, profile: Profile
) -> None:
    try:
        package = resolve(Work("1", "", artwork), treatment, MATERIALS)
    except FourplyError:
        return
    made_ = on(profile, package, INCH, MM)
    figures = made_.figures
    assert [fault(figures, path) for path in figures if path not in package.figures and fault(figures, path)] == []
    for cut in cuts(made_):
        if cut.guide > Length(0):
            assert figures[f"{cut.figure}.set"].value == cut.guided.reading
            assert figures[f"{cut.figure}.gives"].value == cut.guided.gives
    for finding in made_.findings:
        assert finding.sentence(Words(metric=True).write)
        assert "{" not in finding.sentence(Words(metric=False).write) + finding.advice(Words(metric=False).write)


# ── what it cannot do ────────────────────────────────────────────────────────────────────────────────────────────


def test_board_that_is_too_thick_is_a_fault_that_is_said_first() -> None:
    package = made(but(mats=(MatRule("thick"),)))
    made_ = on(replace(INCH, deepest=inch(1, 16)), package)
    fault_ = next(each for each in made_.findings if each.rule == "cutter.thick")
    assert fault_.level is Level.FAULT
    assert first_things(package, Words(metric=False).write, made_.findings)[0].do == "Do not cut yet."


def test_a_treatment_that_asks_for_another_angle_than_the_blade_stands_at_is_said() -> None:
    steep = made(but(bevel_deg=52.0))
    assert "cutter.angle" in rules_of(on(INCH, steep).findings)
    assert "cutter.angle" not in rules_of(on(INCH, made()).findings)
    assert bevel_angle(found(INCH, angle=51.5))[0] == 51.5
    assert "cutter.angle" not in rules_of(on(found(INCH, angle=51.5), steep).findings)


def test_a_guide_askew_is_said_with_what_it_makes_of_the_longest_cut() -> None:
    """Derived: over a cut of L the ends are L / 2 · tan(angle) off."""
    package = made()
    assert not on(found(INCH, skew=0.01), package).findings
    made_ = on(found(INCH, skew=0.3), package)
    (finding,) = made_.findings
    longest = max(cut.length.as_mm for cut in cuts(made_))
    off = dict(finding.numbers)["off"]
    assert isinstance(off, Length)
    assert off.as_mm == pytest.approx(longest / 2 * math.tan(math.radians(0.3)), abs=0.05)
    assert finding.level is (Level.CAUTION if off > inch(1, 32) else Level.NOTE)


def test_what_is_longer_than_the_bar_takes_two_passes_or_another_bar() -> None:
    """Derived: 0.1 degrees over 500 mm part the edges by 0.9 mm; the blank here is 16 in high on a bar of 10."""
    package = made()
    short = replace(INCH, bar=inch(10), arm=Arm(inch(10)))
    findings = on(short, package).findings
    assert rules_of(findings) == ["cutter.long", "cutter.two_passes"]
    passes = dict(findings[1].numbers)
    edge = max(package.mats[0].blank.width, package.mats[0].blank.height)
    assert (passes["first"], passes["second"]) == (inch(10), edge - inch(10))
    parting = passes["parting"]
    assert isinstance(parting, Length)
    assert parting.as_mm == pytest.approx((edge - inch(10)).as_mm * math.tan(math.radians(0.1)), abs=0.05)


# ── ovals ────────────────────────────────────────────────────────────────────────────────────────────────────────

OVAL = but(FRAMED, shape=ShapeRule(ShapeKind.OVAL))


@pytest.mark.parametrize("bevel", Bevel)
@pytest.mark.parametrize("reads", OvalScale)
def test_an_oval_cutter_is_set_to_the_edge_that_its_scale_reads(bevel: Bevel, reads: OvalScale) -> None:
    """Common practice: the sight edge is the back line of a normal bevel, the face edge of a reverse one."""
    package = made(replace(OVAL, mats=(MatRule("white", bevel=bevel),)))
    head = Head("oval", HeadKind.OVAL, board=BoardFace.UP, reads=reads)
    (oval,) = [t for t in on(replace(INCH, heads=(*INCH.heads, head)), package).tasks if isinstance(t, Oval)]
    assert oval.scale is not None
    opening = package.mats[0].opening
    seen = opening.sight if reads is OvalScale.SIGHT else opening.face
    assert (oval.scale, oval.face_up, oval.reads) == (seen, True, reads.value)


def test_a_cutter_without_an_oval_head_says_so_and_a_stack_lies_face_down() -> None:
    double = replace(OVAL, mats=(MatRule("white"), MatRule("white", inch(1, 4))))
    assert rules_of(on(INCH, made(OVAL)).findings) == ["cutter.no_oval"]
    up = replace(INCH, heads=(*INCH.heads, Head("oval", HeadKind.OVAL, board=BoardFace.UP)))
    assert rules_of(on(up, made(double)).findings) == ["cutter.oval_stack"]
    assert not on(up, made(replace(double, stack_cut=False))).findings
    down = replace(INCH, heads=(*INCH.heads, Head("oval", HeadKind.OVAL)))
    assert not on(down, made(double)).findings


def test_changes_of_setting_are_those_of_the_scale_and_the_stops() -> None:
    """Equal borders: one guide setting for all sides, as on a nominal cutter."""
    first, *others = cuts(on(TESTED, made()))
    assert first.reset == {"guide", "far", "near"}
    assert all("guide" not in cut.reset for cut in others)
