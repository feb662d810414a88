"""Pictures of works: looked at before they are kept, told apart by what is in them."""

from __future__ import annotations

from pathlib import PurePath

from fourply.app.keep import Desk, called, new_id, read
from fourply.app.ports_store import SHOP, Kind, Put, Query, Record
from fourply.errors import Unknown
from fourply.files.kept import KeptPicture, KeptWork
from fourply.render.photo import fit, measure

_LONGEST = 200


def keep_picture(desk: Desk, data: bytes, name: str = "") -> Record:
    """Keep a picture, once however often it is given; raises BadInput for what is none, or is too large.

    `name` is what a person calls it; it is shown, and never part of a path.
    """
    picture = laid_by(desk, data, name)
    return (
        known_picture(desk, picture.hash)
        or desk.commit([Put(new_id(), picture)], SHOP, f"new {called(picture)}").record
    )


def laid_by(desk: Desk, data: bytes, name: str = "") -> KeptPicture:
    """Return a picture whose bytes are in the store, to be kept with what shows it; raises BadInput as above."""
    looked = measure(data)
    content = desk.store.pictures.keep(data)
    shown = PurePath(name).name[:_LONGEST]
    return KeptPicture(content, looked.media, looked.width, looked.height, len(data), shown)


def known_picture(desk: Desk, content: str) -> Record | None:
    """Return the record of a picture by its content hash, None where it has none yet."""
    return next(iter(desk.store.find(Query(Kind.PICTURE, SHOP, name=content)).items), None)


def look_of(desk: Desk, content: str, shape: tuple[int, int]) -> bytes:
    """Return a picture by its content hash as a JPEG file of so many dots; raises Unknown, BadInput."""
    return fit(desk.store.pictures.read(content), shape, longest=max(shape))


def pictures_of(desk: Desk, work: KeptWork) -> tuple[bytes, ...]:
    """Return the pictures of a work's sheets in the order of the openings, empty for none; raises Unknown."""
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
