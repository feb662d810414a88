"""A supplier's price list whose changes are shown somewhere else, and come back with what was chosen of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from fourply.app.documents import read_value
from fourply.app.keep import Desk, read
from fourply.app.keep_materials import PriceChange, PriceList, keep_prices, read_prices
from fourply.app.keep_settings import shop_settings
from fourply.app.ports_store import Kind, Record
from fourply.errors import BadInput
from fourply.files.convertors import Reading
from fourply.files.kept import KeptMaterial
from fourply.files.works import Asked


def prices_of(desk: Desk, file: str, data: bytes, asked: Asked, supplier: str) -> PriceList:
    """Return what a list would change, read as the shop's settings say where nothing else is asked."""
    settings = shop_settings(desk).value
    reading = Reading(asked.unit or settings.unit, asked.order or settings.order, settings.currency)
    return read_prices(desk, file, data, reading, supplier)


def chosen_prices(
    desk: Desk, changes: Sequence[tuple[str | None, int | None, object]], supplier: str
) -> tuple[Record, ...]:
    """Keep changes that were chosen: each a record with the version that was seen (None: new) and its value.

    Raises Stale where one has changed since, Taken, Unknown, BadFile for a value that cannot be read, BadInput for a
    record that is named twice or without its version.
    """
    named = [record for record, _, _ in changes if record is not None]
    if len(named) != len(set(named)):
        raise BadInput("a record twice", "each record once")
    return keep_prices(desk, [_change(desk, *each) for each in changes], supplier)


def _change(desk: Desk, record: str | None, version: int | None, json: object) -> PriceChange:
    value = read_value(Kind.MATERIAL, json)
    if not isinstance(value, KeptMaterial) or (record is None) != (version is None):
        raise BadInput(record or "no record", "a record with the version that was seen, or neither")
    if record is None or version is None:
        return PriceChange(value, None, ())
    seen = replace(read(desk, record, Kind.MATERIAL), version=version)
    return PriceChange(value, seen, ())  # whether that is still its version is held when it is kept
