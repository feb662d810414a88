"""Formulas evaluated for an explanation."""

from __future__ import annotations

from fractions import Fraction

import pytest

from fourply.measure.length import Length
from fourply.measure.rounding import THIRTY_SECOND
from fourply.working.arithmetic import evaluate
from fourply.working.explain import line
from fourply.working.ledger import Ledger
from fourply.working.words import Words
from fourply.working.working import Rounding, Rule


@pytest.mark.parametrize(
    ("formula", "expected"),
    [("a - 2 * b", 4), ("(a + b) / 2", Fraction(13, 2)), ("max(a, b) - min(a, b)", 7), ("ceil(a / b) + 1", 5)],
)
def test_a_formula_is_evaluated_exactly(formula: str, expected: Fraction) -> None:
    assert evaluate(formula, {"a": Length(10), "b": Length(3)}) == expected


@pytest.mark.parametrize("formula", ["a ** b", "__import__('os')", "a.nm", "'text'", "[a]"])
def test_what_is_no_arithmetic_is_not_evaluated(formula: str) -> None:
    with pytest.raises((ValueError, KeyError, AttributeError)):
        evaluate(formula, {"a": Length(10), "b": Length(3)})


@pytest.mark.parametrize(
    ("sheet", "arithmetic"),
    [
        (Length.inches(21, 2), "10 1/2 - 1/4"),
        (Length.mm(267), "10.512 - 1/4 = 10.262, down to 1/32"),  # 267 mm = 10.5118 in
    ],
)
def test_rounding_is_told_only_where_it_changes_the_figure(sheet: Length, arithmetic: str) -> None:
    ledger = Ledger()
    ledger.given("sheet", sheet, "measured")
    ledger.given("off", Length.inches(1, 4), "set")
    ledger.given("grid", THIRTY_SECOND.step, "set")
    rule = Rule("r", "a - b", "why", rounding=Rounding.DOWN)
    value = THIRTY_SECOND.step * ((sheet - Length.inches(1, 4)) // THIRTY_SECOND.step)
    ledger.figure("w", value, rule, a="sheet", b="off", grid="grid")
    assert line(ledger.figures, "w", Words(metric=False).write).arithmetic.replace("–", "-") == arithmetic
