"""A server that is killed again and again while people change the shop: what was answered is there, once.

Each client has works of its own and knows what they are to be. A request that got no answer is sent again under its key
to the next server, as a program would: it must then be done once, whether the first server had kept it or not.
"""

from __future__ import annotations

import os
import random
import signal
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from threading import Thread
from typing import Any

import httpx2
from tests.store.editing import Editors
from tests.store.shops import is_whole
from tests.web.shops import AT, FILE, SHOW

from fourply.app.ports_store import Entry
from fourply.store.backup import verify
from fourply.wiring import store

CLIENTS = 4
PATIENCE = 60


@dataclass(frozen=True)
class Asked:
    """A change that was sent and not answered yet: how, where, with what; `key` makes it safe to send again."""

    method: str
    path: str
    key: str
    headers: Mapping[str, str] = field(default_factory=dict)
    json: Mapping[str, object] | None = None
    content: bytes | None = None


class Client:
    """One who changes works of a show of their own, and knows what each is to be: (title, version, archived)."""

    def __init__(self, number: int, seed: int) -> None:
        self.number = number
        self.works: dict[str, tuple[str, int, bool]] = {}
        self.answered = 0
        self.repeated = 0
        self.wrong = ""
        self._chance = random.Random(seed)  # noqa: S311 - which edits are made is no secret
        self._count = 0
        self._show = ""
        self._asked: Asked | None = None
        self._thread: Thread | None = None

    def begin(self, address: str) -> None:
        """Change one thing after the other, in a thread of its own, until the server is gone."""
        self._thread = Thread(target=self._work, args=(address,))
        self._thread.start()

    def end(self) -> None:
        """Wait until the server that is gone has been noticed."""
        if self._thread is not None:
            self._thread.join(PATIENCE)
            assert not self._thread.is_alive()

    def _work(self, address: str) -> None:
        try:
            with httpx2.Client(base_url=address, timeout=PATIENCE) as client:
                while True:
                    self.repeated += self._asked is not None
                    self._asked = asked = self._asked or self._next()
                    headers = {"Idempotency-Key": asked.key, **asked.headers}
                    body = {"json": asked.json} if asked.content is None else {"content": asked.content}
                    answer = client.request(asked.method, f"{AT}{asked.path}", headers=headers, **body)
                    if not answer.is_success:
                        self.wrong = f"{asked} -> {answer.status_code} {answer.text}"
                        return
                    self._take(asked, answer.json())
                    self._asked = None
                    self.answered += 1
        except httpx2.HTTPError:
            return

    def _next(self) -> Asked:
        self._count += 1
        name, key = f"{self.number}-{self._count}", f"client {self.number}, request {self._count}"
        if not self._show:
            return Asked("POST", "/shows", key, json={"value": {**SHOW, "title": f"Show {self.number}"}})
        here = [ident for ident, (_, _, archived) in self.works.items() if not archived]
        what = self._chance.choice(("new", "list", "change", "change", "archive") if here else ("new",))
        if what == "new":
            given = {"id": name, "title": name, "size": "9 x 12"}
            return Asked("POST", "/works/typed", key, json={"scope": self._show, "given": given})
        if what == "list":
            rows = "".join(f"{name}-{at},{name},{8 + at},10\n" for at in range(3))
            content = f"No,Title,Width,Height\n{rows}".encode()
            return Asked("POST", f"/shows/{self._show}/lists/keep?file=more.csv", key, FILE, content=content)
        ident = self._chance.choice(here)
        match = {"If-Match": f'"{self.works[ident][1]}"'}
        if what == "archive":
            return Asked("PUT", f"/works/{ident}/archived", key, match, {"archived": True})
        given = {"id": ident, "title": name, "size": "8 x 9"}
        return Asked("PUT", f"/works/{ident}/typed", key, match, {"given": given})

    def _take(self, asked: Asked, answer: dict[str, Any]) -> None:
        """Note what a request came to."""
        if asked.path == "/shows":
            self._show = answer["id"]
        elif asked.content is None:
            self.works[answer["id"]] = (answer["title"], answer["version"], answer["archived"])

    def hold(self, client: httpx2.Client) -> None:
        """Hold the shop to all that was answered. What a list brought is known from then on.

        A change that is not answered yet may have been kept: sent again, it has to come to what it would have.
        """
        found: dict[str, tuple[str, int, bool]] = {}
        after = ""
        while self._show:
            where = f"{AT}/works?scope={self._show}&archived=all&limit=500{after and f'&after={after}'}"
            page = client.get(where).json()
            found |= {each["id"]: (each["title"], each["version"], each["archived"]) for each in page["items"]}
            after = page["next"]
            if not after:
                break
        waiting = self._asked.path.split("/")[2] if self._asked and self._asked.method == "PUT" else ""
        sure = {ident: state for ident, state in self.works.items() if ident != waiting}
        assert {ident: found.get(ident) for ident in sure} == sure
        for ident in found.keys() - self.works.keys():  # rows of lists; from now on they are changed like all others
            self.works[ident] = found[ident]


