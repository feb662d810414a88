"""Text to value and back, a pair for each kind, in one table.

A show file, a list's column and a materials file state the same things, so what a key may hold is said once: each
convertor has a `parse` (what a person wrote, in a cell or in TOML) and a `print` that parses back to the same value.
Names of keys are those of the values' fields.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import Enum
from fractions import Fraction

from fourply.errors import BadInput, BadLength, Unknown
from fourply.files.cells import date_fault, dead_cell, is_month_text
from fourply.measure.dimensions import Order, parse_pair
from fourply.measure.length import ZERO, Length
from fourply.measure.names import size_named
from fourply.measure.notation import Style, Unit, format_length, parse_length
from fourply.measure.rounding import GRIDS, NANOMETRE, SIXTY_FOURTH, Grid
from fourply.measure.size import Size
from fourply.trade.money import Money, Rate

SCHEMA_VERSION = 1
"""The version of show and materials files; one that says nothing is of this version."""

_MOST_CHARACTERS = 2_000


type Fetch = Callable[[str], bytes]
"""Gives the content of a file that a show names; raises BadFile."""


@dataclass(frozen=True, slots=True)
class Reading:
    """What bare numbers mean where they stand: the unit, the order of a pair (None: unstated), the currency.

    `fetch` gives a file that a value names; where there is none, no value can name a file.
    """

    unit: Unit
    order: Order | None = None
    currency: str = "USD"
    fetch: Fetch | None = None


@dataclass(frozen=True, slots=True)
class Convertor[T]:
    """How one kind of value is read and written: `parse` raises BadInput, `print` gives what TOML can hold."""

    parse: Callable[[object, Reading], T]
    print: Callable[[T], object]


def words(raw: object) -> str:
    """Return what a scalar says as text; raises BadInput for a list, a table, a dead cell or an endless text."""
    if isinstance(raw, bool):
        return "yes" if raw else "no"
    if isinstance(raw, Decimal):
        return format(raw, "f") if abs(raw.adjusted() if raw.is_finite() else 99) < 30 else str(raw)
    if not isinstance(raw, str | int):
        raise BadInput(str(raw)[:_MOST_CHARACTERS], "write one value as text or a number")
    if isinstance(raw, int) and raw.bit_length() > 128:
        raise BadInput("a very long number", "write a shorter number")
    text = str(raw).strip()
    if len(text) > _MOST_CHARACTERS:
        raise BadInput(text, f"write at most {_MOST_CHARACTERS} characters")
    if fault := dead_cell(text):
        raise BadInput(text, fault)
    return text


# ── lengths and sizes ────────────────────────────────────────────────────────────────────────────────────────────


def measured(raw: object) -> str:
    """Return the text of a length or a size, having refused a cell that a spreadsheet made a date of."""
    text = words(raw).removeprefix("'")  # spreadsheets keep a number as text with an apostrophe before it
    if fault := date_fault(text):
        raise BadLength(text, fault)
    return text


def print_length(length: Length) -> str:
    """Return a length exactly: in inches where it is whole sixty-fourths, else in millimetres.

    >>> print_length(Length.mm(60)), print_length(Length.inches(5, 2))
    ('60 mm', '2 1/2 in')
    """
    on_rule = length.nm % SIXTY_FOURTH.step.nm == 0
    return format_length(length, Style(Unit.INCH, SIXTY_FOURTH) if on_rule else Style(Unit.MM, NANOMETRE))


def parse_length_in(raw: object, reading: Reading) -> Length:
    """Return a length from a cell or from TOML; raises BadLength."""
    return parse_length(measured(raw), reading.unit)


def parse_signed(raw: object, reading: Reading) -> Length:
    """Return a length that may be below nothing, with a minus sign; raises BadLength."""
    text = measured(raw).replace("−", "-")
    return -parse_length(text[1:].lstrip(), reading.unit) if text.startswith("-") else parse_length(text, reading.unit)


def print_signed(length: Length) -> str:
    """Return a length with a minus sign where it is below nothing.

    >>> print_signed(Length.inches(-1, 64))
    '-1/64 in'
    """
    return f"-{print_length(-length)}" if length < ZERO else print_length(length)


def parse_size(raw: object, reading: Reading) -> Size:
    """Return a size from a pair, a name, or a table of width and height; raises BadInput."""
    if isinstance(raw, dict):
        sides = members(raw, ("width", "height"), parse_length_in, reading)
        return _size(sides["width"], sides["height"])
    text = measured(raw)
    try:
        return size_named(text)
    except Unknown:
        return parse_pair(text, reading.unit, reading.order).size


def _size(width: Length, height: Length) -> Size:
    try:
        return Size(width, height)
    except ValueError as bad:
        raise BadLength(
            f"{print_length(width)} x {print_length(height)}", "width and height are above nothing"
        ) from bad


def print_size(size: Size) -> str:
    """Return a size with letters at its numbers, so that no order has to be stated beside it."""
    return f"{print_length(size.width)} w x {print_length(size.height)} h"


def members[T](
    raw: Mapping[str, object], names: tuple[str, ...], parse: Callable[[object, Reading], T], reading: Reading
) -> dict[str, T]:
    """Return every member of a table that must have exactly these; raises BadInput."""
    if set(raw) != set(names):
        raise BadInput(", ".join(str(key) for key in raw)[:200], f"write {', '.join(names)}")
    return {name: parse(raw[name], reading) for name in names}


# ── numbers, words, names ────────────────────────────────────────────────────────────────────────────────────────


def _parse_whole(raw: object, _: Reading) -> int:
    text = words(raw)
    if not re.fullmatch(r"[0-9]{1,6}", text):
        raise BadInput(text, "write a whole number such as 1 or 12")
    return int(text)


def parse_ratio(raw: object) -> Fraction:
    """Return an exact ratio from `4/3` or `1.25`; raises BadInput."""
    text = words(raw).replace(",", ".")
    found = re.fullmatch(r"([0-9]{1,6}(?:\.[0-9]{1,12})?)(?:\s*/\s*([1-9][0-9]{0,5}))?", text)
    if found is None:
        raise BadInput(text, "write a ratio such as 4/3 or 1.25")
    return Fraction(found[1]) / int(found[2] or 1)


def _parse_degrees(raw: object, _: Reading) -> float:
    try:
        return float(parse_ratio(re.sub(r"\s*(?:°|deg|degrees)$", "", words(raw), flags=re.IGNORECASE)))
    except BadInput as bad:
        raise BadInput(bad.found, "write degrees such as 45 or 52.5") from bad


def _parse_flag(raw: object, _: Reading) -> bool:
    text = words(raw)
    if text.lower() in {"yes", "y", "true", "x", "✓", "1"}:
        return True
    if text.lower() in {"no", "n", "false", "", "0", "-"}:
        return False
    raise BadInput(text, "write yes or no")


def _parse_text(raw: object, _: Reading) -> str:
    return words(raw)


def _parse_id(raw: object, _: Reading) -> str:
    text = words(raw)
    if is_month_text(text):
        raise BadInput(text, "the spreadsheet made a date of this number: format the column as text and type it again")
    return text


def _parse_name(raw: object, _: Reading) -> str:
    text = words(raw)
    return "" if text.lower() in {"none", "-", "no"} else text


def one_of[E: Enum](kind: type[E]) -> Convertor[E]:
    """Return the convertor of an enumeration, whose members are written by their values, whatever the case."""
    known = {plain(str(member.value)): member for member in kind}

    def parse(raw: object, _: Reading) -> E:
        text = words(raw)
        if plain(text) not in known:
            raise BadInput(text, f"write one of {', '.join(str(member.value) for member in kind)}")
        return known[plain(text)]

    return Convertor(parse, lambda member: str(member.value))


def plain(text: str) -> str:
    """Return a name as it is compared: lower case, one blank for blanks, underscores and hyphens."""
    return re.sub(r"[\s_-]+", " ", text).strip().lower()


def _parse_money(raw: object, reading: Reading) -> Money:
    text = words(raw)
    found = re.fullmatch(r"([A-Z]{3}\s*)?([0-9]{1,9}(?:[.,][0-9]{1,4})?)(\s*[A-Z]{3})?", text)
    if found is None or (found[1] and found[3]) or re.search(r",[0-9]{3}$", found[2]):
        raise BadInput(text, "write an amount such as 12.50 or 12.50 EUR")
    currency = (found[1] or found[3] or reading.currency).strip()
    return Money(Decimal(found[2].replace(",", ".")), currency)


def _parse_schema(raw: object, reading: Reading) -> int:
    version = _parse_whole(raw, reading)
    if not 1 <= version <= SCHEMA_VERSION:
        raise BadInput(str(version), f"this version reads schema {SCHEMA_VERSION}: a newer one can read it")
    return version


def _parse_currency(raw: object, _: Reading) -> str:
    text = words(raw)
    if not re.fullmatch("[A-Z]{3}", text):
        raise BadInput(text, "write a currency in three capital letters such as USD or EUR")
    return text


def _print_money(money: Money) -> str:
    return f"{money.amount:f} {money.currency}"


_RATE = re.compile(r"(?P<price>[^/]+?)\s*(?:\bper\b|/)\s*(?P<per>.+)", re.IGNORECASE)
_RATE_EXPECTED = "write a price for a length such as 3.20 per ft or 10.50 per m"


def _parse_rate(raw: object, reading: Reading) -> Rate:
    """Return the rate of `3.20 per ft`, `10.50 EUR / m`; a price alone is refused, since feet and metres differ."""
    text = words(raw)
    found = _RATE.fullmatch(text)
    if found is None:
        raise BadInput(text, _RATE_EXPECTED)
    try:
        return Rate(_parse_money(found["price"], reading), _per(found["per"], reading))
    except ValueError as bad:
        raise BadInput(text, _RATE_EXPECTED) from bad


def _per(text: str, reading: Reading) -> Length:
    try:
        return Length(Unit.named(text).nm)
    except Unknown:
        return parse_length_in(text, reading)


def _print_rate(rate: Rate) -> str:
    return f"{_print_money(rate.price)} per {print_length(rate.per)}"


def _parse_colour(raw: object, _: Reading) -> str:
    text = words(raw).lower()
    if not re.fullmatch(r"#[0-9a-f]{6}", text):
        raise BadInput(text, "write a colour such as #efe9dc")
    return text


def _parse_grid(raw: object, _: Reading) -> Grid:
    text = words(raw)
    if text not in GRIDS:
        raise BadInput(text, f"write one of {', '.join(GRIDS)}")
    return GRIDS[text]


# ── the tables ───────────────────────────────────────────────────────────────────────────────────────────────────

LENGTH = Convertor(parse_length_in, print_length)
SIZE = Convertor(parse_size, print_size)
WHOLE = Convertor(_parse_whole, int)
DEGREES = Convertor(_parse_degrees, lambda degrees: f"{Decimal(repr(degrees)):f}")
FLAG = Convertor(_parse_flag, bool)
TEXT = Convertor(_parse_text, str)
ID = Convertor(_parse_id, str)
NAME = Convertor(_parse_name, lambda name: name or "none")
MONEY = Convertor(_parse_money, _print_money)
RATE = Convertor(_parse_rate, _print_rate)
COLOUR = Convertor(_parse_colour, str)
SCHEMA = Convertor(_parse_schema, int)
UNIT = Convertor(lambda raw, _: Unit.named(words(raw)), lambda unit: str(unit.value))
ORDER = Convertor(lambda raw, _: Order.named(words(raw)), lambda order: str(order.value))
CURRENCY = Convertor(_parse_currency, str)
GRID = Convertor(_parse_grid, lambda grid: grid.name)
