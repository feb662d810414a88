"""What a new list of prices does to the sheets and sticks of a material, in words: a phrase for each size."""

from __future__ import annotations

from collections.abc import Sequence

from fourply.files.convertors import MONEY, Reading
from fourply.files.material_text import length_text, size_text
from fourply.measure.dimensions import Order
from fourply.measure.length import Length
from fourply.measure.notation import Unit
from fourply.measure.rounding import SIXTY_FOURTH
from fourply.trade.materials import Offer, Stick


def offers_changed(was: Sequence[Offer | Stick], now: Sequence[Offer | Stick]) -> list[str]:
    """Return a phrase for each size that costs something else, is new, or is there no more.

    >>> from decimal import Decimal
    >>> from fourply.trade.money import Money
    >>> one, other = (Stick(Length.inches(120), Money(Decimal(cost), "USD")) for cost in ("30.00", "31.50"))
    >>> offers_changed((one,), (other,)), offers_changed((one,), ())
    (['120 in 30.00 USD -> 31.50 USD'], ['120 in at 30.00 USD -> no longer'])
    """
    before, after = ({_sized(each): _terms(each) for each in offers} for offers in (was, now))
    changed = [f"{size} {before[size]} -> {terms}" for size, terms in after.items() if before.get(size, terms) != terms]
    new = [f"{size} new at {terms}" for size, terms in after.items() if size not in before]
    gone = [f"{size} at {terms} -> no longer" for size, terms in before.items() if size not in after]
    return [*changed, *new, *gone]


def offers_told(offers: Sequence[Offer | Stick]) -> list[str]:
    """Return a phrase for each size and what it costs."""
    return [f"{_sized(each)} at {_terms(each)}" for each in offers]


def _sized(offer: Offer | Stick) -> str:
    side: Length = offer.size.width if isinstance(offer, Offer) else offer.length
    unit = Unit.INCH if side.nm % SIXTY_FOURTH.step.nm == 0 else Unit.MM
    if isinstance(offer, Offer):
        return size_text(offer.size, Reading(unit, Order.WIDTH_HEIGHT))
    return length_text(offer.length, unit)


def _terms(offer: Offer | Stick) -> str:
    stock = "" if offer.copies is None else f", {offer.copies} in stock"
    return f"{MONEY.print(offer.cost)}{stock}"
