"""Writing what was made: whole files or none, under names that no work's number can spoil."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path


def file_name(work: str) -> str:
    """Return a work's number as part of a file name: letters, digits and hyphens only, no path in it.

    >>> file_name("../A 17/b")
    'A_17_b'
    """
    return re.sub(r"[^A-Za-z0-9-]+", "_", work)[:60].strip("_") or "work"


def write_file(path: Path, content: bytes | Iterable[str]) -> Path:
    """Write a file beside its place first, so that a run that is stopped never leaves half of one; returns its path."""
    part = path.with_name(path.name + ".part")
    try:
        with part.open("wb") as file:
            if isinstance(content, bytes):
                file.write(content)
            else:
                file.writelines(text.encode() for text in content)
        return part.replace(path)
    finally:
        part.unlink(missing_ok=True)
