"""The demo shows: copied to where a person can read and change them, or kept with their pictures."""

from __future__ import annotations

from importlib import resources
from importlib.resources.abc import Traversable
from pathlib import Path
from tempfile import TemporaryDirectory

from fourply.app.hanging import hang, sheets_of
from fourply.app.keep import Desk
from fourply.app.keep_pictures import laid_by
from fourply.app.keep_shows import find_show, keep_file
from fourply.app.ports_store import Record
from fourply.errors import Unknown
from fourply.files.works import Asked

_TITLES = {False: "The Tide Mill: a river drawn", True: "Herbarium"}
_SHOWN = "TM-14"


def copy_demo(to: Path, *, metric: bool) -> Path:
    """Return the show file of the demo, copied with its list into the folder `to`."""
    names = ("metric.toml", "metric.csv") if metric else ("show.toml", "works.csv")
    to.mkdir(parents=True, exist_ok=True)
    for name in names:
        (to / name).write_bytes(_demo().joinpath(name).read_bytes())
    return to / names[0]


def keep_demo(desk: Desk, *, metric: bool) -> Record:
    """Keep a demo show with the pictures of its works; raises Taken where there is a show of its title."""
    with TemporaryDirectory() as folder:
        kept = keep_file(desk, copy_demo(Path(folder), metric=metric), Asked())
    show = kept.record.id
    chosen = {}
    for sheet in sheets_of(desk, show):
        file = _demo().joinpath("pictures", f"{sheet.number}.webp")
        chosen[sheet.key] = laid_by(desk, file.read_bytes(), file.name)
    hang(desk, show, chosen, f"hang {len(chosen)} pictures")
    return kept.record


def demo_pages(desk: Desk) -> tuple[tuple[str, str], ...]:
    """Return what there is to open of the demo shows, each kept first unless the shop has one of its title.

    That is the wall of the larger one, and the design page of a work of it.
    """
    found = [_kept(desk, metric=metric) for metric in (True, False)][-1]
    works = {each.number: each.record.id for each in sheets_of(desk, found.id)}
    return ("wall", f"/shows/{found.id}"), ("design", f"/works/{works.get(_SHOWN, next(iter(works.values())))}/design")


def _kept(desk: Desk, *, metric: bool) -> Record:
    try:
        return find_show(desk, _TITLES[metric])
    except Unknown:
        return keep_demo(desk, metric=metric)


def _demo() -> Traversable:
    return resources.files("fourply.files").joinpath("demo")
