"""Killed in the middle of edits; edited by eight at once. More of both: scripts/soak_kills.py."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from tests.store import server
from tests.store.conftest import Open
from tests.store.hardship import edited_by_many, killed_again_and_again
from tests.store.shops import contents, is_whole, note, put, treatment

from fourply.app.ports_store import SHOP
from fourply.errors import Stale
from fourply.files.kept import KeptTreatment
from fourply.store.engine import sqlite_url


def test_what_was_acknowledged_outlives_kills(tmp_path: Path) -> None:
    acknowledged = killed_again_and_again(sqlite_url(tmp_path / "shop.sqlite"), tmp_path, kills=20, seed=1)
    assert acknowledged > 20


def test_what_was_acknowledged_outlives_kills_on_postgresql(tmp_path: Path) -> None:
    if why := server.why_not():
        pytest.skip(why)
    with server.server(durable=True) as address, server.database(address) as url:
        assert killed_again_and_again(url, tmp_path, kills=20, seed=2) > 20


def test_of_conflicting_edits_by_eight_at_once_none_is_lost(url: str, tmp_path: Path) -> None:
    done, refused = edited_by_many(url, tmp_path, 504)
    assert done > 0
    assert done + refused == 504


def test_threads_of_one_process_lose_nothing_either(opened: Open) -> None:
    store = opened()
    store.commit([put("a", "a=0")], note())

    def add(_: int) -> int:
        record = store.read("a")
        assert isinstance(record.value, KeptTreatment)
        try:
            store.commit([put("a", f"a={int(record.value.name[2:]) + 1}", record.version)], note())
        except Stale:
            return 0
        return 1

    with ThreadPoolExecutor(8) as threads:
        done = sum(threads.map(add, range(200)))
    assert [state.value for state in contents(store).values()] == [treatment(f"a={done}")]
    assert is_whole(store)


def test_who_follows_the_history_misses_no_entry(opened: Open) -> None:
    """Entries are seen in the order of their numbers, however many write: nothing turns up behind a reader."""
    store, reader = opened(), opened()
    seen: list[int] = []

    def write(number: int) -> None:
        store.commit([put(f"r{number}", f"r{number}")], note())

    with ThreadPoolExecutor(4) as threads:
        working = [threads.submit(write, number) for number in range(80)]
        while not all(each.done() for each in working):
            seen += [entry.seq for entry in reader.since(seen[-1] if seen else 0)]
    seen += [entry.seq for entry in reader.since(seen[-1] if seen else 0)]
    assert seen == list(range(1, 81))


def test_a_snapshot_sees_one_state_whatever_others_change(opened: Open) -> None:
    store, other = opened(), opened()
    store.commit([put("a", "Quay")], note())
    with store.snapshot():
        before = contents(store)
        other.commit([put("a", "Pier", 1), put("b", "Weir")], note())
        with store.snapshot():
            assert contents(store) == before
        assert store.undoable(SHOP).last == 1
        with ThreadPoolExecutor(1) as thread:  # another thread is not held to it
            assert thread.submit(store.undoable, SHOP).result().last == 2
        assert store.commit([put("c", "Lock")], note()).entry.seq == 3
        assert contents(store) == before
    assert set(contents(store)) == {"a", "b", "c"}
