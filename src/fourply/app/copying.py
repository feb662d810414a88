"""What is decided for one work taken further: to other works of its show, or into a treatment with a name."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from fourply.app.keep import Desk, new_id, read
from fourply.app.ports_store import SHOP, Kind, Put, Record
from fourply.errors import BadInput, Unknown
from fourply.files.convertors import plain
from fourply.files.kept import KeptTreatment, KeptWork
from fourply.trade.treatment import Layer

_FEW = 6


@dataclass(frozen=True, slots=True)
class Other:
    """Another work of the show: its record, number and title, the treatment that it names, the rules it says itself."""

    record: Record
    number: str
    title: str
    treatment: str
    own: tuple[str, ...]


def others(desk: Desk, work: str) -> tuple[Other, ...]:
    """Return the other works of a show that have a treatment of their own, in the order of its list; raises Unknown."""
    record = _kept(desk, work)[0]
    found = desk.store.every(Kind.WORK, record.scope)
    return tuple(
        Other(
            each,
            each.value.listed.work.id,
            each.value.listed.work.title,
            each.value.listed.treatment,
            tuple(key.replace("_", " ") for key in each.value.listed.own.values),
        )
        for each in found
        if isinstance(each.value, KeptWork) and not each.value.listed.inside and each.id != work
    )


def copy_treatment(desk: Desk, work: str, to: Sequence[tuple[str, int]], *, own: bool) -> tuple[Record, ...]:
    """Let other works be treated as one is, each by its record and the version that was seen; one entry of the history.

    With `own` they take its own rules too, in place of theirs; without it they take the treatment that it names, and
    what they say themselves stays. Raises BadInput where none is named, Unknown, Stale.
    """
    if not to:
        raise BadInput("no work", "at least one work, chosen")
    source, like = _kept(desk, work)
    puts, numbers = [], []
    for ident, version in to:
        record, kept = _kept(desk, ident)
        if record.scope != source.scope:
            raise Unknown("work of this show", ident, ())
        rules = replace(kept.listed.own, values=like.listed.own.values) if own else kept.listed.own
        listed = replace(kept.listed, treatment=like.listed.treatment, own=rules)
        puts.append(Put(ident, replace(kept, listed=listed), version, record.archived))
        numbers.append(listed.work.id)
    named = ", ".join(numbers) if len(numbers) <= _FEW else f"{len(numbers)} works"
    return desk.commit(puts, source.scope, f"treatment of {like.listed.work.id} for {named}").records


def name_treatment(desk: Desk, work: str, name: str, expected: int) -> Record:
    """Make what a work says itself, over the treatment that it names, a treatment of its show with a name of its own.

    The work names it then and says nothing more itself. Raises BadInput for an empty name, Taken, Stale, Unknown.
    """
    name = " ".join(name.split())
    if not name:
        raise BadInput("nothing", "a name for the treatment")
    record, kept = _kept(desk, work)
    under = _named(desk, record.scope, kept.listed.treatment)
    rules = Layer(f"treatment {name}", {**(under.rules.values if under else {}), **kept.listed.own.values})
    listed = replace(kept.listed, treatment=name, own=replace(kept.listed.own, values={}))
    puts = [
        Put(record.id, replace(kept, listed=listed), expected, record.archived),
        Put(new_id(), KeptTreatment(name, rules)),
    ]
    return desk.commit(puts, record.scope, f"{listed.work.id}: treatment {name}").record


def _named(desk: Desk, show: str, name: str) -> KeptTreatment | None:
    """Return the treatment that a work of a show names: the show's, else the shop's."""
    for scope in (show, SHOP):
        for each in desk.store.every(Kind.TREATMENT, scope):
            if isinstance(each.value, KeptTreatment) and plain(each.value.name) == plain(name):
                return each.value
    return None


def kept_work(record: Record) -> KeptWork:
    """Return the work that a record is of; raises Unknown."""
    if not isinstance(record.value, KeptWork):
        raise Unknown(Kind.WORK.value, record.id, ())
    return record.value


def _kept(desk: Desk, work: str) -> tuple[Record, KeptWork]:
    record = read(desk, work, Kind.WORK)
    return record, kept_work(record)
