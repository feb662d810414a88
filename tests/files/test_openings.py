"""Several sheets in one mat: written out under their work, or rows of a list that name it."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from fourply.errors import BadFile
from fourply.files.entries import Entry
from fourply.files.show import Show, read_show
from fourply.files.works import Asked
from fourply.measure.length import Length
from fourply.measure.notation import Unit
from fourply.trade.resolve import resolve
from fourply.trade.shapes.rule import ShapeKind, ShapeRule
from fourply.trade.treatment import for_opening
from fourply.trade.work import Source

OVAL = ShapeRule(ShapeKind.OVAL)
HEAD = """[show]
unit = "in"
order = "width x height"
works = "works.csv"
[treatments.three]
layout = "row, gutter 3/4 in"
mats = "White 4-ply + red 4-ply @ 1/4"
openings = [{}, { shape = "circle" }, { overlap = "1/4" }]
"""
COLUMNS = "No.,Title,W,H,In mat with,Shape,Copies,Notes,Medium,Border,Treatment,Mats\n"


def read(rows: str = "", tables: str = "", files: Mapping[str, bytes] = {}) -> Show:
    def fetch(name: str) -> bytes:
        if name == "works.csv":
            return (COLUMNS + rows).encode()
        if name not in files:
            raise BadFile(name, "No such file", "a file that can be read")
        return files[name]

    return read_show("show.toml", (HEAD + tables).encode(), fetch, Asked())


def only(show: Show) -> Entry:
    assert not show.faults
    (entry,) = show.entries
    return entry


def test_rows_that_name_a_work_hang_in_its_mat() -> None:
    rows = (
        "A,Ferry,8,10,,,1,Gilt edge,,3,three,\n"
        "B,Weir,7,10,A,oval,1,Fragile,Etching,,,\n"
        "C,,6,9,A,,,,,3,Three,WHITE 4-ply + red 4-ply @ 1/8\n"
    )
    work, treatment = only(read(rows)).work, only(read(rows)).treatment
    assert work.id == "A"
    assert [art.name for art in work.arts] == ["Ferry", "Weir", "C"]
    assert [art.width.least for art in work.arts] == [Length.inches(n) for n in (8, 7, 6)]
    assert work.notes == "Gilt edge; Weir: Etching; Fragile"
    assert [for_opening(treatment, n).shape.kind.value for n in (1, 2, 3)] == ["rectangle", "oval", "rectangle"]
    assert [for_opening(treatment, n).mats[1].reveal.as_inches * 8 for n in (1, 2, 3)] == [2, 2, 1]
    assert for_opening(treatment, 3).overlap == Length.inches(1, 4)  # what the treatment says of the third
    assert for_opening(treatment, 2).origin("shape") == "work B"


def test_what_hangs_together_resolves_as_one_package() -> None:
    show = read("A,Ferry,8,10,,,1,,,3,three,\nB,Weir,7,10,A,oval,1,,,,,\n")
    package = resolve(only(show).work, only(show).treatment, show.materials)
    assert [hole.opening.shape.words for hole in package.mats[0].holes] == ["rectangle", "oval"]


def test_the_mat_may_be_that_of_a_work_in_another_list_or_in_the_file() -> None:
    tables = '[[work]]\nid = "X"\nsize = "5 x 7"\n'
    assert len(only(read("B,Weir,7,10,X,,,,,,,\n", tables)).work.arts) == 2
    tables += '[[work]]\nid = "Y"\nsize = "5 x 7"\nwith = "X"\n'
    assert [art.name for art in only(read("", tables)).work.arts] == ["X", "Y"]


@pytest.mark.parametrize(
    ("row", "column", "says"),
    [
        ("B,Weir,7,10,Z,,,,,,,", "with", "no work read has this one"),
        ("B,Weir,7,10,B,,,,,,,", "with", "the number of another work"),
        ("B,Weir,7,10,M,,,,,,,", "with", "the work whose mat it is, A: M hangs there itself"),
        ("B,Weir,7,10,8-Mar,,,,,,,", "In mat with", "made a date of this number"),
        ("B,Weir,7,10,A,,2,,,,,", "copies", "copies are told there"),
        ("B,Weir,7,10,A,,,,,4,,", "border", "what may differ in one opening is window, shape, mats"),
        ("B,Weir,7,10,A,,,,,,wide,", "treatment", "nothing, or three"),
        ("B,Weir,7,10,A,heart,,,,,,", "Shape", "one of rectangle, oval"),
    ],
)
def test_a_sheet_that_cannot_hang_there_is_a_fault_of_its_row_and_the_leader_is_made(
    row: str, column: str, says: str
) -> None:
    show = read(f"A,Ferry,8,10,,,1,,,3,three,\n{row}\nM,Lock,6,6,A,,,,,,,\n")
    (fault,) = show.faults
    assert (fault.file, fault.row, fault.column) == ("works.csv", 3, column)
    assert says in fault.expected
    (entry,) = show.entries
    assert [art.name for art in entry.work.arts] == ["Ferry", "Lock"]


def test_a_sheet_whose_leader_cannot_be_read_is_a_fault_too() -> None:
    show = read("A,Ferry,wide,10,,,,,,,,\nB,Weir,7,10,A,,,,,,,\n")
    assert not show.entries
    assert [(fault.row, fault.column) for fault in show.faults] == [(2, "W"), (3, "with")]


def test_only_so_many_sheets_hang_in_one_mat() -> None:
    rows = "A,Ferry,8,10,,,,,,,,\n" + "".join(f"B{n},,5,5,A,,,,,,,\n" for n in range(60))
    show = read(rows)
    (fault,) = show.faults
    assert (fault.row, fault.column, fault.expected) == (62, "with", "at most 60 openings in one mat")
    assert len(show.entries[0].work.arts) == 60


OPENINGS = """
[[work]]
id = "X"
title = "Three states"
layout = "column"
{own}
[[work.opening]]
title = "First"
size = "5 x 7"
medium = "Etching"
[[work.opening]]
size = "6 x 8"
shape = "oval"
zones = [{{ left = 1, top = 1, width = 1, height = 1 }}]
"""


def test_the_openings_of_a_work_are_written_out_under_it() -> None:
    entry = only(read("", OPENINGS.format(own='size = "4 x 4"')))
    assert [art.name for art in entry.work.arts] == ["Three states", "First", "opening 3"]
    assert entry.work.notes == "First: Etching"
    assert entry.work.others[1].zones
    assert [for_opening(entry.treatment, n).shape.kind.value for n in (1, 2, 3)] == ["rectangle", "rectangle", "oval"]


def test_the_first_of_them_is_the_works_own_sheet_where_it_names_no_size() -> None:
    entry = only(read("", OPENINGS.format(own="")))
    assert [art.name for art in entry.work.arts] == ["First", "opening 2"]
    assert entry.work.title == "Three states"
    assert entry.work.notes == "First: Etching"
    assert for_opening(entry.treatment, 2).shape == OVAL


@pytest.mark.parametrize(
    ("tables", "row", "column"),
    [
        ('[[work.opening]]\nsize = "big"\n', 12, "size"),
        ("[[work.opening]]\nborder = 3\n", 13, "work.0.opening.0.border"),
        ('opening = "two"\n', 12, "work.0.opening"),
    ],
)
def test_an_opening_that_cannot_be_read_is_a_fault_by_its_line(tables: str, row: int, column: str) -> None:
    show = read("", f'[[work]]\nid = "X"\nsize = "5 x 7"\n{tables}')
    (fault,) = show.faults
    assert (fault.file, fault.row, fault.column) == ("show.toml", row, column)
    assert [len(entry.work.arts) for entry in show.entries] == [1]


def test_a_work_whose_only_sheet_cannot_be_read_is_not_made() -> None:
    show = read("", '[[work]]\nid = "X"\n[[work.opening]]\nsize = "big"\n')
    assert not show.entries
    assert [(fault.row, fault.column) for fault in show.faults] == [(11, "size")]


def test_a_work_with_openings_of_its_own_hangs_in_no_other_mat() -> None:
    show = read("", OPENINGS.format(own='with = "Y"') + '[[work]]\nid = "Y"\nsize = "5 x 7"\n')
    (fault,) = show.faults
    assert fault.column == "with"
    assert fault.row == 10
    assert [entry.work.id for entry in show.entries] == ["Y"]


@pytest.mark.parametrize(
    ("rules", "key"),
    [
        ('inlay = "plum @ 1/2 in, 1/4 in wide"', "inlay"),
        ('sink = "plum, clearance 1/8 in"', "sink"),
        ('mats = "plum, oval"', "mats"),
        ('openings = [{}, { mats = "plum" }]', "openings"),
    ],
)
def test_the_boards_of_accents_are_held_against_the_materials(rules: str, key: str) -> None:
    show = read("", f'[[work]]\nid = "X"\nsize = "9 x 9"\n{rules}\n')
    (fault,) = show.faults
    assert (fault.file, fault.row, fault.column, fault.found) == ("show.toml", 9, key, "plum")
    (fault,) = read("", f"[defaults]\n{rules}\n").faults
    assert (fault.row, fault.column, fault.found) == (10, f"defaults.{key}", "plum")


def test_the_boards_of_accents_are_found_whatever_their_case() -> None:
    tables = 'size = "9 x 9"\ninlay = "RED 4-PLY @ 1/2 in, 1/4 in wide"\nsink = "White 8-Ply, clearance 1/8"\n'
    treatment = only(read("", f"[[work]]\n{tables}")).treatment
    assert treatment.inlay is not None
    assert treatment.sink is not None
    assert (treatment.inlay.board, treatment.sink.board) == ("red 4-ply", "white 8-ply")


def test_a_drawing_is_fetched_through_the_show() -> None:
    kite = b'<svg xmlns="http://www.w3.org/2000/svg"><path d="M4 0 L8 4 L4 12 L0 4 Z"/></svg>'
    rules = '[[work]]\nsize = "9 x 9"\nshape = { kind = "free", path = "kite.svg" }\n'
    assert only(read("", rules, {"kite.svg": kite})).treatment.shape.path is not None
    (fault,) = read("", rules).faults
    assert (fault.row, fault.column, fault.found) == (9, "shape", "kite.svg")


def test_a_list_by_itself_names_no_drawings() -> None:
    show = read_show("a.csv", b"No.,W,H,Shape\n1,5,5,free kite.svg\n", lambda _: b"", Asked(Unit.INCH))
    assert [(fault.row, fault.column, fault.found) for fault in show.faults] == [(2, "Shape", "kite.svg")]


def test_the_title_of_a_work_is_its_name_and_its_opening_has_a_key_of_its_own() -> None:
    tables = '[[work]]\ntitle = "3 x 1/2"\nsize = "9 x 9"\ntitle_opening = "3 x 1/2"\n'
    entry = only(read("", tables))
    assert entry.work.title == "3 x 1/2"
    assert entry.treatment.title is not None
    (fault,) = read("", "[defaults]\ntitle = 'Low water'\n").faults
    assert fault.column == "defaults.title"
    assert not read("", "[defaults]\ntitle_opening = '3 x 1/2'\n").faults


def test_where_a_work_was_written_is_kept() -> None:
    assert only(read("", OPENINGS.format(own=""))).work.source == Source("show.toml", 10)
