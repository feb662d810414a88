"""What belongs to the shop as a whole: its settings, its pictures, what to set on its cutters."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from fastapi import APIRouter, Response
from pydantic import Field

from fourply.app.cutters import set_kept
from fourply.app.documents import read_value, value_json
from fourply.app.keep_new import change_settings_to
from fourply.app.keep_pictures import keep_picture, picture_file
from fourply.app.keep_settings import Settings, shop_settings
from fourply.app.ports_store import Kind
from fourply.web.answering import JsonAnswer
from fourply.web.api.asking import CHANGING, USUAL, AtDesk, Expected, Ident, Reading, Strict
from fourply.web.api.files import BODY, Data, Name
from fourply.web.api.records import given
from fourply.web.api.schema import ref
from fourply.web.api.shapes import answers

router = APIRouter()
_IMAGES = ("image/jpeg", "image/png", "image/tiff", "image/webp")


class NewSettings(Strict):
    """The settings as they are to be: all of them."""

    value: dict[str, Any]


def _settings(found: Settings) -> Response:
    version = 0 if found.record is None else found.record.version
    return JsonAnswer({"version": version, "value": value_json(found.value)}, headers={"ETag": f'"{version}"'})


@router.get(
    "/settings", responses=answers("Settings", version=True) | USUAL, operation_id="read_settings", tags=["settings"]
)
def settings(desk: Reading) -> Response:
    """Return what the shop starts every show from; version 0 is what fourply comes with."""
    return _settings(shop_settings(desk))


@router.put(
    "/settings",
    responses=answers("Settings", version=True) | CHANGING,
    operation_id="change_settings",
    tags=["settings"],
    openapi_extra={"requestBody": {"content": {"application/json": {"schema": ref("ChangedSettings")}}}},
)
def change(desk: AtDesk, expected: Expected, wish: NewSettings) -> Response:
    """Change the settings from the version that was seen."""
    record = change_settings_to(desk, read_value(Kind.SETTINGS, wish.value), expected or None)
    return JsonAnswer(
        {"version": record.version, "value": value_json(record.value)}, headers={"ETag": f'"{record.version}"'}
    )


@router.post(
    "/pictures",
    status_code=201,
    responses=answers("PictureRecord", 201, version=True) | USUAL,
    openapi_extra=BODY,
    operation_id="create_pictures",
    tags=["pictures"],
)
def new_picture(desk: AtDesk, data: Data, file: Name = "") -> Response:
    """Keep a picture (JPEG, PNG, TIFF, WebP), once however often it is sent."""
    return given(keep_picture(desk, data, file), 201, "/api/v1/pictures")


@router.get(
    "/pictures/{ident}/content",
    responses={200: {"description": "The file", "content": {each: {"schema": {}} for each in _IMAGES}}, **USUAL},
    operation_id="read_picture_file",
    tags=["pictures"],
)
def content(desk: Reading, ident: Ident) -> Response:
    """Return the picture itself; it never changes."""
    data, media = picture_file(desk, ident)
    return Response(data, media_type=media, headers={"Cache-Control": "private, max-age=31536000, immutable"})


class Border(Strict):
    """A border as it is written, and where along a cut of some length it is wanted."""

    border: Annotated[str, Field(min_length=1, max_length=80)]
    place: Literal["mid", "far", "near"] = "mid"
    length: Annotated[str, Field(max_length=80)] = ""


@router.post(
    "/cutters/{ident}/setting", responses=answers("Setting") | USUAL, operation_id="set_cutters", tags=["cutters"]
)
def setting(desk: Reading, ident: Ident, wish: Border) -> Response:
    """Return what to set on a cutter for a border, in sentences, and the working of it; nothing is kept."""
    told = set_kept(desk, ident, wish.border, wish.place, wish.length)
    return JsonAnswer(
        {
            "reached": told.reached,
            "sentences": told.sentences,
            "working": [
                {"figure": each.figure, "sentence": each.sentence, "reason": each.reason, "depth": each.depth}
                for each in told.working
            ],
        }
    )
