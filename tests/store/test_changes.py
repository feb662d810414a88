"""Records and their history: any sequence of changes, undos and redos leaves what its net effect is."""

from __future__ import annotations

import base64
import json
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)
from tests.store import server
from tests.store.shops import contents, is_whole, note, put, treatment

from fourply.app.ports_store import SHOP, Act, Kind, Note, Put, Query, Sort, State
from fourply.errors import BadInput, KeyReused, NothingToUndo, Stale, Taken, Unknown
from fourply.files.kept import KeptTreatment, ShopSettings
from fourply.store.engine import sqlite_url
from fourply.store.sql_store import SqlStore

NAMES = st.sampled_from(["Quay", "Pier", "Weir", "Lock", "Mole"])

type Model = dict[str, tuple[str, bool]]
"""What there is: the name of each record by id, and whether it is archived."""


class Changes(RuleBasedStateMachine):
    """A store beside a model that keeps the whole of every state it was in."""

    address = ""

    def __init__(self) -> None:
        super().__init__()
        self.folder = TemporaryDirectory()
        self.store: SqlStore

    @initialize()
    def begin(self) -> None:
        path = Path(self.folder.name)
        if self.address:
            self.database = server.database(self.address)
            url = self.database.__enter__()
        else:
            url = sqlite_url(path / "shop.sqlite")
        self.store = SqlStore(url, path)
        self.now: Model = {}
        self.done: list[Model] = []
        self.undone: list[Model] = []
        self.count = 0

    def teardown(self) -> None:
        self.store.close()
        if self.address:
            self.database.__exit__(None, None, None)
        self.folder.cleanup()

    def commit(self, new: Model) -> None:
        """Make the records those of a model: done where no two live ones share a name, refused otherwise."""
        puts = [
            put(ident, name, self.store.read(ident).version if ident in self.now else None, archived=archived)
            for ident, (name, archived) in new.items()
            if self.now.get(ident) != (name, archived)
        ]
        if not puts:
            return
        live = [name for name, archived in new.values() if not archived]
        if len(set(live)) < len(live):
            with pytest.raises(Taken):
                self.store.commit(puts, note())
            return
        self.store.commit(puts, note())
        self.done.append(self.now)
        self.now, self.undone = new, []

    @rule(names=st.lists(NAMES, min_size=1, max_size=3))
    def create(self, names: list[str]) -> None:
        self.count += 1
        self.commit(self.now | {f"{self.count}-{at}": (name, False) for at, name in enumerate(names)})

    @precondition(lambda self: self.now)
    @rule(data=st.data())
    def change(self, data: st.DataObject) -> None:
        some = data.draw(st.lists(st.sampled_from(sorted(self.now)), min_size=1, max_size=4, unique=True))
        self.commit(self.now | {ident: (data.draw(NAMES), data.draw(st.booleans())) for ident in some})

    @precondition(lambda self: len(self.now) > 1)
    @rule(data=st.data())
    def exchange(self, data: st.DataObject) -> None:
        one, two = data.draw(st.lists(st.sampled_from(sorted(self.now)), min_size=2, max_size=2, unique=True))
        self.commit(self.now | {one: self.now[two], two: self.now[one]})

    @rule()
    def undo(self) -> None:
        if not self.done:
            with pytest.raises(NothingToUndo):
                self.store.undo(note())
            return
        assert self.store.undo(note("")).entry.act is Act.UNDO
        self.undone.append(self.now)
        self.now = self.done.pop()

    @rule()
    def redo(self) -> None:
        if not self.undone:
            with pytest.raises(NothingToUndo):
                self.store.redo(note())
            return
        assert self.store.redo(note("")).entry.act is Act.REDO
        self.done.append(self.now)
        self.now = self.undone.pop()

    @invariant()
    def holds_what_the_model_holds(self) -> None:
        wanted = {ident: State(treatment(name), archived) for ident, (name, archived) in self.now.items()}
        assert contents(self.store) == wanted
        stands = self.store.undoable(SHOP)
        assert (stands.undo is None, stands.redo is None) == (not self.done, not self.undone)
        assert is_whole(self.store)