def killed_while_serving(url: str, folder: Path, kills: int, seed: int, told: Callable[[str], None] = print) -> int:
    """Kill a server again and again while four change its shop; returns how many changes were answered.

    After each kill the next server has to have every one of them; in the end each was done once and the history is
    whole.
    """
    chance = random.Random(seed)  # noqa: S311
    clients = [Client(number, seed * CLIENTS + number) for number in range(CLIENTS)]
    with Editors("tests.web.loaded") as servers:
        for kill in range(kills + 1):
            address = folder / f"address-{kill}"
            (number,) = servers.start([{"do": "serve", "url": url, "folder": str(folder), "told": str(address)}])
            try:
                _wait_for(address)
                base = address.read_text(encoding="utf-8")
                with httpx2.Client(base_url=base, timeout=PATIENCE) as client:
                    for each in clients:
                        each.hold(client)
                if kill < kills:
                    _worked(clients, base, chance.uniform(0.0, 0.2))
            finally:
                os.kill(number, signal.SIGKILL)
                for each in clients:
                    each.end()
            assert servers.wait() == [-signal.SIGKILL]
            assert [each.wrong for each in clients if each.wrong] == []
            if kill % 100 == 99:
                answered = sum(each.answered for each in clients)
                told(f"{kill + 1} kills of the server, {answered} changes answered, all there, each once")
    _hold_history(url, folder, clients)
    return sum(each.answered for each in clients)


def _worked(clients: list[Client], base: str, seconds: float) -> None:
    """Let all work until something is answered, and a moment longer."""
    before = sum(each.answered for each in clients)
    for each in clients:
        each.begin(base)
    until = time.monotonic() + PATIENCE
    while sum(each.answered for each in clients) == before and not any(each.wrong for each in clients):
        assert time.monotonic() < until, "nothing was answered"
        time.sleep(0.002)
    time.sleep(seconds)


def _wait_for(path: Path) -> None:
    until = time.monotonic() + PATIENCE
    while not path.exists():
        assert time.monotonic() < until, "the server did not come up"
        time.sleep(0.002)


def _hold_history(url: str, folder: Path, clients: list[Client]) -> None:
    """Hold the history to what was answered: an entry for each, and at most one more for each who still waits."""
    kept = store(folder, url)
    try:
        entries: list[Entry] = []
        while page := kept.since(entries[-1].seq if entries else 0):
            entries += page
        assert [entry.seq for entry in entries] == [*range(1, len(entries) + 1)]
        answered = sum(each.answered for each in clients)
        assert answered <= len(entries) <= answered + CLIENTS
        assert all(is_whole(kept, scope) for scope in {entry.scope for entry in entries})
        if url.startswith("sqlite"):
            verify(folder / "shop.sqlite")
    finally:
        kept.close()
