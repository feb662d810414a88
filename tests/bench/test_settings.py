"""Settings of every cut, against the published routine for a bottom-weighted mat and against geometry."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from fourply.bench.cutter import NOMINAL, Cutter, Direction, Side, StopDatum
from fourply.bench.settings import Operation, settings
from fourply.measure.length import ZERO, Length
from fourply.measure.size import Size
from fourply.trade.accents import GrooveRule
from fourply.trade.materials import Board, Materials, Offer
from fourply.trade.money import Money
from fourply.trade.resolve import resolve
from fourply.trade.treatment import Bevel, Bottom, BottomRule, MatRule, Treatment
from fourply.trade.work import Artwork, Readings, Work


def inch(text: str) -> Length:
    whole, _, part = text.partition(" ")
    if "/" in whole:
        whole, part = "0", whole
    over, _, under = part.partition("/")
    return Length.inches(int(whole)) + (Length.inches(int(over), int(under)) if over else ZERO)


SHEETS = (Offer(Size(Length.inches(32), Length.inches(40)), Money(Decimal(12), "USD")),)
BOARDS = {name: Board(name, Length.inches(1, 16), SHEETS) for name in ("top", "under")}
MATERIALS = Materials(boards=BOARDS)
WEIGHTED = Treatment(
    border=Length.inches(2),
    bottom=Bottom(BottomRule.AMOUNT, Length.inches(1, 4)),
    mats=(MatRule("top"),),
    mount="top",
    backing="",
    glazing="",
)
WORK = Work("1", "", Artwork(Readings.of(Length.inches(10)), Readings.of(Length.inches(12))))


def operations(treatment: Treatment, cutter: Cutter = NOMINAL) -> tuple[Operation, ...]:
    return settings(resolve(WORK, treatment, MATERIALS), cutter).operations


def table(operation: Operation) -> dict[str, tuple[Length, Length, Length]]:
    return {cut.side: (cut.guide, cut.far.stop, cut.near.stop) for cut in operation.cuts}


def test_cv091_a_bottom_weighted_mat_follows_the_published_routine() -> None:
    """CV091, common practice: left-hand guide, T 2, L 2, R 2, B 2 1/4; guide, far stop, near stop."""
    two, more = inch("2"), inch("2 1/4")
    (window,) = operations(WEIGHTED)
    assert table(window) == {
        "top": (two, two, two),
        "left": (two, more, two),
        "bottom": (more, two, two),
        "right": (two, two, more),
    }


def test_cuts_go_round_clockwise_from_the_top_as_seen_from_the_back() -> None:
    (window,) = operations(WEIGHTED)
    assert [cut.side for cut in window.cuts] == ["top", "left", "bottom", "right"]


def test_a_right_hand_guide_swaps_far_and_near() -> None:
    (left,) = operations(WEIGHTED)
    (right,) = operations(WEIGHTED, Cutter(guide=Side.RIGHT))
    for one, other in zip(left.cuts, right.cuts, strict=True):
        assert (one.far.towards, one.near.towards) == (other.near.towards, other.far.towards)
        assert (one.far.crossing, one.near.crossing) == (other.near.crossing, other.far.crossing)


def test_only_what_changes_is_to_be_reset() -> None:
    (window,) = operations(WEIGHTED)
    assert [cut.reset for cut in window.cuts] == [
        frozenset({"guide", "far", "near"}),
        frozenset({"far"}),
        frozenset({"guide", "far"}),
        frozenset({"guide", "near"}),
    ]


def test_a_stop_read_from_the_bar_moves_with_the_length_of_the_edge() -> None:
    (window,) = operations(WEIGHTED, Cutter(stops=StopDatum.BAR))
    package = resolve(WORK, WEIGHTED, MATERIALS)
    top, left = window.cuts[0], window.cuts[1]
    assert top.far.stop == package.outer.width - inch("2")
    assert left.far.stop == package.outer.height - inch("2 1/4")
    assert top.near.stop == inch("2")
    assert "far" in left.reset


@pytest.mark.parametrize(
    ("bevel", "past"), [(Bevel.NORMAL, Length.inches(1, 16)), (Bevel.REVERSE, -Length.inches(1, 16))]
)
def test_the_blade_enters_past_the_crossing_by_the_run_and_the_constant(bevel: Bevel, past: Length) -> None:
    """CV059, derived: the face corner lies one run past the crossing; a reverse bevel's one run short of it."""
    cutter = Cutter(start=Length.mm(1), stop=Length.mm(2))
    (window,) = operations(replace(WEIGHTED, mats=(MatRule("top", bevel=bevel),)), cutter)
    for cut in window.cuts:
        assert cut.far.blade == cut.far.crossing - past - Length.mm(1)
        assert cut.near.blade == cut.near.crossing - past - Length.mm(2)


DOUBLE = replace(WEIGHTED, mats=(MatRule("top"), MatRule("under", Length.inches(1, 4))))


def test_a_stacked_under_mat_registers_on_the_edge_of_the_top_mat() -> None:
    top, under = operations(DOUBLE)
    assert [cut.guide for cut in under.cuts] == [cut.guide + Length.inches(1, 4) for cut in top.cuts]
    assert "stack" in under.then


def test_an_under_mat_cut_by_itself_registers_on_its_own_smaller_edge() -> None:
    _, stacked = operations(DOUBLE)
    _, alone = operations(replace(DOUBLE, stack_cut=False))
    for one, other in zip(stacked.cuts, alone.cuts, strict=True):
        assert other.guide == one.guide - DOUBLE.inset
        assert other.far.crossing == one.far.crossing - DOUBLE.inset


def test_a_groove_is_cut_before_its_window() -> None:
    groove, window = operations(replace(WEIGHTED, grooves=(GrooveRule(Length.inches(1, 2)),)))
    assert (groove.name, window.name) == ("V-groove", "top mat window")
    assert [cut.guide for cut in groove.cuts] == [cut.guide - Length.inches(1, 2) for cut in window.cuts]


def test_every_setting_has_a_working_that_leads_to_a_border() -> None:
    found = settings(resolve(WORK, DOUBLE, MATERIALS), NOMINAL)
    for operation in found.operations:
        for cut in operation.cuts:
            working = found.figures[f"{cut.figure}.guide"]
            assert working.value == cut.guide
            assert dict(working.operands)["border"].endswith(f"border.{cut.side}")


def test_the_constants_lie_where_the_blade_enters_and_leaves() -> None:
    start, stop = Length.mm(1), Length.mm(2)
    for direction, far, near in ((Direction.TOWARDS, start, stop), (Direction.AWAY, stop, start)):
        (with_constants, *_), (plain, *_) = (
            operations(WEIGHTED, each) for each in (Cutter(start=start, stop=stop, direction=direction), NOMINAL)
        )
        for cut, bare in zip(with_constants.cuts, plain.cuts, strict=True):
            assert bare.far.blade - cut.far.blade == far
            assert bare.near.blade - cut.near.blade == near
