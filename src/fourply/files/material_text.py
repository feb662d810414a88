"""A material as a person types it into a form: a line of text for each key, several lines where there are several.

The fields follow from the same table of keys that files and lists are read by, so that a key is added in one place.
What is typed becomes what a file would hold, and is read as a file is: `32 x 40 at 11.00` is a sheet with its cost.
"""

from __future__ import annotations

import re
import types
from collections.abc import Mapping
from dataclasses import MISSING, dataclass, fields
from enum import Enum
from typing import Union, cast, get_args, get_origin, get_type_hints

from fourply.errors import BadInput
from fourply.files.convertors import COLOUR, FLAG, Convertor, Reading, parse_length_in
from fourply.files.kept import AnyMaterial
from fourply.files.kinds import CHOP_KEYS, KINDS, Kind, build
from fourply.measure.dimensions import Order
from fourply.measure.length import Length
from fourply.measure.notation import Style, Unit, format_length
from fourply.measure.rounding import NANOMETRE, SIXTY_FOURTH, Grid
from fourply.measure.size import Size
from fourply.trade.materials import ChopTerms, Offer, Stick
from fourply.trade.money import Money, Rate

_FINE_INCH = Grid("1/100000 in", Length.inches(1, 100_000))
_MOST_LINES = 200
_OFFERED = re.compile(r"(?P<what>.+?)\s+(?:at|@)\s+(?P<cost>.+?)(?:\s*,\s*(?P<copies>[0-9]+)(?:\s+in stock)?)?")
_POINT = re.compile(r"(?P<across>.+?)\s*(?:across)?\s*,\s*(?P<height>.+?)(?:\s*high)?")

type Lengths = tuple[tuple[Length, Length], ...]


class Shape(Enum):
    """How a field is typed."""

    LINE = "line"
    LINES = "lines"
    CHOICE = "choice"
    FLAG = "flag"
    COLOUR = "colour"


@dataclass(frozen=True, slots=True)
class TextField:
    """One field: its key (`chop.rate` for a part of a key), how it is typed, what it may be, whether it must be."""

    key: str
    shape: Shape
    choices: tuple[str, ...] = ()
    needed: bool = False


class Misread(BadInput):
    """Fields that cannot be read: what is wrong by the key of each."""

    def __init__(self, faults: Mapping[str, str]) -> None:
        key, says = next(iter(faults.items()))
        super().__init__(key.replace("_", " "), says)
        self.args = (faults,)
        self.faults = faults


def kind_named(table: str) -> Kind:
    """Return the kind of material that a table holds; raises BadInput."""
    found = next((kind for kind in KINDS if kind.table == table), None)
    if found is None:
        raise BadInput(table, f"one of {', '.join(kind.table for kind in KINDS)}")
    return found


def kind_of_item(item: AnyMaterial) -> Kind:
    """Return the kind that a material is of."""
    return next(kind for kind in KINDS if kind.value is type(item))


def text_fields(kind: Kind) -> tuple[TextField, ...]:
    """Return the fields of a kind of material, its name apart, in the order of its keys.

    >>> [field.key for field in text_fields(kind_named("backings"))]
    ['thickness', 'sheets']
    """
    hints, needed = get_type_hints(kind.value), _without_default(kind)
    found: list[TextField] = []
    for key, convertor in kind.keys.items():
        hint = _one_type(hints[key])
        if hint is ChopTerms:
            parts = {part: _one_type(each) for part, each in get_type_hints(ChopTerms).items()}
            found += [_field(f"{key}.{part}", parts[part], of, needed=False) for part, of in CHOP_KEYS.items()]
        else:
            found.append(_field(key, hint, convertor, needed=key in needed and key != "cost"))
    return tuple(found)


def _without_default(kind: Kind) -> set[str]:
    return {each.name for each in fields(kind.value) if each.default is MISSING}


def _one_type(hint: object) -> object:
    """Return the type of a field that may be left out."""
    if get_origin(hint) in {Union, types.UnionType}:
        return next(each for each in get_args(hint) if each is not types.NoneType)
    return hint


