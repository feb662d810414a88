"""Imported by the process from which workers are forked: loads what planning needs, or compiles it the first time.

Whatever goes wrong here goes wrong again in the first worker, which can say so.
"""

from __future__ import annotations

import atexit
import gc
import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from threading import Event, Thread

_LOOKS_EVERY = 0.1


def _put_away() -> None:
    """Remove the socket that workers are asked for by: the program cannot where it is stopped at once."""
    with suppress(OSError, KeyError):
        folder = Path(os.environ["FOURPLY_SOCKETS"])
        for socket in folder.glob("listener-*"):
            socket.unlink()
        folder.rmdir()


@contextmanager
def _ending_with_parent() -> Iterator[None]:
    """End this process when its parent ends: to compile takes some 20 s. No thread is left for a fork to meet."""
    parent, done = os.getppid(), Event()

    def look() -> None:
        while not done.wait(_LOOKS_EVERY):
            if os.getppid() != parent:
                _put_away()
                os._exit(1)

    thread = Thread(target=look, daemon=True)
    thread.start()
    try:
        yield
    finally:
        done.set()
        thread.join()


atexit.register(_put_away)
gc.disable()  # nothing that is loaded goes again
with _ending_with_parent(), suppress(Exception):
    from fourply.app import solving  # noqa: F401 (for the workers, as what planning itself loads only where needed)
    from fourply.planning import branch, stick_columns  # noqa: F401
    from fourply.planning.warm import load

    load()
gc.freeze()  # no worker looks through all of this again
gc.enable()
