"""Small work stays here, large work goes to workers."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from tests.compute.work import Notes, tasks, whereabouts

from fourply.compute.sized import LARGE, sized

ROOT = Path(__file__).resolve().parents[2]
SMALL_WORK = """
import sys
from fourply.wiring import compute
from tests.compute.work import Notes, double, tasks
assert compute()(double, tasks([1, 2], 1), Notes()) == [2, 4]
sys.exit(", ".join(name for name in sys.modules if name.startswith(("multiprocessing", "distributed"))))
"""


def test_any_number_of_small_tasks_is_done_here() -> None:
    assert set(sized(whereabouts, tasks(range(50), LARGE), Notes())) == {os.getpid()}


def test_one_large_task_goes_to_a_worker_since_only_that_can_be_ended() -> None:
    assert sized(whereabouts, tasks([0], LARGE + 1), Notes()) != [os.getpid()]


def test_small_work_does_not_load_what_starts_workers() -> None:
    found = subprocess.run([sys.executable, "-c", SMALL_WORK], cwd=ROOT, capture_output=True, text=True, check=False)
    assert (found.returncode, found.stderr) == (0, "") or found.stderr == "\n"
