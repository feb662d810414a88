"""Lengths as people write them, read and printed in one place, so that what is printed can be read back.

A length is read exactly or refused. Nothing is guessed: a comma before three digits may mean thousands or decimals, a
third of an inch is no whole nanometre, a minus sign is no size; each is refused with what would be right. Only the
digits 0 to 9 are read, and superior and inferior digits round a fraction slash (`16³⁄₈`), since a drawing may print
those. Decimals are kept to the last digit: one that is no whole nanometre is refused and its neighbour on the rule
named, so any rounding is done by a person who sees it.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from types import MappingProxyType
from typing import Self

from fourply.errors import BadLength, Unknown
from fourply.measure.length import NM_PER_INCH, NM_PER_MM, Length
from fourply.measure.rounding import SIXTY_FOURTH, TENTH_MILLIMETRE, Grid, Rule, half_even, half_up, to_grid
from fourply.measure.size import Size

LONGEST = Length.mm(100_000)
"""No sheet, stick or wall is longer than 100 m: a longer figure is a slip of the pen."""

_EXAMPLES = "write a length such as 16 3/8 in, 16.375 in or 415 mm"
_MOST_CHARACTERS = 80


class Unit(Enum):
    """A unit as it stands in files and on the command line.

    >>> Unit.named("Inches")
    <Unit.INCH: 'in'>
    """

    INCH = "in"
    FOOT = "ft"
    MM = "mm"
    CM = "cm"
    M = "m"

    @property
    def nm(self) -> int:
        """Nanometres in one."""
        return _NM[self]

    @property
    def is_metric(self) -> bool:
        """Tell whether fractions are written as decimals."""
        return self not in {Unit.INCH, Unit.FOOT}

    @classmethod
    def named(cls, text: str) -> Self:
        """Return the unit of this name or sign, whatever its case; raises Unknown."""
        unit = _UNIT_WORDS.get(straight(text).strip().lower().removesuffix("."))
        if unit is None:
            raise Unknown("unit", text, [member.value for member in cls])
        return cls(unit)


_NM = MappingProxyType(
    {
        Unit.INCH: NM_PER_INCH,
        Unit.FOOT: 12 * NM_PER_INCH,
        Unit.MM: NM_PER_MM,
        Unit.CM: 10 * NM_PER_MM,
        Unit.M: 1000 * NM_PER_MM,
    }
)
_UNIT_WORDS = MappingProxyType(
    dict.fromkeys(('"', "in", "inch", "inches", "ins"), Unit.INCH)
    | dict.fromkeys(("'", "ft", "foot", "feet"), Unit.FOOT)
    | dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), Unit.MM)
    | dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), Unit.CM)
    | dict.fromkeys(("m", "metre", "metres", "meter", "meters"), Unit.M)
)

# ── reading ──────────────────────────────────────────────────────────────────────────────────────────────────────

_SIGNS = str.maketrans(
    dict.fromkeys("″“”„‟ʺ＂", '"') | dict.fromkeys("′‘’‛ʹ´`＇", "'") | dict.fromkeys("‐‑‒–", "-") | {"∕": "/", "−": "-"}
)
_SMALL_DIGITS = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉", "01234567890123456789")
_SMALL_FRACTION = re.compile("([⁰¹²³⁴-⁹]+)⁄([₀-₉]+)")
_WORDS = "|".join(sorted((re.escape(word) for word in _UNIT_WORDS), key=len, reverse=True))
_AMOUNT = r"""(?: (?: (?P<whole>[0-9]{1,9}) (?:-|\ +) )? (?P<over>[0-9]{1,9}) \ ?/\ ? (?P<under>[0-9]{1,9})
                | (?P<decimal>[0-9]{1,9}(?:[.,][0-9]{1,30})? | [.,][0-9]{1,30}) )"""
_ONE_UNIT = re.compile(rf"{_AMOUNT} \ * (?P<unit>(?:{_WORDS})\.?)?", re.VERBOSE | re.IGNORECASE | re.ASCII)
_FEET_AND_INCHES = re.compile(
    rf"""(?P<feet>[0-9]{{1,9}}) \ * (?:'|ft\.?|foot|feet) \ *-?\ * {_AMOUNT} \ * (?:"|in\.?|inch|inches)?""",
    re.VERBOSE | re.IGNORECASE | re.ASCII,
)
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")


