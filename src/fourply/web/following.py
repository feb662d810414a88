"""Who follows the changes of the shop: one thread looks for new entries of the history, everybody waits for it.

The thread looks whether or not this process made the change, so that what another server or the command line does is
told too. It looks only while somebody follows.
"""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from contextlib import suppress
from threading import Condition, Thread

from fourply.app.ports_store import Entry, Store
from fourply.errors import FourplyError

EVERY_SECONDS = 0.25


class Follower:
    """Tells the streams of one server that there may be something new.

    A stream asks `entries` and gets each entry once, in order, until the server stops.
    """

    def __init__(self, store: Store) -> None:
        self._store = store
        self._changed = Condition()
        self._waiting: dict[asyncio.Event, asyncio.AbstractEventLoop] = {}
        self._thread: Thread | None = None
        self.stopped = False

    def stop(self) -> None:
        """End every stream."""
        with self._changed:
            self.stopped = True
            self._changed.notify_all()
        self._wake()

    async def entries(self, start: int | None) -> AsyncIterator[tuple[Entry, ...]]:
        """Yield the entries after a number (None: what is new) as they come, nothing now and then.

        So a client that is gone is noticed.
        """
        fresh = asyncio.Event()
        self._listen(fresh)
        try:
            after = await asyncio.to_thread(self._newest) if start is None else start
            while not self.stopped:
                fresh.clear()  # before it is looked at: what comes after that is not missed
                found = await asyncio.to_thread(self._since, after)
                if found:
                    after = found[-1].seq
                    yield found
                    continue
                yield ()
                with suppress(TimeoutError):
                    await asyncio.wait_for(fresh.wait(), 15)
        finally:
            with self._changed:
                self._waiting.pop(fresh, None)

    def _since(self, after: int) -> tuple[Entry, ...]:
        return self._store.since(after)

    def _listen(self, fresh: asyncio.Event) -> None:
        with self._changed:
            self._waiting[fresh] = asyncio.get_running_loop()
            if self._thread is None and not self.stopped:
                self._thread = Thread(target=self._look, name="following", daemon=True)
                self._thread.start()

    def _look(self) -> None:
        """Wake everybody whenever there is an entry that was not there before; ends with the last who listens."""
        last: int | None = None
        while True:
            with suppress(FourplyError):  # the streams ask themselves, and say what is wrong
                newest = self._newest()
                if last is not None and newest != last:
                    self._wake()
                last = newest
            with self._changed:
                if self.stopped or not self._waiting:
                    self._thread = None
                    return
                self._changed.wait(EVERY_SECONDS)

    def _newest(self) -> int:
        page = self._store.history(None, limit=1)
        return page.items[0].seq if page.items else 0

    def _wake(self) -> None:
        with self._changed:
            for fresh, loop in self._waiting.items():
                with suppress(RuntimeError):  # its loop is closed
                    loop.call_soon_threadsafe(fresh.set)
