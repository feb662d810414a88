"""TOML with the line of every key."""

from __future__ import annotations

from decimal import Decimal

import pytest

from fourply.errors import BadFile
from fourply.files.convertors import LENGTH, Reading
from fourply.files.faults import Fault
from fourply.files.toml import Document, Located, Place, parse_toml
from fourply.measure.length import Length
from fourply.measure.notation import Unit

TEXT = b"""# a show
[show]
title = "A"
unit = "in"

[treatments."wide mat"]
border = 3.5
mats = [
    { board = "white" },
]

[[work]]
id = 1
[[work]]
id = 2
  [work.borders]
  top = 3
"""


def document() -> Document:
    read = parse_toml("show.toml", TEXT)
    assert isinstance(read, Document)
    return read


@pytest.mark.parametrize(
    ("place", "line"),
    [
        (("show",), 2),
        (("show", "unit"), 4),
        (("treatments", "wide mat", "border"), 7),
        (("work", 0, "id"), 13),
        (("work", 1, "id"), 15),
        (("work", 1, "borders", "top"), 17),
        (("work", 1, "borders", "left"), 16),
        (("nowhere",), 0),
    ],
)
def test_a_key_is_found_by_its_line_or_that_of_the_table_around(place: Place, line: int) -> None:
    assert document().line(place) == line


def test_decimals_are_exact() -> None:
    read = parse_toml("a.toml", b"a = 0.1")
    assert isinstance(read, Document)
    assert read.values == {"a": Decimal("0.1")}


@pytest.mark.parametrize(
    ("data", "row", "found"),
    [
        (b"a = 1\nb = \n", 2, "Invalid value"),
        (b"a = 1\na = 2\n", 2, "Cannot overwrite"),
        (b"a = " + b"[" * 5_000, 0, "nested too deep"),
        (b"a = " + b"9" * 5_000, 0, "Exceeds the limit"),
        (b"a" * (2 * 1024 * 1024 + 1), 0, "2097153 bytes"),
    ],
)
def test_what_is_no_toml_is_a_fault_with_its_line(data: bytes, row: int, found: str) -> None:
    fault = parse_toml("show.toml", data)
    assert isinstance(fault, Fault)
    assert fault.row == row
    assert found in fault.found


def test_bytes_that_are_no_text_are_a_bad_file() -> None:
    with pytest.raises(BadFile):
        parse_toml("show.toml", b"\x00\x01\x02")


def test_values_are_taken_by_place_and_faults_collected() -> None:
    located = Located(document())
    inches = Reading(Unit.INCH)
    assert located.value(("treatments", "wide mat", "border"), LENGTH.parse, inches) == Length.inches(7, 2)
    assert located.value(("show", "height"), LENGTH.parse, inches) is None
    assert located.value(("show", "title"), LENGTH.parse, inches) is None
    located.known(("show",), ["title", "unti"], ["title", "unit"])
    located.known(("show",), ["zzz"], ["title", "unit"])
    assert [(fault.row, fault.column, fault.expected) for fault in located.faults] == [
        (3, "show.title", "write a length such as 16 3/8 in, 16.375 in or 415 mm"),
        (2, "show.unti", "perhaps unit"),
        (2, "show.zzz", "one of title, unit"),
    ]


def test_tables_that_are_none_are_faults() -> None:
    located = Located(document())
    assert located.table(("show", "title")) == {}
    assert located.tables(("show",)) == ()
    assert located.table(("nowhere",)) == {}
    assert [fault.expected for fault in located.faults] == ["a table: [show.title]", "tables: [[show]]"]
