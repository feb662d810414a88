"""Ctrl-C, at a command that is busy: it ends with 130, says so in a word, and leaves nothing behind."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from tests.compute.conftest import Gone, gone
from tests.compute.work import Notes, tasks

from fourply.app import nest
from fourply.app.ports import Tell
from fourply.cli.main import run
from fourply.cli.stopping import Stoppable
from fourply.compute.here import here
from fourply.planning.boards import plan_boards
from fourply.planning.budget import Budget, Progress
from fourply.planning.plan import Plan
from fourply.planning.problem import Problem
from fourply.wiring import parts

ROOT = Path(__file__).resolve().parents[2]
LIST = "No.,Title,Width (in),Height (in)\nA-1,Low water,14 1/2,11 1/4\n"
__all__ = ["gone"]
INSTANCE = {
    "sheets": [{"w": 100, "h": 80, "cost": 5, "copies": None}],
    "rack": [],
    "blanks": [{"w": 50, "h": 40, "copies": 4, "fallout": None}],
    "fallout_cost": 1,
    "oriented": False,
    "trim": 0,
}

BUSY = """
import sys
from dataclasses import dataclass
from pathlib import Path
from fourply import wiring
from fourply.app.ports import Task
from fourply.cli.main import run
from fourply.cli.parts import Parts
from tests.compute import work

marks, busy, workers, *arguments = sys.argv[1:]

def compute(*_):
    def forever(function, tasks, watch):
        given = [Task(task.name, Path(marks), 100) for task in tasks]
        return wiring.compute(int(workers))(getattr(work, busy), given, watch)
    return forever

if __name__ == "__main__":
    sys.exit(run(arguments, Parts(compute)))
"""


@pytest.mark.parametrize(("busy", "workers"), [("nap", 2), ("hang", 2), ("nap", 1), ("hang", 1)])
def test_make_ends_at_once_and_leaves_no_worker_and_no_file(
    tmp_path: Path, gone: Gone, busy: str, workers: int
) -> None:
    marks, out, works = tmp_path / "marks", tmp_path / "out", tmp_path / "list.csv"
    marks.mkdir()
    works.write_text(LIST, encoding="utf-8")
    made = subprocess.Popen(
        [sys.executable, "-c", BUSY, marks, busy, str(workers), "make", works, "--out", out],
        cwd=ROOT,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
    )
    while len(list(marks.iterdir())) < workers:
        assert made.poll() is None
    os.killpg(made.pid, signal.SIGINT)  # a terminal sends it to the workers too
    _, said = made.communicate()
    assert (made.returncode, said.strip()) == (130, "Stopped.")
    assert gone(marks)
    assert list(out.iterdir()) == []


def search_without_end(problem: Problem, budget: Budget, told: Progress) -> Plan:
    """Tells how it stands until it is told to stop; the person presses Ctrl-C after the first time."""
    assert told(7, 5)
    os.kill(os.getpid(), signal.SIGINT)
    while told(7, 5):
        pass
    return plan_boards(problem, budget)


def test_nest_keeps_the_best_plan_found_so_far(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(nest, "plan_boards", search_without_end)
    path, out = tmp_path / "a.json", tmp_path / "plan.json"
    path.write_text(json.dumps(INSTANCE), encoding="utf-8")
    before = signal.getsignal(signal.SIGINT)
    assert run(["nest", str(path), "--steps", "5", "--out", str(out)], parts()) == 0
    said = capsys.readouterr().out
    assert said.startswith("Stopped; this is the best plan found so far.\ncost 5")
    assert json.loads(out.read_text(encoding="utf-8"))["cost"] == 5
    assert signal.getsignal(signal.SIGINT) is before


DEAF = """
import sys, ctypes
from pathlib import Path
from fourply.app import nest
from fourply.cli.main import run
from fourply.wiring import parts
from tests.compute.work import hang

nest.plan_boards = lambda problem, budget, told: hang(Path(sys.argv[1]), told)
sys.exit(run(sys.argv[2:], parts()))
"""


def test_nest_ends_at_the_second_time_even_in_compiled_code(tmp_path: Path) -> None:
    marks, path = tmp_path / "marks", tmp_path / "a.json"
    marks.mkdir()
    path.write_text(json.dumps(INSTANCE), encoding="utf-8")
    out = tmp_path / "plan.json"
    nesting = subprocess.Popen(
        [sys.executable, "-c", DEAF, marks, "nest", path, "--out", out], cwd=ROOT, stderr=subprocess.PIPE, text=True
    )
    while not list(marks.iterdir()):
        assert nesting.poll() is None
    while nesting.poll() is None:
        nesting.send_signal(signal.SIGINT)
    _, said = nesting.communicate()
    assert (nesting.returncode, said.strip()) == (130, "Stopped.")
    assert not out.exists()


def test_ctrl_c_that_compiled_code_makes_an_error_of_is_ctrl_c_still() -> None:
    def interrupted(given: int, tell: Tell) -> None:
        del given, tell
        raise SystemError("returned a result with an exception set") from KeyboardInterrupt()

    with pytest.raises(KeyboardInterrupt):
        Stoppable(here)(interrupted, tasks([1]), Notes())
