"""A material as a person types it into a form: made, changed, copied, taken over from the starter set."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from fourply.app.keep import Desk, new_id, read, states
from fourply.app.keep import take_back as earlier
from fourply.app.keep_materials import base_of
from fourply.app.keep_pictures import known_picture, laid_by
from fourply.app.keep_settings import shop_settings
from fourply.app.material_uses import Uses, uses_of
from fourply.app.material_words import labels_of
from fourply.app.ports_store import SHOP, Act, Kind, Put, Record
from fourply.errors import BadInput, Taken, Unknown
from fourply.files.convertors import Reading, plain
from fourply.files.kept import AnyMaterial, KeptMaterial
from fourply.files.material_text import Misread, kind_named, kind_of_item, read_item, written
from fourply.measure.dimensions import Order

__all__ = ["ABOUT", "Misread", "Past", "Typed", "keep_new", "material_of", "past", "reading_of", "renamed_copy"]
__all__ += ["said_of", "say", "starter_named", "table_of", "take_back", "typed_material", "with_picture"]

ABOUT = ("name", "supplier", "number", "picture")
"""What every material has besides its keys."""
_LONGEST = 500


@dataclass(frozen=True, slots=True)
class Typed:
    """What a form holds: the text of each field, and a picture that was just given, with its name."""

    said: Mapping[str, str]
    picture: tuple[str, bytes] | None = None


def reading_of(desk: Desk) -> Reading:
    """Return what bare numbers of a material mean: the shop's unit and currency; a pair is width first by default."""
    settings = shop_settings(desk).value
    return Reading(settings.unit, settings.order or Order.WIDTH_HEIGHT, settings.currency)


def material_of(record: Record) -> KeptMaterial:
    """Return the material of a record; raises Unknown."""
    if not isinstance(record.value, KeptMaterial):
        raise Unknown(Kind.MATERIAL.value, record.id, ())
    return record.value


def table_of(kept: KeptMaterial) -> str:
    """Return the table that a material stands in."""
    return kind_of_item(kept.item).table


@dataclass(frozen=True, slots=True)
class Past:
    """One state that a material had: when it came to be, by what, its version, whether it can be taken back to."""

    at: datetime
    label: str
    version: int
    is_now: bool
    was: bool


def past(desk: Desk, record: str) -> tuple[Past, ...]:
    """Return the last fifty states of a material, the newest first; raises Unknown."""
    found = states(desk, record).items
    acts = {Act.UNDO: "undone: ", Act.REDO: "done again: "}
    return tuple(
        Past(
            each.entry.at.astimezone(),
            f"{acts.get(each.entry.act, '')}{each.entry.label}",
            each.version,
            each is found[0],
            each.after is not None,
        )
        for each in found
    )


def said_of(desk: Desk, kept: KeptMaterial) -> dict[str, str]:
    """Return a material as a person would type it."""
    about = dict(zip(ABOUT, (kept.item.name, kept.supplier, kept.number, kept.picture), strict=True))
    return about | written(kept.item, reading_of(desk))


def starter_named(desk: Desk, table: str, name: str) -> KeptMaterial:
    """Return a material of the starter set; raises Unknown."""
    known: Mapping[str, AnyMaterial] = getattr(
        base_of(metric=shop_settings(desk).value.unit.is_metric), kind_named(table).table
    )
    if name not in known:
        raise Unknown("material of the starter set", name, tuple(known))
    return KeptMaterial(known[name])


def with_picture(desk: Desk, typed: Typed) -> dict[str, str]:
    """Return what was typed, its picture laid by and named by its content; raises Misread for no picture.

    The bytes are in the store from then on, so that a form that is shown again still has it.
    """
    said = dict(typed.said)
    if typed.picture is None:
        return said
    name, data = typed.picture
    try:
        return said | {"picture": laid_by(desk, data, name).hash}
    except BadInput as bad:
        raise Misread({"picture": str(bad)}) from bad


def typed_material(desk: Desk, table: str, said: Mapping[str, str]) -> KeptMaterial:
    """Return the material that a form states; raises Misread with everything that is wrong."""
    faults: dict[str, str] = {}
    name = " ".join(said.get("name", "").split())
    if not name or len(name) > _LONGEST:
        faults["name"] = f"a name of at most {_LONGEST} characters, as it is to be called in lists"
    picture = said.get("picture", "")
    if picture and not _is_laid_by(desk, picture):
        faults["picture"] = "this picture is not here any more: choose it again"
    try:
        item = read_item(kind_named(table), name or "it", said, reading_of(desk))
    except Misread as bad:
        raise Misread({**faults, **bad.faults}) from bad
    if faults:
        raise Misread(faults)
    return KeptMaterial(item, said.get("supplier", "")[:_LONGEST], said.get("number", "")[:_LONGEST], picture)


