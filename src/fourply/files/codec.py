"""Values to versioned JSON and back: the one form that files, the store and the API share.

A value's JSON follows from its declared types, so nothing has to be kept in step by hand: lengths are whole
nanometres, ratios and money are text, enumerations their values, everything else an object of its fields. Where a
field may be of several types the JSON says which: `{"length": 9525000}`. A document names its kind and its version: an
earlier one is brought up to date step by step, one that is newer than this program is refused with a clear word.
"""

from __future__ import annotations

import math
import types
from collections.abc import Callable, Iterator, Mapping
from dataclasses import MISSING, Field, dataclass, fields
from datetime import date
from decimal import Decimal, InvalidOperation
from enum import Enum
from fractions import Fraction
from functools import cache
from typing import TypeAliasType, Union, cast, get_args, get_origin, get_type_hints

from fourply.errors import BadFile, BadInput
from fourply.files.convertors import Reading
from fourply.files.fields import Field as Place
from fourply.files.rules import TREATMENT
from fourply.measure.length import Length
from fourply.measure.notation import Unit
from fourply.trade.shapes.arch import Arch, EllipticalArch
from fourply.trade.shapes.corners import Clipped, Rounded, Scooped
from fourply.trade.shapes.ellipse import Ellipse
from fourply.trade.shapes.free import Free
from fourply.trade.shapes.pieces import Cubic, Piece, Segment, Sweep
from fourply.trade.shapes.rectangle import Rectangle
from fourply.trade.shapes.regular import Regular
from fourply.trade.shapes.shape import Shape
from fourply.trade.shapes.stepped import Stepped
from fourply.trade.treatment import Layer

type Json = bool | int | float | str | list[Json] | dict[str, Json] | None
type Upgrade = Callable[[Json], Json]

UPGRADES: dict[type, tuple[Upgrade, ...]] = {}
"""For each kind whose documents have changed their form: from version 1 to 2, from 2 to 3, and so on.

Each takes the value of a document and gives it as the next version has it. A new field with a default needs none: a
document without it has the default. What has been released here is never changed.
"""


@dataclass(frozen=True, slots=True)
class _Scalar:
    """How a value that is no object of its own is written: its tag among others, its JSON type, both ways."""

    tag: str
    schema: Mapping[str, Json]
    encode: Callable[[object], Json]
    decode: Callable[[Place], object]


def _exact(make: Callable[[str], object], expected: str) -> Callable[[Place], object]:
    def decode(place: Place) -> object:
        text = place.text()
        try:
            if len(text) < 100 and "e" not in text.lower():
                return make(text)
        except (ValueError, ZeroDivisionError, InvalidOperation):
            pass
        raise place.fault(expected)

    return decode


def _whole(place: Place) -> int:
    if type(place.value) is not int or abs(place.value) > 2**53:
        raise place.fault("expected a whole number within 2^53")
    return place.value


def _number(place: Place) -> float:
    if type(place.value) not in {int, float} or not math.isfinite(cast("float", place.value)):
        raise place.fault("expected a number")
    return float(cast("float", place.value))


_SCALARS: Mapping[object, _Scalar] = {
    bool: _Scalar("flag", {"type": "boolean"}, bool, lambda place: place.flag()),
    int: _Scalar("count", {"type": "integer"}, lambda value: cast("int", value), _whole),
    float: _Scalar("number", {"type": "number"}, lambda value: cast("float", value), _number),
    str: _Scalar("text", {"type": "string"}, str, lambda place: place.text()),
    Length: _Scalar(
        "length",
        {"type": "integer", "description": "nanometres"},
        lambda value: cast("Length", value).nm,
        lambda place: Length(_whole(place)),
    ),
    Fraction: _Scalar("ratio", {"type": "string"}, str, _exact(Fraction, "expected a ratio such as 4/3")),
    Decimal: _Scalar(
        "decimal", {"type": "string"}, lambda value: f"{value:f}", _exact(Decimal, "expected an amount such as 12.50")
    ),
    date: _Scalar(
        "date",
        {"type": "string", "format": "date"},
        lambda value: cast("date", value).isoformat(),
        _exact(date.fromisoformat, "expected a day such as 2026-03-14"),
    ),
}


_CONCRETE: Mapping[object, object] = {
    Piece: Segment | Sweep | Cubic,
    Shape: Rectangle | Ellipse | Arch | EllipticalArch | Clipped | Rounded | Scooped | Stepped | Regular | Free,
}
"""What a field that is declared by what it can be asked may hold."""


def _plain_type(kind: object) -> object:
    if isinstance(kind, TypeAliasType):
        return kind.__value__
    return _CONCRETE[kind] if kind in {Piece, Shape} else kind


@cache
def _choices(kind: object) -> tuple[object, ...]:
    """Return the types of a union but None, in order; a tuple of one for anything else."""
    if get_origin(kind) in {Union, types.UnionType}:
        return tuple(_plain_type(each) for each in get_args(kind) if each is not types.NoneType)
    return (kind,)


