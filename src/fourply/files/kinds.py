"""What can be said of each kind of material, by one table of keys a kind.

The keys of a file are the fields of the values and nothing more; a spreadsheet's columns are the same keys again.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import MISSING, dataclass, fields
from decimal import Decimal
from difflib import get_close_matches
from types import MappingProxyType
from typing import cast

from fourply.errors import BadInput
from fourply.files.convertors import (
    COLOUR,
    FLAG,
    LENGTH,
    MONEY,
    RATE,
    SIZE,
    TEXT,
    WHOLE,
    Convertor,
    Reading,
    members,
    one_of,
    parse_length_in,
    print_length,
    print_size,
)
from fourply.measure.length import Length
from fourply.trade.materials import (
    Backing,
    Board,
    ChopTerms,
    Fillet,
    Glazing,
    Hardware,
    Moulding,
    Offer,
    Pane,
    ReadyFrame,
    Spacer,
    Stick,
)
from fourply.trade.money import Money

_MOST_OFFERS = 200
_MOST_POINTS = 100
_POINT = '{ across = "1/8 in", height = "1 in" }'

type Keys = Mapping[str, Convertor[object]]


def _keys(**convertors: object) -> Keys:
    return MappingProxyType(cast("dict[str, Convertor[object]]", convertors))


OFFER_KEYS = _keys(size=SIZE, cost=MONEY, copies=WHOLE)
STICK_KEYS = _keys(length=LENGTH, cost=MONEY, copies=WHOLE)


CHOP_KEYS = _keys(rate=RATE, charge=MONEY, least=MONEY, mitres=LENGTH, step=LENGTH)


def _parse_offers(raw: object, reading: Reading) -> tuple[Offer, ...]:
    return tuple(build(Offer, OFFER_KEYS, item, reading) for item in _listed(raw))


def _parse_sticks(raw: object, reading: Reading) -> tuple[Stick, ...]:
    return tuple(build(Stick, STICK_KEYS, item, reading) for item in _listed(raw))


def _parse_chop(raw: object, reading: Reading) -> ChopTerms:
    if not isinstance(raw, dict):
        return ChopTerms(RATE.parse(raw, reading))
    return build(ChopTerms, CHOP_KEYS, raw, reading)


def _parse_profile(raw: object, reading: Reading) -> tuple[tuple[Length, Length], ...]:
    if not isinstance(raw, list) or len(raw) > _MOST_POINTS or not all(isinstance(item, dict) for item in raw):
        raise BadInput(str(raw)[:200], f"write at most {_MOST_POINTS} points such as {_POINT}")
    points = (members(item, ("across", "height"), parse_length_in, reading) for item in raw)
    return tuple((point["across"], point["height"]) for point in points)


def _print_profile(points: tuple[tuple[Length, Length], ...]) -> list[dict[str, object]]:
    return [{"across": print_length(across), "height": print_length(height)} for across, height in points]


def _listed(raw: object) -> Sequence[Mapping[str, object]]:
    if not isinstance(raw, list) or len(raw) > _MOST_OFFERS or not all(isinstance(item, dict) for item in raw):
        raise BadInput(str(raw)[:200], 'write a list of tables such as [{size = "32 x 40", cost = "9.80"}]')
    return raw


def _print_offers(offers: tuple[Offer, ...]) -> list[dict[str, object]]:
    return [{"size": print_size(each.size), **_print_terms(each.cost, each.copies)} for each in offers]


def _print_sticks(sticks: tuple[Stick, ...]) -> list[dict[str, object]]:
    return [{"length": print_length(each.length), **_print_terms(each.cost, each.copies)} for each in sticks]


def _print_terms(cost: Money, copies: int | None) -> dict[str, object]:
    return {"cost": MONEY.print(cost)} | ({} if copies is None else {"copies": copies})


def _print_chop(terms: ChopTerms) -> dict[str, object]:
    given = {key: getattr(terms, key) for key in CHOP_KEYS}
    return {key: CHOP_KEYS[key].print(value) for key, value in given.items() if value is not None}


_OFFERS = Convertor(_parse_offers, _print_offers)
_STICKS = Convertor(_parse_sticks, _print_sticks)
_CHOP = Convertor(_parse_chop, _print_chop)
_PROFILE = Convertor(_parse_profile, _print_profile)


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of material: the table that it stands in, its value, its keys."""

    table: str
    value: type
    keys: Keys


KINDS = (
    Kind(
        "boards",
        Board,
        _keys(caliper=LENGTH, sheets=_OFFERS, colour=COLOUR, core=COLOUR, ply=TEXT, measured=FLAG, oriented=FLAG),
    ),
    Kind(
        "mouldings",
        Moulding,
        _keys(
            **dict.fromkeys(("width", "lip", "rabbet_depth", "height", "kerf"), LENGTH),
            sticks=_STICKS,
            colour=COLOUR,
            chop=_CHOP,
            join=MONEY,
            profile=_PROFILE,
        ),
    ),
    Kind("glazings", Glazing, _keys(kind=one_of(Pane), thickness=LENGTH, sheets=_OFFERS)),
    Kind("backings", Backing, _keys(thickness=LENGTH, sheets=_OFFERS)),
    Kind("spacers", Spacer, _keys(depth=LENGTH, width=LENGTH, sticks=_STICKS)),
    Kind("fillets", Fillet, _keys(shown=LENGTH, lip=LENGTH, thickness=LENGTH, sticks=_STICKS, colour=COLOUR)),
    Kind("frames", ReadyFrame, _keys(size=SIZE, moulding=TEXT, cost=MONEY)),
    Kind("hardware", Hardware, _keys(cost=MONEY, per_frame=WHOLE)),
)
RACK_KEYS = _keys(material=TEXT, size=SIZE, cost=MONEY, place=TEXT)
CUTTING_KEYS = _keys(
    **dict.fromkeys(("trim", "end_trim", "least_piece", "longest_cut", "least_break"), LENGTH),
    **dict.fromkeys(("keep_width", "keep_height", "keep_stick"), LENGTH),
    **dict.fromkeys(("fallout_cost", "chop_minutes", "join_minutes"), WHOLE),
    labour_rate=MONEY,
)
SETTINGS = ("schema", "unit", "order", "currency", "cutting", "rack", *(kind.table for kind in KINDS))


def build[T](value: type[T], keys: Keys, raw: Mapping[str, object], reading: Reading, **given: object) -> T:
    """Return a value from its table; a cost that is not given is nothing; raises BadInput."""
    unknown = sorted(set(raw) - set(keys))
    if unknown:
        close = get_close_matches(unknown[0], keys, 1)
        raise BadInput(unknown[0], f"perhaps {close[0]}" if close else f"write {', '.join(keys)}")
    values = given | {key: keys[key].parse(found, reading) for key, found in raw.items()}
    if "cost" in keys:
        values.setdefault("cost", Money(Decimal(0), reading.currency))
    missing = [each.name for each in fields(value) if each.default is MISSING and each.name not in values]  # type: ignore[arg-type]
    if missing:
        raise BadInput(", ".join(raw), f"{', '.join(missing)} too")
    try:
        return value(**values)
    except ValueError as bad:
        raise BadInput(", ".join(raw), str(bad)) from bad
