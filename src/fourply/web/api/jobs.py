"""Long work: how it stands, a stream of how far it is, an end to it, what it made."""

from __future__ import annotations

from collections.abc import AsyncIterator
from pathlib import PurePosixPath
from typing import Any

from fastapi import APIRouter, Response

from fourply.app.documents import instant
from fourply.errors import Unknown
from fourply.web.answering import JsonAnswer
from fourply.web.api.asking import USUAL, Ident
from fourply.web.api.history import STREAM, event, stream
from fourply.web.api.shapes import answers
from fourply.web.jobs import Report
from fourply.web.problems import problem_of
from fourply.web.room import InRoom, Room

router = APIRouter(prefix="/jobs", tags=["jobs"])
AT = "/api/v1/jobs"
_MEDIA = {
    ".pdf": "application/pdf",
    ".svg": "image/svg+xml",
    ".json": "application/json",
    ".csv": "text/csv; charset=utf-8",
}
_FILE: dict[int | str, dict[str, Any]] = {
    200: {"description": "The file", "content": {kind.partition(";")[0]: {"schema": {}} for kind in _MEDIA.values()}}
}


def job_json(report: Report, files: tuple[str, ...] = ()) -> dict[str, object]:
    """Return how a piece of work stands as JSON."""
    return {
        "id": report.id,
        "what": report.what,
        "scope": report.scope,
        "began": instant(report.began),
        "state": report.stand.value,
        "stage": report.stage,
        "done": report.done,
        "total": report.total,
        "plans": [
            {"material": each.material, "cost": f"{each.cost:f}", "gap": each.gap} for each in report.standings.values()
        ],
        "files": [f"{AT}/{report.id}/files/{name}" for name in files],
        "result": report.result,
        "problem": None if report.error is None else problem_of(report.error),
    }


def begun(report: Report) -> Response:
    """Return the answer that names long work that has just begun."""
    return JsonAnswer(job_json(report), 202, {"Location": f"{AT}/{report.id}"})


def _whole(room: Room, ident: str) -> dict[str, object]:
    job = room.jobs.job(ident)
    return job_json(job.report, tuple(job.files))


@router.get("", responses=answers("Jobs") | USUAL, operation_id="list_jobs")
def every(room: InRoom) -> Response:
    """Return the long work of this server, the last first; it is forgotten when the server ends."""
    return JsonAnswer({"items": [_whole(room, each.id) for each in room.jobs.all()]})


@router.get("/{ident}", responses=answers("Job") | USUAL, operation_id="read_jobs")
def one(room: InRoom, ident: Ident) -> Response:
    """Return how a piece of work stands."""
    return JsonAnswer(_whole(room, ident))


@router.delete("/{ident}", status_code=202, responses=answers("Job", 202) | USUAL, operation_id="cancel_jobs")
def cancel(room: InRoom, ident: Ident) -> Response:
    """Cancel a piece of work; what it has kept stays. It ends within a moment."""
    room.jobs.job(ident).cancel()
    return JsonAnswer(_whole(room, ident), 202)


@router.get("/{ident}/events", responses=STREAM | USUAL, operation_id="follow_jobs")
async def follow(room: InRoom, ident: Ident) -> Response:
    """Follow a piece of work: an event `job` whenever it stands otherwise, until it ends."""
    room.jobs.job(ident)
    return stream(_reports(room, ident))


async def _reports(room: Room, ident: str) -> AsyncIterator[str]:
    async for report in room.jobs.follow(ident):
        yield event("job", job_json(report, tuple(room.jobs.job(ident).files)), report.version)


@router.get("/{ident}/files/{name:path}", responses=_FILE | USUAL, operation_id="read_job_files")
def file(room: InRoom, ident: Ident, name: str) -> Response:
    """Return a file that a piece of work made, by its name."""
    files = room.jobs.job(ident).files
    if name not in files:
        raise Unknown("file", name, tuple(files))
    return Response(files[name], media_type=_MEDIA[PurePosixPath(name).suffix])