HOW = settings(
    max_examples=25, stateful_step_count=20, deadline=None, suppress_health_check=[HealthCheck.too_slow], database=None
)


def test_any_sequence_of_changes_undos_and_redos_leaves_its_net_effect() -> None:
    run_state_machine_as_test(Changes, settings=HOW)


def test_so_it_is_on_postgresql(postgres: str) -> None:
    class There(Changes):
        address = postgres

    run_state_machine_as_test(There, settings=settings(HOW, max_examples=8))


def _page_after(sort: Sort, value: int | str, ident: str) -> str:
    """Return what looks like the next page, as if the store had given it."""
    return base64.urlsafe_b64encode(json.dumps([sort.value, value, ident]).encode()).decode()


def test_a_stale_change_is_answered_with_both_versions(store: SqlStore) -> None:
    store.commit([put("a", "Quay")], note())
    store.commit([put("a", "Pier", 1)], note())
    with pytest.raises(Stale) as stale:
        store.commit([put("a", "Weir", 1)], note())
    assert stale.value.mine == treatment("Weir")
    assert stale.value.theirs == store.read("a")
    assert "version 2" in str(stale.value)


@pytest.mark.parametrize("wrong", [put("a", "Mole", 7), put("b", "QUAY"), put("c", "Mole", 1)])
def test_of_changes_together_all_are_made_or_none(store: SqlStore, wrong: Put) -> None:
    store.commit([put("a", "Quay")], note())
    with pytest.raises((Stale, Taken, Unknown)):
        store.commit([put("d", "Lock"), wrong], note())
    assert set(contents(store)) == {"a"}
    assert store.history().total == 1
    assert is_whole(store)


def test_what_has_gone_by_undo_cannot_be_changed_and_its_version_goes_on(store: SqlStore) -> None:
    store.commit([put("a", "Quay")], note())
    store.undo(note())
    with pytest.raises(Unknown):
        store.read("a")
    with pytest.raises(Unknown):
        store.commit([put("a", "Pier", 1)], note())
    assert store.redo(note()).record.version == 3


def test_scopes_are_undone_each_by_itself(store: SqlStore) -> None:
    store.commit([put("a", "Quay")], note(scope="one"))
    store.commit([put("b", "Quay")], note(scope="two"))
    assert store.undo(note(scope="one")).entry.scope == "one"
    assert (set(contents(store, "one")), set(contents(store, "two"))) == (set(), {"b"})
    with pytest.raises(Unknown):
        store.commit([put("b", "Pier", 1)], note(scope="one"))


def test_a_key_makes_it_safe_to_ask_again(store: SqlStore) -> None:
    asked = Note(SHOP, "ann", "new", "key-1", "POST quay")
    first = store.commit([put("a", "Quay")], asked)
    store.commit([put("a", "Pier", 1)], note())
    again = store.commit([put("z", "Quay")], asked)
    assert (again.repeated, again.records, again.entry) == (True, first.records, first.entry)
    with pytest.raises(KeyReused):
        store.commit([put("z", "Weir")], Note(SHOP, "ann", "new", "key-1", "POST weir"))
    assert set(contents(store)) == {"a"}
    undone = store.undo(Note(SHOP, "ann", "", "key-2"))
    assert store.undo(Note(SHOP, "ann", "", "key-2")).entry == undone.entry


