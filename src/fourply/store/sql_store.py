"""The store on a SQL database."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from sqlalchemy import Connection, RowMapping, select

from fourply.app.ports_store import (
    Act,
    BackupFile,
    Change,
    Contents,
    Done,
    Entry,
    Kind,
    Note,
    Page,
    Put,
    Query,
    Record,
    Undoable,
)
from fourply.errors import KeyReused, NothingToUndo, Stale, Unknown
from fourply.store import reading, writing
from fourply.store.archive import bring_in, export
from fourply.store.backup import backups_in, contents_of, is_due, keep_backup, look_into, restore, write_backup
from fourply.store.engine import Engines
from fourply.store.migrations import NEWEST, migrate, version_of
from fourply.store.pictures import PictureFolder
from fourply.store.rows import clean
from fourply.store.tables import ANSWER, CHANGE, ENTRY
from fourply.store.writing import Stacks, Step


def _now() -> datetime:
    return datetime.now(UTC)


class SqlStore:
    """A shop in a database, its pictures and backups in a folder. See `app.ports_store.Store` for what it promises.

    `now` is the clock. Opening brings the database up to the schema of today, after a backup where it holds anything;
    raises NewerStore for one that is newer, Unavailable where it cannot be opened.
    """

    def __init__(self, url: str, folder: Path, now: Callable[[], datetime] = _now) -> None:
        folder.mkdir(parents=True, exist_ok=True)
        self._engines = Engines(url)
        self._now = now
        self._backups = folder / "backups"
        self.pictures = PictureFolder(folder / "pictures")
        try:
            self._bring_up_to_date()
        except BaseException:
            self._engines.close()
            raise

    def _bring_up_to_date(self) -> None:
        with self._engines.reading() as connection:
            found = version_of(connection)
        if 0 < found < NEWEST:
            write_backup(self._engines, self._backups, self._now(), f"before-{NEWEST}")
        if found != NEWEST:
            with self._engines.writing() as connection:
                migrate(connection)

    def close(self) -> None:
        """Let go of the database."""
        self._engines.close()

    # ── reading ──────────────────────────────────────────────────────────────────────────────────────────────────

    def snapshot(self) -> AbstractContextManager[None]:
        """Let everything that this thread reads meanwhile see one state of the shop."""
        return self._engines.snapshot()

    def read(self, record: str) -> Record:
        """Return a record."""
        with self._engines.reading() as connection:
            return reading.read(connection, record)

    def find(self, query: Query) -> Page[Record]:
        """Return a page of a list."""
        with self._engines.reading() as connection:
            return reading.find(connection, query)

    def every(self, kind: Kind, scope: str, *, archived: bool | None = False) -> tuple[Record, ...]:
        """Return all records of a kind in a scope."""
        with self._engines.reading() as connection:
            return reading.every(connection, kind, scope, archived=archived)

    def undoable(self, scope: str) -> Undoable:
        """Return how a scope stands."""
        with self._engines.reading() as connection:
            return reading.undoable(connection, scope)

    def history(self, scope: str | None = None, *, before: int | None = None, limit: int = 50) -> Page[Entry]:
        """Return entries, the newest first."""
        with self._engines.reading() as connection:
            return reading.history(connection, scope, before, limit)

    def since(self, seq: int, limit: int = 500) -> tuple[Entry, ...]:
        """Return entries after a seq, the oldest first."""
        with self._engines.reading() as connection:
            return reading.since(connection, seq, limit)

    def changes(self, seq: int, *, after: int | None = None, limit: int = 50) -> Page[Change]:
        """Return a page of what an entry did, in its order."""
        with self._engines.reading() as connection:
            return reading.changes(connection, reading.entry(connection, seq), after, limit)

    def states(self, record: str, *, before: int | None = None, limit: int = 50) -> Page[Change]:
        """Return a page of what was ever done to a record, the last first."""
        with self._engines.reading() as connection:
            return reading.states(connection, record, before, limit)

    def state(self, record: str, version: int) -> Change:
        """Return what gave a record one of its versions."""
        with self._engines.reading() as connection:
            return reading.state(connection, record, version)

    def changed_since(self, scope: str, seq: int, but: Kind) -> bool:
        """Tell whether anything of a scope but records of one kind has changed since an entry of it."""
        with self._engines.reading() as connection:
            return reading.changed_since(connection, scope, seq, but)

    def answered(self, note: Note) -> Done | None:
        """Return what was done when its key was first given."""
        with self._engines.reading() as connection:
            return _answered(connection, _cleaned(note))

    # ── changing ─────────────────────────────────────────────────────────────────────────────────────────────────

    def commit(self, puts: Sequence[Put], note: Note) -> Done:
        """Change or create records together, or none of them."""
        note = _cleaned(note)
        with self._engines.writing() as connection:
            known = _answered(connection, note)
            if known is not None:
                return known
            at = self._now()
            rows = writing.rows_of(connection, [put.id for put in puts])
            steps = writing.steps_of(puts, note.scope, at, rows)
            last = writing.last_of(connection, note.scope)
            seq = writing.next_seq(connection)
            below = None if last is None else last["top"]
            entry = Entry(seq, note.scope, at, note.who, note.label, Act.DO)
            return _written(connection, note, entry, Stacks(top=seq, below=below), steps)

    def undo(self, note: Note) -> Done:
        """Take back the last entry of the scope that stands."""
        return self._turn(_cleaned(note), Act.UNDO)

    def redo(self, note: Note) -> Done:
        """Bring back the last entry of the scope that was taken back."""
        return self._turn(_cleaned(note), Act.REDO)

    def _turn(self, note: Note, act: Act) -> Done:
        with self._engines.writing() as connection:
            known = _answered(connection, note)
            if known is not None:
                return known
            last = writing.last_of(connection, note.scope)
            _check_last(connection, note, last)
            of, stacks = _turning(connection, last, act)
            seq = writing.next_seq(connection)
            if act is Act.UNDO:
                stacks = replace(stacks, redo=seq)
            at = self._now()
            entry = Entry(seq, note.scope, at, note.who, note.label or of.label, act, of.seq)
            return _written(connection, note, entry, stacks, _back(connection, of, at, act))

    # ── the whole shop ───────────────────────────────────────────────────────────────────────────────────────────

    def backup(self) -> Path:
        """Write a backup, verify it by opening it, and return its file."""
        return write_backup(self._engines, self._backups, self._now(), "")

    def backup_if_due(self) -> Path | None:
        """Write a backup unless there is one of the last day, or nothing to keep; returns its file."""
        with self._engines.reading() as connection:
            is_empty = writing.next_seq(connection) == 1
        return None if is_empty or not is_due(self._backups, self._now()) else self.backup()

    def forget_keys(self, before: datetime) -> int:
        """Forget the keys of what was asked before an instant; returns how many."""
        with self._engines.writing() as connection:
            return writing.forget(connection, before)

    def restore(self, file: Path) -> Path | None:
        """Put everything back as a backup has it; returns the backup made of what was there, None if nothing was."""
        before = None
        with self._engines.writing() as connection:  # nobody changes anything between the backup and the restore
            newest = writing.next_seq(connection) - 1
            if newest:
                before = write_backup(self._engines, self._backups, self._now(), "before-restore")
            restore(connection, file)
            writing.mark(connection, self._now(), f"restore {file.name}", newest)
        return before

    def backups(self) -> tuple[BackupFile, ...]:
        """Return the backups that there are, the newest first."""
        return backups_in(self._backups)

    def backup_file(self, name: str) -> Path:
        """Return the file of a backup by its name; raises Unknown."""
        names = [each.name for each in self.backups()]
        if name not in names:
            raise Unknown("backup", name, tuple(names[:3]))
        return self._backups / name

    def keep_backup(self, data: bytes) -> Path:
        """Keep a backup that somebody brings, once it is seen to be whole; raises BadFile."""
        return keep_backup(self._backups, data, self._now())

    def contents(self, backup: Path | None = None) -> Contents:
        """Return what a backup holds, or the shop now; raises BadFile, NewerStore."""
        if backup is not None:
            return look_into(backup)
        with self._engines.reading() as connection:
            return contents_of(connection)

    def export(self, file: Path) -> Path:
        """Write the whole shop as plain files, packed in one; returns the file."""
        with self._engines.reading() as connection:
            return export(connection, self.pictures, file)

    def bring_in(self, file: Path) -> int:
        """Fill this store, which must be empty, from an export; returns how many records. Raises BadFile."""
        with self._engines.writing() as connection:
            return bring_in(connection, self.pictures, file)


def _cleaned(note: Note) -> Note:
    texts = {name: clean(getattr(note, name)) for name in ("scope", "who", "label", "key", "request")}
    return Note(**texts, last=note.last)


def _answered(connection: Connection, note: Note) -> Done | None:
    """Return what a key was answered with before; raises KeyReused where something else was asked."""
    if not note.key:
        return None
    row = connection.execute(select(ANSWER).where(ANSWER.c.key == note.key)).mappings().first()
    if row is None:
        return None
    if row["request"] != note.request:
        raise KeyReused(note.key)
    return reading.done(connection, reading.entry(connection, row["seq"]))


def _written(connection: Connection, note: Note, entry: Entry, stacks: Stacks, steps: Sequence[Step]) -> Done:
    writing.write(connection, entry, stacks, steps)
    if note.key:
        writing.remember(connection, note.key, note.request, entry.seq)
    return Done(entry, tuple(step.record for step in steps if step.after is not None))


def _check_last(connection: Connection, note: Note, last: RowMapping | None) -> None:
    """Raise Stale where the caller saw another entry as the last of the scope."""
    seq = 0 if last is None else last["seq"]
    if note.last is not None and note.last != seq:
        raise Stale(note.scope, note.last, None, None if last is None else reading.entry(connection, seq))


def _turning(connection: Connection, last: RowMapping | None, act: Act) -> tuple[Entry, Stacks]:
    """Return the entry that is to be undone or redone, and how the stacks stand after that.

    Every entry says what undo would take back after it (`top`, an entry that did something) and what redo would bring
    back (`redo`, an entry that undid something). Under `top` lies what that entry names as `below`; under `redo` the
    same. So nothing that was written is ever changed.
    """
    found = None if last is None else last["top" if act is Act.UNDO else "redo"]
    if last is None or found is None:
        raise NothingToUndo(act.value)
    row = connection.execute(select(ENTRY).where(ENTRY.c.seq == found)).mappings().one()
    if act is Act.UNDO:
        return reading.entry(connection, found), Stacks(top=row["below"], below=last["redo"])
    return reading.entry(connection, row["of"]), Stacks(top=row["of"], redo=row["below"])


def _back(connection: Connection, of: Entry, at: datetime, act: Act) -> tuple[Step, ...]:
    """Return the steps that take an entry back, or bring it back."""
    wanted = select(CHANGE).where(CHANGE.c.seq == of.seq).order_by(CHANGE.c.place)
    found = connection.execute(wanted).mappings().all()
    rows = writing.rows_of(connection, [each["record"] for each in found])
    state = "before" if act is Act.UNDO else "after"
    return tuple(writing.turned(rows[each["record"]], at, each[state]) for each in found)
