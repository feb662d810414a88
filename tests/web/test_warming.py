"""What the server reads before anybody asks."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient
from tests.web.design_shop import BASE, Shop, shop_at

from fourply.app.ports_store import Kind
from fourply.web.room import Room
from fourply.web.warming import Warming


@pytest.fixture
def shop(tmp_path: Path) -> Shop:
    """A shop that nobody has looked at since it was opened."""
    return shop_at(tmp_path)


def works_read(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Return where it is entered of which shows the works are read from now on."""
    store, read = shop.app.state.room.parts.store, []
    every = store.every

    def told(kind: Kind, scope: str, **more: Any) -> Any:
        if kind is Kind.WORK:
            read.append(scope)
        return every(kind, scope, **more)

    monkeypatch.setattr(store, "every", told)
    return read


def test_after_it_the_first_page_of_a_show_reads_no_work(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    room: Room = shop.app.state.room
    Warming(room).run()
    read = works_read(shop, monkeypatch)
    with TestClient(shop.app, base_url=BASE) as client:
        assert client.get(f"/shows/{shop.show}").status_code == 200
    assert read == []


def test_without_it_the_first_page_does(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    read = works_read(shop, monkeypatch)
    with TestClient(shop.app, base_url=BASE) as client:
        assert client.get(f"/shows/{shop.show}").status_code == 200
    assert shop.show in read


def test_of_a_room_that_ends_nothing_is_read(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    room: Room = shop.app.state.room
    read = works_read(shop, monkeypatch)
    room.stop()
    Warming(room).run()
    assert read == []
