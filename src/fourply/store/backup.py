"""Backups: a SQLite file that holds every row, whatever database the shop is in, verified by opening it.

Pictures are never changed or removed, so a backup leaves them where they are; an export holds them too.
"""

from __future__ import annotations

import os
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

from sqlalchemy import Connection, MetaData, func, select
from sqlalchemy.exc import DatabaseError

from fourply.app.ports_store import BackupFile, Contents
from fourply.errors import BadFile, CannotBackUp, Unavailable
from fourply.store.engine import DAMAGED, Engines, sqlite_url
from fourply.store.migrations import migrate, version_of
from fourply.store.pictures import sync
from fourply.store.rows import record_of
from fourply.store.tables import ENTRY, KEPT, RECORD

KEEP = 30
"""How many of the daily backups stay; those before a migration or a restore all do."""
_EVERY = timedelta(days=1)
_STAMP = "%Y%m%dT%H%M%S%fZ"
_CHUNK = 1000
_PAGES = 256


def write_backup(engines: Engines, folder: Path, at: datetime, why: str) -> Path:
    """Write and verify a backup, called by its instant and by why it was made; raises CannotBackUp."""
    stamp = at.astimezone(UTC).strftime(_STAMP)
    path = folder / f"shop-{stamp}{f'-{why}' if why else ''}.sqlite"
    part = path.with_suffix(".part")
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as bad:
        raise CannotBackUp(str(bad)) from bad
    try:
        if engines.file is not None:
            _copy_file(engines.file, part)
        else:
            _copy_rows(engines, part)
        verify(part)
        with part.open("rb") as written:
            os.fsync(written.fileno())
        part.replace(path)
        sync(folder)
    except (OSError, sqlite3.Error, BadFile, Unavailable) as bad:
        raise CannotBackUp(str(bad)) from bad
    finally:
        for left in (part, *(part.with_name(part.name + end) for end in ("-wal", "-shm", "-journal"))):
            left.unlink(missing_ok=True)
    for old in _daily(folder)[:-KEEP]:
        old.unlink(missing_ok=True)
    return path


def is_due(folder: Path, at: datetime) -> bool:
    """Tell whether the last daily backup is older than a day."""
    last = _daily(folder)[-1:]
    if not last:
        return True
    made = datetime.strptime(last[0].stem.removeprefix("shop-"), _STAMP).replace(tzinfo=UTC)
    return not timedelta(0) <= at - made < _EVERY


def _daily(folder: Path) -> list[Path]:
    """Return the backups that were made for no other reason, the oldest first."""
    return sorted(path for path in folder.glob("shop-*Z.sqlite") if path.stem.count("-") == 1)


def _copy_file(source: Path, target: Path) -> None:
    """Copy a SQLite database as it stands at one instant, whoever writes to it meanwhile."""
    with closing(sqlite3.connect(source)) as live, closing(sqlite3.connect(target)) as copy:
        live.backup(copy, pages=_PAGES, sleep=0.001)
        copy.execute("PRAGMA journal_mode=DELETE")


def _copy_rows(engines: Engines, target: Path) -> None:
    """Copy every row of another database into a SQLite file of the same schema."""
    with engines.reading() as source, _opened(target) as copy, copy.writing() as written:
        migrate(written, version_of(source))
        transfer(source, written)


def transfer(source: Connection, target: Connection) -> None:
    """Copy the rows of every table that is kept, both databases being of the same schema."""
    found = MetaData()
    found.reflect(source, only=lambda name, _: name in {table.name for table in KEPT})
    for name in (table.name for table in KEPT):
        if name in found.tables:
            table = found.tables[name]
            rows = source.execution_options(yield_per=_CHUNK).execute(select(table)).mappings()
            for some in rows.partitions():
                target.execute(table.insert(), [dict(row) for row in some])


