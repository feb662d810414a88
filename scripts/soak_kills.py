"""Kills whoever changes a shop, a thousand times, then lets eight edit at once: nothing acknowledged may be lost.

First a server is killed while four clients change its shop, then a process that edits one without a server.

    .venv-test/bin/python scripts/soak_kills.py [--kills 1000] [--edits 10000] [--database sqlite|postgresql]

Both databases unless one is named; PostgreSQL where this machine has a server. Fails at the first change that is lost.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

ROOT = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(ROOT), str(ROOT / "src")]

from tests.store import hardship, server  # noqa: E402 - found by the line above
from tests.web import killing  # noqa: E402

from fourply.store.engine import sqlite_url  # noqa: E402


@contextmanager
def _database(kind: str, folder: Path) -> Iterator[str]:
    if kind == "sqlite":
        yield sqlite_url(folder / "shop.sqlite")
        return
    with server.server(durable=True) as address, server.database(address) as url:
        yield url


def _soak(kind: str, kills: int, edits: int, seed: int) -> None:
    for told, killed in (("server", killing.killed_while_serving), ("editor", hardship.killed_again_and_again)):
        with TemporaryDirectory() as name, _database(kind, Path(name)) as url:
            began = time.monotonic()
            kept = killed(url, Path(name), kills, seed) if kills else 0
            print(f"{kind}: {kills} kills of the {told}, {kept} changes answered, all there, {_since(began)}")
    with TemporaryDirectory() as name, _database(kind, Path(name)) as url:
        began = time.monotonic()
        done, refused = hardship.edited_by_many(url, Path(name), edits) if edits else (0, 0)
        print(f"{kind}: {done} edits done, {refused} refused as stale, none lost, {_since(began)}")


def _since(began: float) -> str:
    return f"{time.monotonic() - began:.0f} s"


def main() -> int:
    """Run what the arguments ask for; returns the exit code."""
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--kills", type=int, default=1000)
    options.add_argument("--edits", type=int, default=10_000)
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--database", choices=("sqlite", "postgresql"))
    asked = options.parse_args()
    for kind in [asked.database] if asked.database else ["sqlite", "postgresql"]:
        if kind == "postgresql" and (why := server.why_not()):
            print(f"{kind}: skipped: {why}")
            continue
        _soak(kind, asked.kills, asked.edits, asked.seed)
    return 0


if __name__ == "__main__":
    sys.exit(main())
