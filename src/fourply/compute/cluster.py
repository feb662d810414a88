"""Long work on a Dask cluster that somebody else runs, by the address of its scheduler.

The cluster does a dead worker's task again by itself and gives up after as many tries as it is set to (3 unless
changed). A task cannot be ended there from outside: it is told to stop at the next word it has to say, and whoever
asked does not wait for that. `distributed` is not among the packages that fourply needs, and is imported here alone.
"""

from __future__ import annotations

import logging
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from functools import partial
from queue import Empty, SimpleQueue
from typing import TYPE_CHECKING, Any
from uuid import uuid4

from fourply.app.ports import Function, Task, Watch
from fourply.errors import FourplyError, NoWorkers, WorkerLost

if TYPE_CHECKING:
    from distributed import Client, Future, Worker

_ANSWERS_WITHIN = "5s"
_PAUSE = 0.1
_MISSING = (
    "the package distributed is not installed; in the project's folder run "
    ".venv/bin/python -m pip install --require-hashes -r requirements-cluster.lock"
)


@dataclass(frozen=True, slots=True)
class Cluster:
    """Does long work on the cluster whose scheduler listens at this address, such as tls://host:8786."""

    address: str

    def __call__[T, R](
        self, function: Function[T, R], tasks: Sequence[Task[T]], watch: Watch
    ) -> list[R | FourplyError]:
        """Return what the function makes of each task; see `Compute`. Raises NoWorkers where nobody answers."""
        with _client(self.address) as client:
            job = _Job(client, tasks, watch)
            try:
                job.send(function)
                while len(job.results) < len(tasks):
                    job.listen()
            finally:
                client.cancel(list(job.futures.values()))
        return [job.results[at] for at in range(len(tasks))]


class _Job:
    """The tasks of one call, what the cluster says of them, and what has come back."""

    def __init__(self, client: Client, tasks: Sequence[Task[Any]], watch: Watch) -> None:
        self.client = client
        self.tasks = tasks
        self.watch = watch
        self.futures: dict[int, Future] = {}
        self.results: dict[int, Any] = {}
        # Filled by the client's own thread.
        self.said: SimpleQueue[tuple[int, tuple[int, int] | None]] = SimpleQueue()

    def send(self, function: Function[Any, Any]) -> None:
        """Hand all tasks to the cluster, the largest first."""
        topic = f"fourply-{uuid4().hex}"
        self.client.subscribe_topic(topic, self._told)
        order = sorted(range(len(self.tasks)), key=lambda at: -self.tasks[at].size)
        for rank, at in enumerate(order):
            given = self.tasks[at].given
            future = self.client.submit(_part, function, given, topic, at, key=f"{topic}-{at}", priority=-rank)
            self.futures[at] = future
            future.add_done_callback(partial(self._done, at))

    def listen(self) -> None:
        """Hear what the cluster says, for a moment."""
        self.watch.waiting()
        if self.client.status not in {"running", "connecting"}:
            raise NoWorkers(self.client.scheduler.address, "the scheduler is gone")
        try:
            at, standing = self.said.get(timeout=_PAUSE)
        except Empty:
            return
        if standing is not None:
            self.watch.standing(at, *standing)
            return
        self.results[at] = self._result(at)
        self.watch.finished(at)

    def _told(self, event: tuple[float, Any]) -> None:
        at, cost, bound = event[1]
        self.said.put((at, (cost, bound)))

    def _done(self, at: int, future: Future) -> None:
        del future
        self.said.put((at, None))

    def _result(self, at: int) -> Any:  # noqa: ANN401 (results pass through unopened)
        from distributed.scheduler import KilledWorker  # noqa: PLC0415 (see above)

        try:
            return self.futures[at].result()
        except FourplyError as error:
            return error
        except KilledWorker as killed:
            return WorkerLost(self.tasks[at].name, killed.allowed_failures + 1)
        except ImportError as missing:
            address = self.client.scheduler.address
            raise NoWorkers(address, f"scheduler and workers need fourply as it is here ({missing})") from missing


def _part[T, R](function: Function[T, R], given: T, topic: str, at: int) -> R:
    """Do one task; runs on the cluster."""
    from distributed import get_worker  # noqa: PLC0415 (see above)

    worker: Worker = get_worker()
    task = worker.get_current_task()
    last: tuple[int, int] | None = None

    def tell(cost: int, bound: int) -> bool:
        nonlocal last
        if last != (cost, bound):
            last = cost, bound
            worker.log_event(topic, (at, cost, bound))
        known = worker.state.tasks.get(task)
        return known is not None and known.state == "executing"

    return function(given, tell)


@contextmanager
def _client(address: str) -> Iterator[Client]:
    """Give a connection to the scheduler that is closed without waiting for anybody."""
    if not address.startswith(("tcp://", "tls://")):
        raise NoWorkers(address, "an address looks like tcp://127.0.0.1:8786 or tls://host:8786")
    try:
        from distributed import Client  # noqa: PLC0415 (see above)
    except ImportError as missing:
        raise NoWorkers(address, _MISSING) from missing
    logging.getLogger("distributed").setLevel(logging.CRITICAL)  # it reports each connection that is closed
    try:
        client = Client(address, timeout=_ANSWERS_WITHIN, set_as_default=False)
    except (OSError, ValueError) as error:
        raise NoWorkers(address, "no scheduler answers there") from error
    except TypeError as error:
        raise NoWorkers(address, "tls:// needs the certificates named in distributed.comm.tls of Dask") from error
    try:
        yield client
    finally:
        with suppress(TimeoutError):  # it goes on closing in a thread of its own
            client.close(timeout=_PAUSE)
