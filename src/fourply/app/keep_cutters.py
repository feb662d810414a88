"""Cutters that are kept in the store: what to set on one of them."""

from __future__ import annotations

from pathlib import Path

from fourply.app.cutters import Place, Shop, Told, set_border
from fourply.app.keep import Desk, read
from fourply.app.ports_store import SHOP, Kind
from fourply.bench.profile import Profile
from fourply.errors import Unknown


def set_kept(desk: Desk, cutter: str, border: str, place: str, length: str) -> Told:
    """Return what to set on a kept cutter for a border as it is written, at `mid`, `far` or `near` of a cut.

    Raises BadLength, Unknown.
    """
    found = read(desk, cutter, Kind.CUTTER).value
    if not isinstance(found, Profile):
        raise Unknown(Kind.CUTTER.value, cutter, ())
    kept = [each.value for each in desk.store.every(Kind.CUTTER, SHOP)]
    profiles = {each.name: each for each in kept if isinstance(each, Profile)}
    shop = Shop(Path(), profiles, dict.fromkeys(profiles, Path()))
    return set_border(shop, found, border, Place[place.upper()], length)
