"""What a shop starts every show from, as a person types it into a form."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from fourply.app.keep import Desk
from fourply.app.keep_settings import Settings, change_settings, shop_settings
from fourply.app.ports_store import Record
from fourply.app.show_saying import Misplaced
from fourply.app.shows import layer_of
from fourply.errors import BadInput
from fourply.files.convertors import CURRENCY, Reading
from fourply.files.kept import ShopSettings
from fourply.files.rules import TREATMENT
from fourply.measure.dimensions import Order
from fourply.measure.notation import Unit
from fourply.trade.treatment import INCH, METRIC
from fourply.working.terms import Terms

FIELDS = ("name", "address", "phone", "web", "note", "unit", "terms", "order", "currency", "paper")
LONGEST = {"name": 500, "address": 120, "phone": 40, "web": 80, "note": 120}
"""How many characters the lines have that are printed on every page."""
RULES = (
    "grid",
    "border",
    "bottom",
    "overlap",
    "allowance",
    "points",
    "bevel_deg",
    "mats",
    "mount",
    "backing",
    "glazing",
)
"""The rules of the treatment that a shop most often has its own way with."""


def said(settings: Settings) -> Mapping[str, str]:
    """Return the settings as a person would type them; a rule that nobody has changed is empty."""
    value = settings.value
    given = {
        **{line: str(getattr(value, line)) for line in LONGEST},
        "unit": value.unit.value,
        "terms": value.terms.value,
        "order": value.order.value if value.order else "",
        "currency": value.currency,
        "paper": value.paper or "",
    }
    rules = {key: _printed(key, value.defaults.values.get(key)) for key in RULES}
    return {**given, **rules}


def usual(settings: Settings) -> Mapping[str, str]:
    """Return what each of the rules is where the shop says nothing."""
    treatment = METRIC if settings.value.unit.is_metric else INCH
    return {key: _printed(key, getattr(treatment, key)) for key in RULES}


def _printed(key: str, value: object) -> str:
    if value is None:
        return ""
    printed = TREATMENT[key].print(value)
    if isinstance(printed, list):
        return " + ".join(str(each.get("board", each)) if isinstance(each, dict) else str(each) for each in printed)
    return str(printed)


def say(desk: Desk, changes: Mapping[str, str], expected: int | None) -> Record:
    """Change the settings of the shop from the version that was seen; raises Misplaced, Stale."""
    found = shop_settings(desk)
    value, before = found.value, said(found)
    for field, text in changes.items():
        if text.strip() == before.get(field, ""):
            continue
        try:
            value = _one(value, field, text.strip())
        except BadInput as bad:
            raise Misplaced(field, bad) from bad
    return change_settings(desk, value, expected)


def _one(value: ShopSettings, field: str, text: str) -> ShopSettings:
    if field in RULES:
        return _ruled(value, field, text)
    parse = _PARSED.get(field)
    if parse is None:
        raise BadInput(field, f"one of {', '.join((*FIELDS, *RULES))}")
    return parse(value, text)


def _paper(value: ShopSettings, text: str) -> ShopSettings:
    if text not in {"", "a4", "letter"}:
        raise BadInput(text, "a4 or letter, or nothing for that of the region")
    return replace(value, paper=text or None)


_PARSED: Mapping[str, Callable[[ShopSettings, str], ShopSettings]] = {
    "name": lambda value, text: replace(value, name=_line("name", text)),
    "address": lambda value, text: replace(value, address=_line("address", text)),
    "phone": lambda value, text: replace(value, phone=_line("phone", text)),
    "web": lambda value, text: replace(value, web=_line("web", text)),
    "note": lambda value, text: replace(value, note=_line("note", text)),
    "unit": lambda value, text: replace(value, unit=Unit.named(text)),
    "order": lambda value, text: replace(value, order=Order.named(text) if text else None),
    "currency": lambda value, text: replace(value, currency=CURRENCY.parse(text, Reading(value.unit))),
    "terms": lambda value, text: replace(value, terms=_terms(text)),
    "paper": _paper,
}
"""How what is picked or typed of the shop is read, by its field."""


def _line(field: str, text: str) -> str:
    if len(text) > LONGEST[field] or not text.isprintable():
        raise BadInput(f"{len(text)} characters", f"one line of at most {LONGEST[field]} characters, as it is printed")
    return text


def _terms(text: str) -> Terms:
    try:
        return Terms(text)
    except ValueError:
        raise BadInput(text, f"one of {', '.join(each.value for each in Terms)}") from None


def _ruled(value: ShopSettings, rule: str, text: str) -> ShopSettings:
    values = {key: each for key, each in value.defaults.values.items() if key != rule}
    if text:
        values |= layer_of({rule: text}, Reading(value.unit, value.order, value.currency)).values
    return replace(value, defaults=replace(value.defaults, values=values))
