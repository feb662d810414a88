"""Bringing in a list: given, looked at with its faults in their cells, its columns put right, kept."""

from __future__ import annotations

import base64
import binascii

from fastapi import Request
from starlette.datastructures import FormData, UploadFile
from starlette.responses import Response

from fourply.app import bringing, keep
from fourply.errors import BadInput, FourplyError
from fourply.web.pages.frame import AtDesk, In, Sent, Strip, page, seen, text
from fourply.web.pages.routing import pages

router = pages()
_MOST = 8_000_000
NAMES = {"id": "number", "maker": "artist", "with": "in the mat of"}


@router.get("/bring")
def bring(request: Request, desk: AtDesk, show: str = "") -> Response:
    """Show the page that takes a list, for a show or for a new one."""
    return _give(request, desk, show, {}, "")


def _give(request: Request, desk: keep.Desk, show: str, said: dict[str, str], fault: str) -> Response:
    head = keep.show_head(desk, show).show if show else None
    return page(
        request,
        "bring.html",
        strip=Strip(scope=show or "shop"),
        show=In(show, head.title) if head else None,
        here="shows",
        said=said,
        fault=fault,
        status=422 if fault else 200,
    )


@router.post("/bring")
def look(request: Request, desk: AtDesk, sent: Sent) -> Response:
    """Show how a list is understood; with `keep` among what was sent, keep it."""
    show = text(sent, "show")
    try:
        sheet = _sheet(sent)
    except BadInput as bad:
        return _give(request, desk, show, {"pasted": text(sent, "pasted")}, str(bad))
    fault = ""
    if "keep" in sent:
        try:
            kept, works = bringing.keep(desk, show, text(sent, "title"), sheet)
            return seen(f"/shows/{kept}", f"{works} work{'' if works == 1 else 's'} brought in from {sheet.file}")
        except FourplyError as bad:
            fault = str(bad)
    return _looked(request, desk, show, sheet, title=text(sent, "title"), fault=fault)


def _looked(request: Request, desk: keep.Desk, show: str, sheet: bringing.Sheet, *, title: str, fault: str) -> Response:
    head = keep.show_head(desk, show).show if show else None
    found = bringing.understand(desk, show, sheet)
    others = [each for each in bringing.KINDS if each not in bringing.USUAL]
    return page(
        request,
        "brought.html",
        strip=Strip(scope=show or "shop", about="nothing is kept yet"),
        show=In(show, head.title) if head else None,
        here="shows",
        sheet=sheet,
        packed=base64.b64encode(sheet.data).decode(),
        found=found,
        usual=[(each, NAMES.get(each, each.replace("_", " "))) for each in bringing.USUAL],
        others=[(each, each.replace("_", " ")) for each in others],
        title=title or sheet.file.rpartition(".")[0].replace("_", " "),
        fault=fault,
        status=422 if fault else 200,
    )


def _sheet(sent: FormData) -> bringing.Sheet:
    """Return the list of a form: a file, pasted text, or what was looked at before; raises BadInput."""
    given, name = sent.get("list"), text(sent, "file")
    if packed := text(sent, "packed"):
        try:
            data = base64.b64decode(packed, validate=True)
        except binascii.Error:
            raise BadInput("a list that was changed on its way", "give it again") from None
    elif isinstance(given, UploadFile) and given.filename:
        data, name = given.file.read(_MOST + 1), given.filename
    else:
        data, name = text(sent, "pasted").encode(), "pasted.csv"
    if not data.strip():
        raise BadInput("nothing", "a file, or rows pasted from a spreadsheet")
    if len(data) > _MOST:
        raise BadInput(f"more than {_MOST // 1_000_000} MB", "a list of works and nothing else")
    kinds = [str(sent.get(f"column-{at}", "")) for at in range(_columns(sent))]
    header = text(sent, "header_row", "0")
    return bringing.Sheet(
        bringing.file_named(name),
        data,
        text(sent, "unit"),
        text(sent, "order"),
        tuple(kinds) if kinds and "again" not in sent else None,
        int(header) if header.isdecimal() else 0,
    )


def _columns(sent: FormData) -> int:
    found = text(sent, "columns", "0")
    return min(int(found), 200) if found.isdecimal() else 0
