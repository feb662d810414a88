"""Materials in the store: what a show may use, a supplier's price list with its changes shown first.

Under everything lies the starter set of the show's system of units; over it the shop's materials, over them the
show's own. An archived material is offered no more, and works that name it are still made of it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, fields, replace
from functools import cache
from pathlib import Path

from fourply.app.keep import Desk, called, new_id
from fourply.app.keep_rack import pieces_of, rack_for
from fourply.app.keep_settings import shop_settings
from fourply.app.ports_store import SHOP, Kind, Put, Record
from fourply.app.price_words import offers_changed, offers_told
from fourply.files.convertors import Reading, plain
from fourply.files.faults import Fault
from fourply.files.kept import AnyMaterial, KeptMaterial, KeptOffcut, KeptShow, ShopSettings, facts
from fourply.files.kinds import KINDS
from fourply.files.materials import read_materials, starter
from fourply.files.tables import load_bytes
from fourply.files.works import Asked
from fourply.trade.materials import Board, CuttingRules, Materials

_TABLES = {kind.value: kind.table for kind in KINDS}


@cache
def base_of(*, metric: bool) -> Materials:
    """Return the starter set of a system of units."""
    return starter(metric=metric)


def materials_of(desk: Desk, show: str, head: KeptShow, settings: ShopSettings) -> Materials:
    """Return everything that a show may use, with what its plans may pull from the rack."""
    base = base_of(metric=head.unit.is_metric)
    cutting = head.cutting or cutting_of(settings, base)
    rack = pieces_of(rack_for(desk, show))
    return replace(_over(_of_shop(desk, base), _kept(desk, show)), rack=rack, cutting=cutting)


def cutting_of(settings: ShopSettings, base: Materials) -> CuttingRules:
    """Return how the shop cuts, where a show says nothing else."""
    return settings.cutting or base.cutting


def _of_shop(desk: Desk, base: Materials) -> Materials:
    return _over(base, _kept(desk, SHOP))


def shop_materials(desk: Desk) -> Materials:
    """Return everything that the shop has or that its starter set offers, without a rack."""
    return _of_shop(desk, base_of(metric=shop_settings(desk).value.unit.is_metric))


def _kept(desk: Desk, scope: str) -> Iterator[AnyMaterial]:
    """Yield the materials of a scope, archived ones first, so that one of the same name that is offered wins."""
    records = desk.store.every(Kind.MATERIAL, scope, archived=None)
    for record in sorted(records, key=lambda each: not each.archived):
        if isinstance(record.value, KeptMaterial):
            yield record.value.item


def _over(base: Materials, items: Iterator[AnyMaterial]) -> Materials:
    tables: dict[str, dict[str, object]] = {table: dict(getattr(base, table)) for table in _TABLES.values()}
    for item in items:
        table = tables[_TABLES[type(item)]]
        for same in [name for name in table if name != item.name and plain(name) == plain(item.name)]:
            del table[same]  # the same name in another case: the one that lies over it is meant
        table[item.name] = item
    return replace(base, **tables)  # type: ignore[arg-type]


def own_materials(desk: Desk, materials: Materials, *, metric: bool) -> Iterator[KeptMaterial | KeptOffcut]:
    """Yield what these materials say otherwise than the shop's, and their rack."""
    of_shop = _of_shop(desk, base_of(metric=metric))
    for table in _TABLES.values():
        known: Mapping[str, object] = getattr(of_shop, table)
        given: Mapping[str, AnyMaterial] = getattr(materials, table)
        yield from (KeptMaterial(item) for name, item in given.items() if known.get(name) != item)
    yield from (KeptOffcut(piece) for piece in materials.rack)


def start_shop(desk: Desk, *, metric: bool) -> tuple[Record, ...]:
    """Keep the starter set as the shop's own, to be put right; what the shop has by the same name stays."""
    if (before := desk.answered(SHOP)) is not None:  # now the shop has all of it, and nothing would be answered
        return before.records
    have = {facts(each.value).unique for each in desk.store.every(Kind.MATERIAL, SHOP, archived=None)}
    base = base_of(metric=metric)
    items = [KeptMaterial(item) for table in _TABLES.values() for item in getattr(base, table).values()]
    puts = [Put(new_id(), item) for item in items if facts(item).unique not in have]
    return desk.commit(puts, SHOP, "start from the starter set").records if puts else ()


# ── a supplier's price list ──────────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class PriceChange:
    """What a list would change: the material as it would be, as it is (None: new), the fields that differ."""

    new: KeptMaterial
    old: Record | None
    fields: tuple[str, ...]

    @property
    def name(self) -> str:
        """What the material is called."""
        return self.new.item.name

    @property
    def words(self) -> tuple[str, ...]:
        """What changes, a phrase for each field: `cost 9.80 USD -> 10.20 USD`."""
        was = self.old.value.item if self.old and isinstance(self.old.value, KeptMaterial) else None
        found: list[str] = []
        for each in self.fields:
            if each in {"sheets", "sticks"}:
                found += offers_changed(getattr(was, each, ()), getattr(self.new.item, each))
            else:
                found.append(f"{each.replace('_', ' ')} {_shown(was, each)} -> {_shown(self.new.item, each)}")
        return tuple(found)

    @property
    def prices(self) -> tuple[str, ...]:
        """What each of its sizes would cost."""
        item = self.new.item
        return tuple(offers_told((*getattr(item, "sheets", ()), *getattr(item, "sticks", ()))))

    @property
    def key(self) -> str:
        """What tells it from every other change of a list: the kind and the name."""
        return facts(self.new).unique


