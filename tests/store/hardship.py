"""A shop that is killed while it is edited, and one that many edit at once: for the tests and for longer runs."""

from __future__ import annotations

import json
import os
import random
import signal
import time
from collections.abc import Callable
from pathlib import Path

from tests.store.editing import Editors
from tests.store.shops import contents, is_whole, note, put

from fourply.app.ports_store import Act
from fourply.files.kept import KeptTreatment
from fourply.store.backup import verify
from fourply.store.sql_store import SqlStore

WRITERS = 8
RECORDS = ("a", "b", "c", "d")


def killed_again_and_again(url: str, folder: Path, kills: int, seed: int, told: Callable[[str], None] = print) -> int:
    """Kill a process that edits a shop, again and again; hold the shop to what was acknowledged each time.

    Returns how many changes were acknowledged in all. Every one is there, and at most one more each time: the one that
    was kept when the process was killed before it could say so.
    """
    chance = random.Random(seed)  # noqa: S311
    acknowledged = 0
    with Editors() as editors:
        for kill in range(kills):
            path = folder / f"acknowledged-{kill}"
            (number,) = editors.start(
                [{"do": "edit", "url": url, "folder": str(folder), "acknowledged": str(path), "seed": seed + kill}]
            )
            _wait_for(path)
            time.sleep(chance.random() * 0.2)
            os.kill(number, signal.SIGKILL)
            assert editors.wait() == [-signal.SIGKILL]
            acknowledged += _hold_to(url, folder, path, whole=kill % 10 == 0 or kill == kills - 1)
            path.unlink()
            if kill % 100 == 99:
                told(f"{kill + 1} kills, {acknowledged} acknowledged changes, all there")
    return acknowledged


def _wait_for(path: Path) -> None:
    until = time.monotonic() + 60
    while not path.exists() or not path.stat().st_size:
        assert time.monotonic() < until, "no change was acknowledged within a minute"
        time.sleep(0.002)


def _hold_to(url: str, folder: Path, path: Path, *, whole: bool) -> int:
    """Hold a shop to what was acknowledged, the whole of its history too where that is asked; returns how much was."""
    lines = [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]
    store = SqlStore(url, folder)
    try:
        found = {entry.seq: entry for entry in store.since(lines[0]["seq"] - 1, 1000)}
        assert [*found] == [*range(lines[0]["seq"], lines[0]["seq"] + len(found))]
        assert len(lines) <= len(found) <= len(lines) + 1 or len(found) == 1000
        for line in lines[: len(found)]:
            assert found[line["seq"]].label == line["label"]
            kept = {each.record: each.version for each in store.changes(line["seq"]).items if each.after is not None}
            assert kept == line["records"]
        if whole:
            assert is_whole(store)
            if url.startswith("sqlite"):
                verify(folder / "shop.sqlite")
            store.backup()
    finally:
        store.close()
    return len(lines)


def edited_by_many(url: str, folder: Path, edits: int) -> tuple[int, int]:
    """Let eight processes make conflicting changes; returns how many were done and how many refused as stale.

    None is lost: every record counts those that were done, the history names each.
    """
    store = SqlStore(url, folder)
    store.commit([put(ident, f"{ident}=0") for ident in RECORDS], note("begin"))
    jobs: list[dict[str, object]] = [
        {"do": "count", "url": url, "folder": str(folder), "acknowledged": str(folder / f"done-{at}")}
        | {"seed": at, "records": RECORDS, "edits": edits // WRITERS}
        for at in range(WRITERS)
    ]
    with Editors() as editors:
        editors.start(jobs)
        assert editors.wait() == [0] * WRITERS
    told = [json.loads(Path(str(job["acknowledged"])).read_text(encoding="utf-8")) for job in jobs]
    done = {ident: sum(each["done"][ident] for each in told) for ident in RECORDS}
    refused = sum(each["refused"] for each in told)
    for ident, state in contents(store).items():
        assert isinstance(state.value, KeptTreatment)
        assert state.value.name == f"{ident}={done[ident]}"
    assert sum(done.values()) + refused == edits // WRITERS * WRITERS
    by_writer = [0] * WRITERS
    entries = store.since(1)
    while entries:
        for entry in entries:
            assert entry.act is Act.DO
            by_writer[int(entry.label)] += 1
        entries = store.since(entries[-1].seq)
    assert by_writer == [sum(each["done"].values()) for each in told]
    assert is_whole(store)
    store.close()
    return sum(done.values()), refused
