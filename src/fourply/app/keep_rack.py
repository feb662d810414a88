"""The rack: what of it a show may plan with, what accepted plans have been promised, what cutting does to it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from fourply.app.keep import Desk, called, new_id, read
from fourply.app.ports_store import SHOP, Kind, Put, Query, Record
from fourply.errors import BadPlan, RackTaken
from fourply.files.kept import KeptOffcut, KeptPlan
from fourply.trade.materials import Offcut

ACCEPTED = "accepted"
"""The state of a plan that holds what it pulls from the rack."""
_MOST = 500


def rack_for(desk: Desk, show: str) -> tuple[Record, ...]:
    """Return the pieces that a plan of a show may pull: the shop's and its own, none that another show was promised."""
    found = [*desk.store.every(Kind.RACK, SHOP), *desk.store.every(Kind.RACK, show)]
    if not found:
        return ()
    others = {piece for piece, plan in promised(desk).items() if plan.scope != show}
    return tuple(each for each in found if each.id not in others)


def pieces_of(rack: Sequence[Record]) -> tuple[Offcut, ...]:
    """Return the pieces themselves."""
    return tuple(each.value.piece for each in rack if isinstance(each.value, KeptOffcut))


def promised(desk: Desk) -> Mapping[str, Record]:
    """Return the accepted plan that each promised piece is for, by the piece's id; a plan that is cut holds none."""
    found = {}
    for plan in _accepted(desk):
        for piece in plan.value.takes if isinstance(plan.value, KeptPlan) else ():
            found[piece] = plan
    return found


def _accepted(desk: Desk) -> Iterator[Record]:
    after = ""
    while True:
        page = desk.store.find(Query(Kind.PLAN, state=ACCEPTED, limit=_MOST, after=after))
        yield from page.items
        if not page.next:
            return
        after = page.next


def check_promise(desk: Desk, plan: Record, pieces: Sequence[Offcut]) -> None:
    """Raise RackTaken where a piece that a plan pulls cannot be had: it is gone, another by now, or promised elsewhere.

    `pieces` are those that it takes as they were when it was made. Raises BadPlan where they are not as many.
    """
    takes = plan.value.takes if isinstance(plan.value, KeptPlan) else ()
    if len(takes) != len(pieces):
        raise BadPlan(f"it takes {len(takes)} pieces of the rack and is cut from {len(pieces)}")
    held = promised(desk) if takes else {}
    for ident, piece in zip(takes, pieces, strict=True):
        found = read(desk, ident, Kind.RACK)
        if found.archived:
            raise RackTaken(_told(found), "it is there no more")
        if not isinstance(found.value, KeptOffcut) or (found.value.piece.material, found.value.piece.size) != (
            piece.material,
            piece.size,
        ):
            raise RackTaken(_told(found), "it is of another size or material by now")
        if ident in held and held[ident].scope != plan.scope:
            raise RackTaken(_told(found), f"it is promised to {called(held[ident].value)} of another show")


def _told(piece: Record) -> str:
    """Return what a piece is called in a sentence: its number, or what it is of."""
    kept = piece.value
    if not isinstance(kept, KeptOffcut):
        return called(kept)
    return f"piece {kept.number}" if kept.number else f"a piece of {kept.piece.material}"


def still_in_rack(desk: Desk, pieces: Sequence[str]) -> tuple[Record, ...]:
    """Return those of these pieces that have not left the rack; raises Unknown."""
    return tuple(found for each in pieces if not (found := read(desk, each, Kind.RACK)).archived)


def into_rack(desk: Desk, gone: Sequence[Put], pieces: Sequence[Offcut], label: str) -> None:
    """Put pieces into the shop's rack under the next free numbers, together with what leaves it; raises Stale."""
    first = next_number(desk)
    puts = [*gone, *(Put(new_id(), KeptOffcut(piece, str(first + at))) for at, piece in enumerate(pieces))]
    if puts:
        desk.commit(puts, SHOP, label)


def next_number(desk: Desk) -> int:
    """Return the number for the next piece: one more than any piece of the shop's rack ever had."""
    every = desk.store.every(Kind.RACK, SHOP, archived=None)
    numbers = (each.value.number for each in every if isinstance(each.value, KeptOffcut))
    return 1 + max((int(each) for each in numbers if each.isdecimal() and len(each) < 9), default=0)
