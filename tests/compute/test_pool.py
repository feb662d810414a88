"""Workers that die, that are stopped, and that are left alone."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from pathlib import Path
from threading import Event

import pytest
from tests.compute.conftest import Gone
from tests.compute.work import (
    Enough,
    Impatient,
    Notes,
    die_at_first,
    die_if_odd,
    double,
    hang,
    nap,
    tasks,
    whereabouts,
)

from fourply.compute import pool, start
from fourply.compute.pool import TRIES, Pool
from fourply.errors import WorkerLost

ROOT = Path(__file__).resolve().parents[2]
LEFT_ALONE = """
import sys
from pathlib import Path
from fourply.compute.pool import Pool
from tests.compute.work import Notes, hang, tasks
Pool(2)(hang, tasks([Path(sys.argv[1])] * 2), Notes())
"""
DEADLY = """
import os, sys
from fourply.compute.pool import Pool
from tests.compute.work import Notes, double, tasks
if __name__ == "__main__":
    print(Pool(2, ("deadly",))(double, tasks([1, 2, 3]), Notes()))
"""
AT_ONCE = """
from fourply.compute.pool import Pool
from tests.compute.work import Notes, deaf, tasks
if __name__ == "__main__":
    print(Pool(2)(deaf, tasks([1, 2]), Notes()))
"""


def test_work_is_done_in_processes_of_its_own() -> None:
    assert os.getpid() not in Pool(2)(whereabouts, tasks(range(4)), Notes())


def test_there_are_no_more_workers_than_asked_for() -> None:
    assert len(set(Pool(2)(whereabouts, tasks(range(20)), Notes()))) <= 2


@pytest.mark.parametrize("workers", [1, 2])
def test_the_task_of_a_worker_that_was_killed_is_done_again(tmp_path: Path, workers: int) -> None:
    given = [(tmp_path, number) for number in range(5)]
    notes = Notes()
    assert Pool(workers)(die_at_first, tasks(given), notes) == [0, 1, 2, 3, 4]
    assert len(list(tmp_path.iterdir())) == 1
    assert sorted(notes.done) == [0, 1, 2, 3, 4]


def test_a_task_that_kills_its_worker_each_time_is_given_up_alone() -> None:
    notes = Notes()
    even, odd, last = Pool(2)(die_if_odd, tasks([0, 1, 2]), notes)
    assert (even, last) == (0, 2)
    assert isinstance(odd, WorkerLost)
    assert str(odd).startswith(f"task 1: the process working on it ended {TRIES} times")
    assert sorted(notes.done) == [0, 1, 2]


@pytest.mark.parametrize("busy", [nap, hang])
def test_stopping_ends_workers_whatever_they_are_at(tmp_path: Path, gone: Gone, busy: object) -> None:
    with pytest.raises(Enough):
        Pool(2)(busy, tasks([tmp_path] * 3), Impatient())  # type: ignore[arg-type]
    assert gone(tmp_path)


def test_the_largest_task_is_begun_first() -> None:
    notes = Notes()
    sizes = [1, 30, 20]
    small_to_large = [task for size in sizes for task in tasks([size], size)]
    Pool(1)(double, small_to_large, notes)
    assert notes.done == [1, 2, 0]


def test_workers_end_when_whoever_started_them_is_killed(tmp_path: Path, gone: Gone) -> None:
    parent = subprocess.Popen([sys.executable, "-c", LEFT_ALONE, tmp_path], cwd=ROOT)
    while len(list(tmp_path.iterdir())) < 2:
        assert parent.poll() is None
    parent.send_signal(signal.SIGKILL)
    parent.wait()
    assert gone(tmp_path)


def test_where_nothing_can_be_forked_workers_are_started_afresh(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(start, "FORKS", False)
    assert Pool(2)(die_at_first, tasks([(tmp_path, number) for number in range(4)]), Notes()) == [0, 1, 2, 3]


def test_workers_are_started_afresh_where_what_they_are_forked_from_has_ended(tmp_path: Path) -> None:
    (tmp_path / "deadly.py").write_text("import os; os._exit(1)", encoding="utf-8")
    path = {**os.environ, "PYTHONPATH": str(ROOT)}
    command = [sys.executable, "-c", DEADLY]
    said = subprocess.run(command, cwd=tmp_path, env=path, capture_output=True, text=True, check=True).stdout
    assert said.strip() == "[2, 4, 6]"


def test_ctrl_c_is_held_back_from_the_very_first_worker() -> None:
    said = subprocess.run([sys.executable, "-c", AT_ONCE], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    assert said.strip() == "[True, True]"


def test_whoever_watches_is_told_while_workers_are_still_loading(monkeypatch: pytest.MonkeyPatch) -> None:
    told = Event()

    def slowly() -> tuple[BaseProcess, Connection]:
        assert told.wait(20)
        return start.started()

    monkeypatch.setattr(pool, "started", slowly)
    notes = Notes()
    monkeypatch.setattr(notes, "waiting", told.set)
    assert Pool(1)(double, tasks([1]), notes) == [2]
