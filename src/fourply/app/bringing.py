"""A list that somebody brings in: how it is understood, cell by cell, and what is wrong where; then kept.

Nothing is kept before a person has seen it and put the columns right.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path, PurePath
from tempfile import TemporaryDirectory

from fourply.app.keep import Desk, show_head
from fourply.app.keep_settings import shop_settings
from fourply.app.keep_shows import keep_file
from fourply.app.keep_works import keep_list
from fourply.errors import BadFile, BadInput
from fourply.files.faults import Fault
from fourply.files.headers import WORK_HEADERS, Column, read_header
from fourply.files.tables import Row, Table, read_table
from fourply.files.works import Asked, read_works, recognise
from fourply.measure.dimensions import Order
from fourply.measure.notation import Unit

KINDS = tuple(dict.fromkeys(WORK_HEADERS.values()))
"""What a column of a list can be."""
USUAL = (
    *("id", "title", "maker", "medium", "size", "width", "height", "image_size", "image_width", "image_height"),
    *("copies", "treatment", "notes", "orientation", "with"),
)
"""Those that most lists have, in the order in which they are offered."""
_FIRST = 12
_WRONG = 200


@dataclass(frozen=True, slots=True)
class Sheet:
    """A list as it came, with what a person says of it: None and nothing where the list itself is to say it.

    `kinds` are what the columns are, from the left, below `header_row`; None where they are to be recognised.
    """

    file: str
    data: bytes
    unit: str = ""
    order: str = ""
    kinds: tuple[str, ...] | None = None
    header_row: int = 0


@dataclass(frozen=True, slots=True)
class Cell:
    """A cell as it stands, and what is wrong with it ("" for nothing)."""

    text: str
    wrong: str = ""


@dataclass(frozen=True, slots=True)
class Line:
    """A row by its number in the file; `wrong` is what is wrong with it as a whole."""

    number: int
    cells: tuple[Cell, ...]
    wrong: str


@dataclass(frozen=True, slots=True)
class Understood:
    """How a list is understood: its columns, the first rows and all that have faults, how many works come of it."""

    columns: tuple[Column, ...]
    header_row: int
    lines: tuple[Line, ...]
    works: int
    faults: tuple[Fault, ...]
    elsewhere: tuple[Fault, ...]
    notes: tuple[str, ...]
    rows: int
    wrong_rows: int


def understand(desk: Desk, show: str, sheet: Sheet) -> Understood:
    """Return how a list is understood, for a show or for a new one ("").

    Raises BadInput for an unknown unit, order or kind of column, Unknown for no such show.
    """
    asked = _asked(desk, show, sheet)
    read = read_works(sheet.file, sheet.data, asked)
    columns, header_row, rows = _parted(sheet, asked)
    faults = read.faults
    lines = tuple(_lines(columns, rows, faults))
    shown = {each.number for each in lines}
    elsewhere = tuple(each for each in faults if each.row not in shown)
    wrong = len({each.row for each in faults if each.row > header_row})
    return Understood(columns, header_row, lines, len(read.works), faults, elsewhere, read.notes, len(rows), wrong)


def keep(desk: Desk, show: str, title: str, sheet: Sheet) -> tuple[str, int]:
    """Keep the works of a list in a show, or in a new one of a title; returns its id and how many works.

    Raises Taken for a title or number that there is, BadInput where no row can be read, Unknown.
    """
    asked = _asked(desk, show, sheet)
    if show:
        return show, len(keep_list(desk, show, sheet.file, sheet.data, asked))
    if not title.strip():
        raise BadInput("nothing", "a title for the show")
    if asked.unit is None:
        asked = replace(asked, unit=read_works(sheet.file, sheet.data, asked).unit)
    with TemporaryDirectory() as folder:
        file = Path(folder) / sheet.file
        file.write_bytes(sheet.data)
        kept = keep_file(desk, file, asked, title)
    return kept.record.id, kept.works


def file_named(name: str) -> str:
    """Return the plain name of a file that was sent; raises BadInput for a show file, which is not a list.

    >>> file_named("C:/lists/../Spring <b>.csv")
    'Spring b.csv'
    """
    plain = re.sub(r"[^\w. -]+", " ", PurePath(name.replace("\\", "/")).name)
    plain = re.sub(r" +(?=\.)", "", " ".join(plain.split()))[-120:].lstrip(".")
    if plain.lower().endswith(".toml"):
        raise BadInput(plain, "a list of works saved as CSV or XLSX")
    return plain or "list.csv"


def _asked(desk: Desk, show: str, sheet: Sheet) -> Asked:
    unit = Unit.named(sheet.unit) if sheet.unit else None
    order = Order.named(sheet.order) if sheet.order else None
    if show:
        head = show_head(desk, show).show
        asked = Asked(unit or head.unit, order or head.order)
    else:
        asked = Asked(unit, order or shop_settings(desk).value.order)
    if sheet.kinds is None:
        return asked
    header = _header(sheet)
    columns = [_column(header.cell(at), kind) for at, kind in enumerate(sheet.kinds)]
    return replace(asked, columns=tuple(columns), header_row=sheet.header_row)


def _header(sheet: Sheet) -> Row:
    try:
        rows = read_table(sheet.file, sheet.data).rows
    except BadFile:
        rows = ()
    return next((row for row in rows if row.number == sheet.header_row), Row(0, ()))


def _column(header: str, kind: str) -> Column:
    if kind and kind not in KINDS:
        raise BadInput(kind, f"one of {', '.join(KINDS)}")
    said = read_header(header)
    return Column(header or kind.replace("_", " "), kind, said.unit, said.order)


def _parted(sheet: Sheet, asked: Asked) -> tuple[tuple[Column, ...], int, Sequence[Row]]:
    """Return the columns, the row of headers and the rows below it; unknown columns where nothing is recognised."""
    try:
        headed = recognise(sheet.file, sheet.data, asked)
    except (BadFile, BadInput):
        try:
            table: Table = read_table(sheet.file, sheet.data)
        except BadFile:
            return (), 0, ()
        wide = max((len(row.cells) for row in table.rows), default=0)
        return tuple(Column("", "") for _ in range(wide)), 0, table.rows
    return headed.columns, headed.header_row, headed.rows


def _lines(columns: Sequence[Column], rows: Sequence[Row], faults: Sequence[Fault]) -> Iterator[Line]:
    """Yield the first rows and all that have faults, so many at most, each fault in its cell where it has one."""
    wrong: dict[int, list[Fault]] = {}
    for each in faults:
        wrong.setdefault(each.row, []).append(each)
    shown = [row for at, row in enumerate(rows) if at < _FIRST or row.number in wrong][: _FIRST + _WRONG]
    for row in shown:
        here = wrong.get(row.number, [])
        by_column: Mapping[str, str] = {each.column: each.expected for each in reversed(here) if each.column}
        cells = tuple(
            Cell(row.cell(at), by_column.get(column.header, "") if column.header else "")
            for at, column in enumerate(columns)
        )
        placed = {column.header for column in columns}
        yield Line(row.number, cells, "; ".join(each.expected for each in here if each.column not in placed))
