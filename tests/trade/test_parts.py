"""A package becomes the pieces that must be cut, none left out and none twice."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from tests.trade.cases import FRAMED, MATERIALS, SHEET, but, inch, made, work

from fourply.measure.size import Size
from fourply.trade.package import Package
from fourply.trade.parts import Stuff, flat_parts, long_parts, mat_name
from fourply.trade.resolve import resolve
from fourply.trade.treatment import MatRule, WindowFrom
from fourply.working.working import length_of

STACK = tuple(MatRule("white", inch(1, 4)) for _ in range(4))


@pytest.fixture
def full() -> Package:
    rules = but(FRAMED, mats=STACK[:2], spacer="spacer", fillet="fillet", moulding_sides="narrow lip")
    return resolve(replace(work(SHEET), id="7", copies=3), rules, MATERIALS)


def test_every_sheet_of_a_package_is_a_part(full: Package) -> None:
    parts = {part.key: (part.stuff, part.material, part.size) for part in flat_parts(full)}

    assert parts == {
        "7/glazing": (Stuff.GLAZING, "glass", full.glazing_size),
        "7/mat.1": (Stuff.BOARD, "white", full.mats[0].blank),
        "7/mat.2": (Stuff.BOARD, "white", full.mats[1].blank),
        "7/mount": (Stuff.BOARD, "white", full.outer),
        "7/backing": (Stuff.BACKING, "foam", full.backing_size),
    }


def test_a_float_asks_for_its_lift_and_what_is_left_out_for_nothing() -> None:
    package = made(but(window=WindowFrom.FLOAT, glazing="", backing=""))

    parts = {part.name: part.copies for part in flat_parts(package)}
    assert parts == {"top mat": 1, "lift, 3 layers": 3, "mount board": 1}  # 3/16 in of 1/16 in board


def test_the_fallouts_of_a_mat_come_with_its_blank(full: Package) -> None:
    assert {part.key: part.fallouts for part in flat_parts(full) if part.fallouts} == {
        "7/mat.1": full.mats[0].holes[0].fallouts,
        "7/mat.2": full.mats[1].holes[0].fallouts,
    }


def test_every_rail_and_strip_of_a_package_is_a_part(full: Package) -> None:
    parts = list(long_parts(full))

    assert Counter(part.material for part in parts) == {"oak": 2, "narrow lip": 2, "spacer": 4, "fillet": 4}
    assert {part.stuff for part in parts} == {Stuff.MOULDING, Stuff.SPACER, Stuff.FILLET}
    assert {part.mitre_deg for part in parts if part.stuff is Stuff.SPACER} == {0.0}


def test_a_polygon_asks_for_its_sides_at_once() -> None:
    package = made(but(FRAMED, frame_sides=6, outer=Size(inch(24), inch(24))))

    assert [(part.name, part.count) for part in long_parts(package)] == [("each rail", 6)]


def test_every_part_is_wanted_as_often_as_its_work(full: Package) -> None:
    assert {part.copies for part in flat_parts(full)} | {part.copies for part in long_parts(full)} == {3}


def test_every_part_leads_back_to_its_figures(full: Package) -> None:
    for flat in flat_parts(full):
        assert length_of(full.figures, f"{flat.figure}.width") == flat.size.width
    long = [part for part in long_parts(full) if part.stuff is not Stuff.SPACER]
    assert [length_of(full.figures, f"{part.figure}.long_point") for part in long] == [part.length for part in long]


def test_keys_are_one_of_a_kind(full: Package) -> None:
    keys = [part.key for part in flat_parts(full)] + [part.key for part in long_parts(full)]

    assert len(keys) == len(set(keys))


def test_mats_are_called_as_on_the_bench() -> None:
    package = made(but(mats=STACK))

    assert [mat_name(mat) for mat in package.mats] == ["top mat", "under-mat", "second under-mat", "third under-mat"]
    assert package.mats[3].borders.top == package.mats[0].borders.top + 3 * inch(1, 4)
