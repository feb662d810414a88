"""The designs of one work as they are seen side by side: each framed, at one scale, and the figures that differ."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from hashlib import sha256
from itertools import zip_longest

from fourply.app.design_edit import Designed, Designer
from fourply.app.design_groups import groups
from fourply.app.keep import Desk
from fourply.app.keep_pictures import pictures_of
from fourply.app.picturing import placed
from fourply.app.ports_store import Record
from fourply.app.variants import Slot, slots_of
from fourply.app.wording import PLAIN, Wording
from fourply.errors import FourplyError, Unknown
from fourply.files.kept import KeptWork
from fourply.measure.notation import Marks
from fourply.render import scene_svg
from fourply.sheets.wall import finished, outside, standing
from fourply.trade.package import Package
from fourply.working.words import Words

_PICTURE_DOTS = 900


@dataclass(frozen=True, slots=True)
class Seen:
    """One design: its slot, its finished size in words and in millimetres, why it cannot be made ("" where it can).

    `stamp` changes with whatever its picture shows.
    """

    slot: Slot
    size: str
    width: float
    height: float
    moulding: str
    why: str
    stamp: str


@dataclass(frozen=True, slots=True)
class Differs:
    """A figure in which the designs differ: its group and label, and what it is in each, "" where one has none.

    `otherwise` says of each whether it is not as in the present design.
    """

    group: str
    label: str
    values: tuple[str, ...]
    otherwise: tuple[bool, ...]


_SCALES = (3, 4, 5, 6, 8, 10, 12, 16, 20, 24, 32, 40, 48, 64, 96)
_DOTS_PER_MM = 96 / 25.4


def scale_of(designs: Sequence[Seen], wide: int, high: int) -> int:
    """Return the scale, 1 to so many, at which every design fits into so many dots of a screen.

    The largest of a series that a drawing may state; the smallest of it where nothing fits.
    """
    across, along = max(each.width for each in designs), max(each.height for each in designs)
    fits = (by for by in _SCALES if across * _DOTS_PER_MM <= wide * by and along * _DOTS_PER_MM <= high * by)
    return next(fits, _SCALES[-1])


def dots(mm: float, scale: int) -> int:
    """Return how many dots of a screen so many millimetres are at a scale."""
    return max(1, round(mm * _DOTS_PER_MM / scale))


def seen(desk: Desk, designer: Designer, record: Record) -> tuple[Seen, ...]:
    """Return the designs of a work as they are seen, in the order of their letters; raises Unknown."""
    return tuple(_seen(each, made, record) for each, made in _made(desk, designer, record))


def _made(desk: Desk, designer: Designer, record: Record) -> Iterator[tuple[Slot, Designed]]:
    for each in slots_of(_work(record)):
        yield each, designer.of(desk, record, each.listed)


def _work(record: Record) -> KeptWork:
    if not isinstance(record.value, KeptWork):
        raise Unknown("work", record.id, ())
    return record.value


def _seen(slot: Slot, made: Designed, record: Record) -> Seen:
    package = made.package
    if package is None:
        fault = made.found.faults[0]
        return Seen(slot, "", 0, 0, "", f"{fault.found}: {fault.expected}", "")
    words, box = Words(metric=made.parts.show.unit.is_metric, marks=Marks.TYPOGRAPHIC), outside(package)
    moulding = package.frame.moulding.name if package.frame else ""
    text = repr((package.work, package.treatment, package.outer, _work(record).pictures))
    stamp = sha256(text.encode()).hexdigest()[:16]
    return Seen(slot, words.size(finished(package)), box.width, box.height, moulding, "", stamp)


def drawn(desk: Desk, designer: Designer, record: Record, slot: int) -> bytes:
    """Return one design in its frame as SVG, on nothing; raises Unknown for one that there is not or cannot be made."""
    kept = _work(record)
    for each in slots_of(kept):
        if each.slot == slot and isinstance(package := designer.of(desk, record, each.listed).package, Package):
            scene = standing(package)
            try:
                return scene_svg.render(scene, placed(scene, pictures_of(desk, kept), _PICTURE_DOTS))
            except FourplyError:  # a picture too many or gone is told on the page of the work
                return scene_svg.render(scene)
    raise Unknown("variant", str(slot), ())


def differences(desk: Desk, designer: Designer, record: Record) -> tuple[Differs, ...]:
    """Return the figures in which the designs of a work differ, in the order in which the design page has them."""
    tables, present, wording = [], 0, PLAIN
    for at, (slot, made) in enumerate(_made(desk, designer, record)):
        tables.append(_table(made))
        present, wording = (at, made.wording) if slot.present else (present, wording)
    return tuple(_differing(tables, present, wording))


def _table(made: Designed) -> dict[tuple[str, str], str]:
    if made.package is None:
        return {}
    words = Words(metric=made.parts.show.unit.is_metric, marks=Marks.TYPOGRAPHIC)
    return {
        (group["title"], row["label"]): row["join"].join(each["text"] for each in row["figures"])
        for group in groups(made, made.package, words)
        for row in group["rows"]
    }


def _differing(tables: Sequence[dict[tuple[str, str], str]], present: int, wording: Wording) -> Iterator[Differs]:
    keys = dict.fromkeys(key for row in zip_longest(*tables) for key in row if key is not None)
    for group, label in sorted(keys, key=lambda key: min(_place(table, key) for table in tables)):
        values = tuple(table.get((group, label), "") for table in tables)
        if len(set(values)) > 1:
            yield Differs(
                wording.say(group), wording.say(label), values, tuple(value != values[present] for value in values)
            )


def _place(table: dict[tuple[str, str], str], key: tuple[str, str]) -> int:
    return [*table].index(key) if key in table else len(table)
