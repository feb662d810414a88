"""What the use cases need of whatever keeps a shop: records, changes to them, their history.

Every kept decision is a record. Records change only by `commit`, several at once, in one transaction that is one entry
of an append-only history. Undo is linear in each scope (a show, or the shop): it takes back the last entry that still
stands, and is an entry itself; redo brings back the last one taken back, until something new is done.
"""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass
from datetime import datetime
from enum import Enum
from pathlib import Path
from typing import Protocol

from fourply.files.kept import SHOP, Kept, Kind

__all__ = ["SHOP", "Act", "Change", "Done", "Entry", "Kept", "Kind", "Note", "Page", "Put", "Query", "Record"]
__all__ += ["BackupFile", "Contents", "Sort", "State", "Store", "Undoable"]


@dataclass(frozen=True, slots=True)
class Record:
    """One kept decision. `scope` is the id of its show, a show's own being its own id, or SHOP.

    `version` grows by one with each change, also by undo. `changed` is the instant of the last one, in UTC.
    """

    id: str
    kind: Kind
    scope: str
    version: int
    archived: bool
    value: Kept
    changed: datetime


@dataclass(frozen=True, slots=True)
class Put:
    """A record as it is to be. `expected` is the version that the caller saw, None to create it.

    The kind of an existing record stays, and so does its scope. `archived` puts it out of lists; nothing is deleted.
    """

    id: str
    value: Kept
    expected: int | None = None
    archived: bool = False


@dataclass(frozen=True, slots=True)
class Note:
    """What goes into the history with a change: whose scope, who, what it is called.

    A `key` makes it safe to ask again: the second time nothing is done and the first answer is given. `request` says
    what was asked; the same key with another request is refused. `last` is for undo and redo: the last entry of the
    scope that the caller saw, None for whatever it is.
    """

    scope: str
    who: str
    label: str
    key: str = ""
    request: str = ""
    last: int | None = None