def test_keys_are_forgotten_in_time_and_what_they_did_stays(url: str, tmp_path: Path) -> None:
    at = datetime(2026, 3, 14, tzinfo=UTC)
    store = SqlStore(url, tmp_path, lambda: at)
    store.commit([put("a", "Quay")], Note(SHOP, "ann", "new", "old", "POST"))
    at += timedelta(days=8)
    kept = store.commit([put("b", "Pier")], Note(SHOP, "ann", "new", "young", "POST"))
    assert store.forget_keys(at - timedelta(days=7)) == 1
    assert store.forget_keys(at - timedelta(days=7)) == 0
    assert store.commit([put("b", "Pier")], Note(SHOP, "ann", "new", "young", "POST")).entry == kept.entry
    with pytest.raises(Stale):
        store.commit([put("a", "Quay")], Note(SHOP, "ann", "new", "old", "POST"))
    assert [each.value.name for each in store.every(Kind.TREATMENT, SHOP)] == ["Quay", "Pier"]  # type: ignore[union-attr]
    store.close()


def test_there_is_one_set_of_settings(store: SqlStore) -> None:
    store.commit([Put("a", ShopSettings("One"))], note())
    with pytest.raises(Taken):
        store.commit([Put("b", ShopSettings("Two"))], note())


def test_pages_hold_every_record_once_in_order(store: SqlStore) -> None:
    names = [f"Quay {number}" for number in range(25)] + ["Élan", "abc", "Zeta"]
    store.commit([put(f"id{at}", name) for at, name in enumerate(reversed(names))], note())
    for descending in (False, True):
        seen: list[str] = []
        query = Query(Kind.TREATMENT, SHOP, sort=Sort.NAME, descending=descending, limit=7)
        while True:
            page = store.find(query)
            assert page.total == len(names)
            seen += [each.value.name for each in page.items if isinstance(each.value, KeptTreatment)]
            if not page.next:
                break
            query = Query(Kind.TREATMENT, SHOP, sort=Sort.NAME, descending=descending, limit=7, after=page.next)
        wanted = ["abc", "Élan", *(f"Quay {number}" for number in range(25)), "Zeta"]
        assert seen == (wanted[::-1] if descending else wanted)


@pytest.mark.parametrize(
    ("text", "found"), [("QUAY", 2), ("ete quay", 1), ("50%", 1), ("5_", 0), ("nul\0", 0), ("\ud800", 0), ("", 3)]
)
def test_a_search_takes_every_word_whatever_case_and_accents(store: SqlStore, text: str, found: int) -> None:
    store.commit([put("a", "Quay"), put("b", "Été at the quay"), put("c", "Grey 50% tint")], note())
    assert store.find(Query(Kind.TREATMENT, text=text)).total == found


def test_text_of_any_kind_is_kept_as_it_was(store: SqlStore) -> None:
    names = ["a\0b", "\ud800", "\U0001f5bc ⅜ é", "'; DROP TABLE record; --", "%_\\"]
    store.commit([put(f"id{at}", name) for at, name in enumerate(names)], Note(SHOP, "a\0nn", "l\ud800", ""))
    assert [contents(store)[f"id{at}"].value for at in range(len(names))] == [treatment(name) for name in names]
    assert is_whole(store)


@pytest.mark.parametrize("number", [-(2**70), -1, 0, 2**53 + 1, 2**70])
def test_a_number_that_no_entry_has_is_no_fault_of_the_database(store: SqlStore, number: int) -> None:
    store.commit([put("a", "Quay")], note())
    with pytest.raises(Unknown):
        store.changes(number)
    assert len(store.since(number)) == (number <= 0)
    assert len(store.history(before=number).items) == (number > 0)


@given(st.text() | st.builds(_page_after, st.sampled_from(Sort), st.integers() | st.text(), st.text()))
@settings(deadline=None, max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_a_page_that_somebody_made_up_is_refused_or_read(store: SqlStore, after: str) -> None:
    with suppress(BadInput):
        assert not store.find(Query(Kind.TREATMENT, after=after)).items


@pytest.mark.parametrize(
    "made_up", ["7", "[]", "null", '{"a": 1}', "[" * 5000, '["place", 1.5, "a"]', '["place", 1, 2]']
)
def test_a_page_that_is_none_is_refused(store: SqlStore, made_up: str) -> None:
    with pytest.raises(BadInput):
        store.find(Query(Kind.TREATMENT, after=base64.urlsafe_b64encode(made_up.encode()).decode()))
