"""Writing an entry of the history and the records that it changes, within a transaction that is open."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from itertools import batched

from sqlalchemy import BindParameter, Connection, RowMapping, bindparam, func, select

from fourply.app.ports_store import SHOP, Act, Entry, Kind, Put, Record
from fourply.errors import Stale, Taken, Unknown
from fourply.files.kept import facts, kind_of
from fourply.store.rows import Values, instant, record_of, record_row, state_parts, state_text, value_of, value_text
from fourply.store.tables import ANSWER, CHANGE, ENTRY, RECORD

_CHUNK = 500
"""How many are named in one statement: every database takes so many."""

type Rows = Mapping[str, RowMapping]


@dataclass(frozen=True, slots=True)
class Step:
    """What is done to one record: the record as it will stand in its row, its value as text, the states in the history.

    Texts are passed on as they stand, since reading and writing values is what takes long.
    """

    record: Record
    text: str
    before: str | None
    after: str | None
    new: bool = False


@dataclass(frozen=True, slots=True)
class Stacks:
    """Where undo and redo of a scope stand after an entry; `below` is what lies under what the entry put on top."""

    top: int | None = None
    redo: int | None = None
    below: int | None = None


def rows_of(connection: Connection, records: Sequence[str]) -> Rows:
    """Return the rows of records by id; those that there are not are left out."""
    found = {}
    for some in batched(records, _CHUNK):
        for row in connection.execute(select(RECORD).where(RECORD.c.id.in_(some))).mappings():
            found[row["id"]] = row
    return found


def steps_of(puts: Sequence[Put], scope: str, at: datetime, rows: Rows) -> tuple[Step, ...]:
    """Return what puts do to the records as they are; raises Stale, Unknown, ValueError for a put that cannot be."""
    if len({put.id for put in puts}) != len(puts) or not puts:
        raise ValueError("a commit changes at least one record, and each of them once")
    return tuple(_step(put, scope, at, rows.get(put.id)) for put in puts)


def _step(put: Put, scope: str, at: datetime, row: RowMapping | None) -> Step:
    kind = kind_of(put.value)
    text = value_text(put.value)
    after = state_text(text, archived=put.archived)
    if row is None:
        if put.expected is not None:
            raise Unknown(kind.value, put.id, ())
        if kind is Kind.SHOW and scope != put.id:
            raise ValueError("a show is a record of its own scope")
        return Step(Record(put.id, kind, scope, 1, put.archived, put.value, at), text, None, after, new=True)
    if row["gone"] or row["scope"] != scope:
        raise Unknown(kind.value, put.id, ())
    was = record_of(row)
    if was.version != put.expected:
        raise Stale(put.id, put.expected, put.value, was)
    if was.kind is not kind:
        raise ValueError(f"a {was.kind.value} cannot become a {kind.value}")
    record = replace(was, version=was.version + 1, archived=put.archived, value=put.value, changed=at)
    return Step(record, text, state_text(row["value"], archived=was.archived), after)


def turned(row: RowMapping, at: datetime, target: str | None) -> Step:
    """Return the step that brings the record of a row to a state that it had, None for not being there."""
    record = record_of(row)
    now = state_text(row["value"], archived=record.archived)
    text, archived = (row["value"], record.archived) if target is None else state_parts(target)
    value = value_of(record.kind, text, record.id)
    new = replace(record, version=record.version + 1, archived=archived, value=value, changed=at)
    return Step(new, text, None if row["gone"] else now, target)


def last_of(connection: Connection, scope: str) -> RowMapping | None:
    """Return the row of the last entry of a scope."""
    wanted = select(ENTRY).where(ENTRY.c.scope == scope).order_by(ENTRY.c.seq.desc()).limit(1)
    return connection.execute(wanted).mappings().first()


def next_seq(connection: Connection) -> int:
    """Return the number of the next entry. Only who writes asks, and writers take turns."""
    return int(connection.execute(select(func.max(ENTRY.c.seq))).scalar() or 0) + 1


def write(connection: Connection, entry: Entry, stacks: Stacks, steps: Sequence[Step]) -> None:
    """Write an entry with its changes, and the records as they become; raises Taken."""
    connection.execute(
        ENTRY.insert(),
        {
            "seq": entry.seq,
            "scope": entry.scope,
            "at": instant(entry.at),
            "who": entry.who,
            "label": entry.label,
            "act": entry.act.value,
            "of": entry.of,
            "top": stacks.top,
            "redo": stacks.redo,
            "below": stacks.below,
        },
    )
    _write_records(connection, steps)
    connection.execute(CHANGE.insert(), [_change(entry.seq, place, step) for place, step in enumerate(steps)])


def mark(connection: Connection, at: datetime, label: str, after: int) -> None:
    """Write an entry that changes nothing, later than any other and than one that is not there any more.

    So numbers of entries never come twice, and whoever remembers something by them sees that all is different. What can
    be undone and redone stays as it is.
    """
    last = last_of(connection, SHOP)
    stacks = Stacks() if last is None else Stacks(last["top"], last["redo"])
    seq = max(next_seq(connection), after + 1)
    row = {"seq": seq, "scope": SHOP, "at": instant(at), "who": "", "label": label, "act": Act.DO.value, "of": None}
    connection.execute(ENTRY.insert(), row | {"top": stacks.top, "redo": stacks.redo, "below": stacks.below})


def _change(seq: int, place: int, step: Step) -> Values:
    return {
        "seq": seq,
        "place": place,
        "record": step.record.id,
        "version": step.record.version,
        "before": step.before,
        "after": step.after,
    }


def _write_records(connection: Connection, steps: Sequence[Step]) -> None:
    rows = [record_row(step.record, step.text, gone=step.after is None) for step in steps]
    old = [row for row, step in zip(rows, steps, strict=True) if not step.new]
    by_id = RECORD.c.id == bindparam("_id")
    if old:  # names are let go of first, so that two records may exchange theirs
        connection.execute(RECORD.update().where(by_id).values(handle=None), [{"_id": row["id"]} for row in old])
    _check_names(connection, steps, rows)
    if old:
        values: dict[str, BindParameter[object]] = {
            column.name: bindparam(column.name) for column in RECORD.c if column.name != "id"
        }
        connection.execute(RECORD.update().where(by_id).values(values), [{**row, "_id": row["id"]} for row in old])
    new = [row for row, step in zip(rows, steps, strict=True) if step.new]
    if new:
        connection.execute(RECORD.insert(), new)


def _check_names(connection: Connection, steps: Sequence[Step], rows: Sequence[Values]) -> None:
    """Raise Taken where two records would have one name."""
    values: dict[str, Record] = {
        str(row["handle"]): step.record for row, step in zip(rows, steps, strict=True) if row["handle"]
    }
    counts = Counter(str(row["handle"]) for row in rows if row["handle"])
    for name, holder in _held(connection, list(counts), counts, values):
        record = values[name]
        raise Taken(record.kind.value, facts(record.value).name, holder)


def _held(
    connection: Connection, names: Sequence[str], counts: Counter[str], values: Mapping[str, Record]
) -> Iterator[tuple[str, str]]:
    yield from ((name, values[name].id) for name, count in counts.items() if count > 1)
    for some in batched(names, _CHUNK):
        held = select(RECORD.c.handle, RECORD.c.id).where(RECORD.c.handle.in_(some))
        yield from ((name, ident) for name, ident in connection.execute(held))


def remember(connection: Connection, key: str, request: str, seq: int) -> None:
    """Keep what a key was answered with."""
    connection.execute(ANSWER.insert(), {"key": key, "request": request, "seq": seq})


def forget(connection: Connection, before: datetime) -> int:
    """Forget what was answered before an instant; returns how many answers."""
    old = select(func.max(ENTRY.c.seq)).where(ENTRY.c.at < instant(before)).scalar_subquery()
    return connection.execute(ANSWER.delete().where(ANSWER.c.seq <= old)).rowcount
