"""Work to hand out, of every kind there is, and somebody to watch it; found by name in worker processes too."""

from __future__ import annotations

import ctypes
import os
import signal
import time
from collections.abc import Iterable
from pathlib import Path

from fourply.app.ports import Task, Tell
from fourply.errors import BadInput


def tasks[T](given: Iterable[T], size: int = 100) -> list[Task[T]]:
    return [Task(f"task {at}", each, size) for at, each in enumerate(given)]


class Notes:
    """A watch that keeps what it is told."""

    def __init__(self) -> None:
        self.stood: list[tuple[int, int, int]] = []
        self.done: list[int] = []

    def standing(self, task: int, cost: int, bound: int) -> None:
        self.stood.append((task, cost, bound))

    def finished(self, task: int) -> None:
        self.done.append(task)

    def waiting(self) -> None:
        pass


class Enough(Exception):
    """Somebody does not want to wait any longer."""


class Impatient(Notes):
    """Stops the work once a task has told how it stands."""

    def waiting(self) -> None:
        if self.stood:
            raise Enough


def double(given: int, tell: Tell) -> int:
    """Tells a cost that falls to the bound, and returns twice what it was given."""
    for cost in (given + 2, given + 2, given + 1):
        tell(cost, given)
    return 2 * given


def refuse_odd(given: int, tell: Tell) -> int:
    del tell
    if given % 2:
        raise BadInput(f"{given}", "an even number")
    return given


def break_down(given: int, tell: Tell) -> int:
    del tell
    return 1 // (given - 2)


def break_down_badly(given: int, tell: Tell) -> int:
    del given, tell

    class Unheard(Exception):
        """Cannot travel: no other process knows it."""

    raise Unheard("unheard of elsewhere")


def whereabouts(given: int, tell: Tell) -> int:
    del given, tell
    return os.getpid()


def die_at_first(given: tuple[Path, int], tell: Tell) -> int:
    """Kills its own process the first time, as a system does that runs out of memory."""
    marks, number = given
    tell(2, 1)
    if number == 1 and not list(marks.iterdir()):
        (marks / f"{os.getpid()}").touch()
        os.kill(os.getpid(), signal.SIGKILL)
    return number


def die_if_odd(given: int, tell: Tell) -> int:
    del tell
    if given % 2:
        os.kill(os.getpid(), signal.SIGKILL)
    return given


def nap(given: Path, tell: Tell) -> None:
    """Leaves its process's number in a folder and is then busy for longer than anyone waits."""
    (given / f"{os.getpid()}").touch()
    tell(2, 1)
    time.sleep(600)


def nap_until_told(given: Path, tell: Tell) -> None:
    """As `nap`, but asks now and then whether to go on."""
    at = 0
    while tell(1_000_000 - at, 1):
        at += 1
        time.sleep(0.01)
    (given / "stopped").touch()


def hang(given: Path, tell: Tell) -> None:
    """As `nap`, but deaf to signals, as a solver is: waits in compiled code for a lock that it holds itself."""
    (given / f"{os.getpid()}").touch()
    tell(2, 1)
    lock = ctypes.create_string_buffer(128)
    system = ctypes.CDLL(None)
    system.pthread_mutex_lock(lock)
    system.pthread_mutex_lock(lock)


def deaf(given: int, tell: Tell) -> bool:
    """Tells whether Ctrl-C is held back from the process that this runs in."""
    del given, tell
    return signal.SIGINT in signal.pthread_sigmask(signal.SIG_BLOCK, ())
