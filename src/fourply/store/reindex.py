"""The columns that follow from values, worked out anew: after a change in what a record is found by."""

from __future__ import annotations

import json

from sqlalchemy import Connection, text

from fourply.files.kept import Kind, from_document
from fourply.store.rows import indexed

_COLUMNS = ("name", "title", "maker", "due", "state", "place", "words", "handle")
_CHUNK = 1000


def reindex(connection: Connection) -> None:
    """Write the indexed columns of every record again, a thousand records at a time."""
    at_once = text(
        "SELECT id, kind, scope, archived, gone, value FROM record WHERE id > :after ORDER BY id LIMIT :most"
    )
    update = text(f"UPDATE record SET {', '.join(f'{name} = :{name}' for name in _COLUMNS)} WHERE id = :id")  # noqa: S608
    after = ""
    while rows := connection.execute(at_once, {"after": after, "most": _CHUNK}).mappings().all():
        after = rows[-1]["id"]
        connection.execute(update, [_found_by(dict(row)) for row in rows])


def _found_by(row: dict[str, object]) -> dict[str, object]:
    value = from_document(Kind(row["kind"]), json.loads(str(row["value"])), f"record {row['id']}")
    columns = {"id": row["id"], **indexed(value, str(row["scope"]))}
    if row["archived"] or row["gone"]:
        columns["handle"] = None
    return columns
