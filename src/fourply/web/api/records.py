"""What can be done with records of every kind: lists of them, one of them, its past; keep, change, copy, archive."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any

from fastapi import APIRouter, Header, Query, Response
from pydantic import Field

from fourply.app import keep
from fourply.app.documents import changes_json, read_value, record_json
from fourply.app.ports_store import SHOP, Kept, Kind, Record
from fourply.web.answering import JsonAnswer
from fourply.web.api.asking import (
    CHANGING,
    CREATING,
    USUAL,
    AskedFor,
    AtDesk,
    Expected,
    Ident,
    InScope,
    Reading,
    Strict,
    page_json,
)
from fourply.web.api.schema import ref
from fourply.web.api.shapes import answers, title


class New(Strict):
    """Something new: its value, and where it belongs."""

    scope: Ident = Field(SHOP, description="The show it belongs to by its id, or `shop`.")
    value: dict[str, Any]


class Changed(Strict):
    """The value that something is to have."""

    value: dict[str, Any]


class Copy(Strict):
    """What the copy is called."""

    name: Annotated[str, Field(min_length=1, max_length=500)]


class Back(Strict):
    """Which version is meant."""

    version: Annotated[int, Field(ge=1, le=2**31 - 1)]


class Archived(Strict):
    """Whether it is to stand in lists no more."""

    archived: bool


@dataclass(frozen=True, slots=True)
class Doing:
    """The use cases of one kind, where they are not those of all records."""

    create: Callable[[keep.Desk, str, Kept], Record] = keep.create
    change: Callable[[keep.Desk, str, Kept, int], Record] = keep.change
    copy: Callable[[keep.Desk, str, str], Record] = keep.copy


UNCHANGED: dict[int | str, dict[str, Any]] = {304: {"description": "It has the version that the caller has"}}


def given(record: Record, status: int = 200, at: str = "") -> Response:
    """Return the answer that carries a record, with its version as ETag; `at` is where something new is found."""
    headers = {"ETag": f'"{record.version}"'}
    if at:
        headers["Location"] = f"{at}/{record.id}"
    return JsonAnswer(record_json(record), status, headers)


def body(name: str) -> dict[str, Any]:
    """Return what a route says of the body that it takes."""
    return {"requestBody": {"content": {"application/json": {"schema": ref(name)}}}}


def reading(kind: Kind, at: str) -> APIRouter:
    """Return the routes that read records of a kind, and archive them."""
    router = APIRouter(prefix=at, tags=[at.removeprefix("/")])
    record, called = f"{title(kind)}Record", at.removeprefix("/")

    @router.get("", responses=answers(f"{title(kind)}Page") | USUAL, operation_id=f"list_{called}")
    def find(desk: Reading, asked: AskedFor, scope: InScope = None) -> Response:
        """Return a page of a list."""
        return JsonAnswer(page_json(keep.find(desk, asked.query(kind, scope))))

    @router.get("/{ident}", responses=answers(record, version=True) | UNCHANGED | USUAL, operation_id=f"read_{called}")
    def read(
        desk: Reading, ident: Ident, tag: Annotated[str, Header(alias="If-None-Match", max_length=200)] = ""
    ) -> Response:
        """Return one, archived or not; 304 where its version is the one that the caller has."""
        found = keep.read(desk, ident, kind)
        if tag == f'"{found.version}"':
            return Response(status_code=304, headers={"ETag": tag})
        return given(found)

    @router.get("/{ident}/versions", responses=answers("ChangePage") | USUAL, operation_id=f"versions_of_{called}")
    def versions(
        desk: Reading,
        ident: Ident,
        before: Annotated[int | None, Query(ge=1, le=2**31 - 1, description="`next` of the page before.")] = None,
        limit: Annotated[int, Query(ge=1, le=500)] = 50,
    ) -> Response:
        """Return what was ever done to one, the last first."""
        keep.read(desk, ident, kind)
        return JsonAnswer(changes_json(keep.states(desk, ident, before=before, limit=limit)))

    @router.put(
        "/{ident}/archived", responses=answers(record, version=True) | CHANGING, operation_id=f"archive_{called}"
    )
    def archive(desk: AtDesk, ident: Ident, expected: Expected, wish: Archived) -> Response:
        """Put one out of the lists, or back; nothing is ever deleted."""
        keep.read(desk, ident, kind)
        return given(keep.archive(desk, ident, expected, archived=wish.archived))

    @router.post(
        "/{ident}/take-back", responses=answers(record, version=True) | CHANGING, operation_id=f"take_back_{called}"
    )
    def take_back(desk: AtDesk, ident: Ident, expected: Expected, wish: Back) -> Response:
        """Take one back to the state of an earlier version, as a change of its own."""
        keep.read(desk, ident, kind)
        return given(keep.take_back(desk, ident, wish.version, expected))

    return router


def changing(router: APIRouter, kind: Kind, doing: Doing) -> APIRouter:
    """Add the routes that keep something new, change and copy it."""
    record, called = f"{title(kind)}Record", router.prefix.removeprefix("/")
    at = f"/api/v1{router.prefix}"

    @router.post(
        "",
        status_code=201,
        responses=answers(record, 201, version=True) | CREATING,
        openapi_extra=body(f"New{title(kind)}"),
        operation_id=f"create_{called}",
    )
    def create(desk: AtDesk, new: New) -> Response:
        """Keep something new."""
        return given(doing.create(desk, new.scope, read_value(kind, new.value)), 201, at)

    @router.put(
        "/{ident}",
        responses=answers(record, version=True) | CHANGING,
        openapi_extra=body(f"Changed{title(kind)}"),
        operation_id=f"change_{called}",
    )
    def change(desk: AtDesk, ident: Ident, expected: Expected, new: Changed) -> Response:
        """Change one from the version that was seen."""
        keep.read(desk, ident, kind)
        return given(doing.change(desk, ident, read_value(kind, new.value), expected))

    @router.post(
        "/{ident}/copy",
        status_code=201,
        responses=answers(record, 201, version=True) | CREATING,
        operation_id=f"copy_{called}",
    )
    def copy(desk: AtDesk, ident: Ident, wish: Copy) -> Response:
        """Keep a copy under another name."""
        keep.read(desk, ident, kind)
        return given(doing.copy(desk, ident, wish.name), 201, at)

    return router
