"""Keeping what is new where it is not a record like any other: a show is its own scope, a work stands in a list."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from fourply.app.keep import Desk, called, new_id, read, show_head
from fourply.app.keep_settings import change_settings
from fourply.app.keep_works import add_work, change_work, change_works, typed_work
from fourply.app.ports_store import SHOP, Kept, Kind, Put, Record
from fourply.errors import BadInput, FourplyError, Unknown
from fourply.files.faults import Fault
from fourply.files.kept import KeptShow, KeptWork, ShopSettings
from fourply.files.record import Listed


class CannotMake(BadInput):
    """A work cannot be read or made; `faults` are all that is wrong with it."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        super().__init__(faults[0].found, faults[0].expected)
        self.args = (tuple(faults),)
        self.faults = tuple(faults)


def new_show(desk: Desk, scope: str, value: Kept) -> Record:
    """Keep a new show; raises Taken, BadInput where it is to be part of another."""
    if not isinstance(value, KeptShow) or scope != SHOP:
        raise BadInput(scope, "a show is part of nothing else: leave the scope out")
    show = new_id()
    return desk.commit([Put(show, value)], show, f"new {called(value)}").record


def new_work(desk: Desk, scope: str, value: Kept) -> Record:
    """Keep a new work at the end of a show's list; raises Taken, Unknown for no such show."""
    return add_work(desk, scope, _work(value))


def changed_work(desk: Desk, record: str, value: Kept, expected: int) -> Record:
    """Change a work from the version that the caller saw; raises Stale, Taken, Unknown."""
    return change_work(desk, record, _work(value), expected)


def change_settings_to(desk: Desk, value: Kept, expected: int | None) -> Record:
    """Change the settings of the shop from the version that the caller saw, None for those fourply comes with."""
    if not isinstance(value, ShopSettings):
        raise BadInput(called(value), "the settings of a shop")
    return change_settings(desk, value, expected)


def change_many(desk: Desk, show: str, works: Sequence[tuple[str, int, Kept]]) -> tuple[Record, ...]:
    """Change works of a show together, each from the version that the caller saw; raises Stale, Taken, Unknown."""
    return change_works(desk, show, [(record, expected, _work(value)) for record, expected, value in works])


def _work(value: Kept) -> KeptWork:
    if not isinstance(value, KeptWork):
        raise BadInput(called(value), "a work")
    return value


@dataclass(frozen=True, slots=True)
class Typed:
    """A work as it is typed, by the keys of a show file, text in the show's unit; `treatment` names one of them."""

    given: Mapping[str, object]


def new_typed(desk: Desk, show: str, typed: Typed) -> Record:
    """Keep a work that was typed at the end of a show's list; raises CannotMake, Taken, Unknown."""
    return add_work(desk, show, KeptWork(_listed(show_head(desk, show).show, typed)))


def changed_typed(desk: Desk, record: str, typed: Typed, expected: int) -> Record:
    """Change what a work is to what was typed; its place, due date, stage and pictures stay. Raises as `new_typed`."""
    found = read(desk, record, Kind.WORK)
    if not isinstance(found.value, KeptWork):
        raise Unknown(Kind.WORK.value, record, ())
    listed = _listed(show_head(desk, found.scope).show, typed)
    pictures = found.value.pictures[: len(listed.work.arts)]
    return change_work(desk, record, replace(found.value, listed=listed, pictures=pictures), expected)


def _listed(head: KeptShow, typed: Typed) -> Listed:
    found = typed_work(head, typed.given)
    if isinstance(found, Listed):
        return found
    raise CannotMake(found)


def faults_of(error: FourplyError) -> tuple[Fault, ...]:
    """Return everything that is wrong, where an error knows of several things."""
    return error.faults if isinstance(error, CannotMake) else ()
