"""Rows to values and back, through the one codec."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from datetime import UTC, date, datetime
from functools import lru_cache

from sqlalchemy import RowMapping

from fourply.app.ports_store import SHOP, Act, Change, Entry, Kept, Kind, Record, State
from fourply.files.kept import Facts, facts, folded, from_document, kind_of, to_document

type Values = dict[str, object]

_NO_DAY = "9999-99-99"
"""Sorts after every day."""
_DIGITS = re.compile(r"\d+")
_LONGEST = 1000


def clean(text: str) -> str:
    """Return text as every database takes it: no NUL, nothing that is no Unicode character.

    >>> clean(f"a{chr(0)}b")
    'a�b'
    """
    return text.replace("\0", "�").encode("utf-8", "replace").decode("utf-8")


def sort_key(text: str) -> str:
    """Return what text is sorted by: case and accents do not count, numbers sort as numbers.

    >>> sorted(["A-10", "a-9"], key=sort_key)
    ['a-9', 'A-10']
    """
    return clean(_DIGITS.sub(lambda found: found[0].rjust(9, "0"), folded(text[:_LONGEST])))


def instant(at: datetime) -> str:
    """Return an instant as it is kept."""
    return at.astimezone(UTC).isoformat(timespec="microseconds")


def value_text(value: Kept) -> str:
    """Return a value as it is kept."""
    return dumped(to_document(value))


def state_text(text: str, *, archived: bool) -> str:
    """Return a state as it stands in the history, from the text of its value."""
    return f'{{"archived":{"true" if archived else "false"},"value":{text}}}'


def state_parts(state: str) -> tuple[str, bool]:
    """Return the text of the value of a state in the history, and whether it was archived."""
    data = json.loads(state)
    return dumped(data["value"]), bool(data["archived"])


def dumped(data: object) -> str:
    """Return data as JSON, as short as can be."""
    return json.dumps(data, separators=(",", ":"))


def state_of(kind: Kind, state: str | None, ident: str) -> State | None:
    """Return a state out of the history."""
    if state is None:
        return None
    text, archived = state_parts(state)
    return State(value_of(kind, text, ident), archived)


def indexed(value: Kept, scope: str) -> Values:
    """Return the columns that follow from a value, but the handle."""
    found = facts(value)
    return {
        "name": sort_key(found.name),
        "title": sort_key(found.title),
        "maker": sort_key(found.maker),
        "due": day(found.due),
        "state": clean(found.state),
        "place": found.place,
        "words": clean(folded("\n".join((found.name, found.title, found.maker, *found.words)))),
        "handle": handle(found, kind_of(value), scope),
    }


def day(due: date | None) -> str:
    """Return a day as it is sorted, none as the last of all."""
    return _NO_DAY if due is None else due.isoformat()


def handle(found: Facts, kind: Kind, scope: str) -> str | None:
    """Return what no other live record may have."""
    where = SHOP if kind is Kind.SHOW else scope
    return clean(f"{where}/{kind.value}/{found.unique}") if found.unique else None


def record_row(record: Record, text: str, *, gone: bool = False) -> Values:
    """Return the row of a record, its value as text. One that is archived or gone holds no name against others."""
    row: Values = {
        "id": record.id,
        "kind": record.kind.value,
        "scope": record.scope,
        "version": record.version,
        "archived": record.archived,
        "gone": gone,
        "changed": instant(record.changed),
        "value": text,
        **indexed(record.value, record.scope),
    }
    if record.archived or gone:
        row["handle"] = None
    return row


def record_of(row: Mapping[str, object] | RowMapping) -> Record:
    """Return the record of a row."""
    kind, ident = Kind(row["kind"]), str(row["id"])
    return Record(
        ident,
        kind,
        str(row["scope"]),
        int(str(row["version"])),
        bool(row["archived"]),
        value_of(kind, str(row["value"]), ident),
        datetime.fromisoformat(str(row["changed"])),
    )


@lru_cache(maxsize=12_000)
def value_of(kind: Kind, text: str, ident: str) -> Kept:
    """Return a value from its text; none ever changes, so what was read once is not read again."""
    return from_document(kind, json.loads(text), f"record {ident}")


def entry_of(row: Mapping[str, object] | RowMapping) -> Entry:
    """Return the entry of a row."""
    of = row["of"]
    return Entry(
        int(str(row["seq"])),
        str(row["scope"]),
        datetime.fromisoformat(str(row["at"])),
        str(row["who"]),
        str(row["label"]),
        Act(row["act"]),
        None if of is None else int(str(of)),
    )


def change_of(entry: Entry, kind: Kind, row: Mapping[str, object] | RowMapping) -> Change:
    """Return the change of a row, its kind being that of its record."""
    ident, before, after = str(row["record"]), row["before"], row["after"]
    return Change(
        entry,
        ident,
        kind,
        int(str(row["version"])),
        state_of(kind, None if before is None else str(before), ident),
        state_of(kind, None if after is None else str(after), ident),
    )
