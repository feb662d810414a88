"""What the tests of the store keep, and what they hold it to."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise

from fourply.app.ports_store import SHOP, Change, Entry, Kind, Note, Put, State, Store
from fourply.files.kept import KeptTreatment
from fourply.trade.treatment import Layer

ALL = tuple(Kind)


def treatment(name: str) -> KeptTreatment:
    return KeptTreatment(name, Layer(f"treatment {name}", {}))


def note(label: str = "test", scope: str = SHOP) -> Note:
    return Note(scope, "ann", label)


def put(ident: str, name: str, expected: int | None = None, *, archived: bool = False) -> Put:
    return Put(ident, treatment(name), expected, archived)


def contents(store: Store, scope: str = SHOP) -> dict[str, State]:
    """Return everything that is in a scope, by id."""
    found = [each for kind in ALL for each in store.every(kind, scope, archived=None)]
    return {each.id: State(each.value, each.archived) for each in found}


def every_change(store: Store, seq: int) -> list[Change]:
    """Return all that an entry did, page after page."""
    found: list[Change] = []
    after: int | None = None
    while True:
        page = store.changes(seq, after=after, limit=500)
        found += page.items
        if not page.next:
            assert len(found) == page.total
            return found
        after = int(page.next)


def replayed(store: Store, scope: str = SHOP) -> Mapping[str, State]:
    """Return what the history of a scope comes to, every change on what the one before left; fails where one does not.

    Every entry is there, numbered without a gap but where a backup was put back; that entry changes nothing itself.
    """
    entries: list[Entry] = []
    while page := store.since(entries[-1].seq if entries else 0):
        entries += page
    labelled = [entry.seq for entry in entries if entry.label.startswith("restore ")]
    restored = {seq for seq in labelled if not every_change(store, seq)}
    for before, entry in pairwise(entries):
        assert entry.seq == before.seq + 1 or (entry.seq in restored and entry.seq > before.seq)
    assert not entries or entries[0].seq == 1
    states: dict[str, State] = {}
    versions: dict[str, int] = {}
    for entry in entries:
        if entry.scope != scope:
            continue
        changes = every_change(store, entry.seq)
        assert changes or entry.seq in restored
        for change in changes:
            assert change.before == states.pop(change.record, None)
            assert change.version == versions.get(change.record, 0) + 1
            versions[change.record] = change.version
            if change.after is not None:
                states[change.record] = change.after
    for ident in states:
        assert store.read(ident).version == versions[ident]
    return states


def is_whole(store: Store, scope: str = SHOP) -> bool:
    """Tell whether the records are what their history comes to."""
    found = contents(store, scope)
    assert found == replayed(store, scope)
    return True
