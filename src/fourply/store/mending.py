"""Opening a shop, also one whose database file is damaged."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

from sqlalchemy import make_url

from fourply.errors import Unavailable
from fourply.store.sql_store import SqlStore


def opened(url: str, folder: Path, *, mend: bool) -> SqlStore:
    """Return the store at an address, its pictures and backups in a folder.

    `mend` sets a damaged SQLite file aside (renamed, not removed) and begins an empty one. Raises NewerStore,
    Unavailable.
    """
    try:
        return SqlStore(url, folder)
    except Unavailable as bad:
        file = make_url(url).database
        if not (mend and bad.damaged and file):
            raise
        _set_aside(Path(file))
        return SqlStore(url, folder)


def _set_aside(file: Path) -> None:
    stamp = datetime.now(UTC).strftime("%Y%m%dT%H%M%SZ")
    for end in ("", "-wal", "-shm"):
        part = file.with_name(file.name + end)
        if part.exists():
            part.rename(file.with_name(f"{file.name}.damaged-{stamp}{end}"))
