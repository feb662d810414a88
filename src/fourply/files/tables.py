"""A list as rows of cells, each row with the number that the spreadsheet shows beside it.

What a file is, is told from its content and not from its name: a workbook named .csv is still a workbook.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path

from fourply.errors import BadFile
from fourply.files.texttable import decode, rows
from fourply.files.workbook import Limits, workbook_rows

MOST_BYTES = 20 * 1024 * 1024
LIMITS = Limits(rows=60_000, columns=200)
_MOST_CHARACTERS = 10_000

_OTHER_KINDS = (
    (b"%PDF", "a PDF"),
    (b"\x89PNG", "a picture (PNG)"),
    (b"\xff\xd8\xff", "a picture (JPEG)"),
    (b"{\\rtf", "a text document (RTF)"),
    (b"\xd0\xcf\x11\xe0", "an old or protected spreadsheet (XLS)"),
    (b"\x1f\x8b", "a packed file (GZIP)"),
    (b"SQLite format 3", "a database"),
)


@dataclass(frozen=True, slots=True)
class Row:
    """One row that is not blank: its number in the file, its cells without outer blanks."""

    number: int
    cells: tuple[str, ...]

    def cell(self, column: int) -> str:
        """Return the cell of that column, empty where the row is shorter."""
        return self.cells[column] if column < len(self.cells) else ""


@dataclass(frozen=True, slots=True)
class Table:
    """All rows of a list that are not blank, and what a person should know of how they were found."""

    file: str
    rows: tuple[Row, ...]
    notes: tuple[str, ...] = ()


def load_bytes(path: Path, most: int = MOST_BYTES) -> bytes:
    """Return the content of a file of a reasonable size; raises BadFile."""
    try:
        with path.open("rb") as stream:
            data = stream.read(most + 1)
    except OSError as bad:
        raise BadFile(path.name, bad.strerror or "cannot be read", "a file that can be read") from bad
    if len(data) > most:
        raise BadFile(path.name, f"more than {most // 1024 // 1024} MB", "a list of works and nothing else")
    return data


def read_table(file: str, data: bytes) -> Table:
    """Return the rows of a CSV or XLSX file; `file` is the name that faults give; raises BadFile."""
    kind = next((kind for start, kind in _OTHER_KINDS if data.startswith(start)), None)
    if kind is not None:
        raise BadFile(file, kind, "a list saved as CSV (UTF-8) or XLSX")
    if len(data) > MOST_BYTES:
        raise BadFile(file, f"more than {MOST_BYTES // 1024 // 1024} MB", "a list of works and nothing else")
    if data.startswith(b"PK"):
        found, note = workbook_rows(file, data, LIMITS)
        return replace(_table(file, found), notes=(note,) if note else ())
    return _table(file, rows(file, decode(file, data)))


def _table(file: str, found: Iterable[list[str]]) -> Table:
    kept = []
    for number, cells in enumerate(found, start=1):
        if number > LIMITS.rows or len(cells) > LIMITS.columns:
            at_most = f"at most {LIMITS.rows} rows and {LIMITS.columns} columns"
            raise BadFile(file, f"row {number} with {len(cells)} columns", at_most)
        if any(len(cell) > _MOST_CHARACTERS for cell in cells):
            raise BadFile(file, f"a cell of more than {_MOST_CHARACTERS} characters in row {number}", "shorter cells")
        stripped = tuple(cell.strip() for cell in cells)
        if any(stripped):
            kept.append(Row(number, stripped))
    return Table(file, tuple(kept))