def straight(text: str) -> str:
    """Return text with typographic spaces, primes, dashes and fractions as a plain keyboard types them."""
    text = _SMALL_FRACTION.sub(lambda found: " " + found.group().translate(_SMALL_DIGITS), text).translate(_SIGNS)
    return "".join(_straight_sign(sign) for sign in text).replace("⁄", "/").replace("''", '"')


def _straight_sign(sign: str) -> str:
    if sign == "\t" or unicodedata.category(sign) == "Zs":
        return " "
    return (
        f" {unicodedata.normalize('NFKC', sign)}" if unicodedata.decomposition(sign).startswith("<fraction>") else sign
    )


def parse_length(text: str, unit: Unit) -> Length:
    """Return the length that text states, a bare number in `unit`; raises BadLength for anything but one clear length.

    >>> parse_length("1' 4 3/8 in", Unit.MM) == parse_length("16⅜", Unit.INCH) == Length.inches(131, 8)
    True
    >>> parse_length("41,5 cm", Unit.INCH)
    Length(nm=415000000)
    """
    length, _ = parse_with_unit(text, unit)
    return length


def parse_with_unit(text: str, unit: Unit) -> tuple[Length, Unit | None]:
    """Return the length and the unit that text itself names, None where it names none; raises BadLength.

    >>> parse_with_unit("2", Unit.CM)
    (Length(nm=20000000), None)
    """
    if len(text) > _MOST_CHARACTERS:
        raise BadLength(text, f"{_EXAMPLES}, in at most {_MOST_CHARACTERS} characters")
    plain = straight(text).strip()
    if found := _FEET_AND_INCHES.fullmatch(plain):
        inches = _amount(text, found)
        if inches >= 12:
            raise BadLength(text, "after feet, inches are below 12")
        return _exact(text, int(found["feet"]) * 12 + inches, Unit.INCH), Unit.INCH
    if found := _ONE_UNIT.fullmatch(plain):
        own = Unit.named(found["unit"]) if found["unit"] else None
        return _exact(text, _amount(text, found), own or unit), own
    raise BadLength(text, _why_not(plain))


def _amount(text: str, found: re.Match[str]) -> Fraction:
    decimal = found["decimal"]
    if decimal is not None:
        if _THOUSANDS.fullmatch(decimal):
            either = f"{decimal.replace(',', '.')} or {decimal.replace(',', '')}"
            raise BadLength(text, f"the comma may mean thousands or decimals: write {either}")
        return Fraction(decimal.replace(",", "."))
    over, under = int(found["over"]), int(found["under"])
    if under == 0:
        raise BadLength(text, "the lower number of a fraction is 1 or more")
    if found["whole"] is not None and over >= under:
        raise BadLength(text, "after a whole number the upper number of the fraction is below the lower")
    return int(found["whole"] or 0) + Fraction(over, under)


def _exact(text: str, amount: Fraction, unit: Unit) -> Length:
    nm = amount * unit.nm
    if nm > LONGEST.nm:
        raise BadLength(text, "a length is at most 100 m; check the unit")
    if nm.denominator != 1:
        style = Style(Unit.MM, TENTH_MILLIMETRE) if unit.is_metric else Style(Unit.INCH, SIXTY_FOURTH)
        near = format_length(style.grid.step * half_up(nm / style.grid.step.nm), style)
        raise BadLength(text, f"it is no whole number of nanometres; the nearest {style.grid.name} is {near}")
    return Length(nm.numerator)


def _why_not(plain: str) -> str:
    """Return what would be right where the text has no form of a length."""
    if not plain:
        return f"nothing is written; {_EXAMPLES}"
    if plain[0] in "-+":
        return f"a length has no sign; {_EXAMPLES}"
    if any(sign.isdigit() and not sign.isascii() for sign in plain):
        return f"only the digits 0 to 9 are read; {_EXAMPLES}"
    if re.search(r"[0-9][.,'][0-9]{3}[.,]", plain):
        return f"thousands are written without a separator; {_EXAMPLES}"
    return _EXAMPLES


# ── printing ─────────────────────────────────────────────────────────────────────────────────────────────────────


class Marks(Enum):
    """How fractions, primes and the multiplication sign look: as a keyboard types them, or as a page prints them."""

    PLAIN = "plain"
    TYPOGRAPHIC = "typographic"


class Sign(Enum):
    """What stands after the number."""

    NONE = "none"
    MARK = "mark"
    WORD = "word"


class Decimal(Enum):
    """The decimal sign of a region."""

    POINT = "."
    COMMA = ","


