"""Every paper and file of a show, made in one go while its page shows how far it is; what they come to, what to buy."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby
from zipfile import ZIP_DEFLATED, ZipFile

from fastapi import Request
from starlette.responses import Response

from fourply.app import keep
from fourply.app.cutters import kept_shop
from fourply.app.keep_plans import accept_plan, cut_plan
from fourply.app.plan_lines import plan_lines
from fourply.app.planning_kept import PlanWish
from fourply.errors import FourplyError, Unknown
from fourply.web.jobs import Job
from fourply.web.pages.frame import AtDesk, In, Sent, Strip, page, seen, text, version_in
from fourply.web.pages.routing import pages
from fourply.web.planning import PLAN, begin_papers, begin_plan
from fourply.web.problems import problem_of
from fourply.web.room import InRoom, Room

router = pages()
PAPERS: Mapping[str, tuple[str, str]] = {
    "tickets.pdf": ("Tickets", "one for each work: sizes, what to set, what to cut it from, fitting, why"),
    "cutting.pdf": (
        "Cutting sheets",
        "one for each sheet of material: what lies where, in which order it is cut",
    ),
    "bench.pdf": ("Bench list", "the order of work: what to set when, for which pieces"),
    "buy.csv": ("Shopping list", "boards, glazing, sticks and hardware, with what each costs"),
    "chops.csv": ("Lengths of moulding", "every rail, for the saw or for the supplier"),
    "service.csv": ("Cut yourself or have it cut", "what chops, lengths and joined frames cost"),
    "plan.json": ("The plan as data", "for another program"),
    "steps.json": ("The order of work as data", "for another program"),
    "show.json": ("The show as data", "every figure with its working"),
}
SECONDS: Mapping[str, str] = {"": "as long as usual", "5": "5 seconds a plan", "30": "30 seconds a plan"}


@dataclass(frozen=True, slots=True)
class Paper:
    """A file that was made: its name, what it is called, what it is for, how many bytes it has."""

    name: str
    called: str
    use: str
    size: int


def _job(room: Room, show: str) -> Job | None:
    """Return the last planning of a show, None where there is none since the server began."""
    for report in room.jobs.all():
        if (report.what, report.scope) == (PLAN, show):
            return room.jobs.job(report.id)
    return None


def _made(room: Room, show: str) -> Job:
    job = _job(room, show)
    if job is None or not job.files:
        raise Unknown("paper of a show", show, ())
    return job


@router.get("/shows/{show}/papers")
def papers(request: Request, desk: AtDesk, room: InRoom, show: str) -> Response:
    """Show the papers of a show: to be made, being made, or made."""
    head = keep.show_head(desk, show)
    job = _job(room, show)
    report = job.report if job else None
    plans = plan_lines(desk, show)
    made_of = str(report.result.get("plan", "")) if report else ""
    return page(
        request,
        "papers.html",
        strip=Strip(scope=head.record.id),
        show=In(head.record.id, head.show.title, "papers"),
        record=head.record,
        report=report,
        wrong=problem_of(report.error)["detail"] if report and report.error else "",
        made=_listed(job.files) if job else (),
        made_of=next((each for each in plans if each.record.id == made_of), None),
        drawings=[name for name in job.files if name.startswith("drawings/")] if job else [],
        totals=report.result.get("totals", {}) if report else {},
        buy=_rows(job.files.get("buy.csv", b"")) if job else [],
        plans=plans,
        cutters=[(record.id, name) for name, record in kept_shop(desk).own.items()],
        seconds=SECONDS,
    )


def _listed(files: Mapping[str, bytes]) -> Sequence[Paper]:
    return [Paper(name, *words, len(files[name])) for name, words in PAPERS.items() if name in files]


def _rows(data: bytes) -> list[tuple[str, list[dict[str, str]]]]:
    """Return the lines of a shopping list by what is done with them."""
    rows = csv.DictReader(io.StringIO(data.decode("utf-8-sig")))
    return [(do, list(lines)) for do, lines in groupby(rows, key=lambda row: row["do"])]


@router.post("/shows/{show}/papers")
def make(desk: AtDesk, room: InRoom, show: str, sent: Sent) -> Response:
    """Begin to make every paper, unless they are being made already."""
    here, job = f"/shows/{show}/papers", _job(room, show)
    if job is not None and job.report.running:
        return seen(here)
    seconds = text(sent, "seconds")
    wish = PlanWish(
        f"of {datetime.now().astimezone():%d %b, %H:%M}", text(sent, "paper") or None, text(sent, "cutter") or None
    )
    try:
        begin_plan(room, desk, show, wish, seconds=float(seconds) if seconds in SECONDS and seconds else None)
    except FourplyError as bad:
        return seen(here, str(bad))
    return seen(here)


@router.post("/shows/{show}/papers/stop")
def stop(room: InRoom, show: str) -> Response:
    """Stop making them."""
    if (job := _job(room, show)) is not None:
        job.cancel()
    return seen(f"/shows/{show}/papers")


@router.post("/shows/{show}/papers/again")
def again(desk: AtDesk, room: InRoom, show: str, sent: Sent) -> Response:
    """Begin to make the papers of a kept plan again, unless some are being made already."""
    here, job = f"/shows/{show}/papers", _job(room, show)
    if job is not None and job.report.running:
        return seen(here)
    try:
        begin_papers(room, desk, text(sent, "plan"), text(sent, "paper") or None)
    except FourplyError as bad:
        return seen(here, str(bad))
    return seen(here)


@router.post("/shows/{show}/papers/accept")
def accept(desk: AtDesk, show: str, sent: Sent) -> Response:
    """Accept a plan."""
    return _done(show, lambda: accept_plan(desk, text(sent, "plan"), version_in(sent)))


@router.post("/shows/{show}/papers/cut")
def cut(desk: AtDesk, show: str, sent: Sent) -> Response:
    """Say that the accepted plan is cut."""
    return _done(show, lambda: cut_plan(desk, text(sent, "plan"), version_in(sent)))


@router.post("/shows/{show}/papers/away")
def away(desk: AtDesk, show: str, sent: Sent) -> Response:
    """Put a plan out of the list."""
    return _done(show, lambda: keep.archive(desk, text(sent, "plan"), version_in(sent)))


def _done(show: str, do: Callable[[], object]) -> Response:
    """Do something to a plan, and come back to the papers with what hinders it."""
    try:
        do()
    except FourplyError as bad:
        return seen(f"/shows/{show}/papers", str(bad))
    return seen(f"/shows/{show}/papers")


@router.get("/shows/{show}/papers/all.zip")
def packed(room: InRoom, show: str) -> Response:
    """Give all of them in one file."""
    file = io.BytesIO()
    with ZipFile(file, "w", ZIP_DEFLATED) as into:
        for name, data in _made(room, show).files.items():
            into.writestr(name, data)
    return Response(
        file.getvalue(),
        media_type="application/zip",
        headers={"Content-Disposition": 'attachment; filename="papers.zip"'},
    )
