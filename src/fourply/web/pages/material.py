"""One material: a form made of what its kind has, a sample that follows it, what is made of it, its history.

A new one is typed, copied from another, or taken over from the starter set; in each case nothing is kept before the
form is sent, and what cannot be read comes back beside its field.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated

from fastapi import Depends, Path, Request
from starlette.datastructures import FormData, UploadFile
from starlette.responses import Response

from fourply.app import keep, keep_pictures, material_look, material_saying, material_uses, material_words
from fourply.app.material_forms import Form, form_of, form_says
from fourply.app.ports_store import SHOP, Kind, Record
from fourply.errors import FourplyError, Stale, Taken
from fourply.web.api.asking import Ident
from fourply.web.pages.frame import AtDesk, Key, Sent, Strip, page, seen, text, version_in
from fourply.web.pages.routing import pages
from fourply.web.room import InRoom

router = pages()

type Table = Annotated[str, Path(max_length=20)]
_MOST_BYTES = 20_000_000
_DOTS = (88, 56)


@dataclass(frozen=True, slots=True)
class At:
    """Where a form is shown or sent."""

    request: Request
    desk: AtDesk
    room: InRoom


type Here = Annotated[At, Depends()]


@dataclass(frozen=True, slots=True)
class Shown:
    """A form as it is shown: what stands in its fields, what is wrong with them, what others keep there by now."""

    said: Mapping[str, str]
    faults: Mapping[str, str] = field(default_factory=dict)
    theirs: Mapping[str, str] = field(default_factory=dict)
    version: int = 0


@dataclass(frozen=True, slots=True)
class Of:
    """Whose form it is: its title, where it is sent; the record of a kept one, what is made of it, its history."""

    title: str
    to: str
    starter: str = ""
    record: Record | None = None
    uses: tuple[material_uses.Use, ...] = ()
    past: tuple[material_saying.Past, ...] = ()


@router.get("/materials/pictures/{content}")
def picture(desk: AtDesk, content: Ident) -> Response:
    """Return a kept picture as small as a list shows it."""
    data = keep_pictures.look_of(desk, content, _DOTS)
    return Response(data, media_type="image/jpeg", headers={"Cache-Control": "private, max-age=31536000, immutable"})


@router.get("/materials/new/{table}")
def new(here: Here, table: Table, starter: str = "", like: str = "") -> Response:
    """Show the form of a new material: empty, as one of the starter set, or as a copy of another."""
    desk = here.desk
    if starter:
        said = material_saying.said_of(desk, material_saying.starter_named(desk, table, starter))
    elif like:
        kept = material_saying.material_of(keep.read(desk, like, Kind.MATERIAL))
        said = material_saying.said_of(desk, material_saying.renamed_copy(desk, kept))
    else:
        said = dict(form_of(desk, table).usual)
    return _new(here, table, Shown(said), starter)


def _new(here: At, table: str, shown: Shown, starter: str) -> Response:
    form = form_of(here.desk, table)
    title = starter or f"New {material_words.ONE[form.table]}"
    return _page(here, form, shown, Of(title, f"/materials/new/{table}", starter))


@router.post("/materials/new/{table}")
def make(here: Here, table: Table, sent: Sent) -> Response:
    """Keep a new material."""
    said, starter = _said(here.desk, table, sent), text(sent, "starter")
    try:
        said = material_saying.with_picture(here.desk, material_saying.Typed(said, _picture(sent)))
        record = material_saying.keep_new(here.desk, table, said, "take over" if starter else "new")
    except material_saying.Misread as bad:
        return _new(here, table, Shown(said, bad.faults), starter)
    return seen(f"/materials/{record.id}", "Kept.")


@router.post("/materials/sample/{table}")
def sample(here: Here, table: Table, sent: Sent) -> Response:
    """Return the sample of what is typed; nothing is kept."""
    try:
        kept = material_saying.typed_material(here.desk, table, _said(here.desk, table, sent))
    except material_saying.Misread:
        return Response(status_code=204)  # what is typed is not finished: the sample stays as it is
    return page(here.request, "_sample.html", strip=Strip(), looks=material_look.looks(here.desk, kept))


@router.get("/materials/{material}")
def one(here: Here, material: Ident) -> Response:
    """Show a material."""
    record = keep.read(here.desk, material, Kind.MATERIAL)
    kept = material_saying.material_of(record)
    return _one(here, material, Shown(material_saying.said_of(here.desk, kept), version=record.version))


def _one(here: At, material: str, shown: Shown) -> Response:
    desk, record = here.desk, keep.read(here.desk, material, Kind.MATERIAL)
    kept = material_saying.material_of(record)
    form = form_of(desk, material_saying.table_of(kept))
    uses = material_uses.uses_of(desk, here.room.uses.of_all(desk), kept.item)
    of = Of(kept.item.name, f"/materials/{material}", "", record, uses, material_saying.past(desk, material))
    return _page(here, form, shown, of, record.scope)


def _page(here: At, form: Form, shown: Shown, of: Of, scope: str = SHOP) -> Response:
    try:
        looks = material_look.looks(here.desk, material_saying.typed_material(here.desk, form.table, shown.said))
    except material_saying.Misread:
        looks = ()
    wrong = bool(shown.faults or shown.theirs)
    return page(
        here.request,
        "material.html",
        strip=Strip(keys=(Key("M", "all materials", f"/materials?kind={form.table}"),), scope=scope),
        here="materials",
        form=form,
        one_word=material_words.ONE[form.table],
        shown=shown,
        looks=looks,
        status=(409 if shown.theirs else 422) if wrong else 200,
        of=of,
    )


@router.post("/materials/{material}")
def say(here: Here, material: Ident, sent: Sent) -> Response:
    """Change a material; where somebody else did meanwhile, both versions are shown."""
    desk = here.desk
    kept = material_saying.material_of(keep.read(desk, material, Kind.MATERIAL))
    table, version = material_saying.table_of(kept), version_in(sent)
    said = _said(desk, table, sent)
    try:
        said = material_saying.with_picture(desk, material_saying.Typed(said, _picture(sent)))
        material_saying.say(desk, material, said, version, here.room.uses)
    except material_saying.Misread as bad:
        return _one(here, material, Shown(said, bad.faults, version=version))
    except Stale:
        now = keep.read(desk, material, Kind.MATERIAL)
        theirs = form_says(desk, material_saying.material_of(now), said)
        return _one(here, material, Shown(said, theirs=theirs, version=now.version))
    return seen(f"/materials/{material}", "Kept.")


@router.post("/materials/{material}/archive")
def archive(here: Here, material: Ident, sent: Sent) -> Response:
    """Put a material away, or have it back."""
    away = text(sent, "away") == "yes"
    try:
        keep.archive(here.desk, material, version_in(sent), archived=away)
    except Stale:
        return seen(f"/materials/{material}", "It was changed meanwhile; this is how it is now.")
    except Taken:
        return seen(f"/materials/{material}", "The shop has another of this name by now: change that one’s name first.")
    return seen(f"/materials/{material}", "Put away: it is offered no more." if away else "It is offered again.")


@router.post("/materials/{material}/back")
def back(here: Here, material: Ident, sent: Sent) -> Response:
    """Take a material back to an earlier state."""
    try:
        material_saying.take_back(here.desk, material, version_in(sent, "state"), version_in(sent), here.room.uses)
    except Stale:
        return seen(f"/materials/{material}", "It was changed meanwhile; this is how it is now.")
    except material_saying.Misread as bad:
        return seen(f"/materials/{material}", "; ".join(bad.faults.values()))
    except FourplyError as bad:
        return seen(f"/materials/{material}", str(bad))
    return seen(f"/materials/{material}", "Taken back to that state.")


def _said(desk: keep.Desk, table: str, sent: FormData) -> dict[str, str]:
    """Return what stands in every field that the form has; a box that is not ticked is sent as nothing."""
    return {key: text(sent, key) for key in form_of(desk, table).keys}


def _picture(sent: FormData) -> tuple[str, bytes] | None:
    given = sent.get("file")
    if not isinstance(given, UploadFile) or not given.filename:
        return None
    return given.filename, given.file.read(_MOST_BYTES)
