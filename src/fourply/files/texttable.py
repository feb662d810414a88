"""Rows out of the bytes of a CSV file, whatever program wrote it.

Lists come in UTF-8 with and without a mark, in UTF-16 and in the old Windows code page, with commas, semicolons or
tabs. All of that can be told from the bytes; nothing here has to be set by a person.
"""

from __future__ import annotations

import csv
import io
from collections import Counter
from collections.abc import Iterator

from fourply.errors import BadFile

SEPARATORS = ("\t", ";", ",", "|")
_SAMPLE_ROWS = 30
_SAMPLE_CHARACTERS = 100_000
_MOST_LINES_IN_CELL = 60


def decode(file: str, data: bytes) -> str:
    """Return the text of a file, its encoding told from its bytes; raises BadFile where it is no text."""
    text = _decoded(data)
    if text is None or "\0" in text:
        raise BadFile(file, "bytes that are no text", "a list saved as CSV (UTF-8) or XLSX")
    return text


def _decoded(data: bytes) -> str | None:
    for mark, encoding in ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16")):
        if data.startswith(mark):
            return _try(data, encoding)
    if b"\0" in data[:2000]:
        # Every second byte of Latin text is nothing in UTF-16: at the odd places if the low byte comes first.
        return _try(data, "utf-16-le" if data[1:2000:2].count(0) > data[:2000:2].count(0) else "utf-16-be")
    text = _try(data, "utf-8")
    return _try(data, "cp1252") if text is None else text


def _try(data: bytes, encoding: str) -> str | None:
    try:
        return data.decode(encoding)
    except UnicodeDecodeError:
        return None


def separator(text: str) -> str:
    """Return the separator that gives the most rows alike.

    >>> separator("id;width;41,5")
    ';'
    """
    sample = text[:_SAMPLE_CHARACTERS]
    return max(SEPARATORS, key=lambda sign: _rows_alike(sample, sign))


def _rows_alike(sample: str, sign: str) -> tuple[int, int]:
    widths: Counter[int] = Counter()
    try:
        for _, cells in zip(range(_SAMPLE_ROWS), _records(sample, sign), strict=False):
            widths[len(cells)] += len(cells) > 1
    except csv.Error:
        return 0, 0
    if not widths:
        return 0, 0
    width, count = max(widths.items(), key=lambda item: (item[1], item[0]))
    return count, width


def rows(file: str, text: str) -> Iterator[list[str]]:
    """Yield the cells of every record, blank ones too, so that they can be counted; raises BadFile."""
    first, _, rest = text.partition("\n")
    sign = separator(text)
    if first.strip().lower().startswith("sep=") and len(first.strip()) == 5:
        sign, text = first.strip()[4], rest
        yield []
    try:
        for cells in _records(text, sign):
            if any(cell.count("\n") > _MOST_LINES_IN_CELL for cell in cells):
                raise BadFile(file, f"a cell of {_MOST_LINES_IN_CELL} lines or more", "every quotation mark closed")
            yield cells
    except csv.Error as bad:
        raise BadFile(file, str(bad), "a list saved as CSV (UTF-8) or XLSX") from bad


def _records(text: str, sign: str) -> Iterator[list[str]]:
    # Bare carriage returns end lines on old systems; the reader takes all three kinds with newline="".
    return iter(csv.reader(io.StringIO(text, newline=""), delimiter=sign))
