"""The materials of a shop in the few words that a list shows: how each looks, what it measures, what it costs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import MISSING, dataclass, fields
from enum import Enum

from fourply.app.keep import Desk
from fourply.app.keep_materials import base_of
from fourply.app.keep_settings import shop_settings
from fourply.app.ports_store import SHOP, Kind, Record
from fourply.files.convertors import plain
from fourply.files.kept import AnyMaterial, KeptMaterial
from fourply.files.kinds import KINDS
from fourply.measure.length import Length
from fourply.measure.notation import Marks
from fourply.measure.size import Size
from fourply.trade.materials import Offer, Stick
from fourply.working.words import Words

_WORDS: Mapping[str, str] = {
    "boards": "Boards",
    "mouldings": "Mouldings",
    "glazings": "Glazing",
    "backings": "Backing",
    "spacers": "Spacers",
    "fillets": "Fillets",
    "frames": "Ready-made frames",
    "hardware": "Hardware",
}
_ELSEWHERE = frozenset({"colour", "core", "sheets", "sticks", "cost", "profile", "chop", "join"})


@dataclass(frozen=True, slots=True)
class MaterialLine:
    """A material: its colours ("" for none), what it measures, what each size costs, who it comes from.

    `record` is None for one of the starter set, which is not the shop's own.
    """

    name: str
    colour: str
    core: str
    measures: tuple[str, ...]
    prices: tuple[str, ...]
    supplier: str
    number: str
    record: Record | None


def material_lines(desk: Desk, words: str = "") -> tuple[tuple[str, tuple[MaterialLine, ...]], ...]:
    """Return the materials that shows may use, by their kind, those in which every word is found."""
    metric = shop_settings(desk).value.unit.is_metric
    base, figures = base_of(metric=metric), Words(metric=metric, marks=Marks.TYPOGRAPHIC)
    own: dict[tuple[type[AnyMaterial], str], Record] = {}
    for each in desk.store.every(Kind.MATERIAL, SHOP):
        if isinstance(each.value, KeptMaterial):
            own[type(each.value.item), plain(each.value.item.name)] = each
    found = []
    for kind in KINDS:
        lines = [_line(each.value, each, figures) for (of, _), each in own.items() if of is kind.value]
        starter = getattr(base, kind.table).values()
        lines += [
            _line(KeptMaterial(item), None, figures) for item in starter if (kind.value, plain(item.name)) not in own
        ]
        chosen = tuple(sorted((each for each in lines if _has(each, words)), key=lambda each: plain(each.name)))
        if chosen:
            found.append((_WORDS[kind.table], chosen))
    return tuple(found)


def _has(line: MaterialLine, words: str) -> bool:
    text = plain(" ".join((line.name, line.supplier, line.number, *line.measures)))
    return all(word in text for word in plain(words).split())


def _line(value: object, record: Record | None, words: Words) -> MaterialLine:
    kept = value if isinstance(value, KeptMaterial) else None
    if kept is None:  # a record of this kind holds nothing else
        raise TypeError(value)
    item = kept.item
    keys = next(kind.keys for kind in KINDS if kind.value is type(item))
    measures = [
        _measure(each.name.replace("_", " "), getattr(item, each.name), words)
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
        record,
    )


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
    keys = next(kind.keys for kind in KINDS if kind.value is type(item))
    offers = (*getattr(item, "sheets", ()), *getattr(item, "sticks", ()))
    found = [f"{_offered(each, words)} at {_money(each)}" for each in offers]
    if "cost" in keys:
        found.append(str(keys["cost"].print(getattr(item, "cost"))))  # noqa: B009 (not every kind has it)
    if getattr(item, "join", None):
        found.append(f"join {keys['join'].print(getattr(item, 'join'))}")  # noqa: B009
    return found
