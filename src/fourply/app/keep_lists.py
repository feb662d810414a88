"""Lists of what is kept, in the few words that a list shows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime

from fourply.app.keep import Desk
from fourply.app.ports_store import Kind, Query, Sort
from fourply.files.kept import KeptShow

_PAGE = 200


@dataclass(frozen=True, slots=True)
class ShowLine:
    """A show in a list: how many works it has, how far it has come."""

    id: str
    title: str
    works: int
    stage: str
    due: date | None
    client: str
    changed: datetime


def show_lines(desk: Desk, text: str = "", sort: str = "title", *, archived: bool = False) -> Iterator[ShowLine]:
    """Yield the shows in which every word is found, sorted by title, by due date, or the last changed first."""
    by = Sort(sort)
    after = ""
    while True:
        query = Query(
            Kind.SHOW, text=text, archived=archived, sort=by, descending=by is Sort.CHANGED, after=after, limit=_PAGE
        )
        page = desk.store.find(query)
        for each in page.items:
            if isinstance(each.value, KeptShow):
                show = each.value
                works = desk.store.find(Query(Kind.WORK, each.id, limit=1)).total
                yield ShowLine(each.id, show.title, works, show.stage.value, show.due, show.client, each.changed)
        after = page.next
        if not after:
            return
