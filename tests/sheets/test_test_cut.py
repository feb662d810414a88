"""The sheet of a test cut: every box has its line and its ring, whatever the cutter and the paper."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from tests.bench.cutters import INCH, MM, PINNED
from tests.sheets.test_golden import GOLDEN, NUMBER

from fourply.bench.cutter import Direction, Side
from fourply.bench.profile import Arm, Blade, Head, HeadKind, Index, Position, Profile
from fourply.bench.readings import What
from fourply.bench.trial import ROUND, Trial, trial
from fourply.drawing.page import A4, LETTER, Paper
from fourply.drawing.record import Drawing
from fourply.errors import BadInput
from fourply.files.cutters import starter_cutters
from fourply.measure.length import Length
from fourply.render import svg
from fourply.sheets.test_cut import compose_test_cut
from fourply.working.words import Words

SMALL = replace(MM, name="short bar", bar=Length.mm(240), arm=Arm(Length.mm(230)))
RIGHT = replace(MM, name="right", guide=replace(MM.guide, side=Side.RIGHT))
AWAY = replace(MM, name="away", heads=(replace(MM.bevel, direction=Direction.AWAY, index=Index.BLADE),))
_BLADE = Blade(positions=(Position("4", Length.mm(9)),))
HELD = replace(MM, name="held", heads=(Head("b", HeadKind.BEVEL, start=Length.mm(1), blade=_BLADE),))
ZERO_UP = replace(MM, name="from zero", guide=replace(MM.guide, least=Length.mm(0)))
CUTTERS = [*starter_cutters().values(), MM, INCH, PINNED, SMALL, RIGHT, AWAY, HELD, ZERO_UP]
CALIPER = Length.mm(14, 10)


def sheet(profile: Profile, paper: Paper = A4) -> tuple[Trial, tuple[Drawing, ...]]:
    made = trial(profile, CALIPER)
    return made, compose_test_cut(made, Words(metric=profile.unit.is_metric), paper)


@pytest.mark.parametrize("paper", [A4, LETTER], ids=lambda paper: paper.name)
@pytest.mark.parametrize("profile", CUTTERS, ids=lambda profile: profile.name)
def test_every_box_has_a_line_and_a_ring_and_keeps_to_the_page(profile: Profile, paper: Paper) -> None:
    made, pages = sheet(profile, paper)
    numbers = [label.text for page in pages for label in page.labels if re.fullmatch(r"\d+", label.text) and label.bold]
    for box in made.boxes:
        assert numbers.count(box.number) >= 2, box
    for page in pages:
        for label in page.labels:
            assert 5 <= label.x <= paper.width - 5
            assert 5 <= label.y <= paper.height - 5


@pytest.mark.parametrize("profile", CUTTERS, ids=lambda profile: profile.name)
def test_a_test_cut_can_be_made(profile: Profile) -> None:
    made = trial(profile, CALIPER)
    limit = profile.bar if profile.arm is None else min(profile.bar, profile.arm.length)
    assert max(made.blank.width, made.blank.height) <= limit
    borders = [made.border(side) for side in ROUND]
    assert made.blank.width - made.borders.across >= Length.mm(50)
    assert made.blank.height - made.borders.top - made.borders.bottom >= Length.mm(50)
    guide = profile.guide
    assert all(guide.least <= border <= guide.greatest for border in borders)
    assert not guide.pinned or set(borders) <= set(guide.pinned)
    assert len(set(borders)) >= 3
    assert {box.what for box in made.boxes} == set(What) - {What.FOUR_CUTS}


def test_the_sheet_is_as_it_was(request: pytest.FixtureRequest) -> None:
    drawn = svg.render(sheet(MM)[1][0]).decode()
    file = GOLDEN / "test-cut.svg"
    if request.config.getoption("--regen", default=False):
        file.write_text(drawn, encoding="utf-8")
    kept = file.read_text(encoding="utf-8")
    assert NUMBER.sub("#", drawn) == NUMBER.sub("#", kept)
    numbers = zip(NUMBER.findall(drawn), NUMBER.findall(kept), strict=True)
    assert all(abs(float(here) - float(there)) < 0.001 for here, there in numbers)


def test_the_far_end_follows_the_guide() -> None:
    assert trial(MM, CALIPER).far["top"] == "left"
    assert trial(RIGHT, CALIPER).far["top"] == "right"


def ring(profile: Profile, what: What) -> float:
    """Return how far from the left the ring of the top side's reading stands."""
    made, (page, *_) = sheet(profile)
    number = next(box.number for box in made.boxes if box.what is what and box.where.startswith("top"))
    return next(label.x for label in page.labels if label.text == number)


def test_the_rings_stand_at_the_ends_that_they_name() -> None:
    # seen from the back, the left side is on the right, and a left-hand guide has it at the far end of the top cut
    assert ring(MM, What.NEAR) < ring(MM, What.MID) < ring(MM, What.FAR)
    assert ring(RIGHT, What.NEAR) > ring(RIGHT, What.MID) > ring(RIGHT, What.FAR)
    assert ring(MM, What.START) > ring(MM, What.STOP)
    assert ring(AWAY, What.START) < ring(AWAY, What.STOP)


def said(profile: Profile) -> str:
    return " ".join(label.text for page in sheet(profile)[1] for label in page.labels)


def test_the_sheet_says_how_the_blade_is_held_and_where_it_enters() -> None:
    assert "in position 4" in said(HELD)
    assert "enter 2.4 past the pencil crossing" in said(HELD)
    assert "leave 1.4 past it" in said(HELD)
    assert "enter and leave 1.4" in said(MM)
    assert "index line shows where the blade is" in said(AWAY)
    assert "maker's instructions" in said(MM)


def test_a_cutter_that_leaves_no_opening_has_no_test_cut() -> None:
    wide = replace(MM, guide=replace(MM.guide, least=Length.mm(140)))
    with pytest.raises(BadInput, match="leave an opening"):
        trial(wide, CALIPER)
    with pytest.raises(BadInput, match="at most"):
        trial(MM, Length.mm(5))
