"""What a cell or a TOML value may say, and that what is printed reads back."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fourply.errors import BadInput
from fourply.files import convertors
from fourply.files.convertors import Convertor, Reading, parse_ratio, words
from fourply.measure.dimensions import Order
from fourply.measure.length import Length
from fourply.measure.notation import Unit
from fourply.measure.rounding import GRIDS
from fourply.measure.size import Size
from fourply.trade.money import Money
from fourply.trade.treatment import WindowFrom

INCHES = Reading(Unit.INCH, Order.WIDTH_HEIGHT, "USD")
MM = Reading(Unit.MM, Order.HEIGHT_WIDTH, "EUR")
WINDOWS = convertors.one_of(WindowFrom)


@pytest.mark.parametrize(
    ("convertor", "raw", "value"),
    [
        (convertors.LENGTH, "16 3/8", Length.inches(131, 8)),
        (convertors.LENGTH, 3, Length.inches(3)),
        (convertors.LENGTH, Decimal("2.50"), Length.inches(5, 2)),
        (convertors.LENGTH, "'16", Length.inches(16)),
        (convertors.SIZE, "16 x 20", Size(Length.inches(16), Length.inches(20))),
        (convertors.SIZE, "A4", Size(Length.mm(210), Length.mm(297))),
        (convertors.SIZE, {"width": 16, "height": "20 in"}, Size(Length.inches(16), Length.inches(20))),
        (convertors.WHOLE, "12", 12),
        (convertors.WHOLE, 12, 12),
        (convertors.DEGREES, "52.5°", 52.5),
        (convertors.DEGREES, "45 deg", 45.0),
        (convertors.FLAG, True, True),
        (convertors.FLAG, "Yes", True),
        (convertors.FLAG, "x", True),
        (convertors.FLAG, "no", False),
        (convertors.FLAG, "-", False),
        (convertors.NAME, "None", ""),
        (convertors.NAME, "oak 1", "oak 1"),
        (convertors.MONEY, "9.80", Money(Decimal("9.80"), "USD")),
        (convertors.MONEY, "9,80 EUR", Money(Decimal("9.80"), "EUR")),
        (convertors.MONEY, "EUR 9.80", Money(Decimal("9.80"), "EUR")),
        (convertors.MONEY, Decimal("9.80"), Money(Decimal("9.80"), "USD")),
        (convertors.COLOUR, "#EFE9DC", "#efe9dc"),
        (convertors.ID, "D24611", "D24611"),
        (convertors.ID, 7, "7"),
        (WINDOWS, "Image", WindowFrom.IMAGE),
    ],
)
def test_values_are_read_as_people_write_them(convertor: Convertor[object], raw: object, value: object) -> None:
    assert convertor.parse(raw, INCHES) == value


@pytest.mark.parametrize(
    ("convertor", "raw", "says"),
    [
        (convertors.LENGTH, "8-Mar", "it was likely 3/8"),
        (convertors.LENGTH, "=B4*2", "a formula without its result"),
        (convertors.LENGTH, "#N/A", "could not work out"),
        (convertors.LENGTH, ["1"], "one value"),
        (convertors.LENGTH, {"a": 1}, "one value"),
        (convertors.LENGTH, Decimal("nan"), "a length such as"),
        (convertors.LENGTH, Decimal("1e400"), "a length such as"),
        (convertors.LENGTH, 10**200, "a shorter number"),
        (convertors.LENGTH, "-3", "no sign"),
        (convertors.SIZE, {"width": 0, "height": 2}, "above nothing"),
        (convertors.SIZE, {"width": 1}, "width, height"),
        (convertors.TEXT, "x" * 3000, "at most 2000 characters"),
        (convertors.WHOLE, "1.5", "a whole number"),
        (convertors.WHOLE, "-1", "a whole number"),
        (convertors.DEGREES, "steep", "degrees such as 45"),
        (convertors.FLAG, "maybe", "yes or no"),
        (convertors.MONEY, "cheap", "an amount such as"),
        (convertors.MONEY, "1,234", "an amount such as"),
        (convertors.MONEY, "USD 1 EUR", "an amount such as"),
        (convertors.COLOUR, "red", "#efe9dc"),
        (convertors.ID, "3-Dec", "made a date of this number"),
        (convertors.CURRENCY, "dollars", "three capital letters"),
        (convertors.SCHEMA, 2, "a newer one can read it"),
        (convertors.UNIT, "furlong", "in, ft, mm, cm, m"),
        (convertors.ORDER, "any", "width x height"),
        (convertors.GRID, "1/7 in", "1/8 in"),
        (WINDOWS, "door", "sheet, image, float"),
    ],
)
def test_what_cannot_be_read_is_refused_with_what_would_be_right(
    convertor: Convertor[object], raw: object, says: str
) -> None:
    with pytest.raises(BadInput) as refused:
        convertor.parse(raw, INCHES)
    assert says in str(refused.value)


@pytest.mark.parametrize(
    ("text", "ratio"), [("4/3", Fraction(4, 3)), ("1.25", Fraction(5, 4)), ("1,25", Fraction(5, 4)), ("2", Fraction(2))]
)
def test_ratios_are_exact(text: str, ratio: Fraction) -> None:
    assert parse_ratio(text) == ratio


def test_true_and_false_are_words() -> None:
    assert (words(True), words(False)) == ("yes", "no")  # noqa: FBT003 - what TOML gives


lengths = st.integers(0, 5_000_000_000).map(Length)
sides = st.integers(1, 5_000_000_000).map(Length)
PAIRS: list[tuple[Convertor[Any], st.SearchStrategy[Any]]] = [
    (convertors.LENGTH, lengths),
    (convertors.SIZE, st.builds(Size, sides, sides)),
    (convertors.WHOLE, st.integers(0, 999_999)),
    (convertors.DEGREES, st.integers(0, 9_000).map(lambda hundredths: hundredths / 100)),
    (convertors.FLAG, st.booleans()),
    (convertors.MONEY, st.builds(Money, st.decimals(0, 99_999, places=2), st.sampled_from(["USD", "EUR"]))),
    (convertors.UNIT, st.sampled_from(Unit)),
    (convertors.ORDER, st.sampled_from(Order)),
    (convertors.GRID, st.sampled_from(list(GRIDS.values()))),
    (WINDOWS, st.sampled_from(WindowFrom)),
]


@pytest.mark.parametrize(("convertor", "values"), PAIRS)
@given(st.data())
def test_what_is_printed_reads_back_whatever_the_reading(
    convertor: Convertor[object], values: st.SearchStrategy[object], data: st.DataObject
) -> None:
    value = data.draw(values)
    for reading in (INCHES, MM):
        assert convertor.parse(convertor.print(value), reading) == value
