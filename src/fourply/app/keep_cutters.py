"""Cutters that are kept in the store: what is worked out for one of them."""

from __future__ import annotations

from pathlib import Path

from fourply.app.cutters import Place, Shop, Told, set_border
from fourply.app.keep import Desk, read
from fourply.app.ports_store import SHOP, Kind
from fourply.bench.cutter import NOMINAL, Cutter
from fourply.bench.profile import Profile
from fourply.bench.shop_cutter import shop_cutter
from fourply.errors import Unknown


def kept_cutter(desk: Desk, cutter: str | None) -> Cutter:
    """Return a kept cutter as settings ask it, by its id; the nominal one where none is named. Raises Unknown."""
    return NOMINAL if cutter is None else shop_cutter(_profile(desk, cutter))


def _profile(desk: Desk, cutter: str) -> Profile:
    found = read(desk, cutter, Kind.CUTTER).value
    if not isinstance(found, Profile):
        raise Unknown(Kind.CUTTER.value, cutter, ())
    return found


def set_kept(desk: Desk, cutter: str, border: str, place: str, length: str) -> Told:
    """Return what to set on a kept cutter for a border as it is written, at `mid`, `far` or `near` of a cut.

    Raises BadLength, Unknown.
    """
    found = _profile(desk, cutter)
    kept = [each.value for each in desk.store.every(Kind.CUTTER, SHOP)]
    profiles = {each.name: each for each in kept if isinstance(each, Profile)}
    shop = Shop(Path(), profiles, dict.fromkeys(profiles, Path()))
    return set_border(shop, found, border, Place[place.upper()], length)
