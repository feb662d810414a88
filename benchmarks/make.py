"""How long `make` takes and what memory it needs, at 24, 100 and 1 000 works, and which part takes how much.

    .venv-test/bin/python benchmarks/make.py [WORKS ...]

Each size runs as a whole process of its own, so that the figures are those of a person at a terminal; the shares come
from a second run, in this process, stage by stage.
"""

from __future__ import annotations

import csv
import os
import random
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from fourply import wiring
from fourply.app.cutting import Means, plan_cutting
from fourply.app.ordering import QUICK, How, load_times, order_work
from fourply.app.papers import Papers
from fourply.app.ports import silent
from fourply.app.printing import front_drawings, print_sheets
from fourply.app.search import budget_for
from fourply.app.shows import open_show
from fourply.files.works import Asked

SIZES = (24, 100, 1000)
_MATS = ("white 4-ply", "cream 4-ply", "grey 4-ply", "cream 4-ply + blue 4-ply @ 1/4 in")
_MOULDINGS = ("ash 3/4", "black 1 1/4", "oak 1")


def write_list(path: Path, works: int) -> Path:
    """Write a list of so many works, the same ones every time, and return its path."""
    draw = random.Random(works)  # noqa: S311 (a benchmark, not a secret)
    with path.open("w", newline="", encoding="utf-8") as file:
        rows = csv.writer(file)
        rows.writerow(("no", "title", "width (in)", "height (in)", "border", "bottom", "mats", "moulding"))
        for number in range(1, works + 1):
            width, height = (draw.randint(6 * 8, 20 * 8) for _ in "wh")
            rows.writerow(
                (
                    number,
                    f"Study {number}",
                    f"{width / 8}",
                    f"{height / 8}",
                    draw.choice(("2", "2 1/2", "3")),
                    draw.choice(("equal", "+1/2")),
                    draw.choice(_MATS),
                    draw.choice(_MOULDINGS),
                )
            )
    return path


def whole(works: int, folder: Path) -> tuple[float, float]:
    """Return wall seconds and peak memory in MB of one `make` as a process of its own."""
    path, out = write_list(folder / f"{works}.csv", works), folder / f"out-{works}"
    began = time.perf_counter()
    child = subprocess.Popen([sys.executable, "-m", "fourply", "make", str(path), "--out", str(out), "--quiet"])
    _, status, used = os.wait4(child.pid, 0)
    seconds = time.perf_counter() - began
    if os.waitstatus_to_exitcode(status):
        sys.exit(f"make failed with {works} works")
    return seconds, used.ru_maxrss / 1024


def shares(works: int, folder: Path) -> dict[str, float]:
    """Return the seconds that each stage takes in this process, imports done."""
    path, papers = folder / f"{works}.csv", Papers.of_region(metric=False)
    means = Means(budget_for(None, None, time.perf_counter), wiring.compute())
    taken: dict[str, float] = {}

    def timed[T](stage: str, run: Callable[[], T]) -> T:
        began = time.perf_counter()
        result = run()
        taken[stage] = time.perf_counter() - began
        return result

    opened = timed("read and resolve", lambda: open_show(path, Asked(None, None)))
    cutting = timed("plan", lambda: plan_cutting(opened.packages, opened.show.materials, means))
    how = How(load_times(None), papers.cutter, QUICK)
    steps = timed("order", lambda: order_work(opened.show.title, opened.packages, cutting, how))
    timed("tickets, cutting sheets, bench list", lambda: print_sheets(opened, cutting, steps, papers, means))
    timed("drawings", lambda: list(front_drawings(opened.packages, papers, silent)))
    return taken


def main() -> None:
    """Print the table."""
    sizes = [int(size) for size in sys.argv[1:]] or list(SIZES)
    print(f"{'works':>6} {'seconds':>8} {'MB':>6}   share of each part, seconds in one process")
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for works in sizes:
            seconds, memory = whole(works, folder)
            parts = ", ".join(f"{stage} {took:.2f}" for stage, took in shares(works, folder).items())
            print(f"{works:>6} {seconds:>8.2f} {memory:>6.0f}   {parts}")


if __name__ == "__main__":
    main()
