"""What a worker process does: it is given a function and what to give it, tells how it goes, sends the result back.

Whoever started it may end it at any moment, so it owns nothing that would need putting away. It ends by itself as soon
as its parent is gone, however that went.
"""

from __future__ import annotations

import os
import pickle
import traceback
from enum import Enum
from multiprocessing import parent_process
from multiprocessing.connection import Connection
from threading import Thread


class Says(Enum):
    """What a message from a worker is."""

    STANDS = "stands"
    DONE = "done"
    FAILED = "failed"


def work(parent: Connection) -> None:
    """Do what the parent sends, until it sends no more."""
    Thread(target=_end_with_parent, daemon=True).start()
    while True:
        try:
            order = parent.recv_bytes()
        except EOFError:
            return
        parent.send_bytes(_answer(order, parent))


def _end_with_parent() -> None:
    parent = parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)


def _answer(order: bytes, parent: Connection) -> bytes:
    last: tuple[int, int] | None = None

    def tell(cost: int, bound: int) -> bool:
        nonlocal last
        if last != (cost, bound):
            last = cost, bound
            parent.send((Says.STANDS, last))
        return True

    try:
        function, given = pickle.loads(order)  # noqa: S301 (from the parent, over a pipe of its own)
        return pickle.dumps((Says.DONE, function(given, tell)))
    except Exception as error:  # noqa: BLE001 (whatever it is, it is raised where it was asked for)
        return _failure(error)


def _failure(error: Exception) -> bytes:
    """Return the message of an error, with the lines that led to it, since a traceback stays in its process."""
    trace = traceback.format_exc()
    error.add_note(trace)
    try:
        pickle.loads(message := pickle.dumps((Says.FAILED, error)))  # noqa: S301 (just made here)
    except Exception:  # noqa: BLE001 (an error that cannot travel is told as text)
        return pickle.dumps((Says.FAILED, RuntimeError(trace)))
    return message
