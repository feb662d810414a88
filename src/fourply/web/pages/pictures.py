"""Pictures of works: hung at one work on its design page, or many at a show, matched by the names of their files."""

from __future__ import annotations

from collections.abc import AsyncIterator, Sequence
from typing import Annotated

from fastapi import Depends, Path, Request, Response
from starlette.datastructures import FormData, UploadFile

from fourply.app import hanging, keep
from fourply.app.hanging import Picture, Sheet
from fourply.app.keep import Desk
from fourply.app.keep_pictures import laid_by
from fourply.app.ports_store import Record
from fourply.errors import BadInput, FourplyError, Stale
from fourply.web.pages.frame import TEMPLATES, AtDesk, In, Key, Strip, design_of, page, seen, text, version_in
from fourply.web.pages.routing import pages

router = pages()
MOST_FILES = 120
_MOST_BYTES = 60_000_000
_ELSEWHERE = "This work was changed elsewhere meanwhile: look at it as it is now, then choose the picture again."


async def _sent(request: Request) -> AsyncIterator[FormData]:
    async with request.form(max_files=MOST_FILES, max_fields=5000, max_part_size=_MOST_BYTES) as form:
        yield form


type Sent = Annotated[FormData, Depends(_sent)]


def picture_html(request: Request, desk: Desk, record: Record, wrong: str = "") -> str:
    """Return the part of the design page that hangs pictures, as HTML."""
    sheets = [each for each in hanging.sheets_of(desk, record.scope) if each.record.id == record.id]
    shown = [(each, *_said(desk, each)) for each in sheets]
    return TEMPLATES.get_template("_picture.html").render(request=request, record=record, shown=shown, wrong=wrong)


def _said(desk: Desk, sheet: Sheet) -> tuple[str, str]:
    """Return what the picture of a sheet is called, and how much of it is cut off."""
    found = hanging.picture_of(desk, sheet.picture) if sheet.picture else None
    return (found.name or "picture", hanging.fit_words(found, sheet.size)) if found else ("", "")


@router.post("/works/{work}/pictures/{place}")
def hang(request: Request, desk: AtDesk, work: str, place: Annotated[int, Path(ge=0, le=99)], sent: Sent) -> Response:
    """Hang the picture of one sheet, or take away what hangs there."""
    try:
        picture = None if text(sent, "act") == "remove" else _one(desk, sent)
        hanging.hang_one(desk, work, place, picture, version_in(sent))
    except Stale:
        return seen(design_of(request, work), _ELSEWHERE)
    except FourplyError as bad:
        return seen(design_of(request, work), f"The picture is not hung: {bad}")
    return seen(design_of(request, work))


def _one(desk: Desk, sent: FormData) -> Picture:
    given = sent.get("picture")
    if not isinstance(given, UploadFile) or not given.filename:
        raise BadInput("no file", "a picture: JPEG, PNG, TIFF or WebP")
    return laid_by(desk, given.file.read(), given.filename)


@router.get("/shows/{show}/pictures")
def choose(request: Request, desk: AtDesk, show: str) -> Response:
    """Show where pictures of many works are chosen."""
    return _shown(request, desk, show, ())


@router.post("/shows/{show}/pictures")
def look(request: Request, desk: AtDesk, show: str, sent: Sent) -> Response:
    """Show which picture is of which sheet; nothing hangs yet."""
    files = [each for each in sent.getlist("picture") if isinstance(each, UploadFile) and each.filename]
    found: list[tuple[str, Picture | None, str]] = []
    for each in files:
        name = each.filename or ""
        try:
            found.append((name, laid_by(desk, each.file.read(), name), ""))
        except FourplyError as bad:
            found.append((name, None, str(bad)))
    wrong = "" if files else "choose at least one picture"
    return _shown(request, desk, show, found, wrong)


@router.post("/shows/{show}/pictures/hang")
def hang_all(request: Request, desk: AtDesk, show: str, sent: Sent) -> Response:
    """Hang the pictures that were looked at, each at the sheet that is named beside it."""
    chosen: dict[str, Picture] = {}
    for content, name, at in zip(*(sent.getlist(key) for key in ("content", "name", "at")), strict=False):
        if at:
            chosen[str(at)] = hanging.chosen_of(desk, str(content), str(name))
    if not chosen:
        return _shown(request, desk, show, (), "no picture has a sheet to hang at")
    hanging.hang(desk, show, chosen, f"hang {len(chosen)} picture{'s' if len(chosen) > 1 else ''}")
    return seen(f"/shows/{show}")


def _shown(
    request: Request,
    desk: Desk,
    show: str,
    found: Sequence[tuple[str, Picture | None, str]],
    wrong: str = "",
) -> Response:
    head = keep.show_head(desk, show)
    sheets = hanging.sheets_of(desk, show)
    at = hanging.matched([name for name, _, _ in found], sheets)
    by_key = {each.key: each for each in sheets}
    rows = [
        (name, picture, bad, key, hanging.fit_words(picture, by_key[key].size) if picture and key else "")
        for (name, picture, bad), key in zip(found, at, strict=True)
    ]
    return page(
        request,
        "pictures.html",
        strip=Strip(scope=head.record.id, keys=(Key("W", "wall", f"/shows/{show}"),)),
        show=In(head.record.id, head.show.title, "pictures"),
        record=head.record,
        sheets=sheets,
        rows=rows,
        wrong=wrong,
        most=MOST_FILES,
        status=422 if wrong else 200,
    )
