"""Planning a show as long work, whoever asks for it."""

from __future__ import annotations

import time

from fourply.app.cutting import Means
from fourply.app.keep import Desk, read, show_head
from fourply.app.keep_plans import plan_of
from fourply.app.planning_kept import Planned, PlanWish, papers_of_plan, plan_kept
from fourply.app.ports import Progress
from fourply.app.ports_store import Kind
from fourply.app.search import budget_for
from fourply.web.jobs import Job, Report
from fourply.web.room import Room

PLAN = "plan"
"""What such work is called."""


def begin_plan(  # noqa: PLR0917 (of what, and how)
    room: Room, desk: Desk, show: str, wish: PlanWish, steps: int | None = None, seconds: float | None = None
) -> Report:
    """Begin to plan a show: its files are all for the bench, its plan is kept as proposed; raises TooMany, Unknown."""
    show_head(desk, show)
    job = Job(PLAN, show)
    compute = room.parts.compute(None, None)

    def work(progress: Progress) -> dict[str, object]:
        def means() -> Means:
            return Means(budget_for(steps, seconds, time.perf_counter), compute, progress)

        return _done(job, plan_kept(desk, show, wish, means))

    return room.jobs.start(job, work)


def begin_papers(room: Room, desk: Desk, plan: str, paper: str | None = None) -> Report:
    """Begin to make the papers of a kept plan again; raises TooMany, Unknown."""
    record = read(desk, plan, Kind.PLAN)
    plan_of(record)
    job, compute = Job(PLAN, record.scope), room.parts.compute(None, None)
    return room.jobs.start(job, lambda progress: _done(job, papers_of_plan(desk, plan, paper, compute, progress)))


def _done(job: Job, planned: Planned) -> dict[str, object]:
    job.files = planned.files
    return {"plan": planned.plan.id, "totals": planned.totals}
