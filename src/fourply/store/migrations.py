"""From any earlier schema to the one of today, step by step, each step one transaction.

A step is a number and a function that is given a connection; it is never changed after it has been released. What is
written here uses no table of `tables`, which are those of today; columns that follow from values are filled anew when
all steps are done. A database that is newer than this program is refused, and left as it is.
"""

from __future__ import annotations

from collections.abc import Callable
from types import MappingProxyType

from sqlalchemy import Connection, inspect, text

from fourply.errors import NewerStore
from fourply.store.reindex import reindex

type Step = Callable[[Connection], None]


def _run(connection: Connection, *statements: str) -> None:
    """Execute statements; `{text}` is the type of a text that sorts by code point."""
    text_type = 'TEXT COLLATE "C"' if connection.dialect.name == "postgresql" else "TEXT"
    for statement in statements:
        connection.execute(text(statement.replace("{text}", text_type)))


def _records_and_their_history(connection: Connection) -> None:
    _run(
        connection,
        "CREATE TABLE record (id {text} NOT NULL PRIMARY KEY, kind {text} NOT NULL, scope {text} NOT NULL,"
        " version BIGINT NOT"
        " NULL, archived BOOLEAN NOT NULL, gone BOOLEAN NOT NULL, changed {text} NOT NULL, value {text} NOT NULL, name"
        " {text} NOT NULL, title {text} NOT NULL, maker {text} NOT NULL, due {text} NOT NULL, state {text} NOT NULL,"
        " place BIGINT NOT NULL, handle {text} UNIQUE)",
        "CREATE INDEX record_by_place ON record (kind, scope, place, id)",
        "CREATE TABLE entry (seq BIGINT NOT NULL PRIMARY KEY, scope {text} NOT NULL, at {text} NOT NULL,"
        " who {text} NOT NULL,"
        " label {text} NOT NULL, act {text} NOT NULL, of BIGINT, top BIGINT, redo BIGINT, below BIGINT)",
        "CREATE INDEX entry_by_scope ON entry (scope, seq)",
        "CREATE TABLE change (seq BIGINT NOT NULL REFERENCES entry (seq), place INTEGER NOT NULL, record {text} NOT"
        " NULL REFERENCES record (id), version BIGINT NOT NULL, before {text}, after {text}, PRIMARY KEY (seq, place))",
        "CREATE INDEX change_by_record ON change (record, seq)",
    )


def _keys_of_requests(connection: Connection) -> None:
    _run(
        connection,
        "CREATE TABLE answer (key {text} NOT NULL PRIMARY KEY, request {text} NOT NULL,"
        " seq BIGINT NOT NULL REFERENCES entry"
        " (seq))",
    )


def _words_to_search(connection: Connection) -> None:
    _run(
        connection,
        "ALTER TABLE record ADD COLUMN words {text} NOT NULL DEFAULT ''",
        "CREATE INDEX record_by_name ON record (kind, scope, name, id)",
    )


STEPS: MappingProxyType[int, Step] = MappingProxyType(
    {1: _records_and_their_history, 2: _keys_of_requests, 3: _words_to_search}
)
NEWEST = max(STEPS)


def version_of(connection: Connection) -> int:
    """Return the schema of a database, 0 for an empty one."""
    if not inspect(connection).has_table("fourply_schema"):
        return 0
    return int(connection.execute(text("SELECT max(version) FROM fourply_schema")).scalar() or 0)


def migrate(connection: Connection, to: int = NEWEST) -> None:
    """Bring a database up to a schema within the transaction that is open; raises NewerStore, changing nothing."""
    found = version_of(connection)
    if found > NEWEST:
        raise NewerStore(found, NEWEST)
    if not found:
        _run(connection, "CREATE TABLE IF NOT EXISTS fourply_schema (version INTEGER NOT NULL PRIMARY KEY)")
    for number in range(found + 1, to + 1):
        STEPS[number](connection)
        connection.execute(text("INSERT INTO fourply_schema (version) VALUES (:version)"), {"version": number})
    if 0 < found < to == NEWEST:
        reindex(connection)
