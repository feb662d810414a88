"""How a command is stopped with Ctrl-C.

Python notices Ctrl-C only between two steps of its own, which a solver may put off for seconds. Whatever is to happen
sooner happens in a thread that the system wakes.
"""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from threading import Event, Thread
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from fourply.app.ports import Compute, Function, Task, Watch
    from fourply.errors import FourplyError

STOPPED = 130
_GRACE = 0.12


@dataclass(frozen=True, slots=True)
class Stoppable:
    """Does long work as another would, and ends the process if it has not ended soon after Ctrl-C."""

    compute: Compute

    def __call__[T, R](
        self, function: Function[T, R], tasks: Sequence[Task[T]], watch: Watch
    ) -> list[R | FourplyError]:
        """Return what the function makes of each task; see `Compute`."""
        over = Event()

        def heard() -> None:
            if not over.wait(_GRACE):
                _end()

        with _listening(heard):
            try:
                return self.compute(function, tasks, watch)
            except SystemError as broken:  # what compiled code makes of an exception that meets it on its way
                if isinstance(broken.__cause__, KeyboardInterrupt):
                    raise KeyboardInterrupt from broken
                raise
            finally:
                over.set()


@contextmanager
def gently() -> Iterator[Callable[[], bool]]:
    """Give what tells whether Ctrl-C was pressed; the first is only noted, the second ends the process."""
    pressed = Event()

    def heard() -> None:
        if pressed.is_set():
            _end()
        pressed.set()
        if sys.stderr.isatty():
            click.echo("\nStopping as soon as a plan is in hand; Ctrl-C again stops without one.", err=True)

    before = signal.signal(signal.SIGINT, lambda *_: None)
    try:
        with _listening(heard):
            yield pressed.is_set
    finally:
        signal.signal(signal.SIGINT, before)


def _end() -> None:
    """End the process as it stands: only where it is not writing anything."""
    click.echo("\nStopped.", err=True)
    os._exit(STOPPED)


@contextmanager
def _listening(heard: Callable[[], None]) -> Iterator[None]:
    """Call `heard` in a thread at each Ctrl-C."""
    reader, writer = os.pipe()
    os.set_blocking(writer, False)
    thread = Thread(target=_listen, args=(reader, heard), daemon=True)
    thread.start()
    before = signal.set_wakeup_fd(writer, warn_on_full_buffer=False)
    try:
        yield
    finally:
        signal.set_wakeup_fd(before)
        os.close(writer)
        thread.join()
        os.close(reader)


def _listen(reader: int, heard: Callable[[], None]) -> None:
    while signals := os.read(reader, 16):
        for _ in range(signals.count(signal.SIGINT)):
            heard()
