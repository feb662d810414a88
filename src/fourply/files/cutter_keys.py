"""What can be said of a cutter, by one table of keys for each part of its file."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from decimal import Decimal
from types import MappingProxyType
from typing import cast

from fourply.bench.constants import NAMES, Constant
from fourply.bench.cutter import Direction, Side, StopDatum
from fourply.bench.profile import BoardFace, HeadKind, Index, OvalScale, Scale
from fourply.bench.readings import What
from fourply.errors import BadInput
from fourply.files.convertors import (
    DEGREES,
    FLAG,
    LENGTH,
    SCHEMA,
    TEXT,
    UNIT,
    WHOLE,
    Convertor,
    Reading,
    one_of,
    parse_length_in,
    parse_signed,
    print_length,
    print_signed,
    words,
)
from fourply.measure.length import Length

_MOST = 200
_MOST_NUMBER = 10**9

type Keys = Mapping[str, Convertor[object]]


def _keys(**convertors: object) -> Keys:
    return MappingProxyType(cast("dict[str, Convertor[object]]", convertors))


def _listed[T](parse: Callable[[object, Reading], T], expected: str) -> Callable[[object, Reading], tuple[T, ...]]:
    def parsed(raw: object, reading: Reading) -> tuple[T, ...]:
        if not isinstance(raw, list) or len(raw) > _MOST:
            raise BadInput(str(raw)[:_MOST], f"write a list such as {expected}, of at most {_MOST}")
        return tuple(parse(each, reading) for each in raw)

    return parsed


def _number(raw: object, _: Reading) -> float:
    number = Decimal(raw) if isinstance(raw, int | Decimal) and not isinstance(raw, bool) else Decimal("NaN")
    if not number.is_finite() or abs(number) >= _MOST_NUMBER:
        raise BadInput(str(raw)[:_MOST], "write a number such as 1.004")
    return float(number)


def _parse_constant(raw: object, reading: Reading) -> Constant:
    numbers = _listed(_number, "[1.004, 0.001]")(raw, reading)
    if len(numbers) != 2:
        raise BadInput(str(raw)[:_MOST], "write a value and its standard error such as [1.004, 0.001]")
    try:
        return Constant(*numbers)
    except ValueError as bad:
        raise BadInput(str(raw)[:_MOST], str(bad)) from bad


def _parse_three(raw: object, reading: Reading) -> tuple[float, float, float]:
    found = _listed(_number, "[0.0, 0.0, 0.0]")(raw, reading)
    if len(found) != 3:
        raise BadInput(str(raw)[:_MOST], "write three numbers such as [0.0, 0.0, 0.0]")
    return found[0], found[1], found[2]


def _parse_date(raw: object, _: Reading) -> str:
    text = str(raw) if isinstance(raw, date) else words(raw)
    try:
        return date.fromisoformat(text).isoformat()
    except ValueError as bad:
        raise BadInput(text, "write a date such as 2026-03-01") from bad


def _print_lengths(lengths: tuple[Length, ...]) -> list[str]:
    return [print_length(each) for each in lengths]


LENGTHS = Convertor(_listed(parse_length_in, '["1 1/2 in", "2 in"]'), _print_lengths)
SIGNED = Convertor(parse_signed, print_signed)
DATE = Convertor(_parse_date, str)
NAMES_LISTED = Convertor(_listed(TEXT.parse, '["3", "7"]'), list)
CONSTANT = Convertor(_parse_constant, lambda constant: [constant.value, constant.error])

CUTTER_KEYS = _keys(
    schema=SCHEMA, name=TEXT, unit=UNIT, **dict.fromkeys(("bar", "deepest", "slip"), LENGTH), turn_deg=DEGREES
)
CUTTER_TABLES = ("guide", "stops", "arm", "heads", "calibrations")
GUIDE_KEYS = _keys(
    **dict.fromkeys(("least", "greatest", "step"), LENGTH),
    side=one_of(Side),
    scale=one_of(Scale),
    **dict.fromkeys(("pinned", "strips"), LENGTHS),
)
STOP_KEYS = _keys(far=FLAG, near=FLAG, datum=one_of(StopDatum))
ARM_KEYS = _keys(length=LENGTH, guide_off=FLAG)
HEAD_KEYS = _keys(
    kind=one_of(HeadKind),
    index=one_of(Index),
    angle_deg=DEGREES,
    direction=one_of(Direction),
    **dict.fromkeys(("start", "stop"), SIGNED),
    board=one_of(BoardFace),
    reads=one_of(OvalScale),
)
HEAD_TABLES = ("blade", "cuts")
BLADE_KEYS = _keys(name=TEXT, life=LENGTH)
BLADE_TABLES = ("positions",)
CALIBRATION_KEYS = _keys(
    date=DATE,
    readings=WHOLE,
    left_out=NAMES_LISTED,
    **dict.fromkeys((name.value for name in NAMES), CONSTANT),
    together=Convertor(_parse_three, list),
)
FACTS = _keys(
    schema=SCHEMA,
    unit=UNIT,
    date=DATE,
    **dict.fromkeys(("rule", "reading_error", "caliper", "caliper_error"), LENGTH),
)
"""What is the same for all readings of a day."""
READING_KEYS = _keys(
    box=TEXT,
    what=one_of(What),
    where=TEXT,
    value=SIGNED,
    **dict.fromkeys(("second", "setting", "length", "caliper", "width", "height"), LENGTH),
    used=SIGNED,
)
