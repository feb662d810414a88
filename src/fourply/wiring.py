"""Where the parts are put together: the one place that knows all of them. Each is imported when it is asked for."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from fourply.app.ports import Compute
from fourply.cli.parts import Parts

if TYPE_CHECKING:
    from fourply.app.keep import Desk
    from fourply.app.ports_store import Store

LOADS = ("fourply.app.loaded",)
"""What worker processes have loaded before they are forked."""


def parts() -> Parts:
    """Return what the command line is handed."""
    return Parts(compute=compute, prepare=prepare, store=store, serve=serve)


def prepare(workers: int | None = None, cluster: str | None = None) -> None:
    """Begin to get ready what `compute` will need, and return at once."""
    if cluster is None and workers != 1:
        from fourply.compute.start import prepare as begin  # noqa: PLC0415

        begin(LOADS)


def compute(workers: int | None = None, cluster: str | None = None) -> Compute:
    """Return what does long work: a cluster by its address, so many processes (1: this one), or by its size."""
    if cluster is not None:
        from fourply.compute.cluster import Cluster  # noqa: PLC0415

        return Cluster(cluster)
    if workers == 1:
        from fourply.compute.here import here  # noqa: PLC0415

        return here
    if workers is not None:
        from fourply.compute.pool import Pool  # noqa: PLC0415

        return Pool(workers, LOADS)
    from fourply.compute.sized import sized  # noqa: PLC0415

    return partial(sized, loads=LOADS)


def store(data: Path, database: str | None = None, *, mend: bool = False) -> Store:
    """Return the shop kept in a folder, its records in the database of an address where one is named.

    `mend` sets a damaged database file aside and begins a new one, for a backup to be put back into.
    """
    from fourply.store.engine import sqlite_url  # noqa: PLC0415
    from fourply.store.mending import opened  # noqa: PLC0415

    return opened(database or sqlite_url(data / "shop.sqlite"), data, mend=mend)


def serve(desk: Desk, port: int, ready: Callable[[str], None]) -> None:
    """Serve a desk's store to browsers and programs on this machine until stopped; `ready` is told the address."""
    from fourply.web.parts import Parts as WebParts  # noqa: PLC0415
    from fourply.web.serving import serve as run  # noqa: PLC0415

    run(WebParts(store=desk.store, compute=compute, who=desk.who), port, ready)
