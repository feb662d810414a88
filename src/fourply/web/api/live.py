"""A work as it would be: resolved and drawn on the spot, nothing kept."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Response
from pydantic import Field

from fourply.app.keep import Desk
from fourply.app.live import Change, Found
from fourply.app.live_json import live_json
from fourply.errors import BadInput
from fourply.web.answering import JsonAnswer
from fourply.web.api.asking import USUAL, Ident, Reading, Strict
from fourply.web.api.shapes import answers
from fourply.web.api.works import AsTyped, Words, answers_json
from fourply.web.room import InRoom, Room

router = APIRouter(prefix="/live", tags=["live"])


class Wish(Strict):
    """A kept work, or a show and a work as it is typed; and what is to be otherwise."""

    work: Ident | None = Field(None, description="A kept work by its id.")
    show: Ident | None = Field(None, description="The show that a work would be part of, where it is not kept yet.")
    given: AsTyped | None = Field(None, description="The work as it is typed, by the keys of a show file.")
    treatment: Annotated[str, Field(max_length=500)] | None = Field(None, description="The treatment that it names.")
    rules: dict[Annotated[str, Field(max_length=80)], Words] = Field(
        {}, description="Rules that lie over all others, as text.", examples=[{"border": "3 in"}]
    )


class Question(Wish):
    """The same, and the figure that is asked for."""

    figure: Annotated[str, Field(max_length=200)] = ""


@router.post("", responses=answers("Live") | USUAL, operation_id="resolve_live")
def live(desk: Reading, room: InRoom, wish: Wish) -> Response:
    """Return figures, findings, the front view and the picture of a work as it would be."""
    return JsonAnswer(live_json(_found(room, desk, wish)))


@router.post("/why", responses=answers("Answers") | USUAL, operation_id="explain_live")
def explain(desk: Reading, room: InRoom, wish: Question) -> Response:
    """Return why a figure of a work would be what it would be."""
    return JsonAnswer(answers_json(_found(room, desk, wish).made(), wish.figure))


def _found(room: Room, desk: Desk, wish: Wish) -> Found:
    change = Change(wish.given, wish.treatment, wish.rules)
    if wish.work is not None:
        return room.live.work(desk, wish.work, change)
    if wish.show is None or wish.given is None:
        raise BadInput("no work", "work, or show with given")
    return room.live.typed(desk, wish.show, change)
