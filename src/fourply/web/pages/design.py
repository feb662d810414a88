"""The design of one work: the page, what it draws from, and what it keeps.

While something is moved the page asks for the data of a change that is not kept; to keep it, the same change is sent
with the version that was seen.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Annotated, Any

from fastapi import APIRouter, Depends, Request
from pydantic import Field
from starlette.responses import RedirectResponse, Response

from fourply.app.design_edit import Designed, Designer, Edit, host_of, neighbours, pictures_in
from fourply.app.design_json import design_json, remedies_json, why_json
from fourply.app.design_parts import Act, PartEdit
from fourply.app.design_rules import rules_json
from fourply.app.keep import Desk, read, show_head
from fourply.app.ports_store import Kind
from fourply.app.remedies import remedies
from fourply.web.answering import JsonAnswer
from fourply.web.api.asking import Expected, Ident, Strict
from fourply.web.pages.frame import AtDesk, In, Key, Strip, page, strip_html
from fourply.web.pages.pictures import picture_html
from fourply.web.pages.variants import strip_of
from fourply.web.room import InRoom

router = APIRouter(include_in_schema=False)

type Short = Annotated[str, Field(max_length=4000)]


class Part(Strict):
    """A change to one part of a rule, as `PartEdit` has it."""

    rule: Annotated[str, Field(max_length=40)]
    act: Annotated[Act, Field(strict=False)]
    at: int = Field(0, ge=0, le=100)
    name: Annotated[str, Field(max_length=40)] = ""
    text: Short = ""

    @property
    def edit(self) -> PartEdit:
        """The change as the use case takes it."""
        return PartEdit(self.rule, self.act, self.at, self.name, self.text.strip())


class Change(Strict):
    """A change to a design, as `Edit` has it."""

    treatment: Annotated[str, Field(max_length=500)] | None = None
    rules: dict[Annotated[str, Field(max_length=40)], Short] = Field(default_factory=dict, max_length=60)
    back: list[Annotated[str, Field(max_length=40)]] = Field(default_factory=list, max_length=60)
    part: Part | None = None
    handle: Annotated[str, Field(max_length=40)] = ""
    steps: int = Field(0, ge=-10_000, le=10_000)
    by_mm: float = Field(0.0, ge=-5_000, le=5_000, allow_inf_nan=False)
    text: Annotated[str, Field(max_length=200)] = ""
    alone: bool = False
    seen_mm: float | None = Field(None, ge=0, le=10_000, allow_inf_nan=False)

    @property
    def edit(self) -> Edit:
        """The change as the use case takes it."""
        return Edit(
            self.treatment,
            self.rules,
            tuple(self.back),
            self.part.edit if self.part else None,
            self.handle,
            self.steps,
            self.by_mm,
            self.text.strip(),
            self.alone,
            self.seen_mm,
        )


class Asked(Change):
    """A change, and the figure that is asked about."""

    figure: Annotated[str, Field(max_length=200)]


def _designer(request: Request, room: InRoom) -> Designer:
    """Return what resolves designs for as long as the app runs."""
    state = request.app.state
    if not hasattr(state, "designer"):
        state.designer = Designer(room.live)
    found: Designer = state.designer
    return found


type InHand = Annotated[Designer, Depends(_designer)]


@dataclass(frozen=True, slots=True)
class Where:
    """Where a change is kept."""

    request: Request
    desk: AtDesk
    designer: InHand


type At = Annotated[Where, Depends()]


@router.get("/works/{work}/design", name="design")
def design(request: Request, desk: AtDesk, designer: InHand, work: Ident) -> Response:
    """Show the design of a work; of one that hangs in the mat of another, the design of that."""
    record = read(desk, work, Kind.WORK)
    if (host := host_of(desk, record)) != record.id:
        return RedirectResponse(request.app.url_path_for("design", work=host), 303)
    designed = designer.see(desk, work)
    show = show_head(desk, record.scope)
    before, after = neighbours(desk, record)
    keys = [
        Key(key, does, request.app.url_path_for("design", work=ident))
        for key, does, ident in (("[", "work before", before), ("]", "work after", after))
        if ident
    ]
    return page(
        request,
        "design.html",
        strip=Strip(keys=keys, scope=record.scope),
        show=In(record.scope, show.show.title, "design"),
        work=designed.listed.work,
        address=request.url.path,
        data=_in_page(_whole(desk, designed)),
        variants=strip_of(request, desk, designer, record),
        copy_at=f"/works/{record.id}/copy",
        picture=picture_html(request, desk, record),
    )


def _whole(desk: Desk, designed: Designed) -> dict[str, Any]:
    metric = designed.parts.show.unit.is_metric
    steps = {"fine": "1 mm", "coarse": "5 mm", "times": 5} if metric else {"fine": "1/16", "coarse": "1/4", "times": 4}
    pictures = [f"/api/v1/pictures/{each}/content" if each else "" for each in pictures_in(desk, designed.record)]
    said = designed.wording.seen(design_json(designed) | {"rules": rules_json(designed)})
    return said | {"steps": steps, "pictures": pictures}


def _in_page(data: object) -> str:
    """Return JSON that may stand inside a script element: no tag can begin in it."""
    return json.dumps(data).replace("<", "\\u003c")


@router.get("/works/{work}/design.json")
def kept(request: Request, desk: AtDesk, designer: InHand, work: Ident) -> Response:
    """Return a design as it is kept."""
    designed = designer.see(desk, work)
    strip = strip_html(request, desk, designed.record.scope, request.app.url_path_for("design", work=work))
    variants = strip_of(request, desk, designer, designed.record)
    return JsonAnswer(_whole(desk, designed) | {"strip": strip, "variants": variants})


@router.post("/works/{work}/design.json")
def changed(desk: AtDesk, designer: InHand, work: Ident, change: Change) -> Response:
    """Return a design as a change would make it; nothing is kept."""
    designed = designer.see(desk, work, change.edit)
    return JsonAnswer(designed.wording.seen(design_json(designed)))


@router.put("/works/{work}/design.json")
def keep(at: At, work: Ident, expected: Expected, change: Change) -> Response:
    """Keep a change, from the version that was seen, and return the design."""
    at.designer.keep(at.desk, work, change.edit, expected)
    return kept(at.request, at.desk, at.designer, work)


@router.get("/works/{work}/remedies.json")
def cures(desk: AtDesk, designer: InHand, work: Ident) -> Response:
    """Return what would put right what is found on a design as it is kept."""
    said = designer.see(desk, work).wording
    return JsonAnswer(said.seen(remedies_json(remedies(designer, desk, work))))


@router.post("/works/{work}/why.json")
def why(desk: AtDesk, designer: InHand, work: Ident, asked: Asked) -> Response:
    """Return the working of a figure of a design as a change would make it."""
    designed = designer.see(desk, work, asked.edit)
    return JsonAnswer(designed.wording.seen(why_json(designed, asked.figure)))
