"""What is particular to a cluster: reaching it, leaving it, and its workers that die."""

from __future__ import annotations

import subprocess
import sys
import time
from pathlib import Path

import pytest
from tests.compute.work import Enough, Impatient, Notes, die_at_first, die_if_odd, nap_until_told, tasks, whereabouts

from fourply.compute.cluster import Cluster
from fourply.errors import NoWorkers, WorkerLost

ROOT = Path(__file__).resolve().parents[2]
WITHOUT = """
import sys
sys.modules["distributed"] = None
from fourply.wiring import compute
from tests.compute.work import Notes, double, tasks
try:
    compute(cluster="tcp://127.0.0.1:1")(double, tasks([1]), Notes())
except Exception as error:
    print(error)
"""


def test_work_is_shared_among_the_workers_of_the_cluster(address: str) -> None:
    assert len(set(Cluster(address)(whereabouts, tasks(range(20)), Notes()))) == 2


def test_the_task_of_a_worker_that_was_killed_is_done_again(address: str, tmp_path: Path) -> None:
    given = [(tmp_path, number) for number in range(3)]
    assert Cluster(address)(die_at_first, tasks(given), Notes()) == [0, 1, 2]


def test_a_task_that_kills_its_worker_each_time_is_given_up_alone(address: str) -> None:
    even, odd = Cluster(address)(die_if_odd, tasks([0, 1]), Notes())
    assert even == 0
    assert isinstance(odd, WorkerLost)


def test_work_that_is_stopped_ends_on_the_cluster_too(address: str, tmp_path: Path) -> None:
    with pytest.raises(Enough):
        Cluster(address)(nap_until_told, tasks([tmp_path]), Impatient())
    until = time.monotonic() + 20
    while not (tmp_path / "stopped").exists() and time.monotonic() < until:
        time.sleep(0.01)
    assert (tmp_path / "stopped").exists()


@pytest.mark.parametrize("wrong", ["127.0.0.1:8786", "http://127.0.0.1:8786", "inproc://x", ""])
def test_an_address_that_is_none_says_what_one_looks_like(wrong: str) -> None:
    with pytest.raises(NoWorkers, match=r"tcp://127\.0\.0\.1:8786"):
        Cluster(wrong)(whereabouts, tasks([1]), Notes())


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ("tcp://127.0.0.1:1", "no scheduler answers"),
        ("tcp://127.0.0.1", "no scheduler answers"),
        ("tls://127.0.0.1:1", "certificates"),
    ],
)
def test_an_address_where_nobody_answers_is_told(wrong: str, says: str) -> None:
    pytest.importorskip("distributed")
    with pytest.raises(NoWorkers, match=says):
        Cluster(wrong)(whereabouts, tasks([1]), Notes())


def test_without_the_package_it_says_what_to_install() -> None:
    said = subprocess.run([sys.executable, "-c", WITHOUT], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    assert "requirements-cluster.lock" in said
    assert (ROOT / "requirements-cluster.lock").exists()
