"""Workbooks for the tests, written by a library that is not the one that reads them."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable, Sequence

import openpyxl
from openpyxl.worksheet.worksheet import Worksheet


def workbook(rows: Sequence[Sequence[object]], finish: Callable[[Worksheet], None] = lambda _: None) -> bytes:
    """Return a workbook of one sheet with these rows."""
    book = openpyxl.Workbook()
    sheet = book.worksheets[0]
    for row in rows:
        sheet.append(list(row))
    finish(sheet)
    return saved(book)


def saved(book: openpyxl.Workbook) -> bytes:
    """Return the bytes of a workbook."""
    stream = io.BytesIO()
    book.save(stream)
    return stream.getvalue()


def with_part(data: bytes, name: str, part: bytes) -> bytes:
    """Return a workbook with one of its parts replaced, or added."""
    stream = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as new:
        for info in old.infolist():
            if info.filename != name:
                new.writestr(info.filename, old.read(info))
        new.writestr(name, part)
    return stream.getvalue()
