"""Keeping decisions: what every kind of record has in common.

Each function is one use case. What it changes is one entry of the history; what it returns for is kept.
"""

from __future__ import annotations

import os
import time
from collections.abc import Sequence
from dataclasses import dataclass, replace
from threading import Lock

from fourply.app.ports_store import SHOP, Change, Done, Kept, Kind, Note, Page, Put, Query, Record, Store
from fourply.bench.profile import Profile
from fourply.errors import BadInput, Unknown
from fourply.files.kept import (
    KeptMaterial,
    KeptOffcut,
    KeptPicture,
    KeptPlan,
    KeptShow,
    KeptTreatment,
    KeptWork,
    facts,
    kind_of,
)

_LETTERS = "0123456789abcdefghjkmnpqrstvwxyz"
_LONGEST = 400


@dataclass(frozen=True, slots=True)
class Desk:
    """Where somebody works: the store, who it is.

    A `key` makes what is asked for safe to ask again, `request` saying what it was (see `Note`).
    """

    store: Store
    who: str = ""
    key: str = ""
    request: str = ""

    def commit(self, puts: Sequence[Put], scope: str, label: str) -> Done:
        """Change records of one scope together."""
        return self.store.commit(puts, self.note(scope, label))

    def answered(self, scope: str) -> Done | None:
        """Return what was done when this was asked before, by its key; raises KeyReused."""
        return self.store.answered(self.note(scope, "")) if self.key else None

    def note(self, scope: str, label: str) -> Note:
        """Return what goes into the history."""
        return Note(scope, self.who, label[:_LONGEST], self.key, self.request)


class _Ids:
    """Numbers that only grow within this process, and that no other process makes: 48 bits of time, 80 of chance."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._last = 0

    def next(self) -> int:
        """Return the next number."""
        number = (time.time_ns() // 1_000_000 << 80) | int.from_bytes(os.urandom(10))
        with self._lock:
            if number <= self._last:  # within the same millisecond
                number = self._last + 1 + int.from_bytes(os.urandom(8))
            self._last = number
        return number


_IDS = _Ids()


def new_id() -> str:
    """Return an id that no other record has: 26 letters and digits, later ones sorting after earlier ones.

    >>> len(new_id())
    26
    """
    number = _IDS.next()
    return "".join(_LETTERS[number >> shift & 31] for shift in range(125, -1, -5))


def read(desk: Desk, record: str, kind: Kind) -> Record:
    """Return a record of a kind by its id; raises Unknown."""
    found = desk.store.read(record)
    if found.kind is not kind:
        raise Unknown(kind.value, record, ())
    return found


def find(desk: Desk, query: Query) -> Page[Record]:
    """Return a page of a list; raises BadInput for a page that there is not."""
    return desk.store.find(query)


def create(desk: Desk, scope: str, value: Kept) -> Record:
    """Keep something new in a scope: a show by its id, or SHOP; raises Taken, Unknown for no such show."""
    if scope != SHOP:
        read(desk, scope, Kind.SHOW)
    return desk.commit([Put(new_id(), value)], scope, f"new {called(value)}").record


def create_show(desk: Desk, show: KeptShow) -> Record:
    """Keep a new show, which is a scope of its own; raises Taken."""
    ident = new_id()
    return desk.commit([Put(ident, show)], ident, f"new {called(show)}").record


def change(desk: Desk, record: str, value: Kept, expected: int) -> Record:
    """Change a record from the version that the caller saw; raises Stale with both, Taken, Unknown."""
    found = read(desk, record, kind_of(value))
    put = Put(record, value, expected, found.archived)
    return desk.commit([put], found.scope, f"change {called(value)}").record


def archive(desk: Desk, record: str, expected: int, *, archived: bool = True) -> Record:
    """Put a record out of the lists, or back; raises Stale, Taken where another has its name by now, Unknown."""
    found = desk.store.read(record)
    label = f"{'archive' if archived else 'bring back'} {called(found.value)}"
    return desk.commit([Put(record, found.value, expected, archived)], found.scope, label).record


def copy(desk: Desk, record: str, name: str) -> Record:
    """Keep a copy of a record of no show's whole under another name; raises Taken, Unknown, BadInput for a show.

    A whole show is copied by `keep_shows.copy_show`.
    """
    found = desk.store.read(record)
    value = renamed(found.value, name)
    return desk.commit([Put(new_id(), value)], found.scope, f"copy {called(found.value)}").record


def renamed(value: Kept, name: str) -> Kept:
    """Return a value under another name; raises BadInput for what has none of its own, or where the name is blank."""
    if not name.strip():
        raise BadInput(name, "the name of the copy")
    match value:
        case KeptWork():
            return replace(value, listed=_numbered(value, name).listed)
        case KeptTreatment() | Profile():
            return replace(value, name=name)
        case KeptPlan():
            return replace(value, name=name, accepted=False, cut=False)
        case KeptMaterial():
            return replace(value, item=replace(value.item, name=name))
        case KeptOffcut():
            return replace(value, number=name)
        case _:
            raise BadInput(called(value), "something that can be copied by itself")


def _numbered(kept: KeptWork, number: str) -> KeptWork:
    listed = kept.listed
    work = replace(listed.work, id=number)
    return replace(kept, listed=replace(listed, work=work, own=replace(listed.own, name=f"work {number}")))


def called(value: Kept) -> str:
    """Return what a value is called in a sentence.

    >>> from fourply.files.kept import ShopSettings
    >>> called(ShopSettings("Weir Lane"))
    'settings Weir Lane'
    """
    kind = kind_of(value)
    name = value.name if isinstance(value, KeptPicture) else facts(value).name
    what = "rack piece" if kind is Kind.RACK else kind.value
    return f"{what} {name}".strip()


def take_back(desk: Desk, record: str, version: int, expected: int) -> Record:
    """Take a record back to the state of an earlier version, as a change of its own.

    Raises Unknown where it never had that version, BadInput where there was no record then; Stale, Taken.
    """
    earlier = desk.store.state(record, version)
    if earlier.after is None:
        raise BadInput(str(version), "a version in which there was such a record")
    state = earlier.after
    label = f"take back {called(state.value)} to version {version}"
    return desk.commit([Put(record, state.value, expected, state.archived)], earlier.entry.scope, label).record


def undo(desk: Desk, scope: str, last: int | None = None) -> Done:
    """Take back the last change of a scope that stands; raises NothingToUndo.

    `last` is the last entry of the scope that the caller saw: raises Stale where there is another by now.
    """
    return desk.store.undo(replace(desk.note(scope, ""), last=last))


def redo(desk: Desk, scope: str, last: int | None = None) -> Done:
    """Bring back the last change of a scope that was taken back; raises NothingToUndo, Stale as `undo` does."""
    return desk.store.redo(replace(desk.note(scope, ""), last=last))


def states(desk: Desk, record: str, *, before: int | None = None, limit: int = 50) -> Page[Change]:
    """Return a page of what was ever done to a record, the last first; raises Unknown."""
    return desk.store.states(record, before=before, limit=limit)


@dataclass(frozen=True, slots=True)
class Head:
    """A show by the few things that lists and tickets need of it."""

    record: Record
    show: KeptShow


def show_head(desk: Desk, show: str) -> Head:
    """Return the record of a show with its value; raises Unknown."""
    record = read(desk, show, Kind.SHOW)
    if not isinstance(record.value, KeptShow):
        raise Unknown(Kind.SHOW.value, show, ())
    return Head(record, record.value)
