"""Finding anything by words: shows, works, treatments, materials, pieces in the rack, cutters, plans."""

from __future__ import annotations

from dataclasses import dataclass

from fourply.app.keep import Desk
from fourply.app.ports_store import SHOP, Kind, Query, Record, Sort
from fourply.errors import Unknown
from fourply.files.kept import KeptShow, facts

_KINDS = (
    (Kind.SHOW, "Shows"),
    (Kind.WORK, "Works"),
    (Kind.TREATMENT, "Treatments"),
    (Kind.MATERIAL, "Materials"),
    (Kind.RACK, "Rack"),
)


@dataclass(frozen=True, slots=True)
class Hit:
    """Something that was found: its record, its name and title, what stands beside it, the show that it is of."""

    record: Record
    name: str
    title: str
    beside: str
    show: str
    show_title: str


@dataclass(frozen=True, slots=True)
class Hits:
    """What was found of one kind, the first of it, and how many there are."""

    kind: Kind
    word: str
    hits: tuple[Hit, ...]
    total: int


def find_all(desk: Desk, words: str, most: int = 20) -> tuple[Hits, ...]:
    """Return everything in which every word is found, by its kind; nothing for no word."""
    if not words.strip():
        return ()
    titles: dict[str, str] = {SHOP: ""}
    found = []
    for kind, word in _KINDS:
        query = Query(kind, text=words[:200], sort=Sort.CHANGED, descending=True, limit=most)
        page = desk.store.find(query)
        if page.items:
            hits = tuple(_hit(desk, each, titles) for each in page.items)
            found.append(Hits(kind, word, hits, page.total))
    return tuple(found)


def _hit(desk: Desk, record: Record, titles: dict[str, str]) -> Hit:
    known = facts(record.value)
    if record.scope not in titles:
        titles[record.scope] = _title(desk, record.scope)
    beside = known.maker or known.state
    return Hit(record, known.name, known.title, beside, record.scope, titles[record.scope])


def _title(desk: Desk, show: str) -> str:
    try:
        value = desk.store.read(show).value
    except Unknown:
        return ""
    return value.title if isinstance(value, KeptShow) else ""