def verify(file: Path) -> None:
    """Raise BadFile unless a file is a whole database of a shop."""
    wanted = "a backup that ./run backup made"
    try:
        with closing(sqlite3.connect(f"{file.resolve().as_uri()}?mode=ro", uri=True)) as opened:
            faults = [row[0] for row in opened.execute("PRAGMA integrity_check(1)")]
            loose = opened.execute("PRAGMA foreign_key_check").fetchone()
            version = opened.execute("SELECT max(version) FROM fourply_schema").fetchone()[0]
    except sqlite3.Error as bad:
        raise BadFile(file.name, str(bad), wanted) from bad
    except UnicodeDecodeError as bad:  # of SQLite's own sentence, where the damage that it repeats is no text
        raise BadFile(file.name, DAMAGED, wanted) from bad
    if faults != ["ok"] or loose is not None or not version:
        raise BadFile(file.name, f"a damaged database ({faults[0]})", wanted)


def restore(target: Connection, file: Path) -> None:
    """Put every row as a backup has it, within the transaction that is open; raises BadFile, NewerStore."""
    if not file.is_file():
        raise BadFile(file.name, "no such file", "a backup that ./run backup made")
    verify(file)
    with TemporaryDirectory() as folder:
        copy = Path(folder) / "shop.sqlite"
        shutil.copyfile(file, copy)
        with _opened(copy) as backup:
            with backup.writing() as connection:
                migrate(connection)
            with backup.reading() as source:
                _check(source, file.name)
                for table in reversed(KEPT):
                    target.execute(table.delete())
                transfer(source, target)


def backups_in(folder: Path) -> tuple[BackupFile, ...]:
    """Return the backups in a folder, the newest first; what is called otherwise is none."""
    found = [_named(path) for path in folder.glob("shop-*.sqlite")]
    return tuple(sorted((each for each in found if each), key=lambda each: each.made, reverse=True))


def _named(path: Path) -> BackupFile | None:
    stamp, _, why = path.stem.removeprefix("shop-").partition("-")
    try:
        made = datetime.strptime(stamp, _STAMP).replace(tzinfo=UTC)
        return BackupFile(path.name, made, why.replace("-", " "), path.stat().st_size)
    except (ValueError, OSError):
        return None


def keep_backup(folder: Path, data: bytes, at: datetime) -> Path:
    """Keep a backup that somebody brings, once it is seen to be whole; raises BadFile, OSError."""
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / f"shop-{at.astimezone(UTC).strftime(_STAMP)}-brought-in.sqlite"
    part = path.with_suffix(".part")
    try:
        part.write_bytes(data)
        verify(part)
        part.replace(path)
    except BadFile as bad:
        raise BadFile("the file", bad.found, bad.expected) from bad
    finally:
        part.unlink(missing_ok=True)
    return path


def contents_of(connection: Connection) -> Contents:
    """Return what a database holds, as its tables are today."""
    used = (RECORD.c.gone.is_(False), RECORD.c.archived.is_(False))
    kinds = connection.execute(select(RECORD.c.kind, func.count()).where(*used).group_by(RECORD.c.kind))
    counts = {str(kind): int(count) for kind, count in kinds}
    last = connection.execute(select(ENTRY.c.at, ENTRY.c.label).order_by(ENTRY.c.seq.desc()).limit(1)).first()
    changed, label = (datetime.fromisoformat(last[0]), str(last[1])) if last else (None, "")
    return Contents(counts.get("show", 0), counts.get("work", 0), changed, label)


def look_into(file: Path) -> Contents:
    """Return what a backup holds; raises BadFile, NewerStore."""
    verify(file)
    with TemporaryDirectory() as folder:
        copy = Path(folder) / "shop.sqlite"
        shutil.copyfile(file, copy)
        with _opened(copy) as backup:
            with backup.writing() as connection:
                migrate(connection)
            with backup.reading() as connection:
                return contents_of(connection)


def _check(source: Connection, name: str) -> None:
    """Raise BadFile for a row that cannot be read."""
    try:
        for row in source.execute(select(RECORD)).mappings():
            record_of(row)
        for table in KEPT:
            for _ in source.execute(select(table)):
                pass
    except (DatabaseError, ValueError) as bad:
        raise BadFile(name, str(bad), "a backup whose records can be read") from bad


@contextmanager
def _opened(file: Path) -> Iterator[Engines]:
    engines = Engines(sqlite_url(file))
    try:
        yield engines
    finally:
        engines.close()
