"""From every earlier schema, with data in it, to the one of today."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from sqlalchemy import Connection, column, inspect, table, text
from tests.store.conftest import Open
from tests.store.shops import contents, is_whole, note, put, treatment

from fourply.app.ports_store import SHOP, Kind, Query, State
from fourply.errors import NewerStore
from fourply.files.kept import to_document
from fourply.store.engine import Engines
from fourply.store.migrations import NEWEST, STEPS, migrate, version_of
from fourply.store.tables import METADATA

VALUE = json.dumps(to_document(treatment("Quay 12")))
STATE = json.dumps({"archived": False, "value": to_document(treatment("Quay 12"))})
AT = "2026-03-14T09:26:53.000000+00:00"


def insert_into(connection: Connection, name: str, values: dict[str, object]) -> None:
    """Insert a row, columns being as they then were."""
    connection.execute(table(name, *map(column, values)).insert(), values)


def filled(url: str, version: int) -> None:
    """Make a database of an earlier schema, as it was, with a record and its history in it."""
    engines = Engines(url)
    with engines.writing() as connection:
        migrate(connection, version)
        row = {"id": "a", "kind": "treatment", "scope": SHOP, "version": 1, "archived": False, "gone": False}
        row |= {
            "changed": AT,
            "value": VALUE,
            "name": "?",
            "title": "",
            "maker": "",
            "due": "",
            "state": "",
            "place": 0,
        }
        entry = {"seq": 1, "scope": SHOP, "at": AT, "who": "ann", "label": "new", "act": "do", "top": 1}
        change = {"seq": 1, "place": 0, "record": "a", "version": 1, "after": STATE}
        for name, values in (("record", row), ("entry", entry), ("change", change)):
            insert_into(connection, name, values)
    engines.close()


@pytest.mark.parametrize("version", STEPS)
def test_a_shop_of_every_schema_is_brought_up_to_date_with_all_that_is_in_it(
    url: str, opened: Open, tmp_path: Path, version: int
) -> None:
    filled(url, version)
    store = opened()
    assert contents(store) == {"a": State(treatment("Quay 12"), archived=False)}
    assert is_whole(store)
    if version < NEWEST:  # what follows from the value was worked out anew
        assert [each.id for each in store.find(Query(Kind.TREATMENT, text="quay", name="QUAY 12")).items] == ["a"]
        (backup,) = (tmp_path / "backups").iterdir()
        assert f"before-{NEWEST}" in backup.name
    assert store.commit([put("b", "Pier")], note()).entry.seq == 2
    assert store.undo(note()).entry.of == 2


def test_the_steps_end_where_the_tables_of_today_are(url: str, opened: Open) -> None:
    opened()
    engines = Engines(url)
    with engines.reading() as connection:
        found = inspect(connection)
        assert version_of(connection) == NEWEST
        assert set(found.get_table_names()) == set(METADATA.tables)
        for name, wanted_table in METADATA.tables.items():
            columns = {
                each["name"]: (str(each["type"]).split(" ")[0], each["nullable"]) for each in found.get_columns(name)
            }
            wanted = {
                each.name: (str(each.type.compile(connection.dialect)).split(" ")[0], each.nullable)
                for each in wanted_table.columns
            }
            assert columns == wanted
            assert {index["name"] for index in found.get_indexes(name) if not index["unique"]} == {
                index.name for index in wanted_table.indexes
            }
            assert len(found.get_foreign_keys(name)) == len(wanted_table.foreign_keys)
    engines.close()


def test_a_newer_database_is_refused_and_left_alone(url: str, opened: Open) -> None:
    opened().commit([put("a", "Quay")], note())
    engines = Engines(url)
    with engines.writing() as connection:
        connection.execute(text("INSERT INTO fourply_schema (version) VALUES (99)"))
    with pytest.raises(NewerStore, match="newer fourply"):
        opened()
    with engines.writing() as connection:
        assert version_of(connection) == 99
        connection.execute(text("DELETE FROM fourply_schema WHERE version = 99"))
    engines.close()
    assert set(contents(opened())) == {"a"}
