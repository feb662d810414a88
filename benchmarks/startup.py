"""What it costs to start: each heavy package, each compiled loop, and the way to the first worker.

    .venv/bin/python -I benchmarks/startup.py [RUNS]

Every figure is that of a fresh process. `wall` is what a person waits, and grows with whatever else the machine does;
`cpu` is what the process itself takes, and is the one to compare.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Iterable, Sequence
from pathlib import Path
from statistics import median

ROOT = Path(__file__).resolve().parents[1]
MODULES = (
    "click",
    "rich.progress",
    "multiprocessing.connection",
    "numpy",
    "highspy",
    "llvmlite.binding",
    "numba",
    "reportlab.pdfgen.canvas",
    "resvg_py",
    "fourply.cli.make",
    "fourply.app.shows",
    "fourply.app.make",
    "fourply.app.loaded",
)
LOOPS = """
import time
from fourply.planning import blockloop, kernels

def timed(name, loop):
    load = loop._compile_for_args
    def loading(*given, **named):
        began = time.process_time()
        try:
            return load(*given, **named)
        finally:
            print(name, time.process_time() - began)
    loop._compile_for_args = loading

for module in (kernels, blockloop):
    for name, loop in vars(module).items():
        if hasattr(loop, "_compile_for_args") and loop.__module__ == module.__name__:
            timed(name, loop)

from fourply.planning.warm import load
load()
"""
DEMO = ("make", str(ROOT / "src/fourply/files/demo/show.toml"))


def measured(arguments: Sequence[str]) -> tuple[float, float]:
    """Return wall and processor seconds of one fresh Python; what it has forked counts where it has ended first."""
    began = time.perf_counter()
    child = subprocess.Popen([sys.executable, "-I", *arguments], stdout=subprocess.DEVNULL, cwd=ROOT)
    _, status, used = os.wait4(child.pid, 0)
    if os.waitstatus_to_exitcode(status) not in {0, 2}:
        sys.exit(f"failed: {arguments}")
    return time.perf_counter() - began, used.ru_utime + used.ru_stime


def row(name: str, samples: Iterable[tuple[float, float]]) -> str:
    """Return a row of the table: least and median of both."""
    wall, cpu = (sorted(column) for column in zip(*samples, strict=True))
    return f"| {name} | {wall[0]:.3f} | {median(wall):.3f} | {cpu[0]:.3f} | {median(cpu):.3f} |"


def loops(runs: int) -> dict[str, list[float]]:
    """Return the processor seconds that loading each compiled loop from the compiler's cache takes, in each run."""
    taken: dict[str, list[float]] = {}
    for _ in range(runs):
        said = subprocess.run([sys.executable, "-I", "-c", LOOPS], capture_output=True, text=True, check=True).stdout
        for line in said.splitlines():
            name, seconds = line.split()
            taken.setdefault(name, []).append(float(seconds))
    return taken


def main() -> None:
    """Print the tables."""
    runs = int(sys.argv[1]) if len(sys.argv) > 1 else 7
    print(f"{runs} runs each, load {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores\n")
    print("| import | wall min | wall median | cpu min | cpu median |\n| --- | ---: | ---: | ---: | ---: |")
    print(row("nothing", [measured(["-c", "pass"]) for _ in range(runs)]))
    for module in MODULES:
        print(row(f"`{module}`", [measured(["-c", f"import {module}"]) for _ in range(runs)]), flush=True)
    print("\n| compiled loop | cpu min | cpu median |\n| --- | ---: | ---: |")
    for name, seconds in loops(runs).items():
        print(f"| `{name}` | {min(seconds):.4f} | {median(seconds):.4f} |")
    print("\n| command | wall min | wall median | cpu min | cpu median |\n| --- | ---: | ---: | ---: | ---: |")
    made = ["-m", "fourply", *DEMO, "--quiet", "--out"]
    print(row("`make`, 24 works", [measured([*made, str(ROOT / "out" / "startup")]) for _ in range(runs)]))
    print(f"\nload {os.getloadavg()[0]:.1f} at the end")


if __name__ == "__main__":
    main()
