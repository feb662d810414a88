"""Lists as rows: kinds of files by their content, limits, numbers of rows."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.files.books import workbook

from fourply.errors import BadFile
from fourply.files.tables import LIMITS, Row, Table, load_bytes, read_table


def test_blank_rows_are_left_out_and_the_others_keep_their_numbers() -> None:
    table = read_table("list.csv", b"a,b\n\n ,\n 1 ,2\n,,\n\n")
    assert table == Table("list.csv", (Row(1, ("a", "b")), Row(4, ("1", "2"))))


def test_a_workbook_is_known_by_its_content_whatever_its_name() -> None:
    assert read_table("list.csv", workbook([["a"], [], ["b"]])).rows == (Row(1, ("a",)), Row(3, ("b",)))


def test_a_cell_beyond_a_short_row_is_empty() -> None:
    assert Row(1, ("a",)).cell(5) == ""


@pytest.mark.parametrize(
    ("data", "kind"),
    [
        (b"%PDF-1.7", "a PDF"),
        (b"\x89PNG\r\n", "PNG"),
        (b"\xff\xd8\xff\xe0", "JPEG"),
        (b"{\\rtf1", "RTF"),
        (b"\xd0\xcf\x11\xe0\xa1", "XLS"),
        (b"\x1f\x8b\x08", "GZIP"),
        (b"SQLite format 3\0", "database"),
    ],
)
def test_another_kind_of_file_is_named(data: bytes, kind: str) -> None:
    with pytest.raises(BadFile, match=kind):
        read_table("list.csv", data)


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"a\n" * (LIMITS.rows + 1), "at most 60000 rows"),
        (b"a," * 300 + b"a\n", "200 columns"),
        (b"a,b\n1," + b"x" * 10_001, "more than 10000 characters in row 2"),
        (b"a" * (20 * 1024 * 1024 + 1), "more than 20 MB"),
    ],
)
def test_what_is_too_much_for_a_list_is_refused(data: bytes, says: str) -> None:
    with pytest.raises(BadFile, match=says):
        read_table("list.csv", data)


def test_a_file_is_loaded_up_to_a_size(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_bytes(b"abc")
    assert load_bytes(path) == b"abc"
    with pytest.raises(BadFile, match=r"list\.csv: more than"):
        load_bytes(path, most=2)


def test_a_file_that_is_not_there_is_a_bad_file(tmp_path: Path) -> None:
    with pytest.raises(BadFile, match=r"none\.csv: No such file"):
        load_bytes(tmp_path / "none.csv")
