"""A shop with the demo show in it, for the tests of the design page."""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from importlib import resources
from pathlib import Path
from typing import Any

import uvicorn
from fastapi import FastAPI
from starlette.testclient import TestClient

from fourply.app.keep import Desk
from fourply.app.keep_shows import keep_file
from fourply.app.ports_store import Kind, Query
from fourply.compute.here import here
from fourply.files.works import Asked
from fourply.web.app import make_app
from fourply.web.parts import LOOPBACK, Limits, Parts
from fourply.wiring import store

BASE = "http://127.0.0.1:8421"
DEMO = Path(str(resources.files("fourply"))) / "files" / "demo" / "show.toml"


@dataclass(frozen=True)
class Shop:
    """An app, the show in it by its id, the ids of its works by their numbers."""

    app: FastAPI
    show: str
    works: dict[str, str]

    def page(self, number: str) -> str:
        """Return the address of the design page of a work."""
        return f"/works/{self.works[number]}/design"


def shop_at(folder: Path) -> Shop:
    """Return a shop in a folder with the demo show, kept unless it is there already."""
    kept = store(folder)
    known = [each.id for each in kept.find(Query(Kind.SHOW)).items]
    show = known[0] if known else keep_file(Desk(kept), DEMO, Asked()).record.id
    app = make_app(Parts(kept, lambda _workers, _cluster: here, hosts=LOOPBACK, limits=Limits(rate=1e9, burst=1e9)))
    return Shop(app, show, {each.value.listed.work.id: each.id for each in kept.every(Kind.WORK, show)})  # type: ignore[union-attr]


@dataclass(frozen=True)
class Caller:
    """Asks the routes of the design page of one shop."""

    client: TestClient
    shop: Shop

    def design(self, number: str) -> dict[str, Any]:
        """Return a design as it is kept."""
        return self._good(self.client.get(f"{self.shop.page(number)}.json"))

    def ask(self, number: str, **change: object) -> dict[str, Any]:
        """Return a design as a change would make it."""
        return self._good(self.client.post(f"{self.shop.page(number)}.json", json=change))

    def keep(self, number: str, version: int, **change: object) -> dict[str, Any]:
        """Keep a change; returns the answer with its status."""
        answer = self.client.put(f"{self.shop.page(number)}.json", json=change, headers={"If-Match": f'"{version}"'})
        return {"status": answer.status_code, **answer.json()}

    @staticmethod
    def _good(answer: Any) -> dict[str, Any]:
        assert answer.status_code == 200, answer.text
        found: dict[str, Any] = answer.json()
        return found


@contextmanager
def caller_at(folder: Path) -> Iterator[Caller]:
    """Give somebody who asks a shop in a folder."""
    shop = shop_at(folder)
    with TestClient(shop.app, base_url=BASE) as client:
        yield Caller(client, shop)
    shop.app.state.room.parts.store.close()


@contextmanager
def served(shop: Shop) -> Iterator[str]:
    """Serve a shop on a free port of this machine; gives its address."""
    server = uvicorn.Server(uvicorn.Config(shop.app, port=0, log_level="error", lifespan="off"))
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.01)
    port = server.servers[0].sockets[0].getsockname()[1]
    try:
        yield f"http://127.0.0.1:{port}"
    finally:
        server.should_exit = True
        thread.join(5)
        shop.app.state.room.stop()
        shop.app.state.room.parts.store.close()


def figure(design: dict[str, Any], path: str) -> str:
    """Return what a figure of a design says."""
    rows = [row for group in design["groups"] for row in group["rows"]]
    return next(str(each["text"]) for row in rows for each in row["figures"] if each["path"] == path)


def handle(design: dict[str, Any], name: str) -> dict[str, Any]:
    """Return a handle of a design."""
    return next(each for each in design["handles"] if each["name"] == name)