def _field(key: str, hint: object, convertor: Convertor[object], *, needed: bool) -> TextField:
    if get_origin(hint) is tuple:
        return TextField(key, Shape.LINES)
    if isinstance(hint, type) and issubclass(hint, Enum):
        return TextField(key, Shape.CHOICE, tuple(str(each.value) for each in hint), needed)
    if convertor is cast("Convertor[object]", FLAG):
        return TextField(key, Shape.FLAG)
    return TextField(key, Shape.COLOUR if convertor is cast("Convertor[object]", COLOUR) else Shape.LINE, (), needed)


# ── values to text ───────────────────────────────────────────────────────────────────────────────────────────────


def written(item: AnyMaterial, reading: Reading) -> dict[str, str]:
    """Return each field of a material as text that is read back as the same value; "" for what it does not have."""
    kind, found = kind_of_item(item), {}
    for field in text_fields(kind):
        key, _, part = field.key.partition(".")
        value = getattr(item, key)
        if part:
            value = None if value is None else getattr(value, part)
        text = _text(value, reading)
        found[field.key] = str(kind.keys[key].print(value)) if text is None else text
    return found


def _text(value: object, reading: Reading) -> str | None:  # noqa: PLR0911 (one return a type)
    """Return a value as text, None for one that its convertor prints."""
    match value:
        case None:
            return ""
        case bool():
            return "yes" if value else "no"
        case Length():
            return length_text(value, reading.unit)
        case Size():
            return size_text(value, reading)
        case Money():
            return _money_text(value, reading)
        case Rate():
            return f"{_money_text(value.price, reading)} per {_per_text(value.per, reading.unit)}"
        case tuple():
            return "\n".join(_line(each, reading) for each in value)
        case _:
            return None


def _line(value: object, reading: Reading) -> str:
    if isinstance(value, Offer | Stick):
        what = size_text(value.size, reading) if isinstance(value, Offer) else length_text(value.length, reading.unit)
        stock = "" if value.copies is None else f", {value.copies} in stock"
        return f"{what} at {_money_text(value.cost, reading)}{stock}"
    across, height = cast("tuple[Length, Length]", value)
    return f"{length_text(across, reading.unit)} across, {length_text(height, reading.unit)} high"


def length_text(length: Length, unit: Unit) -> str:
    """Return a length exactly: in the unit's system where that can say it, else in millimetres.

    >>> length_text(Length.inches(55, 1000), Unit.INCH), length_text(Length.inches(3, 16), Unit.INCH)
    ('0.055 in', '3/16 in')
    >>> length_text(Length.mm(3), Unit.INCH), length_text(Length.inches(1, 4), Unit.MM)
    ('3 mm', '6.35 mm')
    """
    if not unit.is_metric:
        for grid in (SIXTY_FOURTH, _FINE_INCH):
            if length.nm % grid.step.nm == 0:
                return format_length(length, Style(Unit.INCH, grid))
    return format_length(length, Style(Unit.MM, NANOMETRE))


def size_text(size: Size, reading: Reading) -> str:
    """Return a size in the order of its reader, with letters where there is none; the unit once where it is one.

    >>> board = Size(Length.inches(32), Length.inches(40))
    >>> size_text(board, Reading(Unit.INCH, Order.HEIGHT_WIDTH)), size_text(board, Reading(Unit.INCH))
    ('40 x 32 in', '32 in w x 40 in h')
    """
    width, height = length_text(size.width, reading.unit), length_text(size.height, reading.unit)
    if reading.order is None:
        return f"{width} w x {height} h"
    one, two = (height, width) if reading.order is Order.HEIGHT_WIDTH else (width, height)
    (bare, unit), other = one.rsplit(" ", 1), two.rsplit(" ", 1)[1]
    return f"{bare if unit == other else one} x {two}"


def _money_text(money: Money, reading: Reading) -> str:
    return f"{money.amount:f}" + ("" if money.currency == reading.currency else f" {money.currency}")


def _per_text(per: Length, unit: Unit) -> str:
    named = next((each.value for each in (Unit.FOOT, Unit.M) if Length(each.nm) == per), None)
    return named or length_text(per, unit)


