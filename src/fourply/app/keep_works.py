"""Works in the store: typed in, brought in from a list in two steps, changed, copied."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

from fourply.app.keep import Desk, called, new_id, show_head
from fourply.app.ports import Progress, silent
from fourply.app.ports_store import Kind, Put, Query, Record, Sort
from fourply.errors import BadFile, BadInput, Unknown
from fourply.files.convertors import Reading
from fourply.files.faults import Fault
from fourply.files.headers import WORK_HEADERS, Column
from fourply.files.kept import KeptShow, KeptWork
from fourply.files.openings import read_whole
from fourply.files.record import Given, Listed
from fourply.files.record import Record as Typed
from fourply.files.tables import load_bytes
from fourply.files.works import Asked, WorkList, read_works, recognise
from fourply.trade.work import Source

__all__ = ["WORK_KEYS_OF_COLUMNS", "Asked", "Column", "Recognised"]
__all__ += ["add_work", "bring_in_file", "change_work", "copy_work", "keep_list", "recognise_list", "typed_work"]

WORK_KEYS_OF_COLUMNS = tuple(dict.fromkeys(WORK_HEADERS.values()))
"""What a column of a list of works can be."""
_SHOWN_ROWS = 20


@dataclass(frozen=True, slots=True)
class Recognised:
    """A list as it is understood, to be put right before it is kept: its columns, its first rows, what was read."""

    columns: tuple[Column, ...]
    header_row: int
    rows: tuple[tuple[str, ...], ...]
    read: WorkList


def recognise_list(
    desk: Desk, show: str, file: str, data: bytes, asked: Asked | None = None, *, progress: Progress = silent
) -> Recognised:
    """Return how a list is understood for a show; nothing is kept. Raises Unknown for no such show.

    `asked` holds what a person has put right, unit, order, columns; without it the show's unit and order hold.
    """
    asked = asked or _asked(show_head(desk, show).show)
    read = read_works(file, data, asked, partial(progress, "reading"))
    try:
        headed = recognise(file, data, asked)
    except (BadFile, BadInput):  # it is among the faults of what was read
        return Recognised((), 0, (), read)
    return Recognised(headed.columns, headed.header_row, tuple(row.cells for row in headed.rows[:_SHOWN_ROWS]), read)


def _asked(head: KeptShow) -> Asked:
    return Asked(head.unit, head.order)


def keep_list(
    desk: Desk, show: str, file: str, data: bytes, asked: Asked | None = None, *, progress: Progress = silent
) -> tuple[Record, ...]:
    """Keep the works of a list in a show, after those that it has; rows with faults are left out.

    Raises Taken for a number that the show has, BadInput where no row can be read, Unknown.
    """
    read = read_works(file, data, asked or _asked(show_head(desk, show).show), partial(progress, "reading"))
    return _keep_read(desk, show, file, read, progress)


def _keep_read(desk: Desk, show: str, file: str, read: WorkList, progress: Progress) -> tuple[Record, ...]:
    """Keep the works that were read of a list."""
    listed = read.works
    if not listed:
        raise BadInput(file, "a list with at least one work that can be read")
    first = _next_place(desk, show)
    puts = [Put(new_id(), KeptWork(each, first + at)) for at, each in enumerate(_own_numbers(desk, show, listed))]
    progress("keeping", 0, len(puts))
    return desk.commit(puts, show, f"{len(puts)} works from {file}").records


def bring_in_file(desk: Desk, show: str, path: Path, asked: Asked, progress: Progress = silent) -> tuple[int, WorkList]:
    """Keep the works of a list file in a show, read as the show says unless `asked` says more; returns how many.

    Raises as `keep_list` does, BadFile for a file that cannot be read.
    """
    own = _asked(show_head(desk, show).show)
    asked = replace(own, unit=asked.unit or own.unit, order=asked.order or own.order)
    read = read_works(path.name, load_bytes(path), asked, partial(progress, "reading"))
    return len(_keep_read(desk, show, path.name, read, progress)), read


def _own_numbers(desk: Desk, show: str, works: Sequence[Listed]) -> Iterator[Listed]:
    """Yield the works, those whose number was made from their row (w3) with one that the show does not have."""
    taken = {
        each.value.listed.work.id for each in desk.store.every(Kind.WORK, show) if isinstance(each.value, KeptWork)
    }
    for listed in works:
        number = listed.work.id
        while number in taken and _is_made(number):
            number = f"w{int(number[1:]) + len(taken)}"
        taken.add(number)
        yield _numbered(listed, number)


def _is_made(number: str) -> bool:
    return number[:1] == "w" and number[1:].isdecimal() and len(number) < 12


def _numbered(listed: Listed, number: str) -> Listed:
    return replace(listed, work=replace(listed.work, id=number), own=replace(listed.own, name=f"work {number}"))


def _next_place(desk: Desk, show: str) -> int:
    last = Query(Kind.WORK, show, archived=None, sort=Sort.PLACE, descending=True, limit=1)
    return 1 + max(
        (each.value.place for each in desk.store.find(last).items if isinstance(each.value, KeptWork)), default=0
    )


def typed_work(head: KeptShow, given: Mapping[str, object]) -> Listed | tuple[Fault, ...]:
    """Return the work that a person typed, by the keys of a show file, or everything in it that cannot be read.

    >>> from fourply.measure.notation import Unit
    >>> typed_work(KeptShow("Quay", Unit.INCH, None, "USD"), {"id": "7", "width": "9", "height": "x"})[0].column
    'height'
    """
    reading = Reading(head.unit, head.order, head.currency)
    record = Typed(Source(""), {key: Given(raw, key) for key, raw in given.items() if raw not in ("", None)})
    found, faults = read_whole(record, reading)
    if found is None or faults:
        return faults or (Fault("", 0, "", "nothing", "a work with a size"),)
    return found


def add_work(desk: Desk, show: str, work: KeptWork) -> Record:
    """Keep a work at the end of a show's list; raises Taken for a number that the show has, Unknown."""
    show_head(desk, show)
    work = replace(work, listed=_numbered(work.listed, work.listed.work.id), place=_next_place(desk, show))
    return desk.commit([Put(new_id(), work)], show, f"new {called(work)}").record


