from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from pathlib import Path
from time import monotonic, sleep

import pytest

from fourply.app.ports import Compute
from fourply.compute.cluster import Cluster
from fourply.compute.here import here
from fourply.compute.pool import Pool

type Gone = Callable[[Path], bool]


@pytest.fixture(scope="session")
def address() -> Iterator[str]:
    """The address of a small cluster on this machine."""
    distributed = pytest.importorskip("distributed")
    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, host="127.0.0.1", dashboard_address="127.0.0.1:0", silence_logs=50
    ) as cluster:
        yield cluster.scheduler_address


@pytest.fixture(params=["here", "pool of 1", "pool of 2", "cluster"])
def compute(request: pytest.FixtureRequest) -> Compute:
    if request.param == "cluster":
        return Cluster(request.getfixturevalue("address"))
    ways: dict[str, Compute] = {"here": here, "pool of 1": Pool(1), "pool of 2": Pool(2)}
    return ways[request.param]


@pytest.fixture
def gone() -> Gone:
    """Tells whether all processes that left their numbers in a folder have ended, now or soon."""

    def ended(folder: Path) -> bool:
        numbers = [int(mark.name) for mark in folder.iterdir()]
        until = monotonic() + 20
        while any(_is_there(number) for number in numbers) and monotonic() < until:
            sleep(0.01)
        return bool(numbers) and not any(_is_there(number) for number in numbers)

    return ended


def _is_there(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    return True
