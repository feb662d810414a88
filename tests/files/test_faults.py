"""Faults as people and programs read them."""

from __future__ import annotations

from fourply.errors import BadFile
from fourply.files.faults import Fault


def test_a_fault_says_where_what_and_what_would_be_right() -> None:
    fault = Fault("list.csv", 7, "Width (in)", "nonsense", "write a length such as 16 3/8 in")
    assert str(fault) == "list.csv, row 7, Width (in): 'nonsense'; write a length such as 16 3/8 in"


def test_a_fault_of_a_whole_file_names_neither_row_nor_column() -> None:
    assert str(Fault.of_file(BadFile("a.csv", "a PDF", "a list"))) == "a.csv: 'a PDF'; a list"


def test_nothing_found_is_said_in_words() -> None:
    assert str(Fault("list.csv", 7, "size", "", "a size")) == "list.csv, row 7, size: nothing; a size"


def test_a_fault_has_the_five_members_of_the_contract() -> None:
    fault = Fault("list.csv", 7, "size", "x" * 500, "a size")
    assert fault.to_json() == {
        "file": "list.csv",
        "row": 7,
        "column": "size",
        "found": "x" * 200,
        "expected": "a size",
    }
