"""Works: as they are typed, several at once, resolved, and drawn on every kind of paper."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated, Any, Literal

from fastapi import APIRouter, Query, Response
from pydantic import Field

from fourply.app import drawn, keep
from fourply.app.cutters import kept_cutter
from fourply.app.documents import read_value, record_json
from fourply.app.keep_new import Typed, change_many, changed_typed, new_typed
from fourply.app.keep_pictures import pictures_of_work
from fourply.app.live import Change, Found
from fourply.app.live_json import package_json
from fourply.app.picturing import Kind as PictureKind
from fourply.app.picturing import picture
from fourply.app.ports_store import Kind
from fourply.app.why import why
from fourply.web.answering import JsonAnswer
from fourply.web.api.asking import CHANGING, CREATING, USUAL, AtDesk, Expected, Ident, Reading, Strict
from fourply.web.api.records import given
from fourply.web.api.shapes import answers
from fourply.web.room import InRoom, Room

router = APIRouter(prefix="/works", tags=["works"])

type Words = Annotated[str, Field(max_length=2000)]
type AsTyped = dict[Annotated[str, Field(max_length=80)], Words | int | float]
type OnCutter = Annotated[
    Ident | None, Query(description="The cutter that mats are cut on, by its id; a nominal one without it.")
]
type OnPaper = Literal["a4", "letter"] | None


class NewTyped(Strict):
    """A work as it is typed, by the keys of a show file; text is read in the show's unit and order."""

    scope: Ident = Field(description="The show it belongs to.")
    given: AsTyped = Field(examples=[{"id": "7", "title": "Weir", "size": "9 x 12"}])


class ChangedTyped(Strict):
    """A work as it is typed: all of it, not only what is new."""

    given: AsTyped


class OneOfMany(Strict):
    """One of several works that change together."""

    id: Ident
    version: Annotated[int, Field(ge=1, le=2**31 - 1)]
    value: dict[str, Any]


class Many(Strict):
    """Works of one show that change together, or none of them."""

    scope: Ident
    works: Annotated[list[OneOfMany], Field(min_length=1, max_length=1000)]


@router.post(
    "/typed", status_code=201, responses=answers("WorkRecord", 201, version=True) | CREATING, operation_id="type_works"
)
def new(desk: AtDesk, wish: NewTyped) -> Response:
    """Keep a work as it is typed, at the end of a show's list."""
    return given(new_typed(desk, wish.scope, Typed(wish.given)), 201, "/api/v1/works")


@router.put("/{ident}/typed", responses=answers("WorkRecord", version=True) | CHANGING, operation_id="retype_works")
def change(desk: AtDesk, ident: Ident, expected: Expected, wish: ChangedTyped) -> Response:
    """Change what a work is to what is typed; its place, due date, stage and pictures stay."""
    return given(changed_typed(desk, ident, Typed(wish.given), expected))


@router.post("/change", responses=answers("Records") | CHANGING, operation_id="change_many_works")
def change_together(desk: AtDesk, wish: Many) -> Response:
    """Change several works of a show as one entry of the history; each says the version that was seen."""
    works = [(each.id, each.version, read_value(Kind.WORK, each.value)) for each in wish.works]
    return JsonAnswer({"items": [record_json(each) for each in change_many(desk, wish.scope, works)]})


def _found(room: Room, desk: keep.Desk, ident: str) -> Found:
    """Return a work that can be made; raises BadInput for one that cannot."""
    return room.live.work(desk, ident).made()


@router.get("/{ident}/package", responses=answers("Package") | USUAL, operation_id="resolve_works")
def package(desk: Reading, room: InRoom, ident: Ident) -> Response:
    """Return a work resolved: every figure with its rule and operands, findings, or why it cannot be made."""
    return JsonAnswer(package_json(room.live.work(desk, ident)))


@router.get("/{ident}/why", responses=answers("Answers") | USUAL, operation_id="explain_works")
def explain(
    desk: Reading,
    room: InRoom,
    ident: Ident,
    figure: Annotated[str, Query(max_length=200, description="A figure by its path; every figure without it.")] = "",
) -> Response:
    """Return why a figure is what it is: its arithmetic and, deeper, that of all it stands on."""
    found = _found(room, desk, ident)
    return JsonAnswer(answers_json(found, figure))


