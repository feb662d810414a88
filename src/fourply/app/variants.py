"""Up to four designs of one work, side by side: the present one, and others that are put aside until they are taken.

A variant is what a framer decided (a treatment by its name, its own rules), not the art. Each change here is
one entry of the history.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from fourply.app.keep import Desk, read
from fourply.app.ports_store import Kind, Put, Record
from fourply.errors import BadInput, Unknown
from fourply.files.kept import MOST_VARIANTS, KeptWork, Variant
from fourply.files.record import Listed

LETTERS = "ABCD"
_LONGEST = 60
_NAMED = 3


@dataclass(frozen=True, slots=True)
class Slot:
    """One design of a work: its slot, its letter and name, whether it is the present one, the work as it lists it."""

    slot: int
    letter: str
    name: str
    present: bool
    listed: Listed


def slots_of(kept: KeptWork) -> tuple[Slot, ...]:
    """Return the designs of a work in the order of their letters, the present one among them."""
    return tuple(sorted(_slots(kept), key=lambda each: each.slot))


def _slots(kept: KeptWork) -> Iterator[Slot]:
    yield Slot(kept.slot, LETTERS[kept.slot], kept.variant or _usual(kept.listed), present=True, listed=kept.listed)
    for each in kept.variants:
        listed = replace(kept.listed, treatment=each.treatment, own=each.own, openings=each.openings)
        yield Slot(each.slot, LETTERS[each.slot], each.name or _usual(listed), present=False, listed=listed)


def _usual(listed: Listed) -> str:
    """Return what a design is called that nobody named: its treatment, and the first rules that are its own."""
    own = [key.replace("_", " ") for key in listed.own.values]
    more = f" and {len(own) - _NAMED} more" if len(own) > _NAMED else ""
    return ", ".join([listed.treatment or "as the show", *own[:_NAMED]]) + more


def keep_variant(desk: Desk, work: str, name: str, expected: int) -> Record:
    """Put the present design aside under a name ("" for what it is), in the first free slot; it goes on as it is.

    Raises BadInput where there are four already, Stale, Unknown.
    """
    record, kept = _kept(desk, work)
    taken = {kept.slot, *(each.slot for each in kept.variants)}
    free = [slot for slot in range(MOST_VARIANTS) if slot not in taken]
    if not free:
        raise BadInput(f"{MOST_VARIANTS} variants", "take one away first: four stand side by side")
    listed = kept.listed
    aside = Variant(free[0], _name(name) or _usual(listed), listed.treatment, listed.own, listed.openings)
    new = replace(kept, variants=(*kept.variants, aside))
    return _commit(desk, record, new, expected, f"variant {LETTERS[aside.slot]} kept, {aside.name}")


def take_variant(desk: Desk, work: str, slot: int, expected: int) -> Record:
    """Make another design the present one; the one that was stays in its slot. Raises Unknown, Stale."""
    record, kept = _kept(desk, work)
    found = _aside(kept, slot)
    was = kept.listed
    aside = Variant(kept.slot, kept.variant, was.treatment, was.own, was.openings)
    listed = replace(was, treatment=found.treatment, own=found.own, openings=found.openings)
    others = tuple(each for each in kept.variants if each is not found)
    new = replace(kept, listed=listed, variants=(*others, aside), slot=slot, variant=found.name)
    return _commit(desk, record, new, expected, f"variant {LETTERS[slot]}, {found.name or _usual(listed)}")


def name_variant(desk: Desk, work: str, slot: int, name: str, expected: int) -> Record:
    """Call a design otherwise, "" for what it is; raises Unknown, Stale."""
    record, kept = _kept(desk, work)
    if slot == kept.slot:
        new = replace(kept, variant=_name(name))
    else:
        found = _aside(kept, slot)
        named = replace(found, name=_name(name))
        new = replace(kept, variants=tuple(named if each is found else each for each in kept.variants))
    return _commit(desk, record, new, expected, f"variant {LETTERS[slot]} called {_name(name) or 'nothing'}")


def drop_variant(desk: Desk, work: str, slot: int, expected: int) -> Record:
    """Take a design away that is not the present one; raises BadInput for that, Unknown, Stale."""
    record, kept = _kept(desk, work)
    if slot == kept.slot:
        raise BadInput(f"variant {LETTERS[slot]}", "another one: take another first, then this one can go")
    found = _aside(kept, slot)
    new = replace(kept, variants=tuple(each for each in kept.variants if each is not found))
    return _commit(desk, record, new, expected, f"variant {LETTERS[slot]} taken away")


def _kept(desk: Desk, work: str) -> tuple[Record, KeptWork]:
    record = read(desk, work, Kind.WORK)
    if not isinstance(record.value, KeptWork):
        raise Unknown(Kind.WORK.value, work, ())
    return record, record.value


def _aside(kept: KeptWork, slot: int) -> Variant:
    for each in kept.variants:
        if each.slot == slot:
            return each
    raise Unknown("variant", LETTERS[slot : slot + 1] or str(slot), tuple(LETTERS[each.slot] for each in kept.variants))


def _name(name: str) -> str:
    found = " ".join(name.split())
    if len(found) > _LONGEST:
        raise BadInput(found, f"a name of at most {_LONGEST} characters")
    return found


def _commit(desk: Desk, record: Record, new: KeptWork, expected: int, done: str) -> Record:
    label = f"{new.listed.work.id}: {done}"
    return desk.commit([Put(record.id, new, expected, record.archived)], record.scope, label).record
