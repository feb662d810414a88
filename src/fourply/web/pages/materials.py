"""The materials of the shop with their looks and prices, and a supplier's list with its changes shown first."""

from __future__ import annotations

import base64
from dataclasses import dataclass
from typing import Annotated

from fastapi import Depends, Request
from starlette.datastructures import FormData
from starlette.responses import Response

from fourply.app import bringing, keep, material_lines, material_words, price_sheet
from fourply.errors import BadInput, FourplyError, Stale
from fourply.web.pages.frame import AtDesk, Key, Sent, Strip, page, seen, text
from fourply.web.pages.routing import pages
from fourply.web.pages.uploads import named_columns, uploaded
from fourply.web.room import InRoom

router = pages()


@dataclass(frozen=True, slots=True)
class Looked:
    """What the address says of the list; anything else is as nothing."""

    q: str = ""
    kind: str = ""
    sort: str = ""
    down: str = ""
    away: str = ""

    @property
    def asked(self) -> material_lines.Asked:
        """What is asked for, as the use case takes it."""
        kind = self.kind if self.kind in material_words.MANY else ""
        sort = self.sort if self.sort in material_lines.SORTS else "name"
        return material_lines.Asked(self.q[:200], kind, sort, down=self.down == "1", archived=self.away == "1")


@router.get("/materials")
def materials(request: Request, desk: AtDesk, room: InRoom, looked: Annotated[Looked, Depends()]) -> Response:
    """Show every material by its kind."""
    asked = looked.asked
    keys = (Key("N", "new material", "#new-boards"), Key("B", "bring in a price list", "/materials/prices"))
    return page(
        request,
        "materials.html",
        strip=Strip(keys=keys),
        here="materials",
        found=material_lines.material_lines(desk, asked, room.uses),
        asked=asked,
        many=material_words.MANY,
        one=material_words.ONE,
    )


@router.get("/materials/prices")
def prices(request: Request) -> Response:
    """Show the page that takes a supplier's list."""
    return _give(request, {}, "")


def _give(request: Request, said: dict[str, str], fault: str) -> Response:
    return page(
        request, "prices.html", strip=Strip(), here="materials", said=said, fault=fault, status=422 if fault else 200
    )


@router.post("/materials/prices")
def look(request: Request, desk: AtDesk, sent: Sent) -> Response:
    """Show what a supplier's list would change; with `keep` among what was sent, keep what was chosen."""
    try:
        sheet = _sheet(sent)
    except BadInput as bad:
        return _give(request, {"pasted": text(sent, "pasted"), "supplier": text(sent, "supplier")}, str(bad))
    fault = ""
    if "keep" in sent:
        try:
            kept = price_sheet.take(desk, sheet, [str(each) for each in sent.getlist("take")])
            return seen("/materials", f"{len(kept)} material{'' if len(kept) == 1 else 's'} changed")
        except Stale:
            fault = "Something of it was changed meanwhile; these are the changes as they are now."
        except FourplyError as bad:
            fault = str(bad)
    return _looked(request, desk, sheet, fault)


def _looked(request: Request, desk: keep.Desk, sheet: price_sheet.PriceSheet, fault: str) -> Response:
    return page(
        request,
        "priced.html",
        strip=Strip(about="nothing is kept yet"),
        here="materials",
        sheet=sheet,
        packed=base64.b64encode(sheet.data).decode(),
        found=price_sheet.look(desk, sheet),
        columns=price_sheet.COLUMNS,
        every_kind=price_sheet.KINDS,
        fault=fault,
        status=422 if fault else 200,
    )


def _sheet(sent: FormData) -> price_sheet.PriceSheet:
    """Return the list of a form: a file, pasted text, or what was looked at before; raises BadInput."""
    name, data = uploaded(sent)
    columns = tuple(named_columns(sent))
    said = {each: text(sent, each) for each in ("supplier", "unit", "order", "kind")}
    return price_sheet.PriceSheet(bringing.file_named(name), data, **said, columns=columns or None)
