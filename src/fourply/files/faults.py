"""What is wrong with a row, said so that a person can put it right.

A list of a thousand works has a bad cell somewhere; the rest is still made. So what cannot be read is no exception but
a value: the file, the row as the spreadsheet counts it, the column by its header, what was found, what would be right.
"""

from __future__ import annotations

from dataclasses import dataclass

from fourply.errors import BadFile, shown

_LONGEST = 120


@dataclass(frozen=True, slots=True, order=True)
class Fault:
    """One thing that cannot be read; row 0 and an empty column mean the file or the row as a whole.

    >>> print(Fault("list.csv", 7, "width", "nonsense", "write a length such as 16 3/8 in"))
    list.csv, row 7, width: 'nonsense'; write a length such as 16 3/8 in
    """

    file: str
    row: int
    column: str
    found: str
    expected: str

    def __str__(self) -> str:
        row = f", row {self.row}" if self.row else ""
        column = f", {self.place}" if self.column else ""
        return f"{self.file}{row}{column}: {shown(self.found) if self.found else 'nothing'}; {self.expected}"

    @property
    def place(self) -> str:
        """The column, short enough to be shown: the key of a file may be of any length."""
        return self.column if len(self.column) <= _LONGEST else f"{self.column[:_LONGEST]}…"

    def to_json(self) -> dict[str, object]:
        """Return the fault as `show.json` carries it."""
        return {
            "file": self.file,
            "row": self.row,
            "column": self.place,
            "found": self.found[:200],
            "expected": self.expected,
        }

    @classmethod
    def of_file(cls, bad: BadFile) -> Fault:
        """Return the fault of a whole file from the error that says so."""
        return cls(bad.file, 0, "", bad.found, bad.expected)
