"""Reading lists of records and the history, within a transaction that is open."""

from __future__ import annotations

import base64
import json
from typing import Any

from sqlalchemy import ColumnElement, Connection, RowMapping, Select, and_, func, or_, select

from fourply.app.ports_store import Change, Done, Entry, Kind, Page, Query, Record, Sort, Undoable
from fourply.errors import BadInput, Unknown
from fourply.files.kept import folded
from fourply.store.rows import change_of, clean, entry_of, record_of, sort_key
from fourply.store.tables import CHANGE, ENTRY, RECORD
from fourply.store.writing import last_of

MOST = 1000
"""The longest page."""
_LARGEST = 2**53
"""No number of an entry or of a place is above this; databases refuse what is much larger."""


def read(connection: Connection, record: str) -> Record:
    """Return a record; raises Unknown."""
    wanted = select(RECORD).where(RECORD.c.id == clean(record), RECORD.c.gone.is_(False))
    row = connection.execute(wanted).mappings().first()
    if row is None:
        raise Unknown("record", record, ())
    return record_of(row)


def every(connection: Connection, kind: Kind, scope: str, *, archived: bool | None) -> tuple[Record, ...]:
    """Return all records of a kind in a scope, by place, then id."""
    wanted = select(RECORD).where(RECORD.c.kind == kind.value, RECORD.c.scope == clean(scope), RECORD.c.gone.is_(False))
    if archived is not None:
        wanted = wanted.where(RECORD.c.archived.is_(archived))
    rows = connection.execute(wanted.order_by(RECORD.c.place, RECORD.c.id)).mappings()
    return tuple(map(record_of, rows))


def find(connection: Connection, query: Query) -> Page[Record]:
    """Return a page of a list; raises BadInput for a page that there is not."""
    _check_limit(query.limit)
    matching = and_(*_conditions(query))
    total = int(connection.execute(select(func.count()).select_from(RECORD).where(matching)).scalar() or 0)
    column = RECORD.c[query.sort.value]
    wanted = select(RECORD).where(matching)
    if query.after:
        wanted = wanted.where(_beyond(query, column))
    order = (column.desc(), RECORD.c.id.desc()) if query.descending else (column, RECORD.c.id)
    rows = connection.execute(wanted.order_by(*order).limit(query.limit + 1)).mappings().all()
    shown = rows[: query.limit]
    more = _cursor(query.sort, shown[-1]) if len(rows) > query.limit else ""
    return Page(tuple(map(record_of, shown)), total, more)


def _conditions(query: Query) -> list[ColumnElement[bool]]:
    found = [RECORD.c.kind == query.kind.value, RECORD.c.gone.is_(False)]
    if query.scope is not None:
        found.append(RECORD.c.scope == clean(query.scope))
    if query.archived is not None:
        found.append(RECORD.c.archived.is_(query.archived))
    found += [RECORD.c.words.contains(word, autoescape=True) for word in clean(folded(query.text[:200])).split()]
    if query.maker:
        found.append(RECORD.c.maker == sort_key(query.maker))
    if query.name:
        found.append(RECORD.c.name == sort_key(query.name))
    if query.state:
        found.append(RECORD.c.state == clean(query.state))
    return found


def _beyond(query: Query, column: ColumnElement[object]) -> ColumnElement[bool]:
    """Return the condition for everything that comes after the last record of the page before."""
    value, ident = _place_of(query)
    if query.descending:
        return or_(column < value, and_(column == value, RECORD.c.id < ident))
    return or_(column > value, and_(column == value, RECORD.c.id > ident))


def _cursor(sort: Sort, row: RowMapping) -> str:
    return base64.urlsafe_b64encode(json.dumps([sort.value, row[sort.value], row["id"]]).encode()).decode()


def _place_of(query: Query) -> tuple[int | str, str]:
    try:
        sort, value, ident = json.loads(base64.urlsafe_b64decode(query.after.encode()))
    except (ValueError, TypeError, RecursionError):
        sort, value, ident = "", "", ""
    kind = int if query.sort is Sort.PLACE else str
    is_right = sort == query.sort.value and type(value) is kind and isinstance(ident, str)
    if not is_right or (isinstance(value, int) and abs(value) > _LARGEST):
        raise BadInput(query.after, "what the page before gave as the next, under the same sorting")
    return (clean(value) if isinstance(value, str) else value), clean(ident)


# ── history ──────────────────────────────────────────────────────────────────────────────────────────────────────


def entry(connection: Connection, seq: int) -> Entry:
    """Return an entry; raises Unknown."""
    wanted = select(ENTRY).where(ENTRY.c.seq == seq)
    row = connection.execute(wanted).mappings().first() if 0 <= seq <= _LARGEST else None
    if row is None:
        raise Unknown("entry of the history", str(seq), ())
    return entry_of(row)


