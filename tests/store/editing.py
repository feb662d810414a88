"""Processes that edit a shop, to be killed or to get in each other's way.

`Editors` starts one process that has everything loaded and forks the editors from it, so that a thousand of them cost
little. Every change for which the store has returned is written to a file before the next is begun.
"""

from __future__ import annotations

import gc
import json
import os
import random
import signal
import subprocess
import sys
import traceback
from collections.abc import Sequence
from importlib import import_module
from pathlib import Path
from types import TracebackType
from typing import Self

ROOT = Path(__file__).parent.parent.parent


class Editors:
    """Forks editors; used as a context. `load` is a module that all of them need, loaded once."""

    def __init__(self, load: str = "fourply.store.sql_store") -> None:
        self._load = load

    def __enter__(self) -> Self:
        paths = os.pathsep.join([str(ROOT), *filter(None, sys.path)])
        self._server = subprocess.Popen(
            [sys.executable, "-m", "tests.store.editing", self._load],
            cwd=ROOT,
            env={**os.environ, "PYTHONPATH": paths},
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        return self

    def __exit__(
        self, kind: type[BaseException] | None, bad: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._server.communicate()
        assert not self._server.returncode

    def start(self, jobs: Sequence[dict[str, object]]) -> list[int]:
        """Start an editor for each job, a name of a function below with what it is given; returns their numbers."""
        self._say(jobs)
        return [int(number) for number in self._hear()]

    def wait(self) -> list[int]:
        """Wait until all have ended; returns how each did, below nothing for a signal."""
        return [int(status) for status in self._hear()]

    def _say(self, jobs: Sequence[dict[str, object]]) -> None:
        assert self._server.stdin is not None
        self._server.stdin.write(json.dumps(jobs) + "\n")
        self._server.stdin.flush()

    def _hear(self) -> list[int]:
        assert self._server.stdout is not None
        found: list[int] = json.loads(self._server.stdout.readline())
        return found


def edit(*, url: str, folder: str, acknowledged: str, seed: int) -> None:
    """Make changes of every kind until killed; what each came to is written down once the store has returned."""
    from tests.store.shops import note, put  # noqa: PLC0415

    from fourply.app.ports_store import SHOP, Kind  # noqa: PLC0415
    from fourply.errors import NothingToUndo, Taken  # noqa: PLC0415
    from fourply.store.sql_store import SqlStore  # noqa: PLC0415

    chance = random.Random(seed)  # noqa: S311 - which edits are made is no secret
    store = SqlStore(url, Path(folder))
    out = os.open(acknowledged, os.O_WRONLY | os.O_CREAT | os.O_APPEND)
    for number in range(1_000_000):
        have = store.every(Kind.TREATMENT, SHOP, archived=None)
        some = chance.sample(have, min(len(have), chance.randint(1, 3)))
        name = f"{seed}-{number}"
        try:
            match chance.choice(("new", "change", "change", "undo", "redo")):
                case "new":
                    done = store.commit([put(f"{name}-{at}", f"{name}-{at}") for at in range(3)], note(name))
                case "change" if some:
                    puts = [
                        put(each.id, f"{name} {at}", each.version, archived=chance.random() < 0.2)
                        for at, each in enumerate(some)
                    ]
                    done = store.commit(puts, note(name))
                case "undo":
                    done = store.undo(note(name))
                case _:
                    done = store.redo(note(name))
        except (NothingToUndo, Taken):
            continue
        records = {each.id: each.version for each in done.records}
        line = json.dumps({"seq": done.entry.seq, "label": done.entry.label, "records": records})
        os.write(out, f"{line}\n".encode())


def count(*, url: str, folder: str, acknowledged: str, seed: int, records: Sequence[str], edits: int) -> None:
    """Add one to one of the records again and again, each read first; count what was done and what was refused."""
    from tests.store.shops import note, put  # noqa: PLC0415

    from fourply.errors import Stale  # noqa: PLC0415
    from fourply.files.kept import KeptTreatment  # noqa: PLC0415
    from fourply.store.sql_store import SqlStore  # noqa: PLC0415

    chance = random.Random(seed)  # noqa: S311
    store = SqlStore(url, Path(folder))
    done: dict[str, int] = dict.fromkeys(records, 0)
    refused = 0
    for _ in range(edits):
        record = store.read(chance.choice(records))
        assert isinstance(record.value, KeptTreatment)
        name, number = record.value.name.split("=")
        try:
            store.commit([put(record.id, f"{name}={int(number) + 1}", record.version)], note(str(seed)))
        except Stale:
            refused += 1
        else:
            done[record.id] += 1
    Path(acknowledged).write_text(json.dumps({"done": done, "refused": refused}), encoding="utf-8")
    store.close()


def serve(*, url: str, folder: str, told: str) -> None:
    """Serve a shop as `./run serve` does until killed; its address is written to the file `told`."""
    from fourply.web.parts import Parts  # noqa: PLC0415
    from fourply.web.serving import serve as serve_shop  # noqa: PLC0415
    from fourply.wiring import compute, store  # noqa: PLC0415

    def ready(address: str) -> None:
        part = Path(f"{told}.part")
        part.write_text(address, encoding="utf-8")
        part.rename(told)

    serve_shop(Parts(store(Path(folder), url), compute), 0, ready)


def _fork_as_told(load: str) -> None:
    import_module(load)  # before anything is forked
    gc.collect()
    gc.freeze()  # nobody who is forked looks through all of this again
    for line in sys.stdin:
        numbers = [_forked(job) for job in json.loads(line)]
        sys.stdout.write(json.dumps(numbers) + "\n")
        sys.stdout.flush()
        statuses = [os.waitstatus_to_exitcode(os.waitpid(number, 0)[1]) for number in numbers]
        sys.stdout.write(json.dumps(statuses) + "\n")
        sys.stdout.flush()


def _forked(job: dict[str, object]) -> int:
    number = os.fork()
    if number:
        return number
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    status = 1
    try:
        function = {"edit": edit, "count": count, "serve": serve}[str(job.pop("do"))]
        function(**job)  # type: ignore[operator]
        status = 0
    finally:
        if status:
            traceback.print_exc()
        os._exit(status)


if __name__ == "__main__":
    _fork_as_told(sys.argv[1])
