"""How long it takes to keep: a list brought in, its pages, single changes, undo. A person waits for each of these.

Run it with the project's Python: `python benchmarks/keep.py [--works N] [--database URL]`. The list is made by a rule
(50 makers, 20 widths, 15 heights). Each page and each change is timed a hundred times; the median and the 95th of a
hundred are told. The store syncs to the disk at every change, so changes depend on the disk.
"""

from __future__ import annotations

import argparse
import platform
import resource
import sqlite3
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from fourply.app.keep import Desk, create_show, find, new_id, redo, undo
from fourply.app.keep_shows import show_of
from fourply.app.keep_works import add_work, change_work, keep_list
from fourply.app.ports_store import Kind, Query, Record, Sort
from fourply.files.kept import KeptShow, KeptWork
from fourply.measure.notation import Unit
from fourply.wiring import store

TIMES = 100


def listed(works: int) -> bytes:
    """Return a list of so many works."""
    rows = (f"A-{at},Work {at},Maker {at % 50},{8 + at % 20},{10 + at % 15}" for at in range(works))
    return "\n".join(("No.,Title,Artist,Width (in),Height (in)", *rows)).encode()


def once(what: str, done: Callable[[], object]) -> None:
    """Tell how long something takes."""
    began = time.perf_counter()
    done()
    print(f"| {what} | {time.perf_counter() - began:.2f} s |")


def often(what: str, done: Callable[[], object]) -> None:
    """Tell how long something takes that is done a hundred times."""
    taken = []
    for _ in range(TIMES):
        began = time.perf_counter()
        done()
        taken.append(1000 * (time.perf_counter() - began))
    taken.sort()
    print(f"| {what} | {taken[TIMES // 2]:.1f} ms, 95 of 100 within {taken[TIMES * 95 // 100]:.1f} ms |")


def changing(desk: Desk, record: Record) -> Callable[[], None]:
    """Return what changes a work, each time from the version before."""
    now = [record]

    def change() -> None:
        work = now[0].value
        if isinstance(work, KeptWork):
            now[0] = change_work(desk, record.id, work, now[0].version)

    return change


def adding(desk: Desk, show: str, record: Record) -> Callable[[], None]:
    """Return what adds a work like another, under a new number."""

    def add() -> None:
        if isinstance(record.value, KeptWork):
            listed = record.value.listed
            work = replace(listed.work, id=new_id())
            add_work(desk, show, replace(record.value, listed=replace(listed, work=work)))

    return add


def measure(desk: Desk, works: int) -> None:
    """Print a table of what takes how long."""
    show = create_show(desk, KeptShow("Large", Unit.INCH, None, "USD")).id
    once(f"bring in a list of {works} works", lambda: keep_list(desk, show, "large.csv", listed(works)))
    print(f"| memory at its most | {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024} MB |")
    often("first page of 50, by place", lambda: find(desk, Query(Kind.WORK, show)))
    often(
        "first page of 50, last name first", lambda: find(desk, Query(Kind.WORK, show, sort=Sort.NAME, descending=True))
    )
    often("search for two words", lambda: find(desk, Query(Kind.WORK, show, text="work 77")))
    often("page of 100 over all shows, by maker", lambda: find(desk, Query(Kind.WORK, sort=Sort.MAKER, limit=100)))
    work = find(desk, Query(Kind.WORK, show, limit=1)).items[0]
    often("change a work", changing(desk, work))
    for _ in range(TIMES):
        undo(desk, show)
    once("undo the whole list", lambda: undo(desk, show))
    once("redo it", lambda: redo(desk, show))
    often("add a work", adding(desk, show, work))
    once("settle every work of the show", lambda: show_of(desk, show))
    once("backup, verified", desk.store.backup)


def main() -> None:
    """Measure what the arguments ask for."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--works", type=int, default=10_000)
    options.add_argument("--database", help="address of an empty database; a file otherwise")
    asked = options.parse_args()
    print(f"Python {platform.python_version()}, SQLite {sqlite3.sqlite_version}, {platform.machine()}\n")
    print("| what | time |\n| --- | --- |")
    with tempfile.TemporaryDirectory() as folder:
        kept = store(Path(folder), asked.database)
        try:
            measure(Desk(kept, "bench"), asked.works)
        finally:
            kept.close()


if __name__ == "__main__":
    main()
