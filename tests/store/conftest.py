from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import ExitStack
from pathlib import Path

import pytest
from tests.store import server

from fourply.store.engine import sqlite_url
from fourply.store.sql_store import SqlStore

type Open = Callable[[], SqlStore]


@pytest.fixture(params=["sqlite", "postgresql"])
def url(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    """The address of an empty database, of each kind in turn."""
    if request.param == "sqlite":
        yield sqlite_url(tmp_path / "shop.sqlite")
        return
    with server.database(request.getfixturevalue("postgres")) as address:
        yield address


@pytest.fixture
def opened(url: str, tmp_path: Path) -> Iterator[Open]:
    """Opens the same shop, again and again; all are closed at the end."""
    with ExitStack() as stack:

        def again() -> SqlStore:
            store = SqlStore(url, tmp_path)
            stack.callback(store.close)
            return store

        yield again


@pytest.fixture
def store(opened: Open) -> SqlStore:
    return opened()
