"""What is said of a show as a whole, as a person types it into a form."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from fourply.app.editing import day
from fourply.app.keep import Desk, called, new_id, show_head
from fourply.app.keep_settings import shop_settings
from fourply.app.ports_store import Put, Record
from fourply.errors import BadInput, FourplyError, Taken
from fourply.files.kept import KeptShow, Stage

FIELDS = ("title", "client", "due", "stage", "paper", "notes")


class Misplaced(BadInput):
    """Something that cannot be read, and the field that it stands in."""

    def __init__(self, field: str, bad: BadInput) -> None:
        super().__init__(bad.found, bad.expected)
        self.args = (field, bad)
        self.field = field


def placed(error: FourplyError) -> Mapping[str, str]:
    """Return what is wrong by the field that it stands beside: the title's where nobody knows better."""
    if isinstance(error, Taken):
        return {"title": "another show has this title; choose another"}
    return {getattr(error, "field", "title"): str(error)}


def new_show(desk: Desk, said: Mapping[str, str]) -> Record:
    """Keep a new show, in the shop's units and order; raises Misplaced, Taken."""
    settings = shop_settings(desk).value
    plain = KeptShow("new", settings.unit, settings.order, settings.currency, settings.paper)
    value = _said(plain, said)
    show = new_id()
    return desk.commit([Put(show, value)], show, f"new {called(value)}").record


def said(show: KeptShow) -> Mapping[str, str]:
    """Return what is said of a show as a person would type it."""
    due = show.due.isoformat() if show.due else ""
    given = (show.title, show.client, due, show.stage.value, show.paper or "", show.notes)
    return dict(zip(FIELDS, given, strict=True))


def say(desk: Desk, show: str, changes: Mapping[str, str], expected: int) -> Record:
    """Change what is said of a show from the version that was seen; raises Misplaced, Taken, Stale, Unknown."""
    head = show_head(desk, show)
    value = _said(head.show, changes)
    named = ", ".join(key for key in FIELDS if key in changes and getattr(value, key) != getattr(head.show, key))
    if not named:
        return head.record
    return desk.commit([Put(show, value, expected, head.record.archived)], show, f"{named} of the show").record


def _said(show: KeptShow, said: Mapping[str, str]) -> KeptShow:
    for field, text in said.items():
        try:
            show = _one(show, field, text)
        except BadInput as bad:
            raise Misplaced(field, bad) from bad
    return show


def _one(show: KeptShow, field: str, text: str) -> KeptShow:
    match field:
        case "title":
            if not text.strip():
                raise BadInput("nothing", "a title for the show")
            return replace(show, title=text)
        case "due":
            return replace(show, due=day(text))
        case "stage":
            return replace(show, stage=_stage(text))
        case "paper":
            if text not in {"", "a4", "letter"}:
                raise BadInput(text, "a4 or letter, or nothing for that of the region")
            return replace(show, paper=text or None)
        case "client":
            return replace(show, client=text)
        case _:
            return replace(show, notes=text)


def _stage(text: str) -> Stage:
    try:
        return Stage(text)
    except ValueError:
        raise BadInput(text, f"one of {', '.join(each.value for each in Stage)}") from None
