"""What a shop starts every show from."""

from __future__ import annotations

from dataclasses import dataclass

from fourply.app.keep import Desk, new_id
from fourply.app.ports_store import SHOP, Kind, Put, Record
from fourply.files.kept import ShopSettings


@dataclass(frozen=True, slots=True)
class Settings:
    """The settings of the shop; `record` is None until somebody has changed one."""

    value: ShopSettings
    record: Record | None = None


def shop_settings(desk: Desk) -> Settings:
    """Return the settings of the shop, those that fourply comes with where nobody has changed one."""
    for record in desk.store.every(Kind.SETTINGS, SHOP, archived=None):
        if isinstance(record.value, ShopSettings):
            return Settings(record.value, record)
    return Settings(ShopSettings())


def change_settings(desk: Desk, value: ShopSettings, expected: int | None) -> Record:
    """Change the settings from the version that the caller saw, None for those fourply comes with; raises Stale."""
    found = shop_settings(desk).record
    ident = new_id() if found is None else found.id
    return desk.commit([Put(ident, value, expected)], SHOP, "change the settings of the shop").record