def history(connection: Connection, scope: str | None, before: int | None, limit: int) -> Page[Entry]:
    """Return a page of entries, the newest first."""
    _check_limit(limit)
    conditions = [] if scope is None else [ENTRY.c.scope == clean(scope)]
    total = int(connection.execute(select(func.count()).select_from(ENTRY).where(*conditions)).scalar() or 0)
    if before is not None:
        conditions.append(ENTRY.c.seq < max(0, min(before, _LARGEST)))
    wanted = select(ENTRY).where(*conditions).order_by(ENTRY.c.seq.desc()).limit(limit + 1)
    found = [entry_of(row) for row in connection.execute(wanted).mappings()]
    return Page(tuple(found[:limit]), total, str(found[limit - 1].seq) if len(found) > limit else "")


def since(connection: Connection, seq: int, limit: int) -> tuple[Entry, ...]:
    """Return entries of every scope after a seq, the oldest first."""
    wanted = (
        select(ENTRY)
        .where(ENTRY.c.seq > max(0, min(seq, _LARGEST)))
        .order_by(ENTRY.c.seq)
        .limit(max(0, min(limit, MOST)))
    )
    return tuple(entry_of(row) for row in connection.execute(wanted).mappings())


def changes(connection: Connection, of: Entry, after: int | None, limit: int) -> Page[Change]:
    """Return a page of what an entry did, in its order; raises BadInput for a page that there is not."""
    _check_limit(limit)
    matching = CHANGE.c.seq == of.seq
    total = int(connection.execute(select(func.count()).select_from(CHANGE).where(matching)).scalar() or 0)
    wanted = _changes(of).limit(limit + 1)
    if after is not None:
        wanted = wanted.where(CHANGE.c.place > max(-1, min(after, _LARGEST)))
    rows = connection.execute(wanted).mappings().all()
    found = tuple(change_of(of, Kind(row["kind"]), row) for row in rows[:limit])
    return Page(found, total, str(rows[limit - 1]["place"]) if len(rows) > limit else "")


def _changes(of: Entry) -> Select[Any]:
    wanted = select(CHANGE, RECORD.c.kind).join(RECORD, RECORD.c.id == CHANGE.c.record)
    return wanted.where(CHANGE.c.seq == of.seq).order_by(CHANGE.c.place)


def states(connection: Connection, record: str, before: int | None, limit: int) -> Page[Change]:
    """Return a page of what was ever done to a record, the last first; raises Unknown, BadInput as `changes` does."""
    _check_limit(limit)
    matching = CHANGE.c.record == clean(record)
    total = int(connection.execute(select(func.count()).select_from(CHANGE).where(matching)).scalar() or 0)
    if not total:
        raise Unknown("record", record, ())
    wanted = _states(record).order_by(CHANGE.c.seq.desc()).limit(limit + 1)
    if before is not None:
        wanted = wanted.where(CHANGE.c.version < max(0, min(before, _LARGEST)))
    rows = connection.execute(wanted).mappings().all()
    found = tuple(change_of(entry_of(row), Kind(row["kind"]), row) for row in rows[:limit])
    return Page(found, total, str(found[-1].version) if len(rows) > limit else "")


def state(connection: Connection, record: str, version: int) -> Change:
    """Return what gave a record a version; raises Unknown."""
    wanted = _states(record).where(CHANGE.c.version == version)
    row = connection.execute(wanted).mappings().first() if 0 < version <= _LARGEST else None
    if row is None:
        raise Unknown("version", str(version), ())
    return change_of(entry_of(row), Kind(row["kind"]), row)


def _states(record: str) -> Select[Any]:
    return (
        select(CHANGE, ENTRY, RECORD.c.kind)
        .join(ENTRY, ENTRY.c.seq == CHANGE.c.seq)
        .join(RECORD, RECORD.c.id == CHANGE.c.record)
        .where(CHANGE.c.record == clean(record))
    )


def changed_since(connection: Connection, scope: str, seq: int, but: Kind) -> bool:
    """Tell whether anything of a scope but records of one kind has changed since an entry of it."""
    wanted = (
        select(CHANGE.c.seq)
        .join(ENTRY, ENTRY.c.seq == CHANGE.c.seq)
        .join(RECORD, RECORD.c.id == CHANGE.c.record)
        .where(ENTRY.c.scope == clean(scope), ENTRY.c.seq > max(0, min(seq, _LARGEST)), RECORD.c.kind != but.value)
        .limit(1)
    )
    return connection.execute(wanted).first() is not None


def _check_limit(limit: int) -> None:
    if not 1 <= limit <= MOST:
        raise BadInput(str(limit), f"a page of 1 to {MOST}")


def undoable(connection: Connection, scope: str) -> Undoable:
    """Return how a scope stands."""
    last = last_of(connection, clean(scope))
    if last is None:
        return Undoable(0, None, None)
    undo = None if last["top"] is None else entry(connection, last["top"])
    redo = None if last["redo"] is None else entry(connection, entry(connection, last["redo"]).of or 0)
    return Undoable(last["seq"], undo, redo)


def done(connection: Connection, of: Entry) -> Done:
    """Return what an entry came to, the records as it left them."""
    found = [change_of(of, Kind(row["kind"]), row) for row in connection.execute(_changes(of)).mappings()]
    records = tuple(
        Record(each.record, each.kind, of.scope, each.version, each.after.archived, each.after.value, of.at)
        for each in found
        if each.after is not None
    )
    return Done(of, records, repeated=True)
