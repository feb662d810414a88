"""Encodings and separators, told from the bytes."""

from __future__ import annotations

import pytest

from fourply.errors import BadFile
from fourply.files.texttable import decode, rows, separator

TEXT = "No.;Title;Width\n1;Mühle – früh;41,5\n2;Wehr;30\n"


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"])
def test_text_is_read_in_whatever_encoding_it_was_saved(encoding: str) -> None:
    assert decode("list.csv", TEXT.encode(encoding)) == TEXT


def test_big_endian_text_with_a_mark_is_read() -> None:
    assert decode("list.csv", b"\xfe\xff" + TEXT.encode("utf-16-be")) == TEXT


@pytest.mark.parametrize(
    "data", [bytes(range(256)), b"abc\x81\x8d", b"\xff\xfeA", b"\xef\xbb\xbf\xff", b"a,b\n" * 600 + b"\0"]
)
def test_bytes_that_are_no_text_are_refused(data: bytes) -> None:
    with pytest.raises(BadFile, match=r"list\.csv: bytes that are no text"):
        decode("list.csv", data)


@pytest.mark.parametrize(
    ("text", "sign"),
    [
        ("a,b,c\n1,2,3\n", ","),
        ("a;b;c\n1,5;2,5;3\n", ";"),
        ("a\tb\n1,5\t2;5\n", "\t"),
        ("a|b\n1|2\n", "|"),
        ("Summer show\n\na;b;c\n1,5;2,5;3,5\n", ";"),
        ('id,dimensions\n1,"support: 3 x 4 mm; frame: 5 x 6 mm"\n2,30 x 40 mm\n', ","),
        ('id;note\n1;"one, two, three"\n2;"one, two"\n', ";"),
    ],
)
def test_the_separator_is_the_one_that_makes_rows_alike(text: str, sign: str) -> None:
    assert separator(text) == sign


@pytest.mark.parametrize("ends", ["\n", "\r\n", "\r"])
def test_every_kind_of_line_end_is_read(ends: str) -> None:
    assert list(rows("list.csv", ends.join(("a,b", "1,2", "")))) == [["a", "b"], ["1", "2"]]


def test_quoted_cells_keep_their_lines_separators_and_quotes() -> None:
    text = 'a,b\n"two\nlines, one cell","16 3/8"" x 20"""\n'
    assert list(rows("list.csv", text))[1] == ["two\nlines, one cell", '16 3/8" x 20"']


def test_an_inch_mark_in_a_plain_cell_opens_no_quotation() -> None:
    assert list(rows("list.csv", 'a,b\n16 3/8",20"\n'))[1] == ['16 3/8"', '20"']


def test_a_first_line_that_names_the_separator_counts_as_a_row_of_the_file() -> None:
    assert list(rows("list.csv", "sep=;\na;b\n1;2\n")) == [[], ["a", "b"], ["1", "2"]]


def test_blank_lines_are_counted() -> None:
    assert list(rows("list.csv", "a,b\n\n1,2\n")) == [["a", "b"], [], ["1", "2"]]


def test_a_quotation_that_is_never_closed_is_refused() -> None:
    with pytest.raises(BadFile, match="every quotation mark closed"):
        list(rows("list.csv", 'a,b\n"1,2\n' + "3,4\n" * 100))


def test_an_endless_cell_is_refused() -> None:
    with pytest.raises(BadFile, match="field larger than field limit"):
        list(rows("list.csv", "a,b\n" + "1" * 200_000))
