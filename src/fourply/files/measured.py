"""What was read off a test cut: a table or a TOML file, filled in by hand, and the empty table to fill in.

Both say the same. The table has a row for each box of the printed sheet; its first rows are facts of the day, named in
the column `what`. A row without a value was not read and counts for nothing.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import PurePath

from fourply.bench.calibration import Measured
from fourply.bench.readings import Precision, What
from fourply.bench.readings import Reading as Read
from fourply.bench.trial import Trial
from fourply.errors import BadFile, BadInput
from fourply.files.convertors import LENGTH, SCHEMA, UNIT, Convertor, Reading, plain, print_length, print_signed
from fourply.files.cutter_keys import DATE, FACTS, READING_KEYS
from fourply.files.faults import Fault
from fourply.files.tables import Row, read_table
from fourply.files.toml import Located, parse_toml
from fourply.measure.notation import Unit

_COLUMNS = ("box", "what", "where", "value", "second", "setting", "length", "caliper", "width", "height", "used")
_UNREAD = ("box", "where")


@dataclass(frozen=True, slots=True)
class MeasuredRead:
    """What a file says was read, None where it has faults."""

    measured: Measured | None
    faults: tuple[Fault, ...] = ()


@dataclass(frozen=True, slots=True)
class _Line:
    """One fact or reading as written: its row, and its cells or values by key."""

    row: int
    values: Mapping[str, object]


@dataclass(frozen=True, slots=True)
class _Written:
    """A file taken apart: facts by name, readings, what could not be taken apart."""

    facts: Mapping[str, _Line]
    readings: tuple[_Line, ...]
    faults: tuple[Fault, ...]


def read_measured(
    file: str, data: bytes, *, left_out: tuple[str, ...] = (), kept: tuple[str, ...] = ()
) -> MeasuredRead:
    """Return what was read, TOML or a table, with what a person decided of readings that do not fit.

    Raises Unknown where a reading that is left out or kept is not there.
    """
    try:
        written = _of_toml(file, data) if PurePath(file).suffix.lower() == ".toml" else _of_table(file, data)
    except BadFile as bad:
        return MeasuredRead(None, (Fault.of_file(bad),))
    if written.faults:
        return MeasuredRead(None, written.faults)
    return _Reader(file, written).measured(left_out, kept)


class _Reader:
    """Reads facts and readings; every fault is entered by its row."""

    def __init__(self, file: str, written: _Written) -> None:
        self._file = file
        self._written = written
        self._faults: list[Fault] = []
        self._reading = Reading(Unit.MM)

    def measured(self, left_out: tuple[str, ...], kept: tuple[str, ...]) -> MeasuredRead:
        unit = self._fact("unit", UNIT)
        self._reading = Reading(unit or Unit.MM)
        self._fact("schema", SCHEMA)
        date, rule = self._fact("date", DATE, needed=True), self._fact("rule", LENGTH, needed=True)
        given = {"slip": self._fact("reading_error", LENGTH), "caliper": self._fact("caliper_error", LENGTH)}
        caliper = self._fact("caliper", LENGTH)
        readings = tuple(self._readings({} if caliper is None else {"caliper": caliper}))
        if self._faults or date is None or rule is None:
            return MeasuredRead(None, tuple(self._faults))
        try:
            precision = Precision(rule, **{key: value for key, value in given.items() if value is not None})
        except ValueError as bad:
            return MeasuredRead(None, (Fault(self._file, 0, "rule", print_length(rule), str(bad)),))
        return MeasuredRead(Measured(date, precision, readings, left_out, kept))

    def _fact[T](self, name: str, convertor: Convertor[T], *, needed: bool = False) -> T | None:
        line = self._written.facts.get(name)
        if line is None or _is_blank(line.values["value"]):
            if needed:
                self._fault(0 if line is None else line.row, name, "", f"{name} of these readings")
            return None
        return self._value(line, "value", name, convertor)

    def _value[T](self, line: _Line, key: str, name: str, convertor: Convertor[T]) -> T | None:
        try:
            return convertor.parse(line.values[key], self._reading)
        except BadInput as bad:
            self._fault(line.row, name, bad.found, bad.expected)
            return None

    def _readings(self, common: Mapping[str, object]) -> Iterator[Read]:
        names: set[str] = set()
        made: Callable[..., Read] = Read
        if all(_is_unread(line) for line in self._written.readings):
            self._fault(0, "", "no reading", "a value in at least one box")
        for number, line in enumerate(self._written.readings, start=1):
            if _is_unread(line):
                continue
            given = {key: value for key, value in line.values.items() if not _is_blank(value)}
            found = {key: self._value(line, key, key, READING_KEYS[key]) for key in given if key not in _UNREAD}
            name = str(given.get("box", number)).strip()
            if name in names:
                self._fault(line.row, "box", name, "a name of its own for each reading")
            names.add(name)
            missing = [key for key in ("what", "value") if key not in given]
            if missing:
                self._fault(line.row, missing[0], "", f"{missing[0]} of this reading")
            elif None not in found.values():
                try:
                    yield made(name, **{**common, **found})
                except ValueError as bad:
                    self._fault(line.row, "value", str(given["value"]), str(bad))

    def _fault(self, row: int, column: str, found: str, expected: str) -> None:
        self._faults.append(Fault(self._file, row, column, found, expected))


def _is_unread(line: _Line) -> bool:
    return all(_is_blank(line.values.get(key)) for key in ("value", "second"))


def _is_blank(value: object) -> bool:
    return value is None or (isinstance(value, str) and not value.strip())


# ── taking files apart ───────────────────────────────────────────────────────────────────────────────────────────


def _of_toml(file: str, data: bytes) -> _Written:
    document = parse_toml(file, data)
    if isinstance(document, Fault):
        return _Written({}, (), (document,))
    located = Located(document)
    located.known((), document.values, (*FACTS, "readings"))
    facts = {
        key: _Line(document.line((key,)), {"value": document.values[key]}) for key in FACTS if key in document.values
    }
    lines = []
    for at, table in enumerate(located.tables(("readings",))):
        located.known(("readings", at), table, tuple(READING_KEYS))
        lines.append(_Line(document.line(("readings", at)), table))
    return _Written(facts, tuple(lines), tuple(located.faults))


def _of_table(file: str, data: bytes) -> _Written:
    table = read_table(file, data)
    header = next((row for row in table.rows if "what" in _keys(row)), None)
    if header is None:
        return _Written({}, (), (Fault(file, 0, "", "no header", f"a row of headers: {', '.join(_COLUMNS)}"),))
    keys = _keys(header)
    faults = [Fault(file, header.number, key, key, _perhaps(key)) for key in keys if key and key not in READING_KEYS]
    facts: dict[str, _Line] = {}
    lines = []
    for row in table.rows:
        if row.number <= header.number:
            continue
        line = _Line(row.number, {key: row.cell(at) for at, key in enumerate(keys) if key})
        name = plain(str(line.values["what"])).replace(" ", "_")
        if name in FACTS:
            facts[name] = _Line(row.number, {"value": line.values.get("value", "")})
        else:
            lines.append(line)
    return _Written(facts, tuple(lines), tuple(faults))


def _keys(row: Row) -> tuple[str, ...]:
    return tuple(plain(cell) for cell in row.cells)


def _perhaps(key: str) -> str:
    close = get_close_matches(key, READING_KEYS, 1)
    return f"perhaps {close[0]}" if close else f"one of {', '.join(_COLUMNS)}"


# ── the table to fill in ─────────────────────────────────────────────────────────────────────────────────────────


def empty_table(trial: Trial) -> str:
    """Return the table that belongs to a printed test sheet, its values empty, as CSV."""
    metric = trial.profile.unit.is_metric
    facts = {
        "schema": "1",
        "unit": "mm" if metric else "in",
        "date": "",
        "rule": "0.5 mm" if metric else "1/64 in",
        "reading error": "0.2 mm" if metric else "0.01 in",
        "caliper": "",
        "caliper error": "0.05 mm" if metric else "0.002 in",
    }
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(_COLUMNS)
    for name, value in facts.items():
        writer.writerow(["", name, "", value])
    writer.writerows(_rows(trial))
    return out.getvalue()


def _rows(trial: Trial) -> Iterable[list[str]]:
    used = {What.START: trial.profile.start(trial.caliper), What.STOP: trial.profile.stop(trial.caliper)}
    for box in trial.boxes:
        known = (box.setting, box.length, None, box.width, box.height)
        beside = ["" if each is None else print_length(each) for each in known]
        constant = print_signed(used[box.what]) if box.what in used else ""
        yield [box.number, box.what.value, box.where, "", "", *beside, constant]
