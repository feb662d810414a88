"""What every route asks for: who, which version, which page; and the answers that every route may give."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from hashlib import sha256
from typing import Annotated, Any, Literal

from fastapi import Depends, Header, Query, Request, Response
from pydantic import BaseModel, ConfigDict, Field

from fourply.app import ports_store
from fourply.app.documents import record_json
from fourply.app.keep import Desk
from fourply.app.ports_store import Kind, Page, Record
from fourply.web.problems import MEDIA, VersionNeeded
from fourply.web.room import InRoom

type Ident = Annotated[str, Field(min_length=1, max_length=100, pattern=r"^[\w.:-]+$")]
type Text = Annotated[str, Field(max_length=500)]
_TAG = re.compile(r'"(\d{1,9})"')

_SAID = {
    400: "It cannot be read: not JSON, too deep, not UTF-8",
    403: "A page of another origin asks for a change",
    404: "There is no such thing",
    409: "It cannot be done as things stand",
    412: "It has changed since it was read; both versions are given",
    413: "Too much",
    415: "Neither JSON nor a file",
    421: "Another host was asked for",
    422: "What was given cannot be used; says where and what would be right",
    428: "A change needs the version that was seen",
    429: "Too many requests, or too much long work",
    500: "The server's own fault",
    503: "The shop's data cannot be used now",
}


def problems(*codes: int) -> dict[int | str, dict[str, Any]]:
    """Return the problems that a route may answer with, the usual ones among them."""
    every = sorted({400, 403, 404, 413, 415, 421, 422, 429, 500, 503, *codes})
    schema = {"$ref": "#/components/schemas/Problem"}
    return {code: {"description": _SAID[code], "content": {MEDIA: {"schema": schema}}} for code in every}


USUAL = problems()
CHANGING = problems(409, 412, 428)
CREATING = problems(409)


class Strict(BaseModel):
    """What a request carries: nothing else is taken, and nothing is guessed."""

    model_config = ConfigDict(extra="forbid", strict=True)


async def _desk(
    request: Request,
    room: InRoom,
    who: Annotated[str, Header(alias="X-Who", max_length=80, description="Who asks, for the history.")] = "",
    key: Annotated[
        str,
        Header(
            alias="Idempotency-Key",
            max_length=200,
            description="Any text that is new for a new request: sent again, nothing is done twice.",
        ),
    ] = "",
) -> Desk:
    asked = ""
    if key:
        parts = (request.method, request.url.path, request.url.query, request.headers.get("if-match", ""))
        asked = sha256(json.dumps(parts).encode() + b"\n" + await request.body()).hexdigest()
    return Desk(room.parts.store, who or room.parts.who, key, asked)


type AtDesk = Annotated[Desk, Depends(_desk)]


def _reading(room: InRoom) -> Desk:
    return Desk(room.parts.store)


type Reading = Annotated[Desk, Depends(_reading)]


def _expected(
    tag: Annotated[
        str | None,
        Header(alias="If-Match", pattern=r'^"\d{1,9}"$', description='The version that was seen, such as "3".'),
    ] = None,
) -> int:
    found = _TAG.fullmatch(tag or "")
    if found is None:
        raise VersionNeeded
    return int(found[1])


type Expected = Annotated[int, Depends(_expected)]


def tagged(response: Response, version: int) -> None:
    """Say which version an answer is of."""
    response.headers["ETag"] = f'"{version}"'


# ── lists ────────────────────────────────────────────────────────────────────────────────────────────────────────


class Asked(BaseModel):
    """Which records a list is to hold, and which page of it."""

    text: str = Field("", max_length=200, description="Words to be found, whatever case and accents.")
    maker: str = Field("", max_length=200, description="Only of this maker, client or supplier.")
    state: str = Field("", max_length=80, description="Only in this state, of this kind or media type.")
    name: str = Field("", max_length=500, description="Only of this name, whatever its case.")
    archived: Literal["no", "yes", "all"] = "no"
    sort: Literal["place", "name", "title", "maker", "due", "state", "changed"] = "place"
    descending: bool = False
    after: str = Field("", max_length=2000, description="Where the page begins: `next` of the page before.")
    limit: int = Field(50, ge=1, le=500)

    def query(self, kind: Kind, scope: str | None) -> ports_store.Query:
        """Return what the store is asked."""
        archived = {"no": False, "yes": True, "all": None}[self.archived]
        sort = ports_store.Sort(self.sort)
        return ports_store.Query(
            kind,
            scope,
            self.text,
            self.maker,
            self.state,
            self.name,
            archived,
            sort,
            self.descending,
            self.after,
            self.limit,
        )


type AskedFor = Annotated[Asked, Query()]
type InScope = Annotated[
    Ident | None, Query(description="Only of this show by its id, or of the shop (`shop`); all where it is left out.")
]


def page_json(page: Page[Record]) -> Mapping[str, object]:
    """Return a page of records as JSON."""
    return {"items": [record_json(each) for each in page.items], "total": page.total, "next": page.next}
