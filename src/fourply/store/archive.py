"""A whole shop as plain files, packed in one ZIP: JSON through the codec, pictures as they are.

`fourply.json` says what it is. Each folder holds one scope: `records.json` with every record, `history.json` with every
entry and what it changed. Keys of requests are not part of it.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from hashlib import sha256
from pathlib import Path
from struct import error as struct_error
from zipfile import ZIP_DEFLATED, BadZipFile, ZipFile, ZipInfo
from zlib import error as zlib_error

from sqlalchemy import Connection, Table, func, select
from sqlalchemy.exc import IntegrityError

from fourply.app.ports_store import SHOP, Act, Kind
from fourply.errors import BadFile, FourplyError
from fourply.files.codec import Json
from fourply.files.fields import Field
from fourply.files.kept import from_document
from fourply.store.pictures import PictureFolder
from fourply.store.rows import Values, clean, dumped, indexed, instant, state_text
from fourply.store.tables import CHANGE, ENTRY, RECORD

_SCHEMA = "fourply/export/1"
_HEAD = "fourply.json"
_MOST = 4 * 1024**3
_MOST_FILES = 200_000
_CHUNK = 1000
# What reading a ZIP raises for bytes that are none, or no longer (RuntimeError: one that asks for a password).
_SPOILT = (
    BadZipFile,
    EOFError,
    LookupError,
    OverflowError,
    OSError,
    RuntimeError,
    struct_error,
    ValueError,
    zlib_error,
)
_ENTRY = ("seq", "scope", "at", "who", "label", "act", "of", "top", "redo", "below")
_STACKS = ("of", "top", "redo", "below")


def export(connection: Connection, pictures: PictureFolder, file: Path) -> Path:
    """Write the whole shop into a file, which is there whole or not at all; returns it."""
    scopes = list(connection.execute(select(ENTRY.c.scope).distinct().order_by(ENTRY.c.scope)).scalars())
    part = file.with_name(file.name + ".part")
    file.parent.mkdir(parents=True, exist_ok=True)
    try:
        with part.open("wb") as stream:
            with ZipFile(stream, "w", ZIP_DEFLATED) as packed:
                packed.writestr(_HEAD, json.dumps({"schema": _SCHEMA, "scopes": len(scopes)}))
                for number, scope in enumerate(sorted(scopes, key=lambda each: (each != SHOP, each))):
                    _export_scope(connection, packed, scope, "shop" if scope == SHOP else f"show-{number:04}")
                for content in pictures.all():
                    packed.writestr(f"pictures/{content}", pictures.read(content))
            stream.flush()
            os.fsync(stream.fileno())
        return part.replace(file)
    finally:
        part.unlink(missing_ok=True)


def _export_scope(connection: Connection, packed: ZipFile, scope: str, folder: str) -> None:
    rows = connection.execute(select(RECORD).where(RECORD.c.scope == scope).order_by(RECORD.c.id)).mappings()
    keys = ("id", "kind", "version", "archived", "gone", "changed")
    records: list[Json] = [{key: row[key] for key in keys} | {"value": json.loads(row["value"])} for row in rows]
    packed.writestr(f"{folder}/records.json", json.dumps({"scope": scope, "records": records}, indent=1))
    entries = connection.execute(select(ENTRY).where(ENTRY.c.scope == scope).order_by(ENTRY.c.seq)).mappings()
    history: dict[int, dict[str, Json]] = {
        row["seq"]: {key: row[key] for key in _ENTRY if key != "scope"} | {"changes": []} for row in entries
    }
    wanted = select(CHANGE).join(ENTRY, ENTRY.c.seq == CHANGE.c.seq).where(ENTRY.c.scope == scope)
    for row in connection.execute(wanted.order_by(CHANGE.c.seq, CHANGE.c.place)).mappings():
        states: dict[str, Json] = {key: row[key] and json.loads(row[key]) for key in ("before", "after")}
        changes = history[row["seq"]]["changes"]
        if isinstance(changes, list):
            changes.append({"record": row["record"], "version": row["version"], **states})
    packed.writestr(f"{folder}/history.json", json.dumps({"scope": scope, "entries": [*history.values()]}, indent=1))


def bring_in(connection: Connection, pictures: PictureFolder, file: Path) -> int:
    """Fill an empty store from an export; returns how many records. Raises BadFile, with nothing changed."""
    if connection.execute(select(func.count()).select_from(RECORD)).scalar():
        raise BadFile(file.name, "this shop has records already", "an empty one: name another folder with --data")
    try:
        with ZipFile(file) as packed:
            return _bring_in(connection, pictures, packed, file.name)
    except FileNotFoundError:
        raise BadFile(file.name, "no such file", "a file that ./run export made") from None
    except FourplyError:
        raise
    except IntegrityError as bad:
        raise BadFile(file.name, "records and history that do not belong together", "an export as it was made") from bad
    except _SPOILT as bad:
        raise BadFile(file.name, str(bad), "a file that ./run export made") from bad


def _bring_in(connection: Connection, pictures: PictureFolder, packed: ZipFile, name: str) -> int:
    members = packed.infolist()
    if len(members) > _MOST_FILES or sum(each.file_size for each in members) > _MOST:
        raise BadFile(name, f"{len(members)} files", f"at most {_MOST_FILES} files and {_MOST // 1024**3} GB")
    head = _json(packed, _HEAD, name)
    if head["schema"].text() != _SCHEMA:
        raise head["schema"].fault(f"expected {_SCHEMA}: a newer fourply wrote this, and a newer one can read it")
    kept = [each for each in members if each.filename.endswith("/records.json")]
    told = [each for each in members if each.filename.endswith("/history.json")]
    if not len(kept) == len(told) == head["scopes"].whole():
        raise BadFile(name, f"{len(kept)} files of records, {len(told)} of history", f"{head['scopes'].value} of each")
    records = [row for each in kept for row in _records(packed, each)]
    history = [place for each in told for place in _history(packed, each)]
    history.sort(key=lambda each: int(str(each[0]["seq"])))
    _insert(connection, RECORD, records)
    _insert(connection, ENTRY, [entry for entry, _ in history])
    _insert(connection, CHANGE, [change for _, changes in history for change in changes])
    _check_history({str(row["id"]): row for row in records}, history, name)
    for each in members:
        if each.filename.startswith("pictures/"):
            _keep_picture(pictures, packed.read(each), each.filename, name)
    return len(records)


def _insert(connection: Connection, table: Table, rows: Sequence[Values]) -> None:
    for at in range(0, len(rows), _CHUNK):
        connection.execute(table.insert(), rows[at : at + _CHUNK])


def _json(packed: ZipFile, member: str, name: str) -> Field:
    try:
        return Field(f"{name}, {member}", json.loads(packed.read(member)))
    except (KeyError, ValueError) as bad:
        raise BadFile(f"{name}, {member}", str(bad), "JSON as ./run export writes it") from bad


def _records(packed: ZipFile, member: ZipInfo) -> Iterator[Values]:
    document = _json(packed, member.filename, str(packed.filename))
    scope = clean(document["scope"].text())
    for each in document["records"].items():
        kind = each["kind"]
        if kind.text() not in {known.value for known in Kind}:
            raise kind.fault(f"expected one of {', '.join(known.value for known in Kind)}")
        value = from_document(Kind(kind.value), each["value"].value, f"{each.file}: {each.place}")
        row: Values = {
            "id": clean(each["id"].text()),
            "kind": kind.value,
            "scope": scope,
            "version": each["version"].whole(least=1),
            "archived": each["archived"].flag(),
            "gone": each["gone"].flag(),
            "changed": _instant(each["changed"]),
            "value": dumped(each["value"].value),
            **indexed(value, scope),
        }
        if row["archived"] or row["gone"]:
            row["handle"] = None
        yield row


def _history(packed: ZipFile, member: ZipInfo) -> Iterator[tuple[Values, list[Values]]]:
    document = _json(packed, member.filename, str(packed.filename))
    scope = clean(document["scope"].text())
    for each in document["entries"].items():
        seq = each["seq"].whole(least=1)
        act = each["act"]
        if act.text() not in {known.value for known in Act}:
            raise act.fault("expected do, undo or redo")
        texts = {"at": _instant(each["at"]), **{key: clean(each[key].text()) for key in ("who", "label")}}
        stacks = {key: None if each[key].value is None else each[key].whole(least=1) for key in _STACKS}
        entry: Values = {"seq": seq, "scope": scope, **texts, "act": act.value, **stacks}
        yield entry, [_change(seq, place, change) for place, change in enumerate(each["changes"].items())]


def _instant(place: Field) -> str:
    try:
        return instant(datetime.fromisoformat(place.text()))
    except ValueError as bad:
        raise place.fault("expected an instant such as 2026-03-14T09:26:53.000000+00:00") from bad


def _change(seq: int, place: int, change: Field) -> Values:
    states = {key: _state(change[key]) for key in ("before", "after")}
    version = change["version"].whole(least=1)
    return {"seq": seq, "place": place, "record": clean(change["record"].text()), "version": version, **states}


def _state(place: Field) -> str | None:
    """Return the text of a state as the store writes it."""
    if place.value is None:
        return None
    return state_text(dumped(place["value"].value), archived=place["archived"].flag())


def _check_history(records: Mapping[str, Values], history: Sequence[tuple[Values, list[Values]]], name: str) -> None:
    """Raise BadFile where the history does not come to the records, or a state in it cannot be read."""
    last: dict[str, Values] = {}
    for _, changes in history:
        for change in changes:
            ident = str(change["record"])
            for key in ("before", "after"):
                _check_state(change[key], Kind(records[ident]["kind"]), f"{name}, {ident} in entry {change['seq']}")
            last[ident] = change
    for ident, row in records.items():
        found = last.get(ident, {})
        after = None if row["gone"] else state_text(str(row["value"]), archived=bool(row["archived"]))
        if (found.get("version"), found.get("after")) != (row["version"], after):
            raise BadFile(name, f"record {ident} is not what its history comes to", "an export as it was made")


def _check_state(state: object, kind: Kind, where: str) -> None:
    if state is not None:
        data = Field(where, json.loads(str(state)))
        data["archived"].flag()
        from_document(kind, data["value"].value, where)


def _keep_picture(pictures: PictureFolder, data: bytes, member: str, name: str) -> None:
    if sha256(data).hexdigest() != member.removeprefix("pictures/"):
        raise BadFile(f"{name}, {member}", "a picture that is not what its name says", "an export as it was made")
    pictures.keep(data)
