"""How fast the server answers: live resolve, lists of ten thousand works, twenty people at once, a long list kept.

    .venv-test/bin/python benchmarks/web.py [--short]

A server is started as `./run serve` starts it, on a shop of its own in a temporary folder, and asked over HTTP on this
machine. Times are those of the whole request as its client sees it; for live resolve also the server's own share
(Server-Timing). The twenty people pause a moment after each answer, as people do; a run without pauses follows.
"""

from __future__ import annotations

import argparse
import json
import os
import platform
import random
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from itertools import count
from pathlib import Path
from threading import Thread
from typing import Any, NamedTuple

import httpx2

AT = "/api/v1"
FILE = {"Content-Type": "application/octet-stream"}
WORKS = 10_000
ROWS = 50_000
CLIENTS = 20
WORDS = ("Weir", "Sluice", "Mill race", "Quay", "Lock", "Étude", "Ferry", "Harbour wall")


class Server(NamedTuple):
    """A running server: its process and its address."""

    process: subprocess.Popen[str]
    address: str

    def client(self) -> httpx2.Client:
        """Return a client with a connection of its own."""
        return httpx2.Client(base_url=self.address, timeout=600)

    def memory(self) -> int:
        """Return the most memory that it has used, in MB; 0 where the system does not tell."""
        status = Path(f"/proc/{self.process.pid}/status")
        lines = status.read_text(encoding="ascii").splitlines() if status.exists() else []
        return next((int(line.split()[1]) // 1024 for line in lines if line.startswith("VmHWM")), 0)


@contextmanager
def served(folder: str) -> Iterator[Server]:
    """Give a server of the shop in a folder."""
    command = [sys.executable, "-m", "fourply", "serve", "--port", "0", "--data", folder]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as process:
        try:
            line = process.stdout.readline() if process.stdout else ""
            yield Server(process, line.split()[3])
        finally:
            process.kill()


def rows(number: int, first: int = 1) -> bytes:
    """Return a list of so many works."""
    lines = (
        f"{n},{WORDS[n % 8]} {n},Person {n % 40},{8 + n % 13} {n % 8}/8,{10 + n % 17}"
        for n in range(first, first + number)
    )
    return ("No,Title,Artist,Width,Height\n" + "\n".join(lines) + "\n").encode()


def new_show(client: httpx2.Client, title: str) -> str:
    """Keep a show; returns its id."""
    value = {"title": title, "unit": "in", "order": "width x height", "currency": "USD"}
    answer = client.post(f"{AT}/shows", json={"value": value})
    answer.raise_for_status()
    found: str = answer.json()["id"]
    return found


def keep_rows(client: httpx2.Client, show: str, data: bytes) -> tuple[float, int]:
    """Keep a list as long work; returns the seconds and how many words of progress came."""
    began = time.perf_counter()
    answer = client.post(f"{AT}/shows/{show}/lists/keep", content=data, headers={**FILE, "Prefer": "respond-async"})
    answer.raise_for_status()
    told, state = 0, ""
    with client.stream("GET", f"{answer.headers['Location']}/events") as events:
        for line in events.iter_lines():
            if line.startswith("data: "):
                told, state = told + 1, json.loads(line[6:])["state"]
    if state != "done":
        sys.exit(f"the list was not kept: {state}")
    return time.perf_counter() - began, told


def share(times: list[float], part: float) -> float:
    """Return the time within which this part of all requests were answered."""
    return sorted(times)[min(len(times) - 1, int(part * len(times)))]


def line(what: str, times: list[float], bound: str) -> None:
    """Print one line of the table; times in milliseconds."""
    p50, p95, most = share(times, 0.5), share(times, 0.95), max(times)
    print(f"| {what} | {len(times)} | {p50:.1f} | {p95:.1f} | {most:.1f} | {bound} |", flush=True)


def timed(ask: Callable[[], httpx2.Response]) -> tuple[float, float, int]:
    """Return the milliseconds of a request, the server's own among them, and its status."""
    began = time.perf_counter()
    answer = ask()
    took = (time.perf_counter() - began) * 1000
    return took, float(answer.headers["Server-Timing"].rpartition("=")[2]), answer.status_code


def live(client: httpx2.Client, works: list[str], requests: int, where: str) -> None:
    """Resolve kept works with another border each time, as a hand that drags one asks for it."""
    whole, own = [], []
    for number in range(requests):
        wish = {"work": works[number % len(works)], "rules": {"border": f"{2 + number % 40 / 16} in"}}
        took, served_in, status = timed(lambda wish=wish: client.post(f"{AT}/live", json=wish))  # type: ignore[misc]
        if status != httpx2.codes.OK:
            sys.exit(f"live resolve answered {status}")
        if number >= 5:  # the first few load the show
            whole.append(took)
            own.append(served_in)
    line(f"live resolve with drawing data, {where}, the server's share", own, "15 ms")
    line(f"live resolve with drawing data, {where}, whole request", whole, "")


def lists(client: httpx2.Client, show: str, requests: int) -> None:
    """Ask for pages of the works in many ways."""
    ways = {
        "first page": {"sort": "place"},
        "by title": {"sort": "title"},
        "by maker, backwards": {"sort": "maker", "descending": "true"},
        "searched": {"text": "etude person"},
        "of one maker": {"maker": "Person 7"},
    }
    for name, way in ways.items():
        asked = {"scope": show, **way}
        times = [timed(lambda asked=asked: client.get(f"{AT}/works", params=asked))[0] for _ in range(requests)]  # type: ignore[misc]
        line(f"{WORKS:,} works, {name}", times, "100 ms")
    after, times = "", []
    for _ in range(requests):
        asked = {"scope": show, "sort": "title", "after": after, "limit": "200"}
        began = time.perf_counter()
        page = client.get(f"{AT}/works", params=asked).json()
        times.append((time.perf_counter() - began) * 1000)
        after = page["next"]
    line(f"{WORKS:,} works, one page of 200 after the other", times, "100 ms")


class Person:
    """One of many who look, drag, type and change at once."""

    def __init__(self, server: Server, show: str, works: list[str], number: int) -> None:
        self.server, self.show, self.works = server, show, works
        self.draw = random.Random(number)  # noqa: S311 (a benchmark, not a secret)
        self.times: list[float] = []
        self.codes: Counter[int] = Counter()

    def work(self, seconds: float, pause: float) -> None:
        """Work for so long, resting about `pause` seconds after each answer."""
        until = time.perf_counter() + seconds
        with self.server.client() as client:
            while time.perf_counter() < until:
                took, _, status = timed(lambda: self.one(client))
                self.times.append(took)
                self.codes[status] += 1
                time.sleep(pause * self.draw.uniform(0.5, 1.5))

    def one(self, client: httpx2.Client) -> httpx2.Response:
        """Ask for one thing."""
        what, work = self.draw.random(), self.draw.choice(self.works)
        if what < 0.5:
            border = f"{self.draw.randint(32, 64)}/16 in"
            return client.post(f"{AT}/live", json={"work": work, "rules": {"border": border}})
        if what < 0.75:
            asked = {"scope": self.show, "text": self.draw.choice(WORDS), "sort": "title", "limit": "20"}
            return client.get(f"{AT}/works", params=asked)
        found = client.get(f"{AT}/works/{work}")
        if what < 0.9:
            return found
        value = {**found.json()["value"], "stage": self.draw.choice(("to do", "in hand", "ready"))}
        return client.put(f"{AT}/works/{work}", json={"value": value}, headers={"If-Match": found.headers["ETag"]})


def people(server: Server, show: str, works: list[str], seconds: float, pause: float) -> None:
    """Let twenty people work at once."""
    everybody = [Person(server, show, works, number) for number in range(CLIENTS)]
    with ThreadPoolExecutor(CLIENTS) as pool:
        list(pool.map(lambda person: person.work(seconds, pause), everybody))
    codes = sum((person.codes for person in everybody), Counter[int]())
    told = f"pausing {pause:g} s" if pause else "without pause"
    line(f"{CLIENTS} clients for {seconds:g} s, {told}", [t for each in everybody for t in each.times], "200 ms")
    print(f"| answers: {dict(sorted(codes.items()))} | | | | | no error |")
    bad = {code for code in codes if code >= 400 and code != 412}
    if bad:
        sys.exit(f"errors: {bad}")


def ending(server: Server) -> float:
    """Return how many seconds the server takes to end with three open streams."""
    opened = count()

    def follow() -> None:
        with server.client() as client, client.stream("GET", f"{AT}/events") as events:
            for _ in events.iter_lines():
                next(opened)

    for _ in range(3):
        Thread(target=follow, daemon=True).start()
    time.sleep(1)
    began = time.perf_counter()
    server.process.send_signal(signal.SIGTERM)
    server.process.wait(30)
    return time.perf_counter() - began


def main() -> None:
    """Print all of it as a table."""
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0] if __doc__ else "")
    parser.add_argument("--short", action="store_true", help="less of everything, for each change")
    short = parser.parse_args().short
    requests, seconds, long_list = (60, 8, 5000) if short else (400, 60, ROWS)
    print(f"Python {platform.python_version()}, {os.cpu_count()} cores, load {os.getloadavg()[0]:.1f}\n")
    with tempfile.TemporaryDirectory() as folder, served(folder) as server, server.client() as client:
        show = new_show(client, "Harbour")
        keep_rows(client, show, rows(WORKS))
        page: dict[str, Any] = client.get(f"{AT}/works", params={"scope": show, "limit": "100"}).json()
        works = [each["id"] for each in page["items"]]
        small = new_show(client, "Quay")
        keep_rows(client, small, rows(40))
        few = [each["id"] for each in client.get(f"{AT}/works", params={"scope": small}).json()["items"]]
        print("| what | requests | p50 ms | p95 ms | most ms | bound |\n| --- | --- | --- | --- | --- | --- |")
        live(client, few, requests, "40 works")
        live(client, works, requests, f"{WORKS:,} works")
        lists(client, show, requests)
        people(server, small, few, seconds, 0.25)
        people(server, small, few, seconds / 4, 0)
        before = server.memory()
        took, told = keep_rows(client, new_show(client, "Archive"), rows(long_list))
        print(f"\nA list of {long_list:,} rows kept in {took:.1f} s, {told} words of progress; ", end="")
        print(f"memory at most {before} MB before it, {server.memory()} MB after")
        print(f"Ended {ending(server):.2f} s after SIGTERM with three open streams")


if __name__ == "__main__":
    main()
