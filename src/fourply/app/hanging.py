"""Pictures of works in their places: which sheets a show has, which file is of which, and how a picture fits its sheet.

A picture belongs to one sheet. Several sheets may lie in one mat; then the work whose mat it is holds the pictures of
all of them, in the order of the openings.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import PurePath

from fourply.app.keep import Desk, new_id, read
from fourply.app.keep_pictures import known_picture, laid_by
from fourply.app.ports_store import SHOP, Kind, Put, Record
from fourply.errors import BadInput, Unknown
from fourply.files.kept import KeptPicture, KeptWork
from fourply.measure.size import Size
from fourply.trade.work import Artwork

type Picture = KeptPicture
"""What is known of a picture: its content hash, its dots, what it is called."""

_NEAR = 0.02
"""How far a picture's proportions may be off its sheet's before it is said: a photograph is never quite square on."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet of a show: the record that holds its picture and its place there, its number, title and size.

    `size` is what a picture shows: the image where its place is known, else the sheet. `picture` is a content hash, ""
    for none.
    """

    record: Record
    place: int
    number: str
    title: str
    size: Size
    picture: str

    @property
    def key(self) -> str:
        """What a form calls it."""
        return f"{self.record.id}.{self.place}"


def sheets_of(desk: Desk, show: str) -> tuple[Sheet, ...]:
    """Return the sheets of a show's works in the order of its list; raises Unknown."""
    records = desk.store.every(Kind.WORK, show)
    inside: dict[str, list[KeptWork]] = {}
    for record in records:
        if isinstance(record.value, KeptWork) and record.value.listed.inside:
            inside.setdefault(record.value.listed.inside, []).append(record.value)
    return tuple(
        sheet
        for record in records
        if isinstance(record.value, KeptWork) and not record.value.listed.inside
        for sheet in _sheets(record, record.value, inside.get(record.value.listed.work.id, ()))
    )


def _sheets(record: Record, kept: KeptWork, members: Sequence[KeptWork]) -> Iterator[Sheet]:
    work = kept.listed.work
    own = [(work.id if place == 0 else f"{work.id}.{place + 1}", art) for place, art in enumerate(work.arts)]
    theirs = [(each.listed.work.id, each.listed.work.art) for each in members]
    titles = [art.name or work.title for art in work.arts] + [each.listed.work.title for each in members]
    for place, ((number, art), title) in enumerate(zip([*own, *theirs], titles, strict=True)):
        picture = kept.pictures[place] if place < len(kept.pictures) else ""
        yield Sheet(record, place, number, title, _seen(art), picture)


def _seen(art: Artwork) -> Size:
    return art.image.size if art.image is not None else art.most


def matched(names: Sequence[str], sheets: Sequence[Sheet]) -> tuple[str, ...]:
    """Return for each file the key of the sheet that its name means, "" for none.

    A name means the sheet whose number it begins with, the longest that does, if neither a letter nor a digit follows;
    what is no letter or digit counts for nothing: `tm-13b (front).jpg` is of TM-13b and not of TM-13.
    """
    numbers = {_plain(each.number): each.key for each in sheets}
    found = []
    for name in names:
        stem = PurePath(name.replace("\\", "/")).stem
        parts = re.findall(r"[^\W_]+", stem.casefold())
        starts = ["".join(parts[: count + 1]) for count in range(len(parts))]
        found.append(next((numbers[start] for start in reversed(starts) if start in numbers), ""))
    return tuple(found)


def _plain(number: str) -> str:
    return "".join(re.findall(r"[^\W_]+", number.casefold()))


def hang(desk: Desk, show: str, chosen: Mapping[str, KeptPicture], label: str) -> tuple[Record, ...]:
    """Hang pictures at sheets by their keys, as one entry of the history; raises Unknown."""
    every = sheets_of(desk, show)
    known = {each.key for each in every}
    for key in chosen:
        if key not in known:
            raise Unknown("sheet", key, ())
    _know(desk, chosen.values())
    puts = []
    for record in dict.fromkeys(each.record.id for each in every if each.key in chosen):
        sheets = [each for each in every if each.record.id == record]
        puts.append(_put(sheets, {each.place: chosen[each.key].hash for each in sheets if each.key in chosen}))
    return desk.commit(puts, show, label).records


def hang_one(desk: Desk, work: str, place: int, picture: KeptPicture | None, expected: int) -> Record:
    """Hang a picture at one sheet of a work, None to take away what hangs there; raises Stale, Unknown."""
    record = read(desk, work, Kind.WORK)
    sheets = [each for each in sheets_of(desk, record.scope) if each.record.id == work]
    if not 0 <= place < len(sheets):
        raise Unknown("sheet", f"{place + 1}", tuple(each.number for each in sheets))
    _know(desk, [picture] if picture else [])
    done = f"picture {picture.name}" if picture else "picture taken away"
    put = replace(_put(sheets, {place: picture.hash if picture else ""}), expected=expected)
    return desk.commit([put], record.scope, f"{sheets[place].number}: {done}").record


def _know(desk: Desk, pictures: Iterable[KeptPicture]) -> None:
    """Keep what is known of pictures that are new; they are the shop's, whatever happens to the show."""
    new = {each.hash: each for each in pictures if known_picture(desk, each.hash) is None}
    if new:
        desk.commit([Put(new_id(), each) for each in new.values()], SHOP, f"{len(new)} new pictures")


def _put(sheets: Sequence[Sheet], places: Mapping[int, str]) -> Put:
    """Return the record of sheets that lie in one mat, with other pictures at some of them."""
    record = sheets[0].record
    if not isinstance(record.value, KeptWork):
        raise Unknown(Kind.WORK.value, record.id, ())
    pictures = [places.get(each.place, each.picture) for each in sheets]
    while pictures and not pictures[-1]:
        pictures.pop()
    return Put(record.id, replace(record.value, pictures=tuple(pictures)), record.version, record.archived)


def fit_words(picture: KeptPicture, size: Size) -> str:
    """Return how much of a picture is cut off so that it fills its sheet, "" where it fits.

    >>> from fourply.measure.length import Length
    >>> fit_words(KeptPicture("0" * 64, "image/png", 400, 300, 9), Size(Length.mm(40), Length.mm(40)))
    '25 % of its width is cut off'
    """
    shape, wanted = picture.width / picture.height, size.width.as_mm / size.height.as_mm
    off = 1 - min(shape, wanted) / max(shape, wanted)
    if off <= _NEAR:
        return ""
    return f"{round(100 * off)} % of its {'width' if shape > wanted else 'height'} is cut off"


def picture_of(desk: Desk, content: str) -> KeptPicture | None:
    """Return what is known of a picture by its content hash, None where there is none."""
    found = known_picture(desk, content)
    return found.value if found is not None and isinstance(found.value, KeptPicture) else None


def chosen_of(desk: Desk, content: str, name: str) -> KeptPicture:
    """Return a picture that was laid by before, by its content hash; raises BadInput where it is not there."""
    try:
        return laid_by(desk, desk.store.pictures.read(content), name)
    except Unknown as bad:
        raise BadInput(name, "the file, chosen again") from bad
