"""Which shows are made of which of the shop's materials, by the rules that hold for each of their works."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from threading import Lock

from fourply.app.keep import Desk
from fourply.app.keep_materials import base_of
from fourply.app.keep_settings import shop_settings
from fourply.app.keep_shows import parts_of
from fourply.app.ports_store import SHOP, Kind, Query, Record
from fourply.errors import Unknown
from fourply.files.convertors import plain
from fourply.files.entries import named_materials, settle_works
from fourply.files.kept import AnyMaterial, KeptMaterial, facts
from fourply.files.material_text import kind_of_item
from fourply.trade.materials import Moulding, ReadyFrame

type Named = tuple[str, str]
"""A material by its table and its name as it is compared."""


@dataclass(frozen=True, slots=True)
class Use:
    """A show in which works are made of a material, and how many."""

    show: str
    title: str
    works: int


@dataclass(frozen=True, slots=True)
class _Counted:
    stamp: object
    works: Mapping[Named, int]


@dataclass
class Uses:
    """Counts the works of each show once, until something of it changes."""

    _lock: Lock = field(default_factory=Lock, repr=False)
    _shows: dict[str, _Counted] = field(default_factory=dict, repr=False)

    def of_all(self, desk: Desk) -> Mapping[Named, Sequence[Use]]:
        """Return the shows that are made of each of the shop's materials, the starter set among them."""
        of_shop = _rules_of_shop(desk)
        found: dict[Named, list[Use]] = {}
        for show in _shows(desk):
            for named, works in self._of_show(desk, show, of_shop).items():
                found.setdefault(named, []).append(Use(show.id, facts(show.value).title, works))
        return found

    def _of_show(self, desk: Desk, show: Record, of_shop: object) -> Mapping[Named, int]:
        stamp = (desk.store.undoable(show.id).last, of_shop)
        with self._lock:
            known = self._shows.get(show.id)
        if known is None or known.stamp != stamp:
            try:
                known = _Counted(stamp, _counted(desk, show.id))
            except Unknown:  # it was taken back meanwhile
                return {}
            with self._lock:
                self._shows[show.id] = known
        return known.works


def named(item: AnyMaterial) -> Named:
    """Return what a material is counted under."""
    return kind_of_item(item).table, plain(item.name)


def uses_of(desk: Desk, uses: Mapping[Named, Sequence[Use]], item: AnyMaterial) -> tuple[Use, ...]:
    """Return the shows that are made of a material; of a moulding also those that take a ready-made frame of it."""
    found = list(uses.get(named(item), ()))
    if isinstance(item, Moulding):
        for frame in _frames(desk):
            if plain(frame.moulding) == plain(item.name):
                found += uses.get(named(frame), ())
    works: Counter[tuple[str, str]] = Counter()
    for each in found:
        works[each.show, each.title] += each.works
    return tuple(Use(show, title, count) for (show, title), count in works.items())


def _frames(desk: Desk) -> Iterator[ReadyFrame]:
    base = base_of(metric=shop_settings(desk).value.unit.is_metric)
    yield from base.frames.values()
    for each in desk.store.every(Kind.MATERIAL, SHOP):
        if isinstance(each.value, KeptMaterial) and isinstance(each.value.item, ReadyFrame):
            yield each.value.item


def _shows(desk: Desk) -> Iterator[Record]:
    after = ""
    while True:
        page = desk.store.find(Query(Kind.SHOW, after=after, limit=200))
        yield from page.items
        after = page.next
        if not after:
            return


def _rules_of_shop(desk: Desk) -> object:
    """Return what tells one state of the shop's own rules from another."""
    return tuple(
        (each.id, each.version) for kind in (Kind.SETTINGS, Kind.TREATMENT) for each in desk.store.every(kind, SHOP)
    )


def _counted(desk: Desk, show: str) -> Mapping[Named, int]:
    """Return how many works of a show are made of each material, what the show has of its own left out."""
    parts = parts_of(desk, show)
    entries, _ = settle_works(parts.works, parts.rules)
    own = {
        named(each.value.item) for each in desk.store.every(Kind.MATERIAL, show) if isinstance(each.value, KeptMaterial)
    }
    works: Counter[Named] = Counter()
    for entry in entries:
        works.update({(table, plain(name)) for _, table, name in named_materials(entry.treatment)} - own)
    return works
