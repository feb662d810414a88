"""Rows out of the bytes of an XLSX workbook.

A workbook is a packed folder of XML, so a small file can unpack to more than any machine holds, and one stray cell in
the last row of the last column makes a dense table of seventeen thousand million cells. Each part is therefore
unpacked up to a limit and walked through once before the reading library sees it: the library is given a copy that
holds no more than was counted. The walk also finds formulas that nobody worked out and error values, which the
library leaves blank.
"""

from __future__ import annotations

import datetime as dt
import io
import re
import zipfile
import zlib
from collections.abc import Iterator
from dataclasses import dataclass, field
from xml.parsers import expat

from fourply.errors import BadFile

_MOST_UNPACKED = 64 * 1024 * 1024
_MOST_PARTS = 500
_EXPECTED = "a workbook saved as .xlsx, or a list saved as CSV (UTF-8)"
_PLACE = re.compile(r"([A-Z]{1,3})([0-9]{1,7})")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


@dataclass(frozen=True, slots=True)
class Limits:
    """How much of a list is read: anything larger is no list of works."""

    rows: int
    columns: int


@dataclass(slots=True)
class _Walk:
    """One pass through a worksheet: how far its cells reach, which of them are formulas or errors."""

    last_row: int = 0
    last_column: int = 0
    marks: dict[tuple[int, int], str] = field(default_factory=dict)
    _place: tuple[int, int] = (0, 0)
    _error: bool = False
    _text: dict[str, str] = field(default_factory=dict)
    _within: str = ""

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        tag = tag.rpartition(":")[2]
        if tag == "row":
            self._begin_row(attributes.get("r", ""))
        elif tag == "c":
            self._begin_cell(attributes)
        self._within = tag if tag in {"f", "v", "t"} else ""

    def _begin_row(self, number: str) -> None:
        row = int(number) if number.isascii() and number.isdigit() and len(number) < 8 else self._place[0] + 1
        self._place = (row, 0)

    def _begin_cell(self, attributes: dict[str, str]) -> None:
        found = _PLACE.fullmatch(attributes.get("r", ""))
        row, column = self._place
        self._place = (int(found[2]), _column(found[1])) if found else (row, column + 1)
        self._error = attributes.get("t") == "e"
        self._text = {}

    def data(self, text: str) -> None:
        if self._within:
            self._text[self._within] = self._text.get(self._within, "") + text

    def end(self, tag: str) -> None:
        self._within = ""
        if tag.rpartition(":")[2] != "c":
            return
        if self._text:
            self.last_row = max(self.last_row, self._place[0])
            self.last_column = max(self.last_column, self._place[1])
        if self._error and self._text.get("v"):
            self.marks[self._place] = self._text["v"]
        elif "f" in self._text and not self._text.get("v"):
            self.marks[self._place] = f"={self._text['f']}"


def _column(letters: str) -> int:
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - 64
    return number


def workbook_rows(file: str, data: bytes, limits: Limits) -> tuple[list[list[str]], str]:
    """Return the rows of the first visible sheet that holds anything, from row 1, and a note on sheets left out.

    Raises BadFile.
    """
    parts = _unpacked(file, data)
    walks = {name: _walked(file, part, limits) for name, part in parts.items() if name.startswith("xl/worksheets/")}
    filled = [sheet for sheet in _sheets(file, parts) if sheet.part in walks and walks[sheet.part].last_row]
    if not filled:
        raise BadFile(file, "a workbook without a filled cell", "a list of works with a row of headers")
    chosen, *others = filled
    left_out = ", ".join(sheet.name for sheet in others)
    note = f"{file}: read from sheet {chosen.name}, not from {left_out}" if others else ""
    return list(_rows(walks[chosen.part], _values(file, parts, chosen.index))), note


def _rows(walk: _Walk, values: list[list[object]]) -> Iterator[list[str]]:
    for row in range(1, walk.last_row + 1):
        cells = values[row - 1] if row <= len(values) else []
        texts = [_text(cell) for cell in cells] + [""] * (walk.last_column - len(cells))
        yield [walk.marks.get((row, column)) or text for column, text in enumerate(texts, start=1)]


