"""Each check just past its limit and just on the safe side of it, and the sentence it says."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import HealthCheck, assume, given, settings
from tests.trade.cases import (
    FRAMED,
    MATERIALS,
    PLAIN,
    SHEET,
    WHITE,
    art,
    artworks,
    but,
    inch,
    made,
    mm,
    treatments,
    write,
)

from fourply.errors import BadTreatment
from fourply.measure.length import ZERO, Length
from fourply.measure.rounding import NANOMETRE
from fourply.measure.size import Edges, Rect, Size
from fourply.trade.accents import GrooveRule
from fourply.trade.findings import Finding, Level
from fourply.trade.treatment import Bottom, BottomRule, MatRule, RevealMeans, Treatment, WindowFrom
from fourply.trade.work import Artwork, Keep, Zone

HOLDS, NOTE, TIGHT, CAUTION, FAULT = Level.HOLDS, Level.NOTE, Level.TIGHT, Level.CAUTION, Level.FAULT
NM = Length(1)
FINE = but(grid=NANOMETRE)
UNLISTED = replace(MATERIALS, boards={**MATERIALS.boards, "unlisted": replace(WHITE, name="unlisted", sheets=())})
DOUBLE = (MatRule("white"), MatRule("grey", inch(1, 4)))


def under(reveal: Length, means: RevealMeans = RevealMeans.FLAT) -> Treatment:
    return but(grid=NANOMETRE, mats=(MatRule("white"), MatRule("grey", reveal, means)))


def groove(distance: Length, **more: Any) -> Treatment:
    return but(grid=NANOMETRE, grooves=(GrooveRule(distance),), **more)


def print_with(zone: Rect, keep: Keep) -> Artwork:
    return art(inch(10), inch(13), zones=(Zone("signature", zone, keep),))


def depth(points: Length, **more: Any) -> Treatment:
    """Return a treatment whose stack is 2 mm glass, two boards, 0.3 mm paper and 3/16 in foam: 10.2375 mm."""
    return but(FRAMED, points=points, **more)


# A rabbet of 5/8 in is 15.875 mm, so 5.6375 mm are left; three boards may be off by 0.1 mm each and glass by 0.2 mm.
SPARE, WITHIN = Length(5_637_500), mm(5, 10)
OVER_FLOAT = but(window=WindowFrom.FLOAT, grid=NANOMETRE, mats=(MatRule("thick"),), float_lift=inch(1, 16))
"""A 1/8 in mat over a sheet raised by one 1/16 in board: 1/16 in is left for the sheet and the gap."""

CASES: list[tuple[str, Level | None, Treatment, Artwork]] = [
    # the art
    ("art.image_only", CAUTION, PLAIN, art(inch(10), inch(13), sheet_is_image=True)),
    ("art.image_only", None, PLAIN, SHEET),
    (
        "overlap.none",
        FAULT,
        but(window=WindowFrom.IMAGE),
        art(inch(10), inch(13), image=Rect.at(ZERO, inch(1), inch(8), inch(10))),
    ),
    ("overlap.small", CAUTION, but(FINE, overlap=mm(15, 10) - NM), SHEET),
    ("overlap.small", None, but(FINE, overlap=mm(15, 10)), SHEET),
    ("overlap", HOLDS, but(FINE, overlap=mm(15, 10)), SHEET),
    ("overlap.large", CAUTION, but(FINE, overlap=inch(1, 4) + NM), SHEET),
    ("overlap.large", None, but(FINE, overlap=inch(1, 4)), SHEET),
    ("overlap", None, but(window=WindowFrom.FLOAT), SHEET),
    (
        "art.off_board",
        FAULT,
        but(window=WindowFrom.IMAGE, border=inch(1)),
        art(inch(20), inch(20), image=Rect.at(inch(9), inch(9), inch(2), inch(2))),
    ),
    ("art.off_board", None, PLAIN, SHEET),
    ("zone.show", FAULT, FINE, print_with(Rect.at(inch(5), inch(12), inch(3), inch(7, 8) + NM), Keep.SHOW)),
    ("zone.show", HOLDS, FINE, print_with(Rect.at(inch(5), inch(12), inch(3), inch(7, 8)), Keep.SHOW)),
    ("zone.cover", FAULT, FINE, print_with(Rect.at(ZERO, ZERO, inch(1, 8) + NM, inch(13)), Keep.COVER)),
    ("zone.cover", HOLDS, FINE, print_with(Rect.at(ZERO, ZERO, inch(1, 8), inch(13)), Keep.COVER)),
    ("glazing.touches", FAULT, OVER_FLOAT, art(inch(10), inch(13), thickness=inch(1, 16))),
    ("glazing.near", CAUTION, OVER_FLOAT, art(inch(10), inch(13), thickness=inch(1, 16) - NM)),
    ("glazing.near", CAUTION, OVER_FLOAT, art(inch(10), inch(13), thickness=inch(35, 2000) + NM)),
    ("glazing", HOLDS, OVER_FLOAT, art(inch(10), inch(13), thickness=inch(35, 2000))),
    ("glazing.touches", None, but(OVER_FLOAT, glazing="", float_lift=inch(1)), SHEET),
    ("wood.near", CAUTION, but(FRAMED, grid=NANOMETRE, border=inch(9, 8) - NM), SHEET),
    ("wood", HOLDS, but(FRAMED, grid=NANOMETRE, border=inch(9, 8)), SHEET),
    ("wood", None, PLAIN, SHEET),
    # the frame's play: 1 to 3 mm a side (Fine Art Trade Guild, conservation-level framing)
    ("allowance.tight", CAUTION, but(FRAMED, allowance=mm(1) - NM), SHEET),
    ("allowance.tight", None, but(FRAMED, allowance=mm(1)), SHEET),
    ("allowance.loose", NOTE, but(FRAMED, allowance=mm(6) + NM), SHEET),
    ("allowance.loose", None, but(FRAMED, allowance=mm(6)), SHEET),
    ("border.ignored", CAUTION, but(borders=Edges.equal(inch(3)), outer=Size(inch(20), inch(24))), SHEET),
    ("border.ignored", None, but(borders=Edges.equal(inch(3))), SHEET),
    # the mats
    ("border.narrow", NOTE, but(FINE, border=inch(7, 4) - NM), SHEET),
    ("border.narrow", None, but(FINE, border=inch(7, 4)), SHEET),
    ("border.narrow", None, but(border=inch(1)), art(inch(20), inch(28))),
    ("border.repeats_moulding", CAUTION, but(FRAMED, grid=NANOMETRE, border=inch(3, 2) - NM), SHEET),
    ("border.repeats_moulding", None, but(FRAMED, grid=NANOMETRE, border=inch(3, 2)), SHEET),
    (
        "border.repeats_moulding",
        CAUTION,
        but(FRAMED, moulding_sides="narrow lip", borders=Edges(inch(3), inch(3, 4), inch(3), inch(3))),
        SHEET,
    ),
    ("border.mismatch", NOTE, but(outer=Size(inch(16), inch(20))), SHEET),
    ("border.mismatch", NOTE, but(frame="16x20"), SHEET),
    ("border.mismatch", None, but(outer=Size(inch(16), inch(19))), SHEET),
    ("border.mismatch", None, but(frame_sides=6, outer=Size(inch(20), inch(20))), SHEET),
    ("border.mismatch", None, but(frame="16x20", bottom=Bottom(BottomRule.OPTICAL)), SHEET),
    ("border.bottom_light", CAUTION, but(borders=Edges(inch(3), inch(3), inch(3) - inch(2, 32), inch(3))), SHEET),
    ("border.bottom_light", None, but(borders=Edges(inch(3), inch(3), inch(3) - inch(1, 32), inch(3))), SHEET),
    ("border.top_narrow", NOTE, but(borders=Edges(inch(3) - inch(1, 32), inch(3), inch(3), inch(3))), SHEET),
    ("border.top_narrow", None, but(borders=Edges(inch(3), inch(3), inch(4), inch(3))), SHEET),
    ("border.top_narrow", None, but(borders=Edges(inch(2), inch(3), inch(2), inch(3))), SHEET),
    ("strip.none", FAULT, under(mm(14, 10), RevealMeans.GUIDE), SHEET),
    ("strip.thin", CAUTION, under(mm(14, 10) + NM, RevealMeans.GUIDE), SHEET),
    ("strip.thin", CAUTION, under(inch(1, 16) - NM), SHEET),
    ("strip.thin", None, under(inch(1, 16)), SHEET),
    ("under_mat.small", CAUTION, but(mats=DOUBLE, grid=NANOMETRE, border=mm(25) - inch(1, 8) - NM), SHEET),
    ("under_mat.small", None, but(mats=DOUBLE, grid=NANOMETRE, border=mm(25) - inch(1, 8)), SHEET),
    ("under_mat.unheld", CAUTION, but(FRAMED, mats=DOUBLE, inset=inch(3, 16)), SHEET),
    ("under_mat.just_held", NOTE, but(FRAMED, mats=DOUBLE, inset=inch(3, 16) - NM), SHEET),
    ("under_mat.just_held", NOTE, but(FRAMED, mats=DOUBLE, inset=inch(1, 8)), SHEET),
    ("under_mat.just_held", None, but(FRAMED, mats=DOUBLE, inset=inch(1, 8) - NM), SHEET),
    ("under_mat.unheld", CAUTION, but(FRAMED, mats=DOUBLE, inset=inch(1, 8), moulding_sides="narrow lip"), SHEET),
    ("under_mat.unheld", None, but(mats=DOUBLE, inset=inch(1)), SHEET),
    ("groove.no_room", FAULT, groove(inch(1, 8)), SHEET),
    ("groove.strip", CAUTION, groove(inch(1, 8) + NM), SHEET),
    ("groove.strip", CAUTION, groove(inch(5, 16) - NM), SHEET),
    ("groove.strip", HOLDS, groove(inch(5, 16)), SHEET),
    ("groove.no_room", FAULT, groove(inch(1), border=inch(17, 16)), SHEET),  # its face opens 1/16 in beyond its back
    ("groove.strip", HOLDS, groove(inch(1), border=inch(17, 16) + NM), SHEET),
    ("groove.strip", None, PLAIN, SHEET),
    ("blank.too_large", FAULT, but(FINE, overlap=ZERO), art(inch(34) + NM, inch(26))),
    ("blank.too_large", None, but(FINE, overlap=ZERO), art(inch(34), inch(26))),
    ("blank.too_large", FAULT, but(overlap=ZERO, mats=(MatRule("grained"),)), art(inch(34), inch(26))),
    ("blank.too_large", None, but(overlap=ZERO, mats=(MatRule("grained"),)), art(inch(26), inch(34))),
    ("blank.too_large", FAULT, but(glazing="small glass"), SHEET),
    # the frame
    ("depth", HOLDS, depth(SPARE), SHEET),
    ("depth.tight", TIGHT, depth(SPARE + NM), SHEET),
    ("depth.tight", TIGHT, depth(SPARE + WITHIN), SHEET),
    ("depth.short", CAUTION, depth(SPARE + WITHIN + NM), SHEET),
    ("depth.over", None, depth(ZERO), art(inch(10), inch(13), thickness=mm(3, 10) + SPARE + WITHIN)),
    ("depth.over", FAULT, depth(ZERO), art(inch(10), inch(13), thickness=mm(3, 10) + SPARE + WITHIN + NM)),
    ("depth.over", FAULT, depth(ZERO, moulding_sides="shallow", spacer="spacer"), SHEET),
    ("depth.over", None, depth(ZERO, spacer="spacer"), SHEET),
    ("depth", None, PLAIN, SHEET),
    ("lip.hides", FAULT, but(FRAMED, grid=NANOMETRE, border=inch(1, 4)), SHEET),
    ("lip", HOLDS, but(FRAMED, grid=NANOMETRE, border=inch(1, 4) + NM), SHEET),
    ("spacer.shows", CAUTION, but(FRAMED, spacer="spacer", allowance=inch(1, 8) + Length(2)), SHEET),
    ("spacer.shows", None, but(FRAMED, spacer="spacer", allowance=inch(1, 8)), SHEET),
    ("spacer.shows", CAUTION, but(FRAMED, spacer="spacer", moulding_sides="narrow lip"), SHEET),
    ("rail.too_long", FAULT, but(FRAMED, moulding="short sticks"), SHEET),
    ("rail.too_long", None, FRAMED, SHEET),
    ("rail.unlike", CAUTION, but(FRAMED, moulding_sides="shallow"), SHEET),
    ("rail.unlike", None, but(FRAMED, moulding_sides="narrow lip"), SHEET),
    ("polygon.corners", FAULT, but(FRAMED, frame_sides=6, outer=Size(inch(15), inch(15))), SHEET),
    ("polygon.corners", None, but(FRAMED, frame_sides=6, outer=Size(inch(31, 2), inch(31, 2))), SHEET),
    ("polygon.corners", None, FRAMED, SHEET),
]


def found(treatment: Treatment, artwork: Artwork, rule: str) -> list[Finding]:
    return [check for check in made(treatment, artwork).checks if check.rule == rule]


@pytest.mark.parametrize(("rule", "level", "treatment", "artwork"), CASES)
def test_a_check_speaks_at_its_limit(rule: str, level: Level | None, treatment: Treatment, artwork: Artwork) -> None:
    said = found(treatment, artwork, rule)

    assert {check.level for check in said} == ({level} if level else set())


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(treatments(), artworks())
def test_every_sentence_is_whole(treatment: Treatment, artwork: Artwork) -> None:
    try:
        package = made(treatment, artwork)
    except BadTreatment:
        assume(condition=False)
    for check in package.checks:
        for said in (check.sentence(write), check.advice(write)):
            assert not re.search(r"[{}]|None|nm=", said)
            assert not said or said.endswith(".")
    assert all(check.remedy for check in package.findings)


@pytest.mark.parametrize(
    ("rule", "sentence", "advice", "treatment", "artwork"),
    [
        (
            "overlap.none",
            "The window reaches 1/4 in past the sheet at the left: its edge shows.",
            "Show less paper, or float the sheet.",
            but(window=WindowFrom.IMAGE),
            art(inch(10), inch(13), image=Rect.at(ZERO, inch(1), inch(8), inch(10))),
        ),
        (
            "glazing.touches",
            "The art touches the glazing.",
            "Hold the glazing 17/100 in further off, or lift the art less.",
            but(OVER_FLOAT, float_lift=inch(1, 4)),
            art(inch(10), inch(13), thickness=ZERO),
        ),
        (
            "glazing.near",
            "The art is 1/25 in from the glazing; 9/200 in is the least.",
            "Take mats or a spacer thicker by 1/200 in.",
            OVER_FLOAT,
            art(inch(10), inch(13), thickness=inch(45, 2000)),
        ),
        (
            "zone.show",
            "The window cuts 3/8 in off the signature.",
            "Open the window that far.",
            but(overlap=inch(1, 2)),
            print_with(Rect.at(inch(5), inch(12), inch(2), inch(7, 8)), Keep.SHOW),
        ),
        (
            "zone.show",
            "The window cuts 1/2 in off the signature.",
            "Open the window that far.",
            but(overlap=inch(1, 2)),
            print_with(Rect.at(ZERO, inch(1), inch(2), inch(1)), Keep.SHOW),
        ),
        (
            "depth.short",
            "Only 1/16 in is left for points; 1/8 in is wanted.",
            "Take a rabbet of 11/16 in, or a backing thinner by 1/16 in.",
            but(FRAMED, mats=(MatRule("thick"), MatRule("thick", inch(1, 4))), glazing="", points=inch(1, 8)),
            art(inch(10), inch(13), thickness=inch(1, 16)),
        ),
        (
            "depth.short",
            "Nothing is left for points; 1/8 in is wanted.",
            "Take a rabbet of 3/4 in, or a backing thinner by 1/8 in.",
            but(FRAMED, mats=(MatRule("thick"), MatRule("thick", inch(1, 4))), glazing="", points=inch(1, 8)),
            art(inch(10), inch(13), thickness=inch(1, 8)),
        ),
        (
            "border.repeats_moulding",
            "A border of 3/4 in repeats the moulding's width of 1/2 in.",
            "Make them differ by 1/2 in or more.",
            but(FRAMED, moulding_sides="narrow lip", borders=Edges(inch(3), inch(3, 4), inch(3), inch(3))),
            SHEET,
        ),
        (
            "lip.hides",
            "The lip of 1/8 in covers the whole right border: the frame hides part of the window.",
            "Widen the borders.",
            but(
                FRAMED,
                moulding_sides="narrow lip",
                allowance=ZERO,
                borders=Edges(inch(3), inch(3, 32), inch(3), inch(3)),
            ),
            SHEET,
        ),
        (
            "rail.too_long",
            "Each rail of",
            "Take a longer stick.",
            but(FRAMED, moulding="short sticks", frame_sides=3, outer=Size(inch(30), inch(30))),
            SHEET,
        ),
        (
            "blank.too_large",
            "40 in × 32 in does not fit the largest sheet of grained, 32 in × 40 in.",
            "Take a larger sheet, or narrower borders.",
            but(overlap=ZERO, mats=(MatRule("grained"),)),
            art(inch(34), inch(26)),
        ),
        (
            "border.mismatch",
            "Four equal borders are not possible in this outer size: sides 25/8 in, top 29/8 in.",
            "Change one side of the outer size by 1 in, or take it as it is.",
            but(outer=Size(inch(16), inch(20))),
            art(inch(10), inch(13)),
        ),
    ],
)
def test_a_finding_says_its_numbers(
    rule: str, sentence: str, advice: str, treatment: Treatment, artwork: Artwork
) -> None:
    said = found(treatment, artwork, rule)[0]

    assert said.sentence(write).startswith(sentence)
    assert said.advice(write) == advice


@pytest.mark.parametrize(
    ("rule", "place", "treatment"),
    [
        ("border.narrow", "mat.1.border.right", but(borders=Edges(inch(3), inch(3, 4), inch(3), inch(3)))),
        (
            "border.repeats_moulding",
            "mat.1.border.bottom",
            but(FRAMED, borders=Edges(inch(3), inch(3), inch(1), inch(1))),
        ),
        ("border.mismatch", "mat.1.border.bottom", but(frame="16x20")),
        ("overlap.small", "art.covered.top", but(overlap=ZERO)),
        ("lip.hides", "frame.visible.right", but(FRAMED, borders=Edges(inch(3), inch(1, 8), inch(3), inch(3)))),
        ("blank.too_large", "glazing.width", but(glazing="small glass")),
        ("rail.too_long", "frame.rail.right.long_point", but(FRAMED, moulding="short sticks", border=inch(2))),
    ],
)
def test_a_finding_stands_once_at_the_figure_it_concerns(rule: str, place: str, treatment: Treatment) -> None:
    places = [check.place for check in found(treatment, SHEET, rule)]

    assert places[0] == place
    assert len(places) == len(set(places))


def test_a_material_without_sheets_is_said_to_have_none() -> None:
    package = made(but(mats=(MatRule("unlisted"),)), SHEET, UNLISTED)

    assert "No sheet of unlisted is listed to cut" in package.findings[0].sentence(write)


def test_findings_come_the_worst_first_and_without_what_holds() -> None:
    package = made(but(FRAMED, border=inch(1), overlap=mm(1), moulding_sides="shallow"), SHEET)

    levels = [list(Level).index(finding.level) for finding in package.findings]
    assert levels == sorted(levels)
    assert HOLDS not in {finding.level for finding in package.findings}
    assert HOLDS in {check.level for check in package.checks}


def test_a_window_off_the_middle_reaches_the_rails_of_a_polygon_sooner() -> None:
    def corners(bottom: Bottom) -> list[Finding]:
        hexagon = but(FRAMED, frame_sides=6, outer=Size(inch(17), inch(17)), bottom=bottom)
        return found(hexagon, SHEET, "polygon.corners")

    assert corners(Bottom()) == []
    assert corners(Bottom(BottomRule.WIDTH, inch(4))) != []