@dataclass(frozen=True, slots=True)
class Style:
    """How lengths are printed: the unit, the grid and the named direction of rounding to it, and the look.

    On a binary grid inches are fractions (`16 3/8 in`), on any other decimals. A grid that the unit cannot print
    exactly (0.5 mm in inches) raises ValueError.

    >>> format_length(Length.inches(131, 8), Style(Unit.INCH, SIXTY_FOURTH, sign=Sign.MARK))
    '16 3/8"'
    """

    unit: Unit
    grid: Grid
    rule: Rule = half_even
    marks: Marks = Marks.PLAIN
    sign: Sign = Sign.WORD
    decimal: Decimal = Decimal.POINT

    def __post_init__(self) -> None:
        base = self.unit.nm if self.unit.is_metric else NM_PER_INCH
        under = Fraction(self.grid.step.nm, base).denominator
        if pow(10, 30, under):
            msg = f"steps of {self.grid.name} cannot be printed exactly in {self.unit.value}"
            raise ValueError(msg)

    @property
    def prints_fractions(self) -> bool:
        """Tell whether parts of a unit are printed as fractions and not as decimals."""
        under = Fraction(self.grid.step.nm, NM_PER_INCH).denominator
        return not self.unit.is_metric and under & (under - 1) == 0


def format_length(length: Length, style: Style) -> str:
    """Return the length as the style prints it, rounded to its grid.

    >>> from fourply.measure.rounding import HALF_MILLIMETRE
    >>> format_length(Length.mm(4156, 10), Style(Unit.CM, HALF_MILLIMETRE, decimal=Decimal.COMMA))
    '41,55 cm'
    """
    nm = to_grid(length, style.grid, style.rule).nm
    minus = "" if nm >= 0 else "−" if style.marks is Marks.TYPOGRAPHIC else "-"
    if style.unit is Unit.FOOT:
        return minus + _feet(abs(nm), style)
    return f"{minus}{_number(Fraction(abs(nm), style.unit.nm), style)}{_tail(style.unit, style)}"


def format_size(size: Size, style: Style) -> str:
    """Return width by height as the style prints them, a unit written as a word standing once, at the end.

    >>> format_size(Size(Length.inches(16), Length.inches(41, 2)), Style(Unit.INCH, SIXTY_FOURTH))
    '16 x 20 1/2 in'
    """
    by = " × " if style.marks is Marks.TYPOGRAPHIC else " x "
    width, height = format_length(size.width, style), format_length(size.height, style)
    if style.sign is Sign.WORD and style.unit is not Unit.FOOT:
        width = width.removesuffix(_tail(style.unit, style))
    return width + by + height


def _feet(nm: int, style: Style) -> str:
    feet, rest = divmod(nm, Unit.FOOT.nm)
    inches = _number(Fraction(rest, NM_PER_INCH), style) + _tail(Unit.INCH, style)
    if not feet and style.sign is not Sign.NONE:
        return inches
    # Without any sign nobody could tell feet from inches, so the mark after the feet is always printed.
    mark = " ft" if style.sign is Sign.WORD else _mark(Unit.FOOT, style)
    return f"{feet}{mark} {inches}" if rest else f"{feet}{mark}"


def _number(value: Fraction, style: Style) -> str:
    if not style.prints_fractions:
        return _decimal(value, style.decimal)
    whole, part = divmod(value, 1)
    if not part:
        return str(whole)
    slash = "⁄" if style.marks is Marks.TYPOGRAPHIC else "/"
    fraction = f"{part.numerator}{slash}{part.denominator}"
    return f"{whole} {fraction}" if whole else fraction


def _decimal(value: Fraction, sign: Decimal) -> str:
    digits = 0
    while (value * 10**digits).denominator != 1:
        digits += 1
    if digits == 3 and sign is Decimal.COMMA:
        digits = 4  # a comma before three digits could be read as thousands
    number = str((value * 10**digits).numerator).zfill(digits + 1)
    return f"{number[:-digits]}{sign.value}{number[-digits:]}" if digits else number


def _tail(unit: Unit, style: Style) -> str:
    if style.sign is Sign.NONE:
        return ""
    if style.sign is Sign.MARK and not unit.is_metric:
        return _mark(unit, style)
    return f" {unit.value}"


def _mark(unit: Unit, style: Style) -> str:
    straight = '"' if unit is Unit.INCH else "'"
    return straight if style.marks is Marks.PLAIN else {'"': "″", "'": "′"}[straight]
