from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient
from tests.web.shops import Seeds, client_at, seeded


@pytest.fixture
def client(tmp_path: Path) -> Iterator[TestClient]:
    """A client of an empty shop."""
    with client_at(tmp_path) as client:
        yield client


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[TestClient, Seeds]]:
    """A client of a shop with one thing of each kind, shared by the tests of a module that only look."""
    with client_at(tmp_path_factory.mktemp("shop")) as client:
        yield client, seeded(client)
