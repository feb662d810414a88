"""TOML with the line of every key, so that a fault can say where it stands.

The standard reader gives values and no places. The places are found by a second, forgiving look at the text: it only
serves messages, so where a text is too clever for it the line of the table around is given.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from difflib import get_close_matches

from fourply.errors import BadInput
from fourply.files.convertors import Reading
from fourply.files.faults import Fault
from fourply.files.texttable import decode

MOST_BYTES = 2 * 1024 * 1024

type Place = tuple[str | int, ...]

_EXPECTED = "TOML: key = value, text in quotation marks"

_TABLE = re.compile(r"\s*(\[\[?)([^\[\]]+)\]\]?\s*(?:#.*)?")
_KEY = re.compile(r"\s*((?:[A-Za-z0-9_-]+|\"[^\"]*\"|'[^']*')(?:\s*\.\s*(?:[A-Za-z0-9_-]+|\"[^\"]*\"|'[^']*'))*)\s*=")
_PART = re.compile(r"\"([^\"]*)\"|'([^']*)'|([^\s.\"']+)")
_LINE = re.compile(r"line (\d+)")


@dataclass(frozen=True, slots=True)
class Document:
    """A parsed TOML file, with the line of each key."""

    file: str
    values: Mapping[str, object]
    lines: Mapping[Place, int]

    def line(self, place: Place) -> int:
        """Return the line of a key, or of the nearest table around it; 0 where neither is known."""
        while place and place not in self.lines:
            place = place[:-1]
        return self.lines.get(place, 0)

    def fault(self, place: Place, found: str, expected: str) -> Fault:
        """Return a fault at a key."""
        return Fault(self.file, self.line(place), ".".join(str(part) for part in place), found, expected)


def parse_toml(file: str, data: bytes) -> Document | Fault:
    """Return the document, or the fault that keeps it from being read; raises BadFile where it is no text."""
    if len(data) > MOST_BYTES:
        return Fault(file, 0, "", f"{len(data)} bytes", f"at most {MOST_BYTES}")
    text = decode(file, data)
    try:
        values = tomllib.loads(text, parse_float=Decimal)
    except (ValueError, ArithmeticError) as bad:
        line = _LINE.search(str(bad))
        return Fault(file, int(line[1]) if line else 0, "", str(bad)[:200], _EXPECTED)
    except RecursionError:
        return Fault(file, 0, "", "tables nested too deep", _EXPECTED)
    return Document(file, values, _lines(text))


def _lines(text: str) -> dict[Place, int]:
    lines: dict[Place, int] = {}
    counts: dict[Place, int] = {}
    table: Place = ()
    for number, line in enumerate(text.splitlines(), start=1):
        if found := _TABLE.fullmatch(line):
            table = _indexed(_parts(found[2]), counts, is_new=found[1] == "[[")
            lines.setdefault(table, number)
        elif found := _KEY.match(line):
            lines.setdefault((*table, *_parts(found[1])), number)
    return lines


def _parts(text: str) -> Place:
    return tuple(next(part for part in found if part) if any(found) else "" for found in _PART.findall(text))


def _indexed(parts: Place, counts: dict[Place, int], *, is_new: bool) -> Place:
    """Return the place of a table, with the number of each repeated table on the way."""
    place: Place = ()
    for at, part in enumerate(parts):
        place = (*place, part)
        if is_new and at == len(parts) - 1:
            counts[place] = counts.get(place, -1) + 1
        if place in counts:
            place = (*place, counts[place])
    return place


class Located:
    """A document while it is being read, with the faults found so far."""

    def __init__(self, document: Document) -> None:
        self.document = document
        self.faults: list[Fault] = []

    def fault(self, place: Place, found: str, expected: str) -> None:
        """Enter a fault at a key."""
        self.faults.append(self.document.fault(place, found, expected))

    def known(self, place: Place, table: Iterable[str], keys: Sequence[str]) -> None:
        """Enter a fault for every key of a table that is none of these."""
        for key in table:
            if key not in keys:
                close = get_close_matches(key, keys, 1)
                self.fault((*place, key), key, f"perhaps {close[0]}" if close else f"one of {', '.join(keys)}")

    def value[T](self, place: Place, parse: Callable[[object, Reading], T], reading: Reading) -> T | None:
        """Return what stands at a place, None where nothing does or where it cannot be read."""
        raw = self._raw(place)
        if raw is None:
            return None
        try:
            return parse(raw, reading)
        except BadInput as bad:
            self.fault(place, bad.found, bad.expected)
            return None

    def table(self, place: Place) -> Mapping[str, object]:
        """Return the table at a place, an empty one where none stands."""
        raw = self._raw(place)
        if raw is None or isinstance(raw, dict):
            return raw or {}
        self.fault(place, str(raw)[:200], f"a table: [{'.'.join(str(part) for part in place)}]")
        return {}

    def tables(self, place: Place) -> Sequence[Mapping[str, object]]:
        """Return the repeated tables at a place, none where there are none."""
        raw = self._raw(place)
        if raw is None or (isinstance(raw, list) and all(isinstance(item, dict) for item in raw)):
            return raw or ()
        self.fault(place, str(raw)[:200], f"tables: [[{'.'.join(str(part) for part in place)}]]")
        return ()

    def _raw(self, place: Place) -> object:
        value: object = self.document.values
        for part in place:
            value = value.get(str(part)) if isinstance(value, Mapping) else None
        return value
