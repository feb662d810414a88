"""What went wrong, as problem details (RFC 9457): what kind, where, what was found, what would be right."""

from __future__ import annotations

from collections.abc import Mapping
from http import HTTPStatus

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from starlette.exceptions import HTTPException
from starlette.responses import Response

from fourply import errors
from fourply.app.documents import entry_json, record_json, state_json
from fourply.app.keep_new import CannotMake, faults_of
from fourply.app.ports_store import Entry, Record
from fourply.errors import FourplyError
from fourply.web.answering import JsonAnswer
from fourply.web.jobs import TooMany

MEDIA = "application/problem+json"
_MOST_FAULTS = 100


class VersionNeeded(FourplyError):
    """A change that does not say which version it stands on."""

    def __str__(self) -> str:
        return 'say which version you saw: If-Match: "3", as the ETag of the record gave it'


_KINDS: tuple[tuple[type[Exception], str, HTTPStatus, str], ...] = (
    (errors.Stale, "stale", HTTPStatus.PRECONDITION_FAILED, "It has changed since it was read"),
    (VersionNeeded, "version-needed", HTTPStatus.PRECONDITION_REQUIRED, "A change needs the version that was seen"),
    (errors.Taken, "taken", HTTPStatus.CONFLICT, "Another has this name"),
    (errors.NothingToUndo, "nothing-to-undo", HTTPStatus.CONFLICT, "Nothing to take back or bring back"),
    (errors.PlanOutgrown, "plan-outgrown", HTTPStatus.CONFLICT, "The show is cut otherwise by now"),
    (errors.RackTaken, "rack-taken", HTTPStatus.CONFLICT, "A piece of the rack cannot be had any more"),
    (errors.KeyReused, "key-reused", HTTPStatus.UNPROCESSABLE_ENTITY, "The key of another request"),
    (errors.Unknown, "unknown", HTTPStatus.UNPROCESSABLE_ENTITY, "There is none of this name"),
    (errors.BadTreatment, "bad-treatment", HTTPStatus.UNPROCESSABLE_ENTITY, "No mat or frame can follow these rules"),
    (errors.BadFile, "bad-file", HTTPStatus.UNPROCESSABLE_ENTITY, "A document or file that cannot be read"),
    (errors.BadLength, "bad-length", HTTPStatus.UNPROCESSABLE_ENTITY, "Not a length that can be used"),
    (CannotMake, "cannot-make", HTTPStatus.UNPROCESSABLE_ENTITY, "A work that cannot be read or made"),
    (errors.BadInput, "bad-input", HTTPStatus.UNPROCESSABLE_ENTITY, "What was given cannot be used"),
    (errors.CannotHonour, "cannot-honour", HTTPStatus.UNPROCESSABLE_ENTITY, "A wish that is not kept"),
    (TooMany, "too-many", HTTPStatus.TOO_MANY_REQUESTS, "Enough is going on"),
    (errors.NewerStore, "newer-store", HTTPStatus.SERVICE_UNAVAILABLE, "The shop was written by a newer program"),
    (errors.Unavailable, "unavailable", HTTPStatus.SERVICE_UNAVAILABLE, "The shop's data cannot be used now"),
    (errors.CannotBackUp, "no-backup", HTTPStatus.SERVICE_UNAVAILABLE, "No backup was made"),
    (errors.NoWorkers, "no-workers", HTTPStatus.SERVICE_UNAVAILABLE, "Nobody can do the work"),
    (errors.WorkerLost, "worker-lost", HTTPStatus.SERVICE_UNAVAILABLE, "Who worked on it is gone"),
    (FourplyError, "refused", HTTPStatus.UNPROCESSABLE_ENTITY, "It cannot be done"),
)


def problem(
    kind: str, status: HTTPStatus, title: str, detail: str, more: Mapping[str, object] | None = None
) -> dict[str, object]:
    """Return the document of a problem."""
    said = {name: value for name, value in (more or {}).items() if value is not None}
    return {"type": f"/problems/{kind}", "title": title, "status": int(status), "detail": detail, **said}


def answer(document: Mapping[str, object], headers: Mapping[str, str] | None = None) -> Response:
    """Return the response that carries a problem."""
    status = document["status"]
    code = status if isinstance(status, int) else 500
    return JsonAnswer(document, code, media_type=MEDIA, headers=dict(headers or {}))


def problem_of(error: FourplyError, path: Mapping[str, object] | None = None) -> dict[str, object]:
    """Return the problem of an error; `path` are the names in the address that was asked for."""
    kind, status, title = next((name, status, title) for of, name, status, title in _KINDS if isinstance(error, of))
    if isinstance(error, errors.Unknown) and error.found in map(str, (path or {}).values()):
        status = HTTPStatus.NOT_FOUND
    return problem(kind, status, title, str(error), _facts(error))


def _facts(error: FourplyError) -> dict[str, object]:
    """Return what an error knows, as members of its problem."""
    names = ("found", "expected", "figure", "file", "kind", "holder", "record", "where", "why", "planner", "wish")
    facts: dict[str, object] = {name: getattr(error, name, None) for name in names}
    if isinstance(error, errors.Unknown):
        facts["known"] = [*error.known[:50]]
    if faults := faults_of(error):
        facts["errors"] = [
            {"where": each.column or each.file, "found": each.found[:200], "expected": each.expected}
            for each in faults[:_MOST_FAULTS]
        ]
    if isinstance(error, errors.Stale):
        facts |= {"expected": error.expected, "yours": state_json(error.mine)}
        facts["theirs"] = _theirs(error.theirs)
    return facts


def _theirs(found: object) -> object:
    if isinstance(found, Entry):
        return entry_json(found)
    return record_json(found) if isinstance(found, Record) else None


def add_handlers(app: FastAPI) -> None:
    """Let an app answer whatever goes wrong with a problem."""
    app.add_exception_handler(FourplyError, _refused)
    app.add_exception_handler(RequestValidationError, _invalid)
    app.add_exception_handler(HTTPException, _http)


def _refused(request: Request, error: Exception) -> Response:
    if not isinstance(error, FourplyError):
        raise error
    retry = {"Retry-After": "2"} if isinstance(error, TooMany | errors.Unavailable) else None
    return answer(problem_of(error, request.path_params), retry)


def _invalid(_: Request, error: Exception) -> Response:
    if not isinstance(error, RequestValidationError):
        raise error
    faults = [
        {
            "where": ".".join(str(part) for part in each["loc"]),
            "found": str(each.get("input"))[:200].encode("utf-8", "replace").decode(),
            "expected": str(each["msg"]),
        }
        for each in error.errors()[:_MOST_FAULTS]
    ]
    detail = f"{faults[0]['where']}: {faults[0]['expected']}" if faults else "it cannot be read"
    title = "The request cannot be read"
    return answer(problem("bad-request", HTTPStatus.UNPROCESSABLE_ENTITY, title, detail, {"errors": faults}))


def _http(_: Request, error: Exception) -> Response:
    if not isinstance(error, HTTPException):
        raise error
    status = HTTPStatus(error.status_code)
    kind = status.phrase.lower().replace(" ", "-")
    return answer(problem(kind, status, status.phrase, str(error.detail)), error.headers)
