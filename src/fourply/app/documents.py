"""What a shop keeps, as JSON for whoever is not here: records, what they were, their schemas, both ways.

The values themselves are written by the one codec; here stand the few members around them.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from functools import cache
from typing import cast

from fourply.app.ports_store import Change, Entry, Kept, Kind, Page, Record
from fourply.files.codec import Json, decode, encode, json_schema
from fourply.files.kept import VALUES, KeptPlan, facts
from fourply.files.kinds import KINDS

MATERIALS: Mapping[str, str] = {kind.table: kind.value.__name__ for kind in KINDS}
"""What the values of each table of materials are called in schemas."""
_APART: Mapping[type[Kept], tuple[str, ...]] = {KeptPlan: ("document", "answers")}
"""What is too long to stand in every list: asked for by itself, or of use to this program alone."""


def record_json(record: Record) -> dict[str, Json]:
    """Return a record as JSON: what it is found by, its version, its value."""
    known = facts(record.value)
    return {
        "id": record.id,
        "kind": record.kind.value,
        "scope": record.scope,
        "version": record.version,
        "archived": record.archived,
        "changed": instant(record.changed),
        "name": known.name,
        "title": known.title,
        "value": value_json(record.value),
    }


def value_json(value: Kept) -> Json:
    """Return the value of a record as JSON."""
    apart = _APART.get(type(value), ())
    found = encode(value)
    if isinstance(found, dict):
        found = {name: each for name, each in found.items() if name not in apart}
    return found


def state_json(value: object) -> Json:
    """Return what was to be kept as JSON, None for what is no value of a record."""
    return value_json(cast("Kept", value)) if type(value) in VALUES.values() else None


def read_value(kind: Kind, json: object) -> Kept:
    """Return the value that JSON states for a kind of record; raises BadFile with the place of the first fault."""
    return decode(VALUES[kind], json, "value")


def entry_json(entry: Entry) -> dict[str, Json]:
    """Return an entry of the history as JSON."""
    return {
        "seq": entry.seq,
        "scope": entry.scope,
        "at": instant(entry.at),
        "who": entry.who,
        "label": entry.label,
        "act": entry.act.value,
        "of": entry.of,
    }


def changes_json(page: Page[Change]) -> dict[str, Json]:
    """Return a page of changes as JSON."""
    return {"items": [_change(each) for each in page.items], "total": page.total, "next": page.next}


def _change(change: Change) -> dict[str, Json]:
    return {
        "entry": entry_json(change.entry),
        "record": change.record,
        "kind": change.kind.value,
        "version": change.version,
        "before": None if change.before is None else _state(change.before.value, archived=change.before.archived),
        "after": None if change.after is None else _state(change.after.value, archived=change.after.archived),
    }


def _state(value: Kept, *, archived: bool) -> dict[str, Json]:
    return {"archived": archived, "value": value_json(value)}


def instant(at: datetime) -> str:
    """Return an instant as text, in UTC.

    >>> from datetime import UTC
    >>> instant(datetime(2026, 3, 14, 9, 30, tzinfo=UTC))
    '2026-03-14T09:30:00Z'
    """
    return at.isoformat().replace("+00:00", "Z")


def name_of(kind: Kind) -> str:
    """Return what the values of a kind are called in schemas."""
    return VALUES[kind].__name__


@cache
def schemas() -> Mapping[str, Json]:
    """Return the JSON Schema of every kind of value and of all that they are made of, by name.

    A reference to another reads `#/$defs/Name`.
    """
    found: dict[str, Json] = {}
    for kind in VALUES.values():
        document = json_schema(kind)
        found |= cast("dict[str, Json]", document["$defs"])
    for kind, apart in _APART.items():
        schema = cast("dict[str, dict[str, Json]]", found[kind.__name__])
        for name in apart:
            del schema["properties"][name]
        schema["required"] = [each for each in schema["required"] if each not in apart]  # type: ignore[assignment]
    return found
