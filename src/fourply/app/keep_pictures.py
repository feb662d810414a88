"""Pictures of works: looked at before they are kept, told apart by what is in them."""

from __future__ import annotations

from hashlib import sha256
from pathlib import PurePath

from fourply.app.keep import Desk, called, new_id, read
from fourply.app.ports_store import SHOP, Kind, Put, Query, Record
from fourply.errors import BadInput, Unknown
from fourply.files.kept import KeptPicture, KeptWork
from fourply.render.photo import measure

_LONGEST = 200


def keep_picture(desk: Desk, data: bytes, name: str = "") -> Record:
    """Keep a picture, once however often it is given; raises BadInput for what is none, or is too large.

    `name` is what a person calls it; it is shown, and never part of a path.
    """
    looked = measure(data)
    content = sha256(data).hexdigest()
    for found in desk.store.find(Query(Kind.PICTURE, SHOP, name=content)).items:
        return found
    desk.store.pictures.keep(data)
    shown = PurePath(name).name[:_LONGEST]
    picture = KeptPicture(content, looked.media, looked.width, looked.height, len(data), shown)
    return desk.commit([Put(new_id(), picture)], SHOP, f"new {called(picture)}").record


def pictures_of(desk: Desk, work: KeptWork) -> tuple[bytes, ...]:
    """Return the pictures of a work's sheets in the order of the openings, empty for none; raises Unknown."""
    if len(work.pictures) > len(work.listed.work.arts):
        raise BadInput(f"{len(work.pictures)} pictures", "one for each sheet of the work")
    return tuple(desk.store.pictures.read(content) if content else b"" for content in work.pictures)


def pictures_of_work(desk: Desk, work: str) -> tuple[bytes, ...]:
    """Return the pictures of a kept work by its id, as `pictures_of` does; raises Unknown."""
    found = read(desk, work, Kind.WORK)
    return pictures_of(desk, found.value) if isinstance(found.value, KeptWork) else ()


def picture_file(desk: Desk, picture: str) -> tuple[bytes, str]:
    """Return the bytes of a kept picture by its id, and its media type; raises Unknown."""
    found = read(desk, picture, Kind.PICTURE)
    if not isinstance(found.value, KeptPicture):
        raise Unknown(Kind.PICTURE.value, picture, ())
    return desk.store.pictures.read(found.value.hash), found.value.media