@cache
def _fields(kind: type) -> tuple[tuple[Field[object], object], ...]:
    hints = get_type_hints(kind)
    return tuple((each, hints[each.name]) for each in fields(kind) if each.init)


@dataclass(frozen=True, slots=True)
class _Member:
    """A field of a class as JSON has it: its type, whether it must be there, whether it may be null."""

    hint: object
    needed: bool
    may_be_null: bool

    def is_as_given(self, given: object) -> bool:
        """Tell whether JSON says the value itself: most members of most documents are such."""
        return self.may_be_null if given is None else self.hint in {str, bool} and type(given) is self.hint


@cache
def _members(kind: type) -> Mapping[str, _Member]:
    return {
        each.name: _Member(
            hint,
            each.default is MISSING and each.default_factory is MISSING,
            types.NoneType in get_args(_plain_type(hint)),
        )
        for each, hint in _fields(kind)
    }


# ── values to JSON ───────────────────────────────────────────────────────────────────────────────────────────────


def encode(value: object) -> Json:
    """Return the JSON of a value.

    >>> encode(Length(5))
    5
    """
    return _encode(type(value), value)


def _encode(kind: object, value: object) -> Json:
    kind = _plain_type(kind)
    choices = _choices(kind)
    if value is None:
        return None
    if len(choices) > 1:
        choice = next(each for each in choices if type(value) is (get_origin(each) or each))
        return {_tag(choice): _encode(choice, value)}
    if choices[0] in _SCALARS:
        return _SCALARS[choices[0]].encode(value)
    return _encode_many(choices[0], value)


def _encode_many(kind: object, value: object) -> Json:
    match value:
        case Enum():
            return cast("Json", value.value)
        case Layer():
            return {"name": value.name, "values": {key: _rule(key, rule) for key, rule in value.values.items()}}
        case Mapping():
            return {str(key): _encode(get_args(kind)[1], each) for key, each in value.items()}
        case tuple():
            return [_encode(item, each) for item, each in zip(_items(kind, len(value)), value, strict=True)]
        case _:
            declared = _fields(cast("type", type(value)))
            return {each.name: _encode(hint, getattr(value, each.name)) for each, hint in declared}


def _rule(key: str, rule: object) -> Json:
    return cast("Json", TREATMENT[key].print(rule))


def _items(kind: object, count: int) -> tuple[object, ...]:
    """Return the type of every item of a tuple."""
    arguments = get_args(kind)
    return arguments[:1] * count if arguments[1:] == (Ellipsis,) else arguments


def _tag(kind: object) -> str:
    return _SCALARS[kind].tag if kind in _SCALARS else cast("type", kind).__name__.lower()


# ── JSON to values ───────────────────────────────────────────────────────────────────────────────────────────────


def decode[T](kind: type[T], json: object, file: str) -> T:
    """Return the value that JSON states; raises BadFile with the place of the first fault."""
    return cast("T", _decode(kind, Place(file, json)))


def _decode(kind: object, place: Place) -> object:
    kind = _plain_type(kind)
    if place.value is None and types.NoneType in get_args(kind):
        return None
    choices = _choices(kind)
    if len(choices) > 1:
        return _decode_choice(choices, place)
    kind = choices[0]
    if kind in _SCALARS:
        return _SCALARS[kind].decode(place)
    if get_origin(kind) is tuple:
        found = list(place.items())
        wanted = _items(kind, len(found))
        if len(wanted) != len(found):
            raise place.fault(f"expected {len(wanted)} items")
        return tuple(_decode(item, each) for item, each in zip(wanted, found, strict=True))
    if get_origin(kind) is not None:
        return {key: _decode(get_args(kind)[1], place[key]) for key in place.members()}
    return _decode_class(cast("type", kind), place)


def _decode_choice(choices: tuple[object, ...], place: Place) -> object:
    by_tag = {_tag(choice): choice for choice in choices}
    tags = [*place.members()]
    if len(tags) != 1 or tags[0] not in by_tag:
        raise place.fault(f"expected one of {', '.join(by_tag)}")
    return _decode(by_tag[tags[0]], place[tags[0]])


def _decode_class(kind: type, place: Place) -> object:
    if issubclass(kind, Enum):
        known = {member.value: member for member in kind}
        if not isinstance(place.value, str | int) or place.value not in known:
            raise place.fault(f"expected one of {', '.join(str(value) for value in known)}")
        return known[place.value]
    if kind is Layer:
        return _decode_layer(place)
    return _decode_object(kind, place)


def _decode_layer(place: Place) -> Layer:
    values = {}
    for key in place["values"].members():
        rule = place["values"][key]
        if key not in TREATMENT:
            raise rule.fault(f"expected a rule of a treatment, one of {', '.join(TREATMENT)}")
        try:
            values[key] = TREATMENT[key].parse(rule.value, Reading(Unit.MM))
        except BadInput as bad:
            raise rule.fault(bad.expected) from bad
    return Layer(place["name"].text(), values)


