"""The ticket of a work on a cutter of the shop: what is set, what it gives, what stands below, all clean."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from tests.bench.cutters import INCH, MM, found, profiles
from tests.sheets.shaped import SHAPED
from tests.trade.cases import artworks, but, inch, made, treatments

from fourply.bench.cutter import NOMINAL
from fourply.bench.profile import Arm, Blade, BoardFace, Head, HeadKind, OvalScale, Position, Profile, Stops
from fourply.bench.settings import settings as cutter_settings
from fourply.bench.shop_cutter import shop_cutter
from fourply.bench.steps import Kind
from fourply.bench.todo import Bench, todos
from fourply.drawing.check import collisions, crossed, strays
from fourply.drawing.page import A4, LETTER
from fourply.drawing.record import Drawing
from fourply.errors import BadTreatment
from fourply.measure.length import Length
from fourply.measure.notation import Marks
from fourply.sheets.ticket import compose_ticket
from fourply.sheets.ticket_view import Context, ticket_view
from fourply.sheets.view import SettingsView, TicketView
from fourply.trade.package import Package
from fourply.trade.treatment import Treatment
from fourply.trade.work import Artwork
from fourply.working.words import Words

INCHES = Words(metric=False)
PRINTED = Words(metric=False, marks=Marks.TYPOGRAPHIC)
MILLIMETRES = Words(metric=True, marks=Marks.TYPOGRAPHIC)
TESTED = found(INCH, gain=1.008, offset=0.6, start=0.7, stop=-0.5)


def view(profile: Profile, package: Package | None = None, words: Words = INCHES, *others: Profile) -> TicketView:
    package = made() if package is None else package
    return ticket_view(package, Context("Show", "1 of 9", shop_cutter(profile, others), words))


def faults(pages: tuple[Drawing, ...]) -> list[object]:
    return [fault for page in pages for fault in (*collisions(page), *strays(page, margin=10), *crossed(page))]


def below(table: SettingsView) -> str:
    return " ".join(table.legend)


def test_the_guide_shows_what_to_set_and_the_row_what_it_gives() -> None:
    (row,) = view(TESTED).settings.rows
    assert {guide.text for guide in row.guides} == {"2 61/64"}
    assert [end.name for end in row.ends] == ["border it gives", "pencil crossing", "stop reads"]
    assert {setting.text for setting in row.ends[0].far} == {"3"}
    assert {setting.text for setting in row.ends[0].near} == {""}


def test_a_nominal_cutter_says_nothing_of_all_this() -> None:
    table = ticket_view(made(), Context("Show", "1 of 9", NOMINAL, INCHES)).settings
    assert [end.name for end in table.rows[0].ends] == ["pencil and stop"]
    assert len(table.legend) == 2


def test_a_cutter_that_was_never_tested_says_so() -> None:
    said = below(view(INCH).settings)
    assert "No test cut on file: nothing is corrected." in said
    assert "Without a test cut borders come out within" in said
    assert "No test cut" not in below(view(TESTED).settings)
    assert "By the test cut of 2026-03-01 borders come out within" in below(view(TESTED).settings)


def test_missing_stops_are_worked_to_the_pencil_line() -> None:
    none = view(replace(TESTED, stops=Stops(far=False, near=False))).settings
    assert [end.name for end in none.rows[0].ends] == ["border it gives", "pencil crossing"]
    assert "No far and no near stop" in below(none)
    near = view(replace(TESTED, stops=Stops(far=False))).settings
    stops = near.rows[0].ends[-1]
    assert {setting.text for setting in stops.far} == {""}
    assert "" not in {setting.text for setting in stops.near}


def test_each_board_says_how_its_blade_stands() -> None:
    """Derived: (1/16 + 1/48) / sin 45 = 0.118 in for a board and a slip sheet of 1/16 in."""
    positions = (Position("1", inch(118, 1000)), Position("2", inch(210, 1000)))
    held = replace(INCH, heads=(replace(INCH.bevel, blade=Blade(positions=positions)),))
    assert "Blade for the top mat: position 1 (at least 0.118 in" in below(view(held).settings)
    assert "Blade for the top mat: 0.118 in out along its slant." in below(view(INCH).settings)


def test_the_arm_that_takes_the_guide_off_is_said() -> None:
    off = replace(INCH, arm=Arm(inch(40), guide_off=True))
    assert "The guide comes off for the squaring arm" in below(view(off).settings)
    assert "comes off" not in below(view(replace(INCH, arm=Arm(inch(40)))).settings)


def test_scales_in_another_unit_than_the_show_are_read_as_they_are() -> None:
    table = view(MM).settings
    assert "Guide and stops in mm" in below(table)
    (row,) = table.rows
    assert {guide.text for guide in row.guides} == {"76"}
    assert row.ends[-1].name == "stop reads"


def test_a_border_out_of_reach_has_no_figure_to_set_but_ways_out() -> None:
    wide = replace(INCH, name="wide", guide=replace(INCH.guide, greatest=inch(9)))
    ticket = view(INCH, made(but(border=inch(6))), INCHES, wide)
    (row,) = ticket.settings.rows
    assert {guide.text for guide in row.guides} == {"—"}
    assert row.lines == ("Out of the guide's reach, see Findings: top, left, bottom, right.",)
    assert any("Instead: wide, set to 6" in finding.text for finding in ticket.findings)


@pytest.mark.parametrize(
    ("board", "said"), [(BoardFace.UP, "face up, centre on the face right"), (BoardFace.DOWN, "face down")]
)
def test_an_oval_says_which_edge_its_scale_reads_and_how_the_board_lies(board: BoardFace, said: str) -> None:
    package, _ = SHAPED["oval"]
    head = Head("oval", HeadKind.OVAL, board=board, reads=OvalScale.FACE)
    row = view(replace(INCH, heads=(*INCH.heads, head)), package).settings.rows[0]
    assert said in row.lines[0]
    assert f"its scale reads the face edge, set {INCHES.size(package.mats[0].opening.face)}" in row.lines[0]


def test_the_maker_s_instructions_come_first_of_the_cautions() -> None:
    cautions = " ".join(view(INCH).cautions)
    for word in ("maker's instructions", "blade", "glass", "dust", "lift"):
        assert word in cautions


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])
@given(artworks(), treatments(), profiles(), st.booleans())
def test_whatever_the_cutter_its_ticket_is_clean(
    artwork: Artwork,
    treatment: Treatment,
    profile: Profile,
    metric: bool,  # noqa: FBT001
) -> None:
    try:
        package = made(treatment, artwork)
    except BadTreatment:
        assume(False)  # noqa: FBT003
    ticket = view(profile, package, MILLIMETRES if metric else PRINTED, INCH)
    assert faults(compose_ticket(ticket, A4 if metric else LETTER)) == []


@pytest.mark.parametrize("name", SHAPED)
def test_every_shape_is_clean_on_a_cutter_with_errors(name: str) -> None:
    package, _ = SHAPED[name]
    head = Head("oval", HeadKind.OVAL, board=BoardFace.UP, reads=OvalScale.FACE)
    ticket = view(replace(TESTED, deepest=Length.mm(9), heads=(*TESTED.heads, head)), package, PRINTED)
    assert faults(compose_ticket(ticket, LETTER)) == []


def test_the_order_of_work_is_set_as_the_ticket_is() -> None:
    """The guide of each cut, strips among them; what the guide does not reach is work by hand that names the ticket."""
    narrow = replace(TESTED, guide=replace(TESTED.guide, least=inch(5, 2), strips=(inch(2),)))
    for border, strip, by_hand in ((inch(3), None, 0), (inch(3, 4), inch(2), 0), (inch(9), None, 4)):
        package = made(but(border=border))
        cutter = shop_cutter(narrow)
        set_up = cutter_settings(package, cutter)
        found_ = todos([(package, set_up)], Bench()).tasks
        assert sum("out of the guide's reach" in task.strike.operation for task in found_) == by_hand
        guided = [task.setting for task in found_ if task.kind is Kind.CUT]
        assert len(guided) == 4 - by_hand
        assert {setting.strip for setting in guided} <= {strip}
        assert {setting.guide for setting in guided} <= {cut.guided.reading for cut in set_up.operations[0].cuts}