@dataclass(frozen=True, slots=True)
class PriceList:
    """What a price list would change, the faults of rows that cannot be read, and notes; nothing is kept yet.

    `missing` are the shop's materials of the same supplier that the list no longer names.
    """

    supplier: str
    changes: tuple[PriceChange, ...]
    missing: tuple[Record, ...]
    faults: tuple[Fault, ...]
    notes: tuple[str, ...]

    @property
    def missing_names(self) -> tuple[str, ...]:
        """The names of what the list no longer has."""
        return tuple(facts(each.value).name for each in self.missing)


def _shown(item: AnyMaterial | None, field: str) -> str:
    """Return what a field of a material is, as it is written in files."""
    value = getattr(item, field, None)
    keys = next((kind.keys for kind in KINDS if item is not None and kind.value is type(item)), {})
    if value is None or field not in keys:
        return "nothing" if value is None else str(value)
    return _flat(keys[field].print(value))


def _flat(printed: object) -> str:
    if isinstance(printed, Mapping):
        return " ".join(map(_flat, printed.values()))
    if isinstance(printed, list):
        return "; ".join(map(_flat, printed)) or "none"
    return str(printed)


def load_prices(desk: Desk, path: Path, asked: Asked, supplier: str = "") -> PriceList:
    """Return what the list in a file would change, read as the shop's settings say; raises BadFile."""
    settings = shop_settings(desk).value
    reading = Reading(asked.unit or settings.unit, asked.order or settings.order, settings.currency)
    return read_prices(desk, path.name, load_bytes(path), reading, supplier)


def read_prices(desk: Desk, file: str, data: bytes, reading: Reading, supplier: str = "") -> PriceList:
    """Return what a supplier's list (TOML, CSV, XLSX) would change in the shop's materials.

    What a list of prices leaves out stays as it is where the shop, or the starter set, has the material; so does a
    caliper that somebody has measured, whatever the list says.
    """
    records = {facts(each.value).unique: each for each in desk.store.every(Kind.MATERIAL, SHOP)}
    of_shop = (each.value.item for each in records.values() if isinstance(each.value, KeptMaterial))
    base = _over(base_of(metric=shop_settings(desk).value.unit.is_metric), of_shop)
    read = read_materials(file, data, reading, base=Materials(), known=base)
    changes: list[PriceChange] = []
    named: set[str] = set()
    for table in _TABLES.values():
        for name, item in getattr(read.materials, table).items():
            new = KeptMaterial(_laid_over(getattr(base, table), name, item), supplier)
            unique = facts(new).unique
            named.add(unique)
            changes.extend(_changed(new, records.get(unique)))
    missing = tuple(
        each
        for unique, each in records.items()
        if unique not in named and supplier and isinstance(each.value, KeptMaterial) and each.value.supplier == supplier
    )
    return PriceList(supplier, tuple(changes), missing, read.faults, read.notes)


def _laid_over(known: Mapping[str, AnyMaterial], name: str, item: AnyMaterial) -> AnyMaterial:
    """Return a material of a list; what the list leaves at its default is that of the shop's material."""
    old = next((each for other, each in known.items() if plain(other) == plain(name)), None)
    if old is None:
        return item
    left_out = {each.name: getattr(old, each.name) for each in fields(item) if getattr(item, each.name) == each.default}
    if isinstance(old, Board) and old.measured:
        left_out["caliper"] = old.caliper
    return replace(item, **{**left_out, "name": old.name})


def _changed(new: KeptMaterial, old: Record | None) -> Iterator[PriceChange]:
    if old is None or not isinstance(old.value, KeptMaterial):
        yield PriceChange(new, None, ())
        return
    was = old.value.item
    differ = tuple(
        each.name for each in fields(new.item) if getattr(was, each.name, None) != getattr(new.item, each.name)
    )
    new = replace(new, supplier=new.supplier or old.value.supplier, number=old.value.number)
    if differ or new.supplier != old.value.supplier:
        yield PriceChange(new, old, differ)


def keep_prices(desk: Desk, changes: Sequence[PriceChange], supplier: str = "") -> tuple[Record, ...]:
    """Keep those changes of a price list that were chosen, together; raises Stale where one has changed since."""
    puts = [
        Put(new_id(), each.new) if each.old is None else Put(each.old.id, each.new, each.old.version)
        for each in changes
    ]
    if not puts:
        return ()
    label = f"prices of {supplier}" if supplier else f"prices of {called(changes[0].new)} and others"
    return desk.commit(puts, SHOP, label).records
