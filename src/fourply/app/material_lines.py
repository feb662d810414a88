"""The materials of a shop in the few words that a list shows: how each looks, what it measures, what it costs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import MISSING, dataclass, fields
from decimal import Decimal
from enum import Enum

from fourply.app.keep import Desk
from fourply.app.keep_materials import base_of
from fourply.app.keep_settings import shop_settings
from fourply.app.material_uses import Uses, named, uses_of
from fourply.app.ports_store import SHOP, Kind, Record
from fourply.files.convertors import plain
from fourply.files.kept import AnyMaterial, KeptMaterial
from fourply.files.kinds import KINDS
from fourply.files.material_text import kind_named, kind_of_item
from fourply.measure.length import Length
from fourply.measure.notation import Marks
from fourply.measure.size import Size
from fourply.trade.materials import Offer, Stick
from fourply.trade.money import Money
from fourply.working.words import Words

_ELSEWHERE = frozenset({"colour", "core", "sheets", "sticks", "cost", "profile", "chop", "join"})


_NAMED = {"ply": "", "lip": "rabbet width", "moulding": "of", "size": "for"}
SORTS = ("name", "supplier", "price", "works")
"""What the lines of a kind may be sorted by; the name decides between equals."""


@dataclass(frozen=True, slots=True)
class Asked:
    """Which materials are wanted: words in them, one kind ("" for every), sorted by what; put away, or in use."""

    words: str = ""
    kind: str = ""
    sort: str = "name"
    down: bool = False
    archived: bool = False


@dataclass(frozen=True, slots=True)
class MaterialLine:
    """A material: its colours ("" for none), what it measures, what each size costs, who it comes from.

    `record` is None for one of the starter set, which is not the shop's own; `works` are made of it.
    """

    name: str
    colour: str
    core: str
    measures: tuple[str, ...]
    prices: tuple[str, ...]
    supplier: str
    number: str
    picture: str
    works: int
    record: Record | None
    least: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True)
class Lines:
    """The lines of each kind by its table, and how many there are of each whatever kind is wanted."""

    kinds: tuple[tuple[str, tuple[MaterialLine, ...]], ...]
    counts: Mapping[str, int]
    archived: int


def material_lines(desk: Desk, asked: Asked, uses: Uses) -> Lines:
    """Return the materials that shows may use, by their kind, those in which every word is found.

    Raises BadInput for a kind that there is not.
    """
    if asked.kind:
        kind_named(asked.kind)
    metric = shop_settings(desk).value.unit.is_metric
    figures, counted = Words(metric=metric, marks=Marks.TYPOGRAPHIC), uses.of_all(desk)
    own: dict[tuple[str, str], Record] = {}
    away = 0
    for each in desk.store.every(Kind.MATERIAL, SHOP, archived=None):
        away += each.archived
        if isinstance(each.value, KeptMaterial) and each.archived is asked.archived:
            own[named(each.value.item)] = each
    kept = [(each.value, each) for each in own.values() if isinstance(each.value, KeptMaterial)]
    found: dict[str, list[MaterialLine]] = {kind.table: [] for kind in KINDS}
    for value, record in (*kept, *((each, None) for each in _starter(own, metric=metric) if not asked.archived)):
        works = sum(each.works for each in uses_of(desk, counted, value.item))
        line = _line(value, record, figures, works)
        if _has(line, asked.words):
            found[kind_of_item(value.item).table].append(line)
    kinds = tuple(
        (table, _sorted(lines, asked)) for table, lines in found.items() if lines and asked.kind in {"", table}
    )
    return Lines(kinds, {table: len(lines) for table, lines in found.items()}, away)


def _starter(own: Mapping[tuple[str, str], Record], *, metric: bool) -> Iterator[KeptMaterial]:
    """Yield the materials of the starter set over which the shop has none of its own."""
    base = base_of(metric=metric)
    for kind in KINDS:
        table: Mapping[str, AnyMaterial] = getattr(base, kind.table)
        yield from (KeptMaterial(item) for item in table.values() if named(item) not in own)


def _sorted(lines: Sequence[MaterialLine], asked: Asked) -> tuple[MaterialLine, ...]:
    def key(line: MaterialLine) -> tuple[object, ...]:
        match asked.sort:
            case "supplier":
                return (not line.supplier, plain(line.supplier), line.number)
            case "price":
                return (line.least,)
            case "works":
                return (-line.works,)
            case _:
                return ()

    by_name = sorted(lines, key=lambda each: plain(each.name), reverse=asked.down and asked.sort == "name")
    return tuple(sorted(by_name, key=key, reverse=asked.down and asked.sort != "name"))


def _has(line: MaterialLine, words: str) -> bool:
    text = plain(" ".join((line.name, line.supplier, line.number, *line.measures)))
    return all(word in text for word in plain(words).split())


def _line(kept: KeptMaterial, record: Record | None, words: Words, works: int) -> MaterialLine:
    item = kept.item
    keys = kind_of_item(item).keys
    measures = [
        _measure(_NAMED.get(each.name, each.name.replace("_", " ")), getattr(item, each.name), words)
        for each in fields(item)
        if each.name in keys and each.name not in _ELSEWHERE and getattr(item, each.name) not in _left_out(each.default)
    ]
    return MaterialLine(
        item.name,
        getattr(item, "colour", ""),
        getattr(item, "core", ""),
        tuple(measures),
        tuple(_prices(item, words)),
        kept.supplier,
        kept.number,
        kept.picture,
        works,
        record,
        min((each.amount for each in _costs(item)), default=Decimal(0)),
    )


def _costs(item: AnyMaterial) -> Iterator[Money]:
    yield from (each.cost for each in (*getattr(item, "sheets", ()), *getattr(item, "sticks", ())))
    if isinstance(cost := getattr(item, "cost", None), Money):
        yield cost


def _measure(name: str, value: object, words: Words) -> str:
    """Return a measure in the shop's figures: `caliper 0.055 in`; a yes is its name alone."""
    match value:
        case True:
            return name
        case Length():
            text = words.with_unit(value)
        case Size():
            text = f"{words.size(value)} {words.unit.value}"
        case Enum():
            text = str(value.value)
        case _:
            text = str(value)
    return f"{name} {text}".strip()


def _offered(offer: Offer | Stick, words: Words) -> str:
    return _measure("", offer.size if isinstance(offer, Offer) else offer.length, words)


def _money(offer: Offer | Stick) -> str:
    return f"{offer.cost.amount:f} {offer.cost.currency}"


def _left_out(default: object) -> tuple[object, ...]:
    return (None, "", False) if default is MISSING else (None, "", False, default)


def _prices(item: AnyMaterial, words: Words) -> list[str]:
    """Return what each sheet, stick or piece costs."""
    keys = kind_of_item(item).keys
    offers = (*getattr(item, "sheets", ()), *getattr(item, "sticks", ()))
    found = [f"{_offered(each, words)} at {_money(each)}" for each in offers]
    if "cost" in keys:
        found.append(str(keys["cost"].print(getattr(item, "cost"))))  # noqa: B009 (not every kind has it)
    if getattr(item, "join", None):
        found.append(f"join {keys['join'].print(getattr(item, 'join'))}")  # noqa: B009
    return found
