from __future__ import annotations

from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from starlette.testclient import TestClient
from tests.store import server
from tests.web.browser import browsing
from tests.web.shops import Seeds, client_at, seeded

if TYPE_CHECKING:
    from playwright.sync_api import Browser

DATABASES = ["sqlite", "postgresql"]


@contextmanager
def _client(request: pytest.FixtureRequest, folder: Path) -> Iterator[TestClient]:
    """Give a client of an empty shop, its records in a database of the kind that is asked for."""
    with ExitStack() as stack:
        url = None
        if request.param == "postgresql":
            url = stack.enter_context(server.database(request.getfixturevalue("postgres")))
        yield stack.enter_context(client_at(folder, database=url))


@pytest.fixture(params=DATABASES)
def client(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[TestClient]:
    """A client of an empty shop, on each database in turn."""
    with _client(request, tmp_path) as client:
        yield client


@pytest.fixture(scope="module", params=DATABASES)
def shop(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[tuple[TestClient, Seeds]]:
    """A client of a shop with one thing of each kind, shared by the tests of a module that only look."""
    with _client(request, tmp_path_factory.mktemp("shop")) as client:
        yield client, seeded(client)


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """A browser for the tests of a module."""
    with browsing() as browser:
        yield browser
