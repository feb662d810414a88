"""What a caller says of a list before it is read, from the words of a command line or a form."""

from __future__ import annotations

from fourply.files.works import Asked
from fourply.measure.dimensions import Order
from fourply.measure.notation import Unit

__all__ = ["Asked", "asked_for"]


def asked_for(unit: str | None, order: str | None) -> Asked:
    """Return what is known of a list: its unit and the order of its pairs, None where the list is to say it."""
    return Asked(Unit.named(unit) if unit else None, Order.named(order) if order else None)
