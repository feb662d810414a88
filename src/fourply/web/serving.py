"""Running the server, and ending it within two seconds whatever is open."""

from __future__ import annotations

import logging
import os
import signal
import socket
import sys
from collections.abc import Callable
from contextlib import closing
from types import FrameType

import uvicorn

from fourply.errors import BadInput
from fourply.web.app import make_app
from fourply.web.parts import Parts
from fourply.web.room import Room, room_of
from fourply.web.warming import Warming

_GRACE_SECONDS = 1
"""What a request that is being answered has left when the server is stopped."""
_JOBS_SECONDS = 0.4


class _Server(uvicorn.Server):
    """A server whose streams and long work end as soon as it is told to."""

    def __init__(self, config: uvicorn.Config, room: Room) -> None:
        super().__init__(config)
        self._room = room

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        super().handle_exit(sig, frame)
        self._room.stop()


def serve(parts: Parts, port: int, ready: Callable[[str], None]) -> None:
    """Serve a shop on this machine until SIGTERM or Ctrl-C; `ready` is told the address. Port 0 is any that is free.

    Raises BadInput where the port cannot be had.
    """
    logging.basicConfig(level=logging.WARNING, format="%(levelname)s %(message)s", stream=sys.stderr)
    with closing(parts.store), closing(_listening(port)) as listening:
        app = make_app(parts)
        config = uvicorn.Config(
            app,
            http="h11",
            ws="none",
            lifespan="on",
            log_config=None,
            access_log=False,
            server_header=False,
            timeout_graceful_shutdown=_GRACE_SECONDS,
        )
        ready(f"http://127.0.0.1:{listening.getsockname()[1]}")
        Warming(room_of(app)).start()
        _run(_Server(config, room_of(app)), listening)
        if not room_of(app).jobs.wait(_JOBS_SECONDS):
            parts.store.close()
            sys.stdout.flush()
            os._exit(0)  # a solver that does not listen must not keep the process


def _run(server: uvicorn.Server, listening: socket.socket) -> None:
    """Run a server; the signals that end it do so quietly."""
    before = {each: signal.signal(each, lambda *_: None) for each in (signal.SIGINT, signal.SIGTERM)}
    try:
        server.run([listening])
    finally:
        for each, handler in before.items():
            signal.signal(each, handler)


def _listening(port: int) -> socket.socket:
    # the protocol is named so that asyncio sends small answers at once (TCP_NODELAY), not 40 ms later
    found = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    found.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        found.bind(("127.0.0.1", port))
        found.listen(128)  # who comes before the server is ready waits
    except OSError as bad:
        found.close()
        raise BadInput(f"port {port}", f"{bad.strerror}; name another, or 0 for any that is free") from bad
    return found