# ── text to values ───────────────────────────────────────────────────────────────────────────────────────────────


def read_item(kind: Kind, name: str, said: Mapping[str, str], reading: Reading) -> AnyMaterial:
    """Return the material that the fields of a form state; raises Misread with everything that is wrong.

    A field that is empty is left at what such a material usually has.
    """
    raw: dict[str, object] = {}
    faults: dict[str, str] = {}
    for field in text_fields(kind):
        key, _, part = field.key.partition(".")
        text = said.get(field.key, "").strip()
        if not text:
            if field.needed:
                faults[field.key] = "this has to be known"
            elif field.shape is Shape.LINES and key in _without_default(kind):
                raw[key] = []
            continue
        try:
            value = _raw_lines(key, text, reading) if field.shape is Shape.LINES else text
            if part:
                CHOP_KEYS[part].parse(value, reading)
                cast("dict[str, object]", raw.setdefault(key, {}))[part] = value
            else:
                kind.keys[key].parse(value, reading)
                raw[key] = value
        except BadInput as bad:
            faults[field.key] = str(bad)
    chop = raw.get("chop")
    if isinstance(chop, dict) and "rate" not in chop:
        faults.setdefault("chop.rate", "the rate is needed where anything is said of rails cut to size")
    if faults:
        raise Misread(faults)
    try:
        return cast("AnyMaterial", build(kind.value, kind.keys, raw, reading, name=name))
    except BadInput as bad:
        raise Misread({_meant(kind, bad.expected, name): bad.expected.removeprefix(f"{name}: ")}) from bad


def _raw_lines(key: str, text: str, reading: Reading) -> list[dict[str, str]]:
    """Return the lines of a field as the tables that a file would hold; the fault of one names the line."""
    lines = [line.strip() for line in text.splitlines() if line.strip()]
    if len(lines) > _MOST_LINES:
        raise BadInput(f"{len(lines)} lines", f"at most {_MOST_LINES}")
    found = []
    for number, line in enumerate(lines, start=1):
        try:
            found.append(_raw_line(key, line, reading))
        except BadInput as bad:
            raise BadInput(line, f"line {number}: {bad.expected}" if len(lines) > 1 else bad.expected) from bad
    return found


def _raw_line(key: str, line: str, reading: Reading) -> dict[str, str]:
    if key == "profile":
        point = _POINT.fullmatch(line)
        if point is None:
            raise BadInput(line, "write a point such as 1/8 across, 1 high")
        for each in point.groups():
            parse_length_in(each, reading)
        return point.groupdict()
    offered = _OFFERED.fullmatch(line)
    what = "size" if key == "sheets" else "length"
    example = ("32 x 40 at 11.00", "810 x 1020 mm at 11.00") if what == "size" else ("10 ft at 32.00", "3 m at 32.00")
    if offered is None:
        raise BadInput(line, f"write a {what} and what it costs, such as {example[reading.unit.is_metric]}")
    keys: Mapping[str, Convertor[object]] = next(kind.keys for kind in KINDS if key in kind.keys)
    raw = {what: offered["what"], "cost": offered["cost"]}
    raw |= {"copies": offered["copies"]} if offered["copies"] else {}
    keys[key].parse([raw], reading)
    return raw


def _meant(kind: Kind, fault: str, name: str) -> str:
    """Return the key that a fault of the whole material speaks of: the first that it names."""
    words = fault.removeprefix(f"{name}: ").replace("_", " ")
    places = {field.key: _place(field.key, words) for field in text_fields(kind)}
    named = {key: at for key, at in places.items() if at >= 0}
    return min(named, key=lambda key: named[key]) if named else "name"


def _place(key: str, words: str) -> int:
    """Return where a key is named in words, -1 where it is not."""
    whole = key.replace("_", " ").replace(".", " ")
    for each in (whole, whole.partition(" ")[0], whole.rpartition(" ")[2]):
        found = re.search(rf"\b{re.escape(each)}\b", words)
        if found:
            return found.start()
    return -1
