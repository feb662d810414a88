"""How planning grows with a shop: time and memory at 10, 100, 1 000 works and, when asked, 10 000, over many boards.

    .venv-test/bin/python benchmarks/shop.py [--works 10 100 1000] [--steps 20] [--workers 2]

A framer with ten thousand works on the books plans them material by material, so the work should grow no faster than
the list. The rule: a work is 6 to 20 in by 6 to 20 in, in eighths, with borders of 2, 2 1/2 or 3 in; each fourth mat is
doubled; a mat is of one of `works / 25` boards (at least 1, at most 60), its fallout the work less 1/4 in. Each
board comes in 32 x 40 and 40 x 60 in. The draw is seeded with the number of works. The same problems are planned in
one process and in workers, each way as a whole process of its own, imports included; the plans must be equal.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import os
import random
import resource
import subprocess
import sys
import time
from typing import Any

from fourply import wiring
from fourply.app.ports import Task
from fourply.app.solving import Flat, FlatSolved, Long, solve
from fourply.planning.budget import Budget
from fourply.planning.problem import Piece, Problem, Rect, Stock

EIGHTH = 3_175_000
SIZES = (10, 100, 1000)
_MOST_BOARDS = 60
_WORKS_A_BOARD = 25
_SHEETS = (
    Stock(key="32 x 40", w=256 * EIGHTH, h=320 * EIGHTH, cost=1000),
    Stock(key="40 x 60", w=320 * EIGHTH, h=480 * EIGHTH, cost=2100),
)


def pieces(works: int) -> dict[int, list[Piece]]:
    """Return the blanks of so many works by board, the same ones every time."""
    draw = random.Random(works)  # noqa: S311 (a benchmark, not a secret)
    boards = min(_MOST_BOARDS, max(1, works // _WORKS_A_BOARD))
    found: dict[int, list[Piece]] = {board: [] for board in range(boards)}
    for number in range(works):
        width, height = (draw.randint(6 * 8, 20 * 8) for _ in "wh")
        border = draw.choice((16, 20, 24))
        size = ((width + 2 * border) * EIGHTH, (height + 2 * border) * EIGHTH)
        fallout = Rect((width - 2) * EIGHTH, (height - 2) * EIGHTH)
        for mat in range(2 if number % 4 == 0 else 1):
            key = f"{number}/mat.{mat + 1}"
            found[draw.randrange(boards)].append(Piece(key=key, w=size[0], h=size[1], fallouts=(fallout,)))
    return {board: each for board, each in found.items() if each}


def tasks(works: int, steps: int) -> list[Task[Flat | Long]]:
    """Return the planning of each board of a shop with so many works."""
    return [
        Task(
            f"board {board}",
            Flat(Problem(pieces=tuple(each), stock=_SHEETS, fallout_cost=10), Budget(steps=steps)),
            len(each),
        )
        for board, each in pieces(works).items()
    ]


class Unwatched:
    """Listens to nothing."""

    def standing(self, task: int, cost: int, bound: int) -> None:
        """Take no note."""

    def finished(self, task: int) -> None:
        """Take no note."""

    def waiting(self) -> None:
        """Do nothing."""


def one_way(works: int, steps: int, workers: int) -> None:
    """Plan a shop in so many processes (1: this one alone) and print what came of it as JSON."""
    results = wiring.compute(workers)(solve, tasks(works, steps), Unwatched())
    plans = [result.plan for result in results if isinstance(result, FlatSolved)]
    if len(plans) < len(results):
        sys.exit(f"{len(results) - len(plans)} boards could not be planned")
    memory = [resource.getrusage(who).ru_maxrss // 1024 for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
    facts = {
        "boards": len(plans),
        "gap": 1 - sum(plan.lower_bound for plan in plans) / sum(plan.cost for plan in plans),
        "plans": hashlib.sha256(repr(plans).encode()).hexdigest(),
        "memory": "/".join(str(mb) for mb in memory if mb),
    }
    print(json.dumps(facts))


def measured(works: int, steps: int, workers: int) -> tuple[float, dict[str, Any]]:
    """Return the wall seconds of a process that plans a shop, imports included, and what came of it."""
    began = time.perf_counter()
    command = [sys.executable, __file__, "--one", str(works), "--steps", str(steps), "--workers", str(workers)]
    said = subprocess.run(command, stdout=subprocess.PIPE, check=True).stdout
    return time.perf_counter() - began, json.loads(said)


def table(sizes: list[int], steps: int, workers: int) -> None:
    """Print a row for each size: here, then in workers."""
    print(f"{steps} steps a board; {workers} workers on {os.cpu_count()} cores; Python {sys.version.split()[0]}")
    print("| works | boards | gap | here, s | s a work | MB | workers, s | quicker | MB, parent/worker | plans |")
    print("| ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | --- |")
    for works in sizes:
        alone, here = measured(works, steps, 1)
        shared, there = measured(works, steps, workers)
        row = (
            works,
            here["boards"],
            f"{100 * here['gap']:.2f} %",
            f"{alone:.1f}",
            f"{alone / works:.4f}",
            here["memory"],
            f"{shared:.1f}",
            f"{alone / shared:.2f}",
            there["memory"],
            "equal" if here["plans"] == there["plans"] else "DIFFERENT",
        )
        print("|", " | ".join(map(str, row)), "|", flush=True)


def main() -> None:
    """Read the call and print the table."""
    call = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    call.add_argument("--works", type=int, nargs="+", default=list(SIZES), help="numbers of works")
    call.add_argument("--steps", type=int, default=20, help="search for each board")
    call.add_argument("--workers", type=int, default=os.cpu_count() or 2, help="worker processes")
    call.add_argument("--one", type=int, help=argparse.SUPPRESS)
    wish = call.parse_args()
    if wish.one is not None:
        one_way(wish.one, wish.steps, wish.workers)
    else:
        table(wish.works, wish.steps, wish.workers)


if __name__ == "__main__":
    main()
