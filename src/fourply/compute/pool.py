"""Long work in worker processes of this machine, that may be ended at any moment.

The workers live as long as the call. Each has a pipe of its own; when it ends unasked the pipe breaks, and its task
goes to another one.
"""

from __future__ import annotations

import pickle
from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from multiprocessing.connection import Connection, wait
from multiprocessing.process import BaseProcess
from queue import Empty, SimpleQueue
from threading import Thread
from typing import Any

from fourply.app.ports import Function, Task, Watch
from fourply.compute.start import prepare, started
from fourply.compute.worker import Says
from fourply.errors import FourplyError, WorkerLost

TRIES = 3
_PAUSE = 0.1


@dataclass(frozen=True, slots=True)
class Pool:
    """Does long work in so many worker processes, which have these modules loaded where they can be forked."""

    workers: int
    loads: tuple[str, ...] = ()

    def __call__[T, R](
        self, function: Function[T, R], tasks: Sequence[Task[T]], watch: Watch
    ) -> list[R | FourplyError]:
        """Return what the function makes of each task; see `Compute`."""
        prepare(self.loads)
        crew = _Crew(function, tasks, watch)
        try:
            crew.hire(min(self.workers, len(tasks)))
            while crew.hands:
                crew.listen()
        finally:
            crew.dismiss()
        return [crew.results[at] for at in range(len(tasks))]


@dataclass(slots=True)
class _Hand:
    """A worker process, our end of its pipe, and the task that it has."""

    process: BaseProcess
    pipe: Connection
    task: int

    def end(self) -> None:
        self.process.kill()
        self.process.join()
        self.pipe.close()


class _Crew:
    """The workers of one call and what they have done."""

    def __init__(self, function: Function[Any, Any], tasks: Sequence[Task[Any]], watch: Watch) -> None:
        self.function = function
        self.tasks = tasks
        self.watch = watch
        self.hands: list[_Hand] = []
        self.results: dict[int, Any] = {}
        self.tries = [0] * len(tasks)
        # Taken from the end: the largest first, so that none of them is begun when the others are done.
        self.open = sorted(range(len(tasks)), key=lambda at: (tasks[at].size, -at))

    def hire(self, workers: int) -> None:
        """Start so many workers, then give each its task: they get ready at the same time."""
        for _ in range(workers):
            self.hands.append(_Hand(*_patiently(started, self.watch), self.open.pop()))
        for hand in self.hands[-workers:]:
            self._give(hand)

    def listen(self) -> None:
        """Hear all workers that have something to say, for a moment."""
        self.watch.waiting()
        ready = wait([hand.pipe for hand in self.hands], _PAUSE)
        for hand in [hand for hand in self.hands if hand.pipe in ready]:
            try:
                says, what = hand.pipe.recv()
            except (EOFError, OSError):
                self._lose(hand)
            else:
                self._hear(hand, says, what)

    def dismiss(self) -> None:
        """End all workers, at work or not."""
        for hand in self.hands:
            hand.process.kill()
        for hand in self.hands:
            hand.end()

    def _hear(self, hand: _Hand, says: Says, what: Any) -> None:  # noqa: ANN401 (results pass through unopened)
        if says is Says.STANDS:
            self.watch.standing(hand.task, *what)
            return
        if says is Says.FAILED and not isinstance(what, FourplyError):
            raise what
        self._close(hand.task, what)
        if self.open:
            hand.task = self.open.pop()
            self._give(hand)
        else:
            self.hands.remove(hand)
            hand.end()

    def _give(self, hand: _Hand) -> None:
        self.tries[hand.task] += 1
        with suppress(OSError):  # it has ended already: its pipe will say so
            hand.pipe.send_bytes(pickle.dumps((self.function, self.tasks[hand.task].given)))

    def _lose(self, hand: _Hand) -> None:
        """Have the task of a worker that has ended done again, by another."""
        self.hands.remove(hand)
        hand.end()
        if self.tries[hand.task] < TRIES:
            self.open.append(hand.task)
        else:
            self._close(hand.task, WorkerLost(self.tasks[hand.task].name, TRIES))
        if self.open:
            self.hire(1)

    def _close(self, task: int, result: Any) -> None:  # noqa: ANN401
        self.results[task] = result
        self.watch.finished(task)


def _patiently(begin: Callable[[], tuple[BaseProcess, Connection]], watch: Watch) -> tuple[BaseProcess, Connection]:
    """Return a new worker, telling the watch while it is waited for: what it is forked from may still be loading."""
    begun: SimpleQueue[tuple[BaseProcess, Connection] | Exception] = SimpleQueue()

    def run() -> None:
        try:
            begun.put(begin())
        except Exception as error:  # noqa: BLE001 (raised where it was asked for)
            begun.put(error)

    Thread(target=run, daemon=True).start()
    while True:
        watch.waiting()
        with suppress(Empty):
            found = begun.get(timeout=_PAUSE)
            if isinstance(found, Exception):
                raise found
            return found