def _unpacked(file: str, data: bytes) -> dict[str, bytes]:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            infos = packed.infolist()
            names = {info.filename for info in infos}
            if "xl/workbook.xml" not in names or len(infos) > _MOST_PARTS:
                raise BadFile(file, "a packed file that is no XLSX workbook", _EXPECTED)
            if sum(info.file_size for info in infos) > _MOST_UNPACKED:
                raise BadFile(file, "a workbook that unpacks to more than 64 MB", "a list of works and nothing else")
            wanted = (info for info in infos if info.filename.endswith((".xml", ".rels")))
            return {info.filename: packed.read(info) for info in wanted}
    except (zipfile.BadZipFile, zlib.error, EOFError, OSError, RuntimeError, ValueError, NotImplementedError) as bad:
        if isinstance(bad, BadFile):
            raise
        raise BadFile(file, "a workbook that cannot be unpacked", _EXPECTED) from bad


def _walked(file: str, part: bytes, limits: Limits) -> _Walk:
    walk = _Walk()
    _parse(file, part, walk)
    if walk.last_row > limits.rows or walk.last_column > limits.columns:
        reach = f"cells as far as row {walk.last_row}, column {walk.last_column}"
        raise BadFile(file, reach, f"at most {limits.rows} rows and {limits.columns} columns")
    return walk


def _parse(file: str, part: bytes, walk: _Walk | _Elements) -> None:
    parser = expat.ParserCreate()
    parser.StartElementHandler = walk.start
    parser.EndElementHandler = walk.end
    parser.CharacterDataHandler = walk.data
    parser.buffer_text = True

    def refuse(*_: object) -> None:
        raise BadFile(file, "a workbook with a document type of its own", _EXPECTED)

    parser.StartDoctypeDeclHandler = refuse
    try:
        parser.Parse(part, True)  # noqa: FBT003 - the parser takes it by place only
    except (expat.ExpatError, ValueError) as bad:
        if isinstance(bad, BadFile):
            raise
        raise BadFile(file, "a workbook whose XML is broken", _EXPECTED) from bad


@dataclass(slots=True)
class _Elements:
    """Every element of a small part, with its attributes."""

    found: list[tuple[str, dict[str, str]]] = field(default_factory=list)

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        self.found.append((tag.rpartition(":")[2], attributes))

    def end(self, tag: str) -> None:
        """Do nothing: only starts are wanted."""

    def data(self, text: str) -> None:
        """Do nothing: only attributes are wanted."""


@dataclass(frozen=True, slots=True)
class _Sheet:
    """A visible sheet: its place in the workbook, its name, the part that holds its cells."""

    index: int
    name: str
    part: str


def _sheets(file: str, parts: dict[str, bytes]) -> Iterator[_Sheet]:
    """Yield the visible sheets in the order of the workbook."""
    book, relations = _Elements(), _Elements()
    _parse(file, parts["xl/workbook.xml"], book)
    if "xl/_rels/workbook.xml.rels" in parts:
        _parse(file, parts["xl/_rels/workbook.xml.rels"], relations)
    targets = {seen.get("Id", ""): seen.get("Target", "") for tag, seen in relations.found if tag == "Relationship"}
    for index, seen in enumerate(seen for tag, seen in book.found if tag == "sheet"):
        target = next((targets.get(value, "") for key, value in seen.items() if key.endswith(":id")), "")
        part = target.removeprefix("/") if target.startswith("/xl/") else f"xl/{target}"
        if seen.get("state", "visible") == "visible":
            yield _Sheet(index, seen.get("name", ""), part)


def _values(file: str, parts: dict[str, bytes], sheet: int) -> list[list[object]]:
    import python_calamine  # noqa: PLC0415 - only a workbook needs it, and starting must be quick

    copy = io.BytesIO()
    with zipfile.ZipFile(copy, "w") as packed:
        for name, part in parts.items():
            packed.writestr(name, part)
    copy.seek(0)
    try:
        book = python_calamine.load_workbook(copy)
        rows = book.get_sheet_by_index(sheet).to_python(skip_empty_area=False)
    except (python_calamine.CalamineError, OSError, ValueError) as bad:
        raise BadFile(file, f"a workbook that cannot be read ({bad})", _EXPECTED) from bad
    return [list(row) for row in rows]


def _text(value: object) -> str:
    """Return a cell as a person would type it; a date with its month in letters, so that it is known as one."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        # A spreadsheet keeps 15 digits; the rest is the noise of binary fractions.
        return f"{value:.15g}"
    if isinstance(value, dt.date):
        return f"{value.day}-{_MONTHS[value.month - 1]}-{value.year}"
    return str(value)