class Act(Enum):
    """What an entry of the history did."""

    DO = "do"
    UNDO = "undo"
    REDO = "redo"


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry of the history: a transaction. `seq` only grows; `of` is the entry that was undone or redone."""

    seq: int
    scope: str
    at: datetime
    who: str
    label: str
    act: Act
    of: int | None = None


@dataclass(frozen=True, slots=True)
class State:
    """A record as it was or became."""

    value: Kept
    archived: bool


@dataclass(frozen=True, slots=True)
class Change:
    """What an entry did to one record, `version` being what it had after; None where there was no record."""

    entry: Entry
    record: str
    kind: Kind
    version: int
    before: State | None
    after: State | None


@dataclass(frozen=True, slots=True)
class Done:
    """What a commit came to: its entry, the records as they then were (those it took away are left out).

    `repeated` says that the key was known and nothing was done this time.
    """

    entry: Entry
    records: tuple[Record, ...]
    repeated: bool = False

    @property
    def record(self) -> Record:
        """The first of the records."""
        return self.records[0]


class Sort(Enum):
    """What a list is sorted by; numbers within names count as numbers, undated records come last."""

    PLACE = "place"
    NAME = "name"
    TITLE = "title"
    MAKER = "maker"
    DUE = "due"
    STATE = "state"
    CHANGED = "changed"


@dataclass(frozen=True, slots=True)
class Query:
    """Which records are wanted, and which page of them.

    `scope` None is every scope. `text` is searched in names, titles, makers and notes, every word of it, whatever case
    and accents. `archived` None takes both. `after` is what the page before gave as `next`.
    """

    kind: Kind
    scope: str | None = None
    text: str = ""
    maker: str = ""
    state: str = ""
    name: str = ""
    archived: bool | None = False
    sort: Sort = Sort.PLACE
    descending: bool = False
    after: str = ""
    limit: int = 50


@dataclass(frozen=True, slots=True)
class Page[T]:
    """A page of a list: its items, how many there are in all, where the next page begins ("" for none)."""

    items: tuple[T, ...]
    total: int
    next: str = ""


@dataclass(frozen=True, slots=True)
class Undoable:
    """How a scope stands: its last entry (0 for none), what undo would take back, what redo would bring back."""

    last: int
    undo: Entry | None
    redo: Entry | None


@dataclass(frozen=True, slots=True)
class BackupFile:
    """A backup: its name, when it was made (UTC), why ("" for the one of a day or by hand), its bytes."""

    name: str
    made: datetime
    why: str
    size: int


@dataclass(frozen=True, slots=True)
class Contents:
    """What a shop or a backup holds: how many shows and works in use, its last change and what that was."""

    shows: int
    works: int
    changed: datetime | None
    label: str


class Pictures(Protocol):
    """Keeps the bytes of pictures by their content."""

    def keep(self, data: bytes) -> str:
        """Keep bytes and return their SHA-256 in hex; the same bytes are kept once."""

    def read(self, content: str) -> bytes:
        """Return the bytes of a hash; raises Unknown."""


class Store(Protocol):
    """Keeps a shop. Every method is one transaction; what `commit` returned for is on disk.

    Where the database cannot be used now, each of them raises Unavailable.
    """

    @property
    def pictures(self) -> Pictures:
        """The pictures that lie beside the records."""

    def snapshot(self) -> AbstractContextManager[None]:
        """Let everything that this thread reads meanwhile see one state of the shop, whatever others change."""

    def read(self, record: str) -> Record:
        """Return a record, archived or not; raises Unknown."""

    def find(self, query: Query) -> Page[Record]:
        """Return a page of a list; raises BadInput for a page that there is not."""

    def every(self, kind: Kind, scope: str, *, archived: bool | None = False) -> tuple[Record, ...]:
        """Return all records of a kind in a scope, by place, then id."""

    def commit(self, puts: Sequence[Put], note: Note) -> Done:
        """Change or create records together, or none of them.

        Raises Stale where one has another version than expected, Taken where a name is, Unknown for a record that is
        not in the scope of the note, KeyReused for a known key with another request.
        """

    def answered(self, note: Note) -> Done | None:
        """Return what was done when its key was first given, None for one that is new; raises KeyReused."""

    def undo(self, note: Note) -> Done:
        """Take back the last entry of the scope that stands; raises NothingToUndo, Stale after another entry."""

    def redo(self, note: Note) -> Done:
        """Bring back the last entry of the scope that was taken back; raises as undo does."""

    def undoable(self, scope: str) -> Undoable:
        """Return how a scope stands."""

    def history(self, scope: str | None = None, *, before: int | None = None, limit: int = 50) -> Page[Entry]:
        """Return entries, the newest first; `before` is the seq that the page before gave as `next`."""

    def since(self, seq: int, limit: int = 500) -> tuple[Entry, ...]:
        """Return entries of every scope after a seq, the oldest first: what others have done meanwhile."""

    def changes(self, seq: int, *, after: int | None = None, limit: int = 50) -> Page[Change]:
        """Return a page of what an entry did, in its order; `after` is `next` of the page before. Raises Unknown."""

    def states(self, record: str, *, before: int | None = None, limit: int = 50) -> Page[Change]:
        """Return a page of what was ever done to a record, the last first; `before` is `next` of the page before.

        Raises Unknown.
        """

    def state(self, record: str, version: int) -> Change:
        """Return what gave a record one of its versions; raises Unknown where it never had that."""

    def changed_since(self, scope: str, seq: int, but: Kind) -> bool:
        """Tell whether anything of a scope but records of one kind has changed since an entry of it."""

    def backup(self) -> Path:
        """Write a backup, verify it by opening it, and return its file; raises CannotBackUp."""

    def backup_if_due(self) -> Path | None:
        """Write a backup unless there is one of the last day, or nothing to keep; returns its file."""

    def forget_keys(self, before: datetime) -> int:
        """Forget the keys of what was asked before an instant; returns how many.

        Who asks again by such a key is not known any more, and what is asked is done again.
        """

    def restore(self, file: Path) -> Path | None:
        """Put everything back as a backup has it; returns the backup made of what was there, None if nothing was.

        Raises BadFile for what is no backup, NewerStore for one that a newer fourply made; nothing is changed then.
        """

    def backups(self) -> tuple[BackupFile, ...]:
        """Return the backups that there are, the newest first."""

    def backup_file(self, name: str) -> Path:
        """Return the file of a backup by its name; raises Unknown."""

    def keep_backup(self, data: bytes) -> Path:
        """Keep a backup that somebody brings, once it is seen to be whole; raises BadFile."""

    def contents(self, backup: Path | None = None) -> Contents:
        """Return what a backup holds, or the shop now; raises BadFile, NewerStore."""

    def export(self, file: Path) -> Path:
        """Write the whole shop as plain files, packed in one; returns the file. Raises OSError."""

    def bring_in(self, file: Path) -> int:
        """Fill this store, which must be empty, from an export; returns how many records. Raises BadFile."""

    def close(self) -> None:
        """Let go of the database."""
