from __future__ import annotations

from collections.abc import Iterator

import pytest
from tests.store import server


@pytest.fixture(scope="session")
def postgres() -> Iterator[str]:
    """The address of a PostgreSQL server; skips where there is none."""
    if why := server.why_not():
        pytest.skip(why)
    with server.server() as address:
        yield address
