"""A list as a form sends it: a file, rows that were pasted, or what was looked at before and comes back packed."""

from __future__ import annotations

import base64
import binascii

from starlette.datastructures import FormData, UploadFile

from fourply.errors import BadInput
from fourply.web.pages.frame import text

MOST_BYTES = 8_000_000
_MOST_COLUMNS = 200


def uploaded(sent: FormData) -> tuple[str, bytes]:
    """Return the name and the content of a list; raises BadInput for nothing and for more than 8 MB."""
    given, name = sent.get("list"), text(sent, "file")
    if packed := text(sent, "packed"):
        try:
            data = base64.b64decode(packed, validate=True)
        except binascii.Error:
            raise BadInput("a list that was changed on its way", "give it again") from None
    elif isinstance(given, UploadFile) and given.filename:
        data, name = given.file.read(MOST_BYTES + 1), given.filename
    else:
        data, name = text(sent, "pasted").encode(), "pasted.csv"
    if not data.strip():
        raise BadInput("nothing", "a file, or rows pasted from a spreadsheet")
    if len(data) > MOST_BYTES:
        raise BadInput(f"more than {MOST_BYTES // 1_000_000} MB", "a list and nothing else")
    return name, data


def named_columns(sent: FormData) -> list[str]:
    """Return what the person says that each column holds, empty where nothing is said."""
    return [str(sent.get(f"column-{at}", "")) for at in range(min(_whole(text(sent, "columns")), _MOST_COLUMNS))]


def header_row(sent: FormData) -> int:
    """Return which row the person says holds the headers, nothing where none is named."""
    return _whole(text(sent, "header_row"))


def _whole(said: str) -> int:
    """Return a whole number of at most six figures, nothing for any other text."""
    return int(said) if said.isascii() and said.isdecimal() and len(said) <= 6 else 0
