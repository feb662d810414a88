"""The plans of a show as a list says them: how far each has come, what it pulls from the rack and leaves for it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from fourply.app.keep import Desk, show_head
from fourply.app.keep_plans import plan_of, stands_on_changes
from fourply.app.keep_rack import ACCEPTED, next_number
from fourply.app.ports_store import Kind, Query, Record, Sort
from fourply.errors import Unknown
from fourply.files.convertors import plain
from fourply.files.kept import KeptOffcut, Leftover
from fourply.working.words import Words

MOST = 12
"""How many plans a page shows, the newest first."""


@dataclass(frozen=True, slots=True)
class PlanLine:
    """One plan: its record, name, state, what it comes to; `changed` tells that its show is another by now.

    `printable` says that its papers can be made again. Of an accepted one: the pieces that it pulls from the rack, in
    words, and those that it leaves worth keeping.
    """

    record: Record
    name: str
    state: str
    summary: str
    changed: bool
    printable: bool
    pulls: Sequence[str] = ()
    leaves: Sequence[str] = ()

    @property
    def accepted(self) -> bool:
        """Whether it is the one to cut by."""
        return self.state == ACCEPTED


def plan_lines(desk: Desk, show: str) -> tuple[PlanLine, ...]:
    """Return the plans of a show, the newest first; raises Unknown."""
    words = Words(metric=show_head(desk, show).show.unit.is_metric)
    asked = Query(Kind.PLAN, show, sort=Sort.CHANGED, descending=True, limit=MOST)
    found = [_line(desk, record, words) for record in desk.store.find(asked).items]
    return tuple(sorted(found, key=lambda line: not line.accepted))


def plan_named(desk: Desk, show: str, name: str) -> PlanLine:
    """Return the plan of a show by its name, the newest of several; raises Unknown with those that there are."""
    lines = sorted(plan_lines(desk, show), key=lambda line: line.record.changed, reverse=True)
    for line in lines:
        if plain(line.name) == plain(name):
            return line
    raise Unknown(Kind.PLAN.value, name, tuple(line.name for line in lines))


def _line(desk: Desk, record: Record, words: Words) -> PlanLine:
    plan = plan_of(record)
    changed = plan.state != "cut" and stands_on_changes(desk, record)
    line = PlanLine(record, plan.name, plan.state, plan.summary, changed, bool(plan.answers))
    if not line.accepted:
        return line
    pulls = tuple(_piece(desk.store.read(each), words) for each in plan.takes)
    return replace(line, pulls=pulls, leaves=tuple(_left(plan.leaves, next_number(desk), words)))


def _piece(record: Record, words: Words) -> str:
    kept = record.value
    if not isinstance(kept, KeptOffcut):
        return record.id
    number = f"{kept.number}: " if kept.number else ""
    place = f", {kept.piece.place}" if kept.piece.place else ""
    return f"{number}{words.size(kept.piece.size)} of {kept.piece.material}{place}"


def _left(left: Sequence[Leftover], number: int, words: Words) -> Sequence[str]:
    """Return the pieces that go into the rack, with the numbers that they get."""
    found = []
    for each in left:
        last = number + each.copies - 1
        numbers = str(number) if each.copies == 1 else f"{number} to {last}"
        found.append(f"{numbers}: {words.size(each.size)} of {each.material}")
        number = last + 1
    return found
