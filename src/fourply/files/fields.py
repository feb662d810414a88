"""Taking typed values out of parsed JSON, so that every fault names its file and its place.

A `Field` is a value with the path that leads to it; each method returns what is asked for or raises BadFile.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from difflib import get_close_matches

from fourply.errors import BadFile, shown

_LARGEST = 2**53


@dataclass(frozen=True, slots=True)
class Field:
    """A value of a parsed JSON document, with the file and the place it stands in.

    >>> Field("a.json", {"w": 5})["w"].whole(least=1)
    5
    """

    file: str
    value: object
    place: str = ""

    def fault(self, expected: str) -> BadFile:
        """Return the error that says what is wrong here."""
        where = self.place or "the document"
        if isinstance(self.value, dict | list):
            what = "an object" if isinstance(self.value, dict) else "a list"
            return BadFile(self.file, f"{where} is {what}", expected)
        return BadFile(self.file, f"{where} is {shown(str(self.value))}", expected)

    def known(self, *keys: str) -> None:
        """Refuse a key that looks like a misspelt one of these; leave others alone."""
        for key in self.members():
            close = get_close_matches(key, keys, 1, 0.74)
            if key not in keys and close:
                raise BadFile(self.file, f"{self.place or 'the document'} has {shown(key)}", f"perhaps {close[0]}")

    def members(self) -> dict[str, object]:
        """Return the members of an object."""
        if not isinstance(self.value, dict):
            raise self.fault("expected an object")
        return self.value

    def __contains__(self, key: str) -> bool:
        return self.members().get(key) is not None

    def __getitem__(self, key: str) -> Field:
        members = self.members()
        if key not in members:
            raise BadFile(self.file, f"{self.place or 'the document'} has no {key}", f"expected {key}")
        return Field(self.file, members[key], f"{self.place}.{key}".lstrip("."))

    def get(self, key: str, default: object) -> Field:
        """Return the member of that name; the default where it is not given, or null."""
        if key in self:
            return self[key]
        return Field(self.file, default, f"{self.place}.{key}".lstrip("."))

    def items(self) -> Iterator[Field]:
        """Yield the items of a list."""
        if not isinstance(self.value, list):
            raise self.fault("expected a list")
        for at, item in enumerate(self.value):
            yield Field(self.file, item, f"{self.place}[{at}]")

    def whole(self, least: int = 0) -> int:
        """Return a whole number of at least `least`."""
        if type(self.value) is not int or not least <= self.value <= _LARGEST:
            raise self.fault(f"expected a whole number from {least} to 2^53")
        return self.value

    def maybe(self, least: int = 0) -> int | None:
        """Return a whole number, or None for null."""
        return None if self.value is None else self.whole(least)

    def flag(self) -> bool:
        """Return true or false."""
        if not isinstance(self.value, bool):
            raise self.fault("expected true or false")
        return self.value

    def text(self) -> str:
        """Return text."""
        if not isinstance(self.value, str):
            raise self.fault("expected text")
        return self.value

    def wholes(self, count: int, least: int = 0) -> tuple[int, ...]:
        """Return a list of exactly so many whole numbers."""
        numbers = tuple(item.whole(least) for item in self.items())
        if len(numbers) != count:
            raise self.fault(f"expected {count} whole numbers")
        return numbers
