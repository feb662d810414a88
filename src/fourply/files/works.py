"""A list of works out of a spreadsheet.

Good rows are made, whatever is wrong with the others. The list may say its unit and the order of its pairs itself, in
headers or in its cells; where neither it nor anybody else does, that is a fault and not a guess.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from fourply.errors import BadFile, BadInput
from fourply.files.convertors import Reading
from fourply.files.faults import Fault
from fourply.files.headers import Column, Headed, find_header, with_columns
from fourply.files.openings import read_whole
from fourply.files.record import SIZE_KEYS, Given, Listed, Record
from fourply.files.tables import Row, read_table
from fourply.measure.dimensions import Order, is_museum
from fourply.measure.notation import Unit, straight
from fourply.trade.work import Source

_ENOUGH: tuple[frozenset[str], ...] = (
    frozenset({"size"}),
    frozenset({"width", "height"}),
    frozenset({"image_size"}),
    frozenset({"image_width", "image_height"}),
)
_UNIT_IN_CELL = re.compile(r"(?<![a-z])(?:(mm|cm|in|inch|inches|ft|m)\.?(?![a-z])|(\"))")


@dataclass(frozen=True, slots=True)
class Asked:
    """What is known of a list before it is read; None leaves it to the list to say.

    `prefix` begins the numbers that are made for works without one. `columns` are what a person says of the columns,
    from the left, below the row `header_row`; without any they are recognised.
    """

    unit: Unit | None = None
    order: Order | None = None
    prefix: str = "w"
    columns: tuple[Column, ...] = ()
    header_row: int = 0


@dataclass(frozen=True, slots=True)
class WorkList:
    """The works of a list that could be read, the faults of the others, and what a person should know of both.

    `unit` is the unit of its bare numbers, None where nobody names one.
    """

    works: tuple[Listed, ...]
    faults: tuple[Fault, ...]
    notes: tuple[str, ...]
    unit: Unit | None


type TellRows = Callable[[int, int], None]
"""Told now and then how many of how many rows are read; what it raises ends the reading."""
_TOLD_EVERY = 200


def nobody(done: int, total: int) -> None:
    """Tell nobody."""


def read_works(file: str, data: bytes, asked: Asked, tell: TellRows = nobody) -> WorkList:
    """Return the works of a CSV or XLSX list; what is wrong is among its faults, never raised."""
    try:
        headed = recognise(file, data, asked)
    except BadFile as bad:
        return WorkList((), (Fault.of_file(bad),), (), asked.unit)
    except BadInput as bad:
        return WorkList((), (Fault(file, 0, "", bad.found, bad.expected),), (), asked.unit)
    keys = {column.key for column in headed.columns}
    if not any(enough <= keys for enough in _ENOUGH):
        return WorkList((), (_no_size(headed),), (), asked.unit)
    unit = asked.unit or _unit_named(headed)
    if unit is None:
        return WorkList((), (_no_unit(headed),), (), None)
    return _read(headed, Reading(unit, asked.order), asked, tell)


def recognise(file: str, data: bytes, asked: Asked) -> Headed:
    """Return the rows of a list with what each column is taken for; raises BadFile, BadInput for no known column."""
    table = read_table(file, data)
    return with_columns(table, asked.columns, asked.header_row) if asked.columns else find_header(table)


def _no_size(headed: Headed) -> Fault:
    found = ", ".join(column.header for column in headed.columns if column.header)
    return Fault(
        headed.file, headed.header_row, "", found[:200], "columns width and height, or size, among the headers"
    )


def _no_unit(headed: Headed) -> Fault:
    expected = 'the unit, once: unit = "in" in the show file, --unit in, or a header such as width (in)'
    return Fault(headed.file, headed.header_row, "", "sizes without a unit", expected)


def _read(headed: Headed, reading: Reading, asked: Asked, tell: TellRows) -> WorkList:
    museum = asked.order is None and _is_museum(headed)
    reading = replace(reading, order=Order.HEIGHT_WIDTH) if museum else reading
    records = list(_records(headed))
    works, faults = read_records(records, reading, asked.prefix, tell)
    return WorkList(works, faults, tuple(_notes(headed, reading, asked, records)), reading.unit)


def read_records(
    records: Sequence[Record], reading: Reading, prefix: str, tell: TellRows = nobody
) -> tuple[tuple[Listed, ...], tuple[Fault, ...]]:
    """Return the works of records, each with a number of its own, and the faults of the others.

    A work without a number gets one from its place among the works; a number that stands twice is a fault.
    """
    works: list[Listed] = []
    faults: list[Fault] = []
    taken = {str(record.given["id"].raw).strip(): record.source for record in reversed(records) if "id" in record.given}
    for place, record in enumerate(records, start=1):
        if place % _TOLD_EVERY == 1:
            tell(place - 1, len(records))
        found, wrong = read_whole(record, reading)
        faults.extend(wrong)
        if found is None:
            continue
        if "id" not in record.given:
            works.append(_numbered(found, _free(f"{prefix}{place}", taken)))
        elif taken.get(found.work.id, record.source) is not record.source:
            first = taken[found.work.id]
            column = record.given["id"].column
            expected = f"a number that no other work has; {first} has it"
            faults.append(Fault(record.source.file, record.source.row, column, found.work.id, expected))
        else:
            works.append(found)
    return tuple(works), tuple(faults)


def _free(number: str, taken: Iterable[str]) -> str:
    while number in taken:
        number += "a"
    return number


def _numbered(listed: Listed, number: str) -> Listed:
    return replace(listed, work=replace(listed.work, id=number), own=replace(listed.own, name=f"work {number}"))


def _records(headed: Headed) -> Iterator[Record]:
    size_column = next(column.header for column in headed.columns if column.key in SIZE_KEYS)
    for row in headed.rows:
        given = {
            column.key: Given(row.cell(at), column.header, column.unit, column.order)
            for at, column in enumerate(headed.columns)
            if column.key and row.cell(at)
        }
        yield Record(Source(headed.file, row.number), given, tuple(_extra(headed.columns, row)), size_column)


def _extra(columns: Sequence[Column], row: Row) -> Iterator[tuple[str, str]]:
    """Yield what stands in columns that are not known, and beyond the last header."""
    for at, cell in enumerate(row.cells):
        if cell and (at >= len(columns) or not columns[at].key):
            yield (columns[at].header if at < len(columns) else "") or f"column {at + 1}", cell


def _size_cells(headed: Headed) -> Iterator[str]:
    for at, column in enumerate(headed.columns):
        if column.key in SIZE_KEYS:
            yield from (row.cell(at) for row in headed.rows)


def _is_museum(headed: Headed) -> bool:
    return any(is_museum(cell) for cell in _size_cells(headed))


def _unit_named(headed: Headed) -> Unit | None:
    """Return the first unit that a header or a cell of a size names."""
    for column in headed.columns:
        if column.key in SIZE_KEYS and column.unit:
            return column.unit
    for cell in _size_cells(headed):
        if found := _UNIT_IN_CELL.search(straight(cell[:200]).lower()):
            return Unit.named(found[0])
    return None


def _notes(headed: Headed, reading: Reading, asked: Asked, records: Sequence[Record]) -> Iterator[str]:
    yield from headed.notes
    if asked.unit is None:
        yield f'{headed.file}: numbers without a unit are read as unit = "{reading.unit.value}", the first one named'
    if reading.order is not None:
        why = "as museum records have it" if asked.order is None else "as stated"
        yield f"{headed.file}: pairs are read as {reading.order.value}, {why}"
    if headed.unknown:
        yield f"{headed.file}: kept as notes: {', '.join(headed.unknown)}"
    if any("image_width" in record.given or "image_size" in record.given for record in records):
        yield from _image_note(headed)


def _image_note(headed: Headed) -> Iterator[str]:
    if not {"image_left", "image_top"} <= {column.key for column in headed.columns}:
        yield f"{headed.file}: an image whose place on its sheet is not given is taken to be in the middle"
