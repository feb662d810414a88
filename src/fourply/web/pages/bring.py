"""Bringing in a list: given, looked at with its faults in their cells, its columns put right, kept."""

from __future__ import annotations

import base64

from fastapi import Request
from starlette.datastructures import FormData
from starlette.responses import Response

from fourply.app import bringing, keep
from fourply.errors import BadInput, FourplyError
from fourply.web.pages.frame import AtDesk, In, Sent, Strip, page, seen, text
from fourply.web.pages.routing import pages
from fourply.web.pages.uploads import header_row, named_columns, uploaded

router = pages()
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
    name, data = uploaded(sent)
    kinds = named_columns(sent)
    return bringing.Sheet(
        bringing.file_named(name),
        data,
        text(sent, "unit"),
        text(sent, "order"),
        tuple(kinds) if kinds and "again" not in sent else None,
        header_row(sent),
    )
