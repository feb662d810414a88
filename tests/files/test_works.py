"""Lists of works: what is read, what is said of the rest."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from pathlib import Path

import openpyxl
import pytest
from tests.files.books import saved, workbook

from fourply.files.works import Asked, WorkList, read_works
from fourply.measure.dimensions import Order
from fourply.measure.length import Length
from fourply.measure.notation import Unit
from fourply.measure.size import Rect, Size
from fourply.trade.treatment import MatRule
from fourply.trade.work import Artwork, Source

INCHES = Asked(Unit.INCH, Order.WIDTH_HEIGHT)


def read(text: str, asked: Asked = INCHES) -> WorkList:
    return read_works("list.csv", text.encode(), asked)


def art(text: str, asked: Asked = INCHES) -> Artwork:
    (listed,) = read(text, asked).works
    return listed.work.art


def fault(text: str, asked: Asked = INCHES) -> tuple[int, str, str, str]:
    found = read(text, asked)
    assert not found.works
    (only,) = found.faults
    return only.row, only.column, only.found, only.expected


def test_a_row_becomes_a_work_with_all_that_is_said_of_it() -> None:
    text = "No.,Title,Artist,Medium,W,H,Qty,Notes,Treatment\nA-1,Weir,O. Tace,Etching,16 3/8,20,2,Fragile,Print\n"
    (listed,) = read(text).works
    work = listed.work
    assert (work.id, work.title, work.maker, work.medium) == ("A-1", "Weir", "O. Tace", "Etching")
    assert (work.copies, work.notes, work.source) == (2, "Fragile", Source("list.csv", 2))
    assert listed.treatment == "Print"
    assert work.art.least == Size(Length.inches(131, 8), Length.inches(20))


def test_columns_of_rules_stand_at_the_work_alone() -> None:
    (listed,) = read("No.,W,H,Border,Mats,Moulding\n1,16,20,3,cream,oak 1\n").works
    assert listed.own.name == "work 1"
    assert listed.own.values == {"border": Length.inches(3), "mats": (MatRule("cream"),), "moulding": "oak 1"}


def test_a_blank_cell_inherits() -> None:
    (listed,) = read("No.,W,H,Border\n1,16,20,\n").works
    assert listed.own.values == {}


@pytest.mark.parametrize(
    ("text", "width_mm", "height_mm"),
    [
        ("No.,Width (mm),Height (cm)\n1,325,44.5\n", 325, 445),
        ("No.;Width (cm);Height (cm)\n1;32,5;44,5\n", 325, 445),
        ("No.,Size\n1,325 x 445 mm\n", 325, 445),
        ("No.,Size (H x W) mm\n1,445 x 325\n", 325, 445),
        ("No.,Size\n1,A4\n", 210, 297),
        ("No.,Size\n1,445 h x 325 w mm\n", 325, 445),
        ("No.,Dimensions\n1,support: 445 x 325 mm\n", 325, 445),
        ("No.,Dimensions\n1,Support 445 x 325 mm\n", 325, 445),
        ("No.,Size\n1,32.5 x 44.5 cm (12 13/16 x 17 1/2 in.)\n", 325, 445),
    ],
)
def test_sizes_are_read_in_every_form(text: str, width_mm: int, height_mm: int) -> None:
    asked = Asked(Unit.INCH, None if "upport" in text else Order.WIDTH_HEIGHT)
    assert art(text, asked).least == Size(Length.mm(width_mm), Length.mm(height_mm))


def test_several_readings_give_the_least_and_the_most() -> None:
    read_art = art("No.,W,H\n1,16 to 16 1/16,20; 19 15/16; 20\n")
    assert read_art.least == Size(Length.inches(16), Length.inches(319, 16))
    assert read_art.most == Size(Length.inches(257, 16), Length.inches(20))


def test_an_image_lies_where_its_margins_say() -> None:
    text = "No.,W,H,Image W,Image H,Image left,Image top\n1,15,11,9,6,3,2 1/4\n"
    assert art(text).image == Rect.at(Length.inches(3), Length.inches(9, 4), Length.inches(9), Length.inches(6))


def test_an_image_without_a_place_lies_in_the_middle_and_that_is_said() -> None:
    found = read("No.,W,H,Image W,Image H\n1,15,11,9,6\n")
    image = found.works[0].work.art.image
    assert image is not None
    assert (image.left, image.top) == (Length.inches(3), Length.inches(5, 2))
    assert any("in the middle" in note for note in found.notes)


def test_an_image_alone_stands_for_the_sheet() -> None:
    read_art = art("No.,Image W,Image H\n1,9,6\n")
    assert read_art.sheet_is_image
    assert read_art.least == Size(Length.inches(9), Length.inches(6))


def test_a_record_with_sheet_and_image_gives_both() -> None:
    read_art = art('No.,Dimensions\n1,"support: 400 x 300 mm; image: 200 x 100 mm"\n', Asked(Unit.MM))
    assert not read_art.sheet_is_image
    assert read_art.image == Rect.at(Length.mm(100), Length.mm(100), Length.mm(100), Length.mm(200))


def test_museum_records_are_height_first_and_that_is_said() -> None:
    found = read("No.,Dimensions\n1,support: 300 x 400 mm\n2,20 x 30 mm\n", Asked())
    assert [listed.work.art.least.width.as_mm for listed in found.works] == [400, 30]
    assert "list.csv: pairs are read as height x width, as museum records have it" in found.notes


def test_the_list_may_name_its_unit_itself_and_that_is_said() -> None:
    found = read("No.,W,H\n1,30 cm,40\n", Asked())
    assert found.unit is Unit.CM
    assert found.works[0].work.art.least == Size(Length.mm(300), Length.mm(400))
    assert 'list.csv: numbers without a unit are read as unit = "cm", the first one named' in found.notes


def test_unknown_columns_are_kept_as_notes_and_reported_once() -> None:
    found = read("No.,W,H,Year,Notes,Lender\n1,2,3,1973,Fragile,Harbour Club\n2,2,3,1974,,\n")
    assert [listed.work.notes for listed in found.works] == [
        "Fragile; Year: 1973; Lender: Harbour Club",
        "Year: 1974",
    ]
    assert [note for note in found.notes if "kept" in note] == ["list.csv: kept as notes: Year, Lender"]


@pytest.mark.parametrize(
    ("text", "row", "column", "found", "expected"),
    [
        ("No.,W,H\n1,nonsense,20\n", 2, "W", "nonsense", "write a length such as"),
        ("No.,W,H\n1,8-Mar,20\n", 2, "W", "8-Mar", "likely 3/8"),
        ("No.,W,H\n1,=A1*2,20\n", 2, "W", "=A1*2", "a formula"),
        ("No.,W,H\n1,-3,20\n", 2, "W", "-3", "no sign"),
        ("No.,W,H\n1,0,20\n", 2, "W", "0", "above nothing"),
        ("No.,W,H\n1,16,\n", 2, "W", "", "the width and height"),
        ("No.,Size\n1,16 x\n", 2, "Size", "16 x", "two lengths"),
        ("No.,W,H,Qty\n1,16,20,0\n", 2, "Qty", "0", "from 1 to"),
        ("No.,W,H,Qty\n1,16,20,two\n", 2, "Qty", "two", "a whole number"),
        ("No.,W,H,Border\n1,16,20,thick\n", 2, "Border", "thick", "a length such as"),
        ("No.,W,H,Skew\n1,16,20,45\n", 2, "", "what is said", "0 to 10 degrees"),
        ("No.,W,H,Image W,Image H\n1,16,20,17,2\n", 2, "", "what is said", "on the sheet"),
        ("No.,W,H,Image W,Image H\n1,16,20,17,\n", 2, "image size", "one of its two sides", "the width and"),
        ("No.,W,H\n1,16;" + "16;" * 12 + "16,20\n", 2, "W", "16;16", "at most 12 readings"),
        ("No.,W,H,Orientation\n1,16,16,tall\n", 2, "Orientation", "portrait", "the size is square"),
        ("No.,W,H\n3-Dec,16,20\n", 2, "No.", "3-Dec", "made a date of this number"),
        ("No.,W,H,Orientation\n1,16,20,landscape\n", 2, "Orientation", "landscape", "the size is portrait"),
        ("No.,W,H,Orientation\n1,16,20,odd\n", 2, "Orientation", "odd", "portrait, landscape or square"),
        ("No.,Dimensions\n1,frame: 3 x 4 mm\n", 2, "Dimensions", "frame: 3 x 4 mm", "only that of frame"),
    ],
)
def test_a_bad_cell_is_a_fault_with_its_place(text: str, row: int, column: str, found: str, expected: str) -> None:
    seen = fault(text)
    assert seen[:2] == (row, column)
    assert seen[2].startswith(found)
    assert expected in seen[3]


def test_all_faults_of_a_row_are_found_at_once_and_good_rows_are_made() -> None:
    found = read("No.,W,H,Border\n1,wide,high,thick\n2,16,20,3\n")
    assert [each.column for each in found.faults] == ["W", "H", "Border"]
    assert [listed.work.id for listed in found.works] == ["2"]


def test_a_pair_without_an_order_is_a_fault_that_names_the_option() -> None:
    assert "--order" in fault("No.,Size\n1,16 x 20\n", Asked(Unit.INCH))[3]


def test_the_orientation_may_state_the_order_of_a_pair() -> None:
    text = "No.,Size,Orientation\n1,16 x 20,landscape\n2,16 x 20,portrait\n"
    found = read(text, Asked(Unit.INCH))
    assert [listed.work.art.least.width.as_inches for listed in found.works] == [20, 16]


def test_a_list_without_any_unit_is_a_fault_that_says_how_to_state_it() -> None:
    row, _, found, expected = fault("No.,W,H\n1,16,20\n", Asked())
    assert (row, found) == (1, "sizes without a unit")
    assert "--unit in" in expected


def test_missing_columns_are_a_fault_that_says_which_were_found() -> None:
    assert fault("\nNo.,Title,W\n1,Weir,16\n") == (
        2,
        "",
        "No., Title, W",
        "columns width and height, or size, among the headers",
    )


@pytest.mark.parametrize("data", [b"", b"%PDF-1.7", b"PK\x03\x04", b"\xff\xfeA", b"1,2\n3,4\n"])
def test_a_file_that_is_no_list_is_one_fault(data: bytes) -> None:
    found = read_works("list.csv", data, INCHES)
    assert not found.works
    assert len(found.faults) == 1
    assert found.faults[0].file == "list.csv"


def test_a_number_that_stands_twice_is_a_fault_of_the_second() -> None:
    found = read("No.,W,H\n7,16,20\n8,16,20\n7,11,14\n")
    assert [listed.work.id for listed in found.works] == ["7", "8"]
    (only,) = found.faults
    assert (only.row, only.column, only.found) == (4, "No.", "7")
    assert "list.csv, row 2 has it" in only.expected


def test_works_without_a_number_get_one_that_is_free_and_does_not_move() -> None:
    found = read("No.,W,H\n,16,20\nw3,16,20\n,16,20\n")
    assert [(listed.work.id, listed.own.name) for listed in found.works] == [
        ("w1", "work w1"),
        ("w3", "work w3"),
        ("w3a", "work w3a"),
    ]


def test_a_workbook_with_a_title_row_a_date_and_a_formula_is_read_row_by_row() -> None:
    data = workbook(
        [
            ["Summer show", None, None],
            [],
            ["No.", "Width (in)", "Height (in)"],
            [1, 16.375, 20],
            [2, dt.date(2026, 3, 8), 20],
            [3, "=B4*2", 20],
            [4, "16 3/8", "20"],
            [None, None, None],
        ],
        lambda sheet: sheet.merge_cells("A1:C1"),
    )
    found = read_works("list.xlsx", data, Asked())
    assert [listed.work.id for listed in found.works] == ["1", "4"]
    assert [(each.row, each.column, each.found) for each in found.faults] == [
        (5, "Width (in)", "8-Mar-2026"),
        (6, "Width (in)", "=B4*2"),
    ]
    assert found.works[0].work.art == found.works[1].work.art


def test_a_sheet_that_was_not_read_is_named_in_the_notes() -> None:
    book = openpyxl.Workbook()
    book.worksheets[0].append(["No.", "Width (in)", "Height (in)"])
    book.create_sheet("More").append(["No."])
    assert "list.xlsx: read from sheet Sheet, not from More" in read_works("list.xlsx", saved(book), INCHES).notes


RECORDS = Path(__file__).parents[3] / "shared" / "data" / "works_on_paper.csv"


@pytest.mark.skipif(not RECORDS.exists(), reason="the open data of a museum, 500 records, are not beside the project")
def test_of_five_hundred_museum_records_all_with_one_size_are_read() -> None:
    found = read_works(RECORDS.name, RECORDS.read_bytes(), Asked())
    assert len(found.works) == 486
    assert sum(listed.work.art.sheet_is_image for listed in found.works) == 108
    reasons = Counter(each.expected.partition(":")[0] for each in found.faults)
    assert reasons == {
        "the width and height of the sheet, or of the image": 12,
        "2 sizes of the sheet are stated": 1,
        "the size of the sheet or image is needed, and only that of frame is stated": 1,
    }
