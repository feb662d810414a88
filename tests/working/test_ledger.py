"""The ledger: figures in the order in which they are found, each standing on figures that are there."""

from __future__ import annotations

import pytest

from fourply.errors import Unknown
from fourply.measure.length import Length
from fourply.working.ledger import Ledger
from fourply.working.working import GIVEN, Rule, Working, length_of

SUM = Rule("sum", "a + b", "Why.")


def begun() -> Ledger:
    ledger = Ledger()
    ledger.given("one", Length(1), "the list")
    ledger.given("two", Length(2), "the shop")
    return ledger


def test_a_given_figure_knows_who_gave_it() -> None:
    assert begun().figures["one"] == Working(Length(1), GIVEN, origin="the list")


def test_a_figure_knows_its_rule_and_its_operands() -> None:
    ledger = begun()

    assert ledger.figure("three", Length(3), SUM, a="one", b="two") == Length(3)
    assert ledger.figures["three"] == Working(Length(3), SUM, (("a", "one"), ("b", "two")))


def test_a_figure_stands_only_on_figures_that_are_there() -> None:
    ledger = begun()

    with pytest.raises(Unknown, match="'four'") as unknown:
        ledger.figure("three", Length(3), SUM, a="one", b="four")

    assert unknown.value.known == ("one", "two")
    assert "three" not in ledger


def test_figures_keep_their_order() -> None:
    ledger = begun()
    ledger.figure("three", Length(3), SUM, a="one", b="two")

    assert tuple(ledger.figures) == ("one", "two", "three")


def test_a_ledger_may_go_on_from_another_without_touching_it() -> None:
    first = begun()
    second = Ledger(first.figures)
    second.figure("three", Length(3), SUM, a="one", b="two")

    assert "three" not in first
    assert second.length("one") == Length(1)


@pytest.mark.parametrize("path", ["nothing", "name"])
def test_a_length_is_only_where_a_length_was_entered(path: str) -> None:
    ledger = begun()
    ledger.given("name", "oak", "the list")

    assert ledger.length("one") == length_of(ledger.figures, "one") == Length(1)
    with pytest.raises(Unknown, match=path):
        ledger.length(path)
