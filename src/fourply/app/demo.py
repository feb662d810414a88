"""The demo show, copied to where a person can read and change it."""

from __future__ import annotations

from importlib import resources
from pathlib import Path


def copy_demo(to: Path, *, metric: bool) -> Path:
    """Return the show file of the demo, copied with its list into the folder `to`."""
    names = ("metric.toml", "metric.csv") if metric else ("show.toml", "works.csv")
    to.mkdir(parents=True, exist_ok=True)
    for name in names:
        source = resources.files("fourply.files").joinpath("demo", name)
        (to / name).write_bytes(source.read_bytes())
    return to / names[0]
