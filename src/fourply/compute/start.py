"""How worker processes come to be: forked from one that has loaded everything, or started afresh.

Loading solver and compiled code takes longer than most plans do. On Linux it is done once, in a process that does
nothing else and from which the workers are forked; it loads while this process is still reading. What it loads must
not have started a thread, since that would be missing in the workers. Elsewhere, or where that process has failed, each
worker is a fresh one that loads for itself.
"""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from multiprocessing import get_context
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess

from fourply.compute.worker import work

FORKS = sys.platform == "linux"


def prepare(modules: Sequence[str] = ()) -> None:
    """Begin to load these modules for all workers to come, and return at once; what has begun before is kept."""
    if not FORKS:
        return
    from multiprocessing import forkserver, util  # noqa: PLC0415 (not there on every system)

    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # NumPy's own threads, of which planning has no use
    os.environ["FOURPLY_SOCKETS"] = util.get_temp_dir()  # so that it can be put away by who ends last
    forkserver.set_forkserver_preload(list(modules))
    with undisturbed(), suppress(OSError):
        forkserver.ensure_running()


def started() -> tuple[BaseProcess, Connection]:
    """Return a new worker and our end of its pipe; waits until there is something to fork it from."""
    if FORKS:
        with suppress(OSError, EOFError):
            return _started("forkserver")
    return _started("spawn")


def _started(method: str) -> tuple[BaseProcess, Connection]:
    context = get_context(method)
    ours, theirs = context.Pipe()
    process = context.Process(target=work, args=(theirs,), daemon=True)  # type: ignore[attr-defined]
    try:
        with undisturbed():
            process.start()
    finally:
        theirs.close()  # so that ours breaks when the worker ends
    return process, ours


@contextmanager
def undisturbed() -> Iterator[None]:
    """Hold Ctrl-C back, for good in what is started meanwhile: it is meant for this process, which ends its workers."""
    if not hasattr(signal, "pthread_sigmask"):  # Windows
        yield
        return
    from multiprocessing import resource_tracker  # noqa: PLC0415 (not there on every system)

    resource_tracker.ensure_running()  # which lets Ctrl-C through again where it is only now started
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)
