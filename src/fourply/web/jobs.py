"""Long work that somebody asked for over the web: it goes on in a thread, tells how far it is, and can be stopped.

What is told is kept while the work is, so that who asks later hears all that matters: the stage now, how it ended.
Nothing of it is kept when the server ends; what the work itself keeps in the shop is.
"""

from __future__ import annotations

import asyncio
import logging
from collections.abc import AsyncIterator, Callable
from contextlib import suppress
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime
from enum import Enum
from threading import Lock, Thread

from fourply.app.keep import new_id
from fourply.app.ports import Progress, Standing
from fourply.errors import FourplyError, Unknown

MOST_AT_ONCE = 2
MOST_KEPT = 50
_EVERY_SECONDS = 0.1
_LOG = logging.getLogger("fourply.web")


class Stand(Enum):
    """How a piece of work stands."""

    RUNNING = "running"
    DONE = "done"
    FAILED = "failed"
    CANCELLED = "cancelled"


class Stopped(Exception):
    """Raised within the work when nobody wants it any more."""


class TooMany(FourplyError):
    """More long work than a machine does at once."""

    def __str__(self) -> str:
        return f"{MOST_AT_ONCE} pieces of long work are going on; wait for one or cancel it"


@dataclass(frozen=True, slots=True)
class Report:
    """How a piece of work stands now: its stage, how much of it is done, the costs of the plans so far.

    `result` is what it came to, `error` why it failed; `version` grows with each change.
    """

    id: str
    what: str
    scope: str
    began: datetime
    stand: Stand = Stand.RUNNING
    stage: str = ""
    done: int = 0
    total: int = 0
    standings: dict[str, Standing] = field(default_factory=dict)
    result: dict[str, object] = field(default_factory=dict)
    error: FourplyError | None = None
    version: int = 0

    @property
    def running(self) -> bool:
        """Whether it is still going on."""
        return self.stand is Stand.RUNNING


class Job:
    """One piece of long work. `files` are what it made, by name."""

    def __init__(self, what: str, scope: str) -> None:
        self._lock = Lock()
        self._unwanted = False
        self.files: dict[str, bytes] = {}
        self.report = Report(new_id(), what, scope, datetime.now(UTC))

    def cancel(self) -> None:
        """Want it no more; it ends at the next word that it tells."""
        self._unwanted = True

    def tell(self, stage: str, done: int, total: int, standing: Standing | None = None) -> None:
        """Take note of how far it is; raises Stopped where nobody wants it any more."""
        if self._unwanted:
            raise Stopped
        standings = self.report.standings
        if standing is not None:
            standings = standings | {standing.material: standing}
        self._change(stage=stage, done=done, total=total, standings=standings)

    def run(self, work: Callable[[Progress], dict[str, object]]) -> None:
        """Do the work, and report how it ended."""
        try:
            result = work(self.tell)
        except Stopped:
            self._change(stand=Stand.CANCELLED)
        except FourplyError as bad:
            self._change(stand=Stand.FAILED, error=bad)
        except Exception:  # noqa: BLE001 (whoever asked is told, and the server goes on)
            _LOG.exception("long work failed")
            self._change(stand=Stand.FAILED)
        else:
            self._change(stand=Stand.DONE, result=result)

    def _change(self, **changes: object) -> None:
        with self._lock:
            new: Report = replace(self.report, **changes)  # type: ignore[arg-type]
            if new != self.report:
                self.report = replace(new, version=self.report.version + 1)


class Jobs:
    """All long work of one server."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._jobs: dict[str, Job] = {}
        self._threads: list[Thread] = []
        self.stopped = False

    def start(self, job: Job, work: Callable[[Progress], dict[str, object]]) -> Report:
        """Begin a piece of work; raises TooMany."""
        with self._lock:
            if self.stopped or sum(each.report.stand is Stand.RUNNING for each in self._jobs.values()) >= MOST_AT_ONCE:
                raise TooMany
            self._forget()
            self._jobs[job.report.id] = job
            thread = Thread(target=job.run, args=(work,), name=f"job {job.report.id}", daemon=True)
            self._threads = [each for each in self._threads if each.is_alive()]
            self._threads.append(thread)
            thread.start()
        return job.report

    def _forget(self) -> None:
        ended = [ident for ident, each in self._jobs.items() if each.report.stand is not Stand.RUNNING]
        for ident in ended[: max(0, len(self._jobs) - MOST_KEPT + 1)]:
            del self._jobs[ident]

    def all(self) -> tuple[Report, ...]:
        """Return how all work stands, the newest first."""
        with self._lock:
            return tuple(each.report for each in reversed(self._jobs.values()))

    def job(self, ident: str) -> Job:
        """Return a piece of work by its id; raises Unknown."""
        with self._lock:
            if ident not in self._jobs:
                raise Unknown("job", ident, ())
            return self._jobs[ident]

    async def follow(self, ident: str) -> AsyncIterator[Report]:
        """Yield how a piece of work stands whenever that changes, until it ends or the server does."""
        job, seen = self.job(ident), -1
        while not self.stopped:
            report = job.report
            if report.version != seen:
                seen = report.version
                yield report
            if report.stand is not Stand.RUNNING:
                return
            await asyncio.sleep(_EVERY_SECONDS)

    def stop(self) -> None:
        """Want nothing of it any more, and wait a moment for the threads to end."""
        with self._lock:
            self.stopped = True
            jobs = tuple(self._jobs.values())
        for job in jobs:
            job.cancel()

    def wait(self, seconds: float) -> bool:
        """Wait for every thread, so many seconds at most in all; returns whether they have ended."""
        for thread in self._threads:
            with suppress(RuntimeError):
                thread.join(seconds / len(self._threads))
        return not any(thread.is_alive() for thread in self._threads)
