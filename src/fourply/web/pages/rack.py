"""The rack: which pieces lie there, which are promised to a plan; a piece put in, changed, put away."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Annotated

from fastapi import Depends, Query, Request
from starlette.responses import Response

from fourply.app import keep, racked
from fourply.app.keep import Desk
from fourply.app.ports_store import Kind, Record
from fourply.errors import BadInput, FourplyError, Stale, Unknown
from fourply.web.pages.frame import AtDesk, Key, Sent, Strip, page, seen, text, version_in
from fourply.web.pages.routing import pages

router = pages()
_AT = "/rack"
_ELSEWHERE = "This piece was changed elsewhere meanwhile: this is how it is now."


@dataclass(frozen=True, slots=True)
class Looked:
    """What the address says: words, a size to hold, those put away, the piece in hand."""

    q: Annotated[str, Query(max_length=200)] = ""
    holds: Annotated[str, Query(max_length=100)] = ""
    away: str = ""
    piece: Annotated[str, Query(max_length=100)] = ""

    @property
    def wanted(self) -> racked.Wanted:
        """What is wanted, as the use case takes it."""
        return racked.Wanted(self.q, self.holds, archived=self.away == "1")


@dataclass(frozen=True, slots=True)
class Typed:
    """The form: what is in it, what is wrong with it by field, a sentence about all of it."""

    said: Mapping[str, str]
    faults: Mapping[str, str]
    wrong: str = ""


@router.get(_AT)
def rack(request: Request, desk: AtDesk, looked: Annotated[Looked, Depends()]) -> Response:
    """Show the pieces of the rack, and a form for a new one or the one in hand."""
    return _shown(request, desk, looked, _piece(desk, looked.piece))


def _piece(desk: Desk, ident: str) -> Record | None:
    try:
        return keep.read(desk, ident, Kind.RACK) if ident else None
    except Unknown:
        return None


def _shown(request: Request, desk: Desk, looked: Looked, piece: Record | None, typed: Typed | None = None) -> Response:
    try:
        lines, amiss = racked.rack_lines(desk, looked.wanted), ""
    except BadInput as bad:
        lines, amiss = racked.rack_lines(desk, replace(looked, holds="").wanted), str(bad)
    typed = typed or Typed(racked.said_of(desk, piece), {})
    return page(
        request,
        "rack.html",
        strip=Strip(keys=(Key("N", "new piece", "#f-material"),)),
        here="rack",
        looked=looked,
        lines=lines,
        amiss=amiss,
        piece=piece,
        typed=typed,
        choices=racked.choices(desk),
        status=422 if typed.faults or typed.wrong else 200,
    )


@router.post(_AT)
def say(request: Request, desk: AtDesk, sent: Sent) -> Response:
    """Put a piece in, or change the one in hand; what cannot be kept is told beside its field."""
    said = {name: text(sent, name)[:500] for name in racked.FIELDS}
    ident = text(sent, "piece")
    try:
        racked.say(desk, said, ident, version_in(sent))
    except racked.Misread as bad:
        return _shown(request, desk, Looked(), _piece(desk, ident), Typed(said, bad.faults))
    except Stale:
        piece = keep.read(desk, ident, Kind.RACK)
        return _shown(request, desk, Looked(), piece, Typed(racked.said_of(desk, piece), {}, _ELSEWHERE))
    return seen(_AT)


@router.post(f"{_AT}/away")
def away(desk: AtDesk, sent: Sent) -> Response:
    """Put a piece away, or back into the rack."""
    back = text(sent, "back") == "yes"
    try:
        keep.read(desk, text(sent, "piece"), Kind.RACK)
        keep.archive(desk, text(sent, "piece"), version_in(sent), archived=not back)
    except Stale:
        return seen(_AT, _ELSEWHERE)
    except FourplyError as bad:
        return seen(_AT, str(bad))
    return seen(_AT)