def answers_json(found: Found, figure: str) -> dict[str, object]:
    """Return the answers for a figure as JSON."""
    lines = why(found.opened, found.number, figure or None)
    return {
        "items": [
            {"figure": each.figure, "sentence": each.sentence, "reason": each.reason, "depth": each.depth}
            for each in lines
        ]
    }


def _file(data: bytes, media: str) -> Response:
    return Response(data, media_type=media)


def a_file(media: str) -> dict[int | str, dict[str, Any]]:
    """Return what a route says that answers with a file."""
    return {200: {"description": "The file", "content": {media: {"schema": {}}}}, **USUAL}


SVG, PDF, PNG, ZIP = "image/svg+xml", "application/pdf", "image/png", "application/zip"


@router.get("/{ident}/front.svg", responses=a_file(SVG), operation_id="draw_front")
def front(desk: Reading, room: InRoom, ident: Ident, paper: OnPaper = None) -> Response:
    """Return the front view with its dimensions."""
    found = _found(room, desk, ident)
    return _file(drawn.front(found.opened, found.number, drawn.papers_of(found.opened, paper)), SVG)


@router.get("/{ident}/section.svg", responses=a_file(SVG), operation_id="draw_section")
def section(desk: Reading, room: InRoom, ident: Ident, paper: OnPaper = None) -> Response:
    """Return the section through the bottom edge."""
    found = _found(room, desk, ident)
    return _file(drawn.section(found.opened, found.number, drawn.papers_of(found.opened, paper)), SVG)


@router.get("/{ident}/preview.svg", responses=a_file(SVG), operation_id="draw_preview")
def preview(desk: Reading, room: InRoom, ident: Ident) -> Response:
    """Return the work as it will hang, its pictures in their windows."""
    found, images = _found(room, desk, ident), pictures_of_work(desk, ident)
    return _file(picture(found.opened, found.number, PictureKind.SVG, images), SVG)


@router.get("/{ident}/preview.png", responses=a_file(PNG), operation_id="paint_preview")
def painted(
    desk: Reading, room: InRoom, ident: Ident, pixels: Annotated[int, Query(ge=16, le=4000)] = 1000
) -> Response:
    """Return the work as it will hang as an image, so many dots on its longer side."""
    found, images = _found(room, desk, ident), pictures_of_work(desk, ident)
    return _file(picture(found.opened, found.number, PictureKind.PNG, images, pixels), PNG)


@router.get("/{ident}/ticket.pdf", responses=a_file(PDF), operation_id="print_ticket")
def ticket(desk: Reading, room: InRoom, ident: Ident, paper: OnPaper = None, cutter: OnCutter = None) -> Response:
    """Return the ticket, with what can be said before anything is planned."""
    on = kept_cutter(desk, cutter)
    found = room.live.work(desk, ident, Change(cutter=on)).made()
    papers = replace(drawn.papers_of(found.opened, paper), cutter=on)
    return _file(drawn.ticket(found.opened, found.number, papers), PDF)


@router.get("/{ident}/template.pdf", responses=a_file(PDF), operation_id="print_template")
def template(
    desk: Reading, room: InRoom, ident: Ident, side: Literal["back", "front"] = "back", paper: OnPaper = None
) -> Response:
    """Return the mats at full size, to print."""
    found = _found(room, desk, ident)
    papers = drawn.papers_of(found.opened, paper)
    return _file(drawn.template(found.opened, found.number, drawn.View(side), papers), PDF)


@router.get("/{ident}/cuts.zip", responses=a_file(ZIP), operation_id="write_cuts")
def cuts(  # noqa: PLR0917 (each is a part of the address)
    desk: Reading,
    room: InRoom,
    ident: Ident,
    kind: Literal["dxf", "svg"] = "dxf",
    side: Literal["back", "front"] = "back",
    follow: Literal["sight", "face"] = "sight",
) -> Response:
    """Return the cuts of each board for a machine, packed in one file."""
    found = _found(room, desk, ident)
    seen = drawn.View(side), drawn.Follow(follow)
    return _file(drawn.cut_files(found.opened, found.number, drawn.Format(kind), seen), ZIP)
