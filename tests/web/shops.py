"""A small shop for the tests of the web: its store, its app, and one thing of each kind in it."""

from __future__ import annotations

import io
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from fastapi import FastAPI
from PIL import Image
from starlette.testclient import TestClient

from fourply.compute.here import here
from fourply.web.app import make_app
from fourply.web.parts import LOOPBACK, Limits, Parts
from fourply.wiring import store

AT = "/api/v1"
BASE = "http://127.0.0.1:8421"
FILE = {"Content-Type": "application/octet-stream"}
SHOW = {"title": "Quay", "unit": "in", "order": "width x height", "currency": "USD"}
BORDER = {"name": "any", "values": {"border": "3 in"}}
OFFCUT = {
    "piece": {
        "material": "white 4-ply",
        "size": {"width": 254_000_000, "height": 381_000_000},
        "cost": {"amount": "2.00", "currency": "USD"},
    },
    "number": "R1",
}
LIST = b"No,Title,Width,Height\n21,Weir,8,10\n22,Sluice,x,10\n"


def app_at(
    folder: Path, limits: Limits | None = None, hosts: frozenset[str] = LOOPBACK, database: str | None = None
) -> FastAPI:
    """Return the app of the shop in a folder, its records in a database if one is named; long work is done here."""
    limits = limits or Limits(rate=1e9, burst=1e9)
    return make_app(Parts(store(folder, database), lambda _workers, _cluster: here, hosts, limits=limits))


@contextmanager
def client_at(folder: Path, limits: Limits | None = None, database: str | None = None) -> Iterator[TestClient]:
    """Give a client of the shop in a folder."""
    app = app_at(folder, limits, database=database)
    with TestClient(app, base_url=BASE) as client:
        yield client
    app.state.room.jobs.wait(10)
    app.state.room.parts.store.close()


def png() -> bytes:
    """Return a small picture."""
    file = io.BytesIO()
    Image.new("RGB", (30, 20), "#336699").save(file, "PNG")
    return file.getvalue()


def made(client: TestClient, path: str, json: Mapping[str, object]) -> dict[str, Any]:
    """Return what was made at a path."""
    answer = client.post(f"{AT}{path}", json=json)
    assert answer.status_code == 201, answer.text
    found: dict[str, Any] = answer.json()
    return found


@dataclass(frozen=True)
class Seeds:
    """The ids of one thing of each kind, by its collection."""

    ids: dict[str, str]

    def __getitem__(self, collection: str) -> str:
        return self.ids[collection]


def seeded(client: TestClient) -> Seeds:
    """Keep one thing of each kind, with an entry to undo in each scope."""
    show = made(client, "/shows", {"value": SHOW})["id"]
    work = made(client, "/works/typed", {"scope": show, "given": {"id": "7", "title": "Weir", "size": "9 x 12"}})["id"]
    treatment = made(client, "/treatments", {"scope": show, "value": {"name": "wide", "rules": BORDER}})["id"]
    rack = made(client, "/rack", {"value": OFFCUT})["id"]
    material = made(client, "/materials/start", {"metric": False})["items"][0]["id"]
    picture = client.post(f"{AT}/pictures?file=a.png", content=png(), headers=FILE).json()["id"]
    job = client.post(f"{AT}/shows/{show}/plans", json={"steps": 20}).json()["id"]
    with client.stream("GET", f"{AT}/jobs/{job}/events") as events:
        assert '"state": "done"' in "".join(events.iter_text())
    plan = client.get(f"{AT}/jobs/{job}").json()["result"]["plan"]
    return Seeds(
        {
            "shows": show,
            "works": work,
            "treatments": treatment,
            "rack": rack,
            "materials": material,
            "pictures": picture,
            "plans": plan,
            "jobs": job,
        }
    )