def _is_laid_by(desk: Desk, content: str) -> bool:
    try:
        return bool(desk.store.pictures.read(content))
    except (Unknown, BadInput):
        return False


def keep_new(desk: Desk, table: str, said: Mapping[str, str], label: str = "new") -> Record:
    """Keep a new material of the shop as one entry of the history; raises Misread."""
    value = typed_material(desk, table, said)
    puts = [Put(new_id(), value), *_picture(desk, value)]
    return _committed(desk, puts, SHOP, f"{label} {_called(value)}")


def say(desk: Desk, record: str, said: Mapping[str, str], expected: int, uses: Uses) -> Record:
    """Change a material to what a form states, from the version that was seen; raises Misread, Stale, Unknown.

    A material that works name keeps its name: they would not find it under another.
    """
    found = read(desk, record, Kind.MATERIAL)
    was = material_of(found)
    value = typed_material(desk, kind_of_item(was.item).table, said)
    _check_name(desk, uses, was, value)
    changed = differing(was, value)
    if not changed and found.version == expected:
        return found
    puts = [Put(record, value, expected, found.archived), *_picture(desk, value)]
    words = ", ".join(labels_of(kind_of_item(value.item), changed)) or "nothing"
    return _committed(desk, puts, found.scope, f"{words} of {was.item.name}")


def take_back(desk: Desk, record: str, version: int, expected: int, uses: Uses) -> Record:
    """Take a material back to an earlier state, as a change of its own; raises as `say` and `keep.take_back` do."""
    was = material_of(read(desk, record, Kind.MATERIAL))
    back = desk.store.state(record, version).after
    if back is not None and isinstance(back.value, KeptMaterial):
        _check_name(desk, uses, was, back.value)
    return earlier(desk, record, version, expected)


def _check_name(desk: Desk, uses: Uses, was: KeptMaterial, value: KeptMaterial) -> None:
    """Raise Misread where works would not find a material any more."""
    if plain(value.item.name) != plain(was.item.name) and (works := _works(desk, uses, was)):
        raise Misread({"name": f"{works} made of it by the name of {was.item.name}: copy it under the new name"})


def _works(desk: Desk, uses: Uses, kept: KeptMaterial) -> str:
    works = sum(each.works for each in uses_of(desk, uses.of_all(desk), kept.item))
    return "" if not works else f"{works} work{' is' if works == 1 else 's are'}"


def differing(one: KeptMaterial, other: KeptMaterial) -> tuple[str, ...]:
    """Return the keys in which two materials of a kind differ."""
    keys = ("name", *kind_of_item(one.item).keys)
    found = [key for key in keys if getattr(one.item, key) != getattr(other.item, key, None)]
    return (*found, *(key for key in ABOUT[1:] if getattr(one, key) != getattr(other, key)))


def _picture(desk: Desk, value: KeptMaterial) -> list[Put]:
    """Return the record of the picture, to be kept with the material, where it has none yet."""
    if not value.picture or known_picture(desk, value.picture):
        return []
    return [Put(new_id(), laid_by(desk, desk.store.pictures.read(value.picture), value.item.name))]


def _committed(desk: Desk, puts: list[Put], scope: str, label: str) -> Record:
    try:
        return desk.commit(puts, scope, label).record
    except Taken as taken:
        raise Misread({"name": "the shop has another of this name: choose another, or change that one"}) from taken


def _called(kept: KeptMaterial) -> str:
    return f"{type(kept.item).__name__.lower()} {kept.item.name}"


def renamed_copy(desk: Desk, kept: KeptMaterial) -> KeptMaterial:
    """Return a material under a name that the shop does not have, to be put right before it is kept."""
    known = {
        plain(each.value.item.name)
        for each in desk.store.every(Kind.MATERIAL, SHOP, archived=None)
        if isinstance(each.value, KeptMaterial)
    }
    stem = f"{kept.item.name} copy"
    name = next(each for each in (stem, *(f"{stem} {n}" for n in range(2, 10_000))) if plain(each) not in known)
    return replace(kept, item=replace(kept.item, name=name))