def change_work(desk: Desk, record: str, work: KeptWork, expected: int) -> Record:
    """Change a work from the version that the caller saw; a place of 0 leaves it where it is in the list.

    Raises Stale with both versions, Taken, Unknown.
    """
    found = _work(desk, record)
    return desk.commit([_put(found, work, expected)], found.scope, f"change {called(work)}").record


def change_works(desk: Desk, show: str, works: Sequence[tuple[str, int, KeptWork]]) -> tuple[Record, ...]:
    """Change works of a show together, each from the version that the caller saw, or none; raises as change_work."""
    puts = [_put(_work(desk, record), work, expected) for record, expected, work in works]
    return desk.commit(puts, show, f"change {len(puts)} works").records


def _put(found: Record, work: KeptWork, expected: int) -> Put:
    place = work.place or (found.value.place if isinstance(found.value, KeptWork) else 0)
    work = replace(work, listed=_numbered(work.listed, work.listed.work.id), place=place)
    return Put(found.id, work, expected, found.archived)


def copy_work(desk: Desk, record: str, number: str) -> Record:
    """Keep a copy of a work at the end of its show's list under another number; raises Taken, Unknown."""
    found = _work(desk, record)
    if not isinstance(found.value, KeptWork):
        raise Unknown(Kind.WORK.value, record, ())
    if not number.strip():
        raise BadInput(number, "the number of the copy")
    work = replace(found.value, listed=_numbered(found.value.listed, number), place=_next_place(desk, found.scope))
    return desk.commit([Put(new_id(), work)], found.scope, f"copy {called(found.value)}").record


def _work(desk: Desk, record: str) -> Record:
    found = desk.store.read(record)
    if found.kind is not Kind.WORK:
        raise Unknown(Kind.WORK.value, record, ())
    return found
