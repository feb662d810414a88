"""The server killed a hundred times in the middle of edits. A thousand times: scripts/soak_kills.py."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.store import server
from tests.web.killing import killed_while_serving

from fourply.store.engine import sqlite_url

KILLS = 100


def test_what_a_server_answered_outlives_kills(tmp_path: Path) -> None:
    assert killed_while_serving(sqlite_url(tmp_path / "shop.sqlite"), tmp_path, KILLS, seed=1) > KILLS


def test_what_a_server_answered_outlives_kills_on_postgresql(tmp_path: Path) -> None:
    if why := server.why_not():
        pytest.skip(why)
    with server.server(durable=True) as address, server.database(address) as url:
        assert killed_while_serving(url, tmp_path, KILLS, seed=2) > KILLS
