"""Workbooks: what cells become, and what is refused before it can do harm."""

from __future__ import annotations

import datetime as dt
import io
import struct
import zipfile

import openpyxl
import pytest
from openpyxl.worksheet.worksheet import Worksheet
from tests.files.books import saved, with_part, workbook

from fourply.errors import BadFile
from fourply.files.workbook import Limits, workbook_rows

LIMITS = Limits(rows=100, columns=20)
SHEET = "xl/worksheets/sheet1.xml"


def read(data: bytes) -> list[list[str]]:
    return workbook_rows("list.xlsx", data, LIMITS)[0]


@pytest.mark.parametrize(
    ("value", "text"),
    [
        ("16 3/8", "16 3/8"),
        ("two\nlines", "two\nlines"),
        (16, "16"),
        (16.375, "16.375"),
        (0.1 + 0.2, "0.3"),
        (True, "yes"),
        (False, "no"),
        (dt.date(2026, 3, 8), "8-Mar-2026"),
        (dt.datetime(2026, 3, 8, 12, 30), "8-Mar-2026"),  # noqa: DTZ001 - a spreadsheet knows no time zones
        ("=B1*2", "=B1*2"),
        ("#N/A", "#N/A"),
    ],
)
def test_a_cell_becomes_what_a_person_would_type(value: object, text: str) -> None:
    assert read(workbook([["a", value]])) == [["a", text]]


def test_rows_are_counted_from_the_first_of_the_sheet() -> None:
    assert read(workbook([[], ["a"], [], ["b"]])) == [[""], ["a"], [""], ["b"]]


def test_merged_cells_hold_their_text_once() -> None:
    assert read(workbook([["Summer show"], ["a", "b"]], lambda sheet: sheet.merge_cells("A1:B1"))) == [
        ["Summer show", ""],
        ["a", "b"],
    ]


def test_formatted_but_empty_cells_far_down_are_no_rows() -> None:
    def finish(sheet: Worksheet) -> None:
        sheet["A1000"].font = openpyxl.styles.Font(bold=True)

    assert read(workbook([["a"]], finish)) == [["a"]]


def test_a_formula_with_its_result_gives_the_result() -> None:
    sheet = b"""<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>
        <row><c><v>8</v></c><c><f>A1*2</f><v>16</v></c><c><f>A1*3</f></c></row></sheetData></worksheet>"""
    assert read(with_part(workbook([["a"]]), SHEET, sheet)) == [["8", "16", "=A1*3"]]


def test_the_first_visible_sheet_that_holds_anything_is_read_and_others_are_named() -> None:
    book = openpyxl.Workbook()
    book.create_chartsheet("Chart")
    hidden = book.create_sheet("Lookups")
    hidden.append(["not this"])
    hidden.sheet_state = "hidden"
    book.create_sheet("List").append(["found"])
    book.create_sheet("Other").append(["nor this"])
    assert workbook_rows("list.xlsx", saved(book), LIMITS) == (
        [["found"]],
        "list.xlsx: read from sheet List, not from Other",
    )


def test_an_empty_workbook_is_refused() -> None:
    with pytest.raises(BadFile, match="without a filled cell"):
        read(workbook([]))


@pytest.mark.parametrize("place", ["A101", "XFD1", "XFD1048576"])
def test_a_cell_far_away_is_refused_before_it_fills_the_memory(place: str) -> None:
    def finish(sheet: Worksheet) -> None:
        sheet[place] = 1

    with pytest.raises(BadFile, match="at most 100 rows and 20 columns"):
        read(workbook([["a"]], finish))


def test_a_far_cell_is_seen_whatever_namespace_it_hides_in() -> None:
    sheet = b"""<x:worksheet xmlns:x="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><x:sheetData>
        <x:row r='1'><x:c r='ABC1'><x:v>1</x:v></x:c></x:row></x:sheetData></x:worksheet>"""
    with pytest.raises(BadFile, match="column 731"):
        read(with_part(workbook([["a"]]), SHEET, sheet))


def test_a_workbook_that_unpacks_to_too_much_is_refused() -> None:
    with pytest.raises(BadFile, match="unpacks to more than 64 MB"):
        read(with_part(workbook([["a"]]), "xl/media/big.xml", bytes(65 * 1024 * 1024)))


def test_a_workbook_that_lies_about_its_size_is_refused() -> None:
    data = bytearray(with_part(workbook([["a"]]), "xl/styles.xml", b"<a>" + b" " * 1_000_000 + b"</a>"))
    for at in range(len(data) - 4):
        if data[at : at + 4] == struct.pack("<I", 1_000_007):
            data[at : at + 4] = struct.pack("<I", 10)
    with pytest.raises(BadFile):
        read(bytes(data))


def test_a_document_type_is_refused_before_it_is_read() -> None:
    bomb = b'<!DOCTYPE a [<!ENTITY b "bbbbbbbb"><!ENTITY c "&b;&b;&b;">]><worksheet>&c;</worksheet>'
    with pytest.raises(BadFile, match="document type of its own"):
        read(with_part(workbook([["a"]]), SHEET, bomb))


def test_broken_xml_is_refused() -> None:
    with pytest.raises(BadFile, match="XML is broken"):
        read(with_part(workbook([["a"]]), SHEET, b"<worksheet><sheetData>"))


def test_a_workbook_that_the_library_cannot_read_is_refused() -> None:
    with pytest.raises(BadFile, match="cannot be read"):
        read(with_part(workbook([["a"]]), "xl/styles.xml", b"<styleSheet><numFmts>"))


def test_a_packed_file_that_is_no_workbook_is_refused() -> None:
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w") as packed:
        packed.writestr("readme.txt", "hello")
    with pytest.raises(BadFile, match="no XLSX workbook"):
        read(stream.getvalue())


@pytest.mark.parametrize("keep", [4, 100, 2000])
def test_a_workbook_cut_short_is_refused(keep: int) -> None:
    with pytest.raises(BadFile, match="cannot be unpacked"):
        read(workbook([["a"]])[:keep])
