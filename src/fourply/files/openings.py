"""Several sheets in one mat: further openings of a work that is written out, and rows that hang in another's mat.

A further sheet is part of its work: it has a title, notes and sizes of its own, and may differ in what each opening has
for itself; borders, frame and boards are those of the work whose mat it is. A sheet that cannot be hung is a fault of
its own row, and the work that it should hang with is made without it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from fourply.files.convertors import Reading, plain
from fourply.files.faults import Fault
from fourply.files.record import SIZE_KEYS, Listed, Record, read_record
from fourply.files.rules import MOST_OPENINGS
from fourply.trade.treatment import OPENING_FIELDS, Layer
from fourply.trade.work import Work


def read_whole(record: Record, reading: Reading) -> tuple[Listed | None, tuple[Fault, ...]]:
    """Return the work of a record with its further openings, None where it has no sheet; and all faults.

    The first of the openings is the work's own sheet where the work itself names no size.
    """
    read = [read_record(each, reading) for each in record.openings]
    faults = [fault for found in read if isinstance(found, tuple) for fault in found]
    members = [found for found in read if isinstance(found, Listed)]
    first = read[0] if read and not SIZE_KEYS & record.given.keys() else None
    if isinstance(first, tuple):
        return None, tuple(faults)
    found = read_record(record, reading, first.work.art if first else None)
    if isinstance(found, tuple):
        return None, (*found, *faults)
    if first is not None:
        found = replace(found, openings=(replace(first.own, name="opening 1"),))
        found = _noted(_first_named(found, first.work.title), first.work)
        members = members[1:]
    return _joined(found, members), tuple(faults)


def hang_together(works: Sequence[Listed]) -> tuple[tuple[Listed, ...], tuple[Fault, ...]]:
    """Return the works, each with all that hang in its mat, and the faults of those that cannot hang there."""
    numbers = {listed.work.id: listed for listed in works}
    members: dict[str, list[Listed]] = {}
    faults: list[Fault] = []
    for listed in filter(lambda listed: listed.inside, works):
        host = numbers.get(listed.inside)
        wrong = [*_wrong(listed, host, len(members.get(listed.inside, ())))]
        faults.extend(wrong)
        if not wrong:
            members.setdefault(listed.inside, []).append(listed)
    hosts = (_joined(each, members.get(each.work.id, ())) for each in works if not each.inside)
    return tuple(_first_named(host, host.work.title or host.work.id) for host in hosts), tuple(faults)


def _wrong(listed: Listed, host: Listed | None, before: int) -> Iterator[Fault]:
    """Yield what keeps a work from hanging in the mat of its host."""
    inside = listed.inside
    if host is None:
        yield _fault(listed, "with", inside, "the number of the work in whose mat it hangs; no work read has this one")
    elif host is listed:
        yield _fault(listed, "with", inside, "the number of another work, or nothing: its own mat it hangs in anyway")
    elif host.inside:
        expected = f"the work whose mat it is, {host.inside}: {inside} hangs there itself"
        yield _fault(listed, "with", inside, expected)
    elif listed.openings:
        yield _fault(listed, "with", inside, "a work without openings of its own, to hang in the mat of another")
    elif before + len(host.work.arts) >= MOST_OPENINGS:
        yield _fault(listed, "with", inside, f"at most {MOST_OPENINGS} openings in one mat")
    else:
        yield from _not_its_own(listed, host)


def _not_its_own(listed: Listed, host: Listed) -> Iterator[Fault]:
    """Yield what a work says that is the business of its host alone; what says the same as the host is no harm."""
    mat = f"the mat is that of {listed.inside}"
    if listed.work.copies > 1:
        yield _fault(listed, "copies", str(listed.work.copies), f"nothing, or 1: {mat}, and copies are told there")
    if listed.treatment and plain(listed.treatment) != plain(host.treatment):
        yield _fault(listed, "treatment", listed.treatment, f"nothing, or {host.treatment or 'none'}: {mat}")
    for key, value in listed.own.values.items():
        if key not in OPENING_FIELDS and host.own.values.get(key, _MISSING) != value:
            expected = f"{mat}: what may differ in one opening is {', '.join(OPENING_FIELDS)}"
            yield _fault(listed, key.replace("_", " "), f"{key} in one opening", expected)


def _fault(listed: Listed, column: str, found: str, expected: str) -> Fault:
    return Fault(listed.work.source.file, listed.work.source.row, column, found, expected)


_MISSING = object()


def _joined(host: Listed, members: Sequence[Listed]) -> Listed:
    """Return the host with further sheets in its mat."""
    if not members:
        return host
    layers = list(host.openings) or [Layer("opening 1", {})]
    for member in members:
        number = len(layers) + 1
        own = {key: value for key, value in member.own.values.items() if key in OPENING_FIELDS}
        layers.append(Layer(member.own.name if member.inside else f"opening {number}", own))
        called = member.work.title or (member.work.id if member.inside else f"opening {number}")
        art = replace(member.work.art, name=called)
        host = _noted(replace(host, work=replace(host.work, others=(*host.work.others, art))), member.work, called)
    return replace(host, openings=tuple(layers))


def _noted(host: Listed, member: Work, called: str = "") -> Listed:
    """Return the host with what is said of a further sheet in words among its notes, so that none of it is lost."""
    said = "; ".join(filter(None, (member.maker, member.medium, member.notes)))
    if not said:
        return host
    notes = "; ".join(filter(None, (host.work.notes, f"{called or member.title or 'opening 1'}: {said}")))
    return replace(host, work=replace(host.work, notes=notes))


def _first_named(host: Listed, name: str) -> Listed:
    """Return the host with its own sheet named, where there are others to tell it from and it has no name yet."""
    art = host.work.art
    if art.name or not (host.work.others or host.openings):
        return host
    return replace(host, work=replace(host.work, art=replace(art, name=name)))


def merged(shared: Sequence[Layer], own: Sequence[Layer]) -> tuple[Layer, ...]:
    """Return the rules of each opening: those that the treatment has for it, under those of the sheet in it."""
    count = max(len(shared), len(own)) if own else len(shared)
    layers = []
    for at in range(count):
        values: dict[str, object] = {}
        named = [each[at] for each in (shared, own) if at < len(each)]
        for layer in named:
            values.update(layer.values)
        layers.append(Layer(next((each.name for each in reversed(named) if each.values), named[-1].name), values))
    return tuple(layers)
