"""Figures as their reader wants them."""

from __future__ import annotations

from fractions import Fraction

import pytest

from fourply.measure.length import Length
from fourply.measure.notation import Decimal, Marks, Unit
from fourply.measure.size import Size
from fourply.working.words import Words
from fourply.working.working import Value

INCH, METRIC = Words(metric=False), Words(metric=True)


@pytest.mark.parametrize(
    ("words", "value", "text"),
    [
        (INCH, Length.inches(131, 8), "16 3/8"),
        (INCH, Length.inches(1, 64), "1/64"),
        (INCH, Length.inches(55, 1000), "0.055"),
        (INCH, Length.mm(14, 10), "0.055"),
        (INCH, -Length.inches(1, 8), "-1/8"),
        (METRIC, Length.mm(4155, 10), "415.5"),
        (METRIC, Length.mm(15875, 10000), "1.59"),
        (Words(metric=True, decimal=Decimal.COMMA), Length.mm(4155, 10), "415,5"),
        (Words(metric=False, marks=Marks.TYPOGRAPHIC), Length.inches(131, 8), "16 3⁄8"),
        (INCH, Fraction(4, 3), "4/3"),
        (INCH, Fraction(618034, 381966), "1.618"),
        (INCH, 33.690067, "33.69"),
        (INCH, 12, "12"),
        (INCH, "oak", "oak"),
    ],
)
def test_a_figure_is_a_fraction_on_the_rule_and_a_decimal_off_it(words: Words, value: Value, text: str) -> None:
    assert words.write(value) == text


def test_what_a_hand_sets_is_always_on_the_rule() -> None:
    assert INCH.mark(Length.mm(14, 10)) == "1/16"
    assert METRIC.mark(Length.mm(15875, 10000)) == "1.6"


def test_a_size_is_marked_both_ways() -> None:
    assert INCH.size(Size(Length.inches(16), Length.inches(41, 2))) == "16 x 20 1/2"
    assert Words(metric=True, marks=Marks.TYPOGRAPHIC).size(Size(Length.mm(400), Length.mm(500))) == "400 × 500"


def test_only_a_length_has_a_unit() -> None:
    assert (INCH.with_unit(Length.inches(2)), METRIC.with_unit(Length.mm(2)), INCH.with_unit(3)) == (
        "2 in",
        "2 mm",
        "3",
    )
    assert (INCH.unit, METRIC.unit) == (Unit.INCH, Unit.MM)
