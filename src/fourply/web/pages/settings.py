"""The settings of the shop: units, paper, money, the rules that every show starts from; backups."""

from __future__ import annotations

from collections.abc import Mapping

from fastapi import Request
from starlette.responses import Response

from fourply.app import keep, keep_settings, shop_saying, show_saying
from fourply.errors import FourplyError
from fourply.measure.rounding import GRIDS
from fourply.web.pages.frame import THEMES, AtDesk, Sent, Strip, page, seen, text, version_in
from fourply.web.pages.routing import pages
from fourply.working.terms import Terms

router = pages()
_SHOWN = 40
NAMES = {"bevel_deg": "bevel, degrees", "mount": "mount board", "points": "points want", "bottom": "bottom border"}
WIDE = frozenset({"bottom", "mats", "mount", "backing", "glazing"})
"""The rules of which more is typed than a length."""


@router.get("/settings")
def settings(request: Request, desk: AtDesk) -> Response:
    """Show the settings."""
    return _shown(request, desk, {}, {})


def _shown(request: Request, desk: keep.Desk, said: Mapping[str, str], fault: Mapping[str, str]) -> Response:
    found = keep_settings.shop_settings(desk)
    usual = shop_saying.usual(found)
    return page(
        request,
        "settings.html",
        strip=Strip(),
        here="settings",
        version=found.record.version if found.record else "",
        said={**shop_saying.said(found), **said},
        usual=usual,
        rules=[(key, NAMES.get(key, key.replace("_", " "))) for key in shop_saying.RULES if key != "grid"],
        wide=WIDE,
        grids=[("", f"that of the unit, {usual['grid']}"), *((each, each) for each in GRIDS)],
        terms_said=[(each.value, each.says) for each in Terms],
        fault=fault,
        themes=THEMES,
        backups=desk.store.backups()[:_SHOWN],
        status=422 if fault else 200,
    )


@router.post("/settings")
def say(request: Request, desk: AtDesk, sent: Sent) -> Response:
    """Change the settings; what cannot be kept is told beside its field, and nothing of it is lost."""
    said = {name: text(sent, name) for name in (*shop_saying.FIELDS, *shop_saying.RULES) if name in sent}
    try:
        shop_saying.say(desk, said, version_in(sent) or None)
    except FourplyError as bad:
        fault = show_saying.placed(bad)
        return _shown(request, desk, said, fault if set(fault) & set(said) else {"name": str(bad)})
    return seen("/settings", "Kept.")
