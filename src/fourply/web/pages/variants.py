"""The variants of a work: the strip under its design, and all of them side by side."""

from __future__ import annotations

from typing import Annotated

from fastapi import Path, Request, Response

from fourply.app import keep, variants, variants_seen
from fourply.app.design_edit import Designer
from fourply.app.keep import Desk
from fourply.app.ports_store import Kind, Record
from fourply.errors import BadInput, FourplyError, Stale
from fourply.web.pages.frame import TEMPLATES, AtDesk, In, Key, Sent, Strip, design_of, page, seen, text, version_in
from fourply.web.pages.routing import pages
from fourply.web.room import InRoom, Room

router = pages()
_STRIP = (120, 72)
_LARGE = (300, 440)
_ELSEWHERE = "This work was changed elsewhere meanwhile: look at it as it is now, then do it again."
type InSlot = Annotated[int, Path(ge=0, le=99)]


def _designer(room: Room) -> Designer:
    return Designer(room.live)


def strip_of(request: Request, desk: Desk, designer: Designer, record: Record) -> str:
    """Return the strip of a work's variants as HTML."""
    designs = variants_seen.seen(desk, designer, record)
    scale = variants_seen.scale_of(designs, *_STRIP)
    context = {"designs": designs, "scale": scale, "dots": variants_seen.dots, "record": record, "wrong": ""}
    return TEMPLATES.get_template("_variants.html").render(request=request, **context)


@router.get("/works/{work}/variants")
def side_by_side(request: Request, desk: AtDesk, room: InRoom, work: str) -> Response:
    """Show every variant of a work at one scale, and the figures in which they differ."""
    record, designer = keep.read(desk, work, Kind.WORK), _designer(room)
    designs = variants_seen.seen(desk, designer, record)
    scale = variants_seen.scale_of(designs, *_LARGE)
    show = keep.show_head(desk, record.scope)
    keys = (Key("E", "back to the design", design_of(request, work)),)
    return page(
        request,
        "variants.html",
        strip=Strip(scale=f"1:{scale}", scope=record.scope, keys=keys),
        show=In(record.scope, show.show.title, "design"),
        record=record,
        named=designs[0].slot.listed.work,
        designs=designs,
        scale=scale,
        dots=variants_seen.dots,
        differences=variants_seen.differences(desk, designer, record),
    )


@router.get("/works/{work}/variants/{slot}.svg")
def drawn(desk: AtDesk, room: InRoom, work: str, slot: InSlot) -> Response:
    """Show one variant in its frame; its address goes by what is seen, so an answer holds."""
    drawing = variants_seen.drawn(desk, _designer(room), keep.read(desk, work, Kind.WORK), slot)
    return Response(drawing, media_type="image/svg+xml", headers={"Cache-Control": "private, max-age=31536000"})


@router.post("/works/{work}/variants")
def aside(request: Request, desk: AtDesk, work: str, sent: Sent) -> Response:
    """Put the present design aside under a name."""
    try:
        variants.keep_variant(desk, work, text(sent, "name"), version_in(sent))
    except FourplyError as bad:
        return seen(design_of(request, work), _told(bad))
    return seen(design_of(request, work))


@router.post("/works/{work}/variants/{slot}")
def change(request: Request, desk: AtDesk, work: str, slot: InSlot, sent: Sent) -> Response:
    """Take a variant, call it otherwise, or take it away."""
    back = text(sent, "back") == "variants"
    to = f"/works/{work}/variants" if back else design_of(request, work)
    try:
        match text(sent, "act"):
            case "take":
                variants.take_variant(desk, work, slot, version_in(sent))
            case "name":
                variants.name_variant(desk, work, slot, text(sent, "name"), version_in(sent))
            case "drop":
                variants.drop_variant(desk, work, slot, version_in(sent))
            case other:
                raise BadInput(other, "take, name or drop")
    except FourplyError as bad:
        return seen(to, _told(bad))
    return seen(to)


def _told(bad: FourplyError) -> str:
    return _ELSEWHERE if isinstance(bad, Stale) else str(bad)
