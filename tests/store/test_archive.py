"""A shop as plain files: exported, then brought in, it is the same shop; what is no export is refused whole."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from zipfile import ZipFile

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.store.conftest import Open
from tests.store.shops import contents, is_whole, note, put

from fourply.app.demo import copy_demo
from fourply.app.keep import Desk, archive
from fourply.app.keep_pictures import keep_picture
from fourply.app.keep_shows import keep_file, open_kept
from fourply.app.ports_store import SHOP, Kind, Query
from fourply.errors import BadFile
from fourply.files.works import Asked
from fourply.store.engine import sqlite_url
from fourply.store.sql_store import SqlStore

PNG = bytes.fromhex(
    "89504e470d0a1a0a0000000d49484452000000010000000108000000003a7e9b550000000a49444154789c6360000000020001"
    "48afa4710000000049454e44ae426082"
)


def filled(store: SqlStore, folder: Path) -> str:
    """Keep a show, a picture, things changed and taken back; return the show's id."""
    desk = Desk(store, "ann")
    kept = keep_file(desk, copy_demo(folder / "demo", metric=True), Asked())
    keep_picture(desk, PNG, "tide.png")
    store.commit([put("a", "Quay"), put("b", "a\0\ud800b")], note())
    store.commit([put("a", "Pier", 1)], note())
    store.undo(note(""))
    work = store.every(Kind.WORK, kept.record.id)[0]
    archive(desk, work.id, work.version)
    return kept.record.id


def test_what_is_exported_and_brought_in_is_the_same_shop(store: SqlStore, tmp_path: Path) -> None:
    show = filled(store, tmp_path)
    file = store.export(tmp_path / "shop.zip")
    other = SqlStore(sqlite_url(tmp_path / "other.sqlite"), tmp_path / "other")
    assert other.bring_in(file) > 10
    for scope in (SHOP, show):
        assert contents(other, scope) == contents(store, scope)
        assert other.history(scope) == store.history(scope)
        assert other.undoable(scope) == store.undoable(scope)
        assert is_whole(other, scope)
    assert other.find(Query(Kind.WORK, show)) == store.find(Query(Kind.WORK, show))
    assert open_kept(Desk(other), show) == open_kept(Desk(store), show)
    (picture,) = other.every(Kind.PICTURE, SHOP)
    assert other.pictures.read(picture.value.hash) == PNG  # type: ignore[union-attr]
    assert other.redo(note("")).record.version == store.redo(note("")).record.version
    again = other.export(tmp_path / "again.zip")
    assert store_texts(again, "shop/records.json") == store_texts(store.export(tmp_path / "b.zip"), "shop/records.json")
    other.close()


def store_texts(file: Path, member: str) -> list[object]:
    with ZipFile(file) as packed:
        records: list[dict[str, object]] = json.loads(packed.read(member))["records"]
    return [{key: each[key] for key in each if key != "changed"} for each in records]


def test_an_export_goes_into_an_empty_shop_alone(store: SqlStore, tmp_path: Path) -> None:
    store.commit([put("a", "Quay")], note())
    with pytest.raises(BadFile, match="records already"):
        store.bring_in(store.export(tmp_path / "shop.zip"))


def spoilt(source: Path, target: Path, spoil: Callable[[str, str], str]) -> Path:
    """Pack an export anew, each member as a function makes it."""
    with ZipFile(source) as packed, ZipFile(target, "w") as again:
        for name in packed.namelist():
            data = packed.read(name)
            again.writestr(name, data if name.startswith("pictures/") else spoil(name, data.decode()))
    return target


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("fourply/export/1", "fourply/export/2", "newer"),
        ('"kind": "treatment"', '"kind": "treatise"', "expected one of"),
        ('"version": 1', '"version": "1"', "whole number"),
        ('"archived": false', '"archived": 0', "true or false"),
        ("fourply/kepttreatment/1", "fourply/kepttreatment/9", "newer"),
        ('"act": "do"', '"act": "did"', "do, undo or redo"),
        ('"record": "a"', '"record": "z"', "belong together"),
        ('"seq": 1', '"seq": -1', "whole number"),
        ('"at": "2', '"at": "x', "instant"),
        ("{", "", "JSON"),
    ],
)
def test_an_export_that_was_spoilt_is_refused_whole(
    opened: Open, tmp_path: Path, old: str, new: str, says: str
) -> None:
    source = SqlStore(sqlite_url(tmp_path / "source.sqlite"), tmp_path / "source")
    source.commit([put("a", "Quay")], note())
    file = spoilt(source.export(tmp_path / "s.zip"), tmp_path / "t.zip", lambda _, text: text.replace(old, new))
    source.close()
    store = opened()
    with pytest.raises(BadFile, match=says):
        store.bring_in(file)
    assert not contents(store)
    assert not store.history().total


@pytest.mark.parametrize("content", [b"", b"PK\x03\x04 and no more", b"nothing of the kind"])
def test_what_is_no_zip_is_refused(store: SqlStore, tmp_path: Path, content: bytes) -> None:
    file = tmp_path / "bad.zip"
    file.write_bytes(content)
    with pytest.raises(BadFile, match=r"bad\.zip"):
        store.bring_in(file)
    with pytest.raises(BadFile, match="no such file"):
        store.bring_in(tmp_path / "missing.zip")


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.tuples(st.floats(0, 1, exclude_max=True), st.integers(0, 255)), min_size=1, max_size=4))
def test_an_export_with_any_bytes_changed_is_read_or_refused(tmp_path: Path, changes: list[tuple[float, int]]) -> None:
    store = SqlStore(sqlite_url(tmp_path / "empty.sqlite"), tmp_path / "empty")
    data = bytearray(_export(tmp_path))
    for place, byte in changes:
        data[int(place * len(data))] = byte
    file = tmp_path / "spoilt.zip"
    file.write_bytes(data)
    try:
        store.bring_in(file)
    except BadFile:
        assert not contents(store)
    else:
        assert is_whole(store)
    finally:
        store.close()
        for left in tmp_path.glob("empty.sqlite*"):
            left.unlink()


def _export(folder: Path) -> bytes:
    file = folder / "fuzzed.zip"
    if not file.exists():
        source = SqlStore(sqlite_url(folder / "source.sqlite"), folder / "source")
        source.commit([put("a", "Quay"), put("b", "Pier")], note())
        source.commit([put("a", "Weir", 1)], note())
        source.export(file)
        source.close()
    return file.read_bytes()


def test_a_picture_that_is_another_is_refused(store: SqlStore, tmp_path: Path) -> None:
    file = tmp_path / "s.zip"
    with ZipFile(file, "w") as packed:
        packed.writestr("fourply.json", '{"schema": "fourply/export/1", "scopes": 0}')
        packed.writestr("pictures/../../escape", b"x")
    with pytest.raises(BadFile, match="picture"):
        store.bring_in(file)
