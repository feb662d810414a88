"""What takes long to load is loaded only where it is needed."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
HEAVY = {"ezdxf", "highspy", "multiprocessing", "numba", "numpy", "reportlab", "resvg_py", "rich", "distributed"}
HEAVY |= {"PIL", "alembic", "psycopg", "sqlalchemy"}
LOADED = """
import os, sys, threading
import fourply.app.loaded
from fourply.planning import blockloop, kernels
from fourply.planning.warm import warm

def loops():
    called = {f"{name} {n}" for module in (kernels, blockloop) for name, loop in vars(module).items()
              for n in range(len(getattr(loop, "signatures", ())))}
    return called

assert threading.active_count() == 1
print(sorted(loops()))
before = loops()
warm()
print(sorted(loops() - before))
"""


def heavy(module: str) -> set[str]:
    code = f"import sys, {module}; print(*sys.modules)"
    said = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    return HEAVY & set(said.split())


@pytest.mark.parametrize(
    "module",
    [
        *("fourply.cli.main", "fourply.cli.make", "fourply.cli.shows", "fourply.wiring"),
        *("fourply.app.shows", "fourply.app.make", "fourply.app.printing", "fourply.app.keep_shows"),
    ],
)
def test_what_is_heavy_is_not_loaded_to_begin_with(module: str) -> None:
    assert not heavy(module)


def test_workers_are_forked_with_every_compiled_loop_loaded() -> None:
    said = subprocess.run([sys.executable, "-c", LOADED], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    loaded, missing = said.splitlines()
    assert "fill" in loaded
    assert missing == "[]"
