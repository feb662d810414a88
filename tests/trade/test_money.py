"""Money of materials: exact, of one currency, never a float."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from fourply.trade.money import Money


@pytest.mark.parametrize(
    ("amount", "cents"), [("18.50", 1850), ("0.125", 12), ("0.135", 14), ("-0.125", -12), ("1000000.01", 100_000_001)]
)
def test_cents_are_hundredths_half_to_even(amount: str, cents: int) -> None:
    assert Money(Decimal(amount), "USD").cents == cents


@pytest.mark.parametrize("amount", [18.5, 18, Decimal("NaN"), Decimal("Infinity")])
def test_only_a_finite_decimal_is_money(amount: Any) -> None:
    with pytest.raises(TypeError, match="finite Decimal"):
        Money(amount, "USD")


@pytest.mark.parametrize("currency", ["usd", "US", "$", "USDX", ""])
def test_a_currency_is_three_capital_letters(currency: str) -> None:
    with pytest.raises(ValueError, match="three capital letters"):
        Money(Decimal(1), currency)


def test_money_of_one_currency_adds_and_multiplies() -> None:
    assert Money(Decimal("1.10"), "EUR") + Money(Decimal("2.20"), "EUR") * 2 == Money(Decimal("5.50"), "EUR")


def test_two_currencies_do_not_add_up() -> None:
    with pytest.raises(ValueError, match="EUR and USD"):
        Money(Decimal(1), "EUR") + Money(Decimal(1), "USD")
