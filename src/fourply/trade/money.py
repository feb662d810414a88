"""Money as the trade prices its materials: an exact amount in one currency.

Only what materials need lives here; prices, quotes and tax are the business of costing.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Self

from fourply.measure.length import ZERO, Length

_CURRENCY = re.compile(r"[A-Z]{3}")


@dataclass(frozen=True, slots=True)
class Money:
    """An exact amount of one currency (ISO 4217 letters).

    >>> Money(Decimal("18.50"), "USD").cents
    1850
    """

    amount: Decimal
    currency: str

    def __post_init__(self) -> None:
        if not isinstance(self.amount, Decimal) or not self.amount.is_finite():
            msg = f"money is a finite Decimal, not {self.amount!r}"
            raise TypeError(msg)
        if not _CURRENCY.fullmatch(self.currency):
            msg = f"a currency is three capital letters (USD, EUR), not {self.currency!r}"
            raise ValueError(msg)

    @property
    def cents(self) -> int:
        """The amount in hundredths, half to even: how plans count cost."""
        return int((self.amount * 100).to_integral_value())

    def __add__(self, other: Money) -> Self:
        return type(self)(self.amount + self._same(other), self.currency)

    def __mul__(self, times: int) -> Self:
        return type(self)(self.amount * times, self.currency)

    def _same(self, other: Money) -> Decimal:
        if other.currency != self.currency:
            msg = f"{self.currency} and {other.currency} do not add up without a rate"
            raise ValueError(msg)
        return other.amount


@dataclass(frozen=True, slots=True)
class Rate:
    """A price for each length: so much a foot, a metre.

    >>> Rate(Money(Decimal("3.20"), "USD"), Length.inches(12)).of(Length.inches(66))
    Fraction(88, 5)
    """

    price: Money
    per: Length

    def __post_init__(self) -> None:
        if self.per <= ZERO:
            msg = "a price is for a length above nothing"
            raise ValueError(msg)

    def of(self, length: Length) -> Fraction:
        """Return what the length costs, exactly, in the currency of the price."""
        return Fraction(self.price.amount) * length.nm / self.per.nm
