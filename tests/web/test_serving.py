"""The server as a process: its streams, and how it ends."""

from __future__ import annotations

import json
import os
import queue
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Thread
from typing import Any

import httpx2
import pytest
from tests.web.shops import AT, SHOW

PATIENCE = 30
"""Seconds for what takes a moment on an idle machine."""
SOON = 2.0
TRIES = 4
"""A machine that is busy with other things may be slow once, but not each time."""


@contextmanager
def served(folder: Path) -> Iterator[tuple[subprocess.Popen[str], httpx2.Client]]:
    """Give a server of the shop in a folder, and a client of it."""
    command = [sys.executable, "-m", "fourply", "serve", "--port", "0", "--data", str(folder)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as server:
        try:
            assert server.stdout is not None
            address = server.stdout.readline().split()[3]
            with httpx2.Client(base_url=address, timeout=PATIENCE) as client:
                yield server, client
        finally:
            server.kill()


class Follower:
    """Reads a stream of events in a thread."""

    def __init__(self, client: httpx2.Client, path: str) -> None:
        self.events: queue.Queue[dict[str, Any]] = queue.Queue()
        self.open = queue.Queue[int]()
        self.ended = queue.Queue[str]()
        Thread(target=self._read, args=(client, path), daemon=True).start()

    def _read(self, client: httpx2.Client, path: str) -> None:
        try:
            with client.stream("GET", path) as answer:
                for line in answer.iter_lines():
                    if line.startswith("retry"):
                        self.open.put(answer.status_code)
                    if line.startswith("data: "):
                        self.events.put(json.loads(line.removeprefix("data: ")))
            self.ended.put("whole")
        except httpx2.HTTPError as bad:
            self.ended.put(type(bad).__name__)


def kept(client: httpx2.Client, title: str) -> str:
    answer = client.post(f"{AT}/shows", json={"value": {**SHOW, "title": title}})
    assert answer.status_code == 201
    found: str = answer.json()["id"]
    return found


def test_what_others_do_is_told(tmp_path: Path) -> None:
    with served(tmp_path) as (_, client), served(tmp_path) as (_, other):
        kept(client, "before")
        follower = Follower(client, f"{AT}/events?after=0")
        assert follower.open.get(timeout=PATIENCE) == 200
        assert follower.events.get(timeout=PATIENCE)["label"] == "new show before"
        kept(client, "here")
        assert follower.events.get(timeout=PATIENCE)["seq"] == 2
        kept(other, "in another process")
        assert follower.events.get(timeout=PATIENCE)["label"] == "new show in another process"
        again = Follower(client, f"{AT}/events?after=2")
        assert again.events.get(timeout=PATIENCE)["seq"] == 3


def test_demo_says_where_its_wall_and_a_design_are(tmp_path: Path) -> None:
    """The second start finds the demo there already, and says the same pages of it."""
    command = [sys.executable, "-m", "fourply", "serve", "--port", "0", "--demo"]
    pages = []
    for _ in range(2):
        environment = {**os.environ, "FOURPLY_DATA": str(tmp_path)}
        with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=environment) as server:
            assert server.stdout is not None
            said = [server.stdout.readline().split() for _ in range(3)]
            for what, address in said[1:]:
                answer = httpx2.get(address)
                assert (answer.status_code, "Tide Mill" in answer.text) == (200, True), what
            server.send_signal(signal.SIGTERM)
            assert server.wait(PATIENCE) == 0
        pages.append([(what, address.split("/", 3)[3]) for what, address in said[1:]])
    assert pages[0] == pages[1]
    assert [what for what, _ in pages[0]] == ["wall", "design"]
    assert not (tmp_path / "shop.sqlite").exists(), "the demo is a shop of its own"


def ended(server: subprocess.Popen[str], how: signal.Signals) -> float:
    """Return how long a server takes to end well."""
    began = time.monotonic()
    server.send_signal(how)
    assert server.wait(PATIENCE) == 0
    return time.monotonic() - began


def soonest(once: Callable[[int], float]) -> float:
    """Return the least of a few tries, as many as are needed."""
    best = float("inf")
    for number in range(TRIES):
        best = min(best, once(number))
        if best < SOON:
            break
    return best


@pytest.mark.parametrize("how", [signal.SIGTERM, signal.SIGINT])
def test_it_ends_soon_with_open_streams(tmp_path: Path, how: signal.Signals) -> None:
    def once(number: int) -> float:
        with served(tmp_path) as (server, client):
            kept(client, f"Quay {number}")
            followers = [Follower(client, f"{AT}/events") for _ in range(3)]
            for each in followers:
                each.open.get(timeout=PATIENCE)
            with socket.create_connection((client.base_url.host, client.base_url.port or 0)) as idle:
                idle.send(b"GET / HTTP/1.1\r\nHost: 127.0.0.1\r\n")  # and never the rest of it
                took = ended(server, how)
            how_they_ended = {each.ended.get(timeout=PATIENCE) for each in followers}
            return took if how_they_ended == {"whole"} else float("inf")

    assert soonest(once) < SOON
    with served(tmp_path) as (_, client):
        assert client.get(f"{AT}/shows?name=Quay%200").json()["total"] == 1


def planning(client: httpx2.Client, title: str) -> str:
    """Return the address of work that will take a while."""
    show = kept(client, title)
    for number in range(30):
        given = {"id": str(number), "size": f"{8 + number % 7} {number % 8}/8 x {10 + number % 9}"}
        assert client.post(f"{AT}/works/typed", json={"scope": show, "given": given}).status_code == 201
    address: str = client.post(f"{AT}/shows/{show}/plans", json={"seconds": 60}).headers["Location"]
    return address


def test_it_ends_soon_while_it_plans(tmp_path: Path) -> None:
    def once(number: int) -> float:
        with served(tmp_path) as (server, client):
            follower = Follower(client, f"{planning(client, f'Quay {number}')}/events")
            while follower.events.get(timeout=PATIENCE)["stage"] != "planning":
                pass
            return ended(server, signal.SIGTERM)

    assert soonest(once) < SOON


def test_planning_can_be_cancelled(tmp_path: Path) -> None:
    with served(tmp_path) as (_, client):
        job = planning(client, "Quay")
        follower = Follower(client, f"{job}/events")
        while follower.events.get(timeout=PATIENCE)["stage"] != "planning":
            pass
        assert client.delete(job).status_code == 202
        states: list[str] = []
        while not states or states[-1] == "running":
            states.append(follower.events.get(timeout=PATIENCE)["state"])
        assert states[-1] == "cancelled"
        assert client.get(f"{AT}/plans").json()["total"] == 0


def test_a_port_that_is_taken_is_told(tmp_path: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = str(taken.getsockname()[1])
        command = [sys.executable, "-m", "fourply", "serve", "--port", port, "--data", str(tmp_path)]
        ended = subprocess.run(command, capture_output=True, text=True, timeout=PATIENCE, check=False)
    assert (ended.returncode, ended.stdout) == (1, "")
    assert "port" in ended.stderr


def test_nobody_but_this_machine_is_listened_to(tmp_path: Path) -> None:
    with served(tmp_path) as (_, client):
        assert client.base_url.host == "127.0.0.1"
        own = socket.gethostbyname(socket.gethostname())
        if own.startswith("127."):
            pytest.skip("this machine has no other address")
        with pytest.raises(OSError, match=r"refused|unreachable|timed out"):
            socket.create_connection((own, client.base_url.port or 0), timeout=1).close()