def _decode_object(kind: type, place: Place) -> object:
    members = place.members()
    declared = _members(kind)
    for key in members:
        if key not in declared:
            raise place[key].fault(f"expected one of {', '.join(declared)}")
    values: dict[str, object] = {}
    for name, each in declared.items():
        if name in members:
            given = members[name]
            values[name] = given if each.is_as_given(given) else _decode(each.hint, place[name])
        elif each.needed:
            raise BadFile(place.file, f"{place.place or 'the document'} has no {name}", f"expected {name}")
    try:
        return kind(**values)
    except (ValueError, TypeError) as bad:
        raise place.fault(str(bad)) from bad


# ── documents ────────────────────────────────────────────────────────────────────────────────────────────────────


def version_of(kind: type) -> int:
    """Return the version of documents of a kind that this program writes."""
    return 1 + len(UPGRADES.get(kind, ()))


def _schema_of(kind: type) -> str:
    return f"fourply/{kind.__name__.lower()}/{version_of(kind)}"


def save(value: object) -> dict[str, Json]:
    """Return the document of a value: its kind, its version, its JSON.

    >>> save(Layer("show default", {}))["schema"]
    'fourply/layer/1'
    """
    return {"schema": _schema_of(type(value)), "value": encode(value)}


def load[T](kind: type[T], document: object, file: str) -> T:
    """Return the value of a document of this version or an earlier one.

    Raises BadFile for another kind, or a version newer than this program's.
    """
    place = Place(file, document)
    schema = place["schema"]
    name, _, version = schema.text().rpartition("/")
    if name != _schema_of(kind).rpartition("/")[0]:
        raise schema.fault(f"expected {_schema_of(kind)}")
    newest = version_of(kind)
    if version not in {str(number) for number in range(1, newest + 1)}:
        raise schema.fault(f"expected version {newest}: a newer fourply wrote this, and a newer one can read it")
    value = cast("Json", place["value"].value)
    for upgrade in UPGRADES.get(kind, ())[int(version) - 1 :]:
        value = upgrade(value)
    return decode(kind, value, file)


def json_schema(kind: type) -> dict[str, Json]:
    """Return the JSON Schema (draft 2020-12) of the documents of a kind."""
    definitions: dict[str, Json] = {}
    value = _schema(kind, definitions)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "type": "object",
        "properties": {"schema": {"const": _schema_of(kind)}, "value": value},
        "required": ["schema", "value"],
        "$defs": definitions,
    }


def _schema(kind: object, definitions: dict[str, Json]) -> Json:
    kind = _plain_type(kind)
    choices = _choices(kind)
    if len(choices) > 1 or types.NoneType in get_args(kind):
        return {"anyOf": list(_schema_choices(kind, choices, definitions))}
    if kind in _SCALARS:
        return dict(_SCALARS[kind].schema)
    if get_origin(kind) is tuple:
        arguments = get_args(kind)
        if arguments[1:] == (Ellipsis,):
            return {"type": "array", "items": _schema(arguments[0], definitions)}
        return {"type": "array", "prefixItems": [_schema(each, definitions) for each in arguments], "items": False}
    if get_origin(kind) is not None:
        return {"type": "object", "additionalProperties": _schema(get_args(kind)[1], definitions)}
    return _schema_class(cast("type", kind), definitions)


def _schema_choices(kind: object, choices: tuple[object, ...], definitions: dict[str, Json]) -> Iterator[Json]:
    if types.NoneType in get_args(kind):
        yield {"type": "null"}
    for choice in choices:
        one = _schema(choice, definitions)
        if len(choices) == 1:
            yield one
        else:
            yield {"type": "object", "properties": {_tag(choice): one}, "required": [_tag(choice)]}


def _schema_class(kind: type, definitions: dict[str, Json]) -> Json:
    if issubclass(kind, Enum):
        return {"enum": [cast("Json", member.value) for member in kind]}
    if kind.__name__ not in definitions:
        definitions[kind.__name__] = {}  # entered first, so that a type that holds itself ends
        definitions[kind.__name__] = _schema_object(kind, definitions)
    return {"$ref": f"#/$defs/{kind.__name__}"}


def _schema_object(kind: type, definitions: dict[str, Json]) -> Json:
    if kind is Layer:
        values: Json = {"type": "object", "propertyNames": {"enum": [*TREATMENT]}}
        return {"type": "object", "properties": {"name": {"type": "string"}, "values": values}}
    required: list[Json] = [
        each.name for each, _ in _fields(kind) if each.default is MISSING and each.default_factory is MISSING
    ]
    return {
        "type": "object",
        "properties": {each.name: _schema(hint, definitions) for each, hint in _fields(kind)},
        "required": required,
        "additionalProperties": False,
    }
