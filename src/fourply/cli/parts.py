"""What the command line is handed by whoever starts it, since it may not know who does the work behind it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

import click

if TYPE_CHECKING:
    from fourply.app.keep import Desk
    from fourply.app.ports import Compute
    from fourply.app.ports_store import Store


def nothing(workers: int | None, cluster: str | None) -> None:
    """Have nothing to get ready."""


class Opens(Protocol):
    """Opens the shop kept in a folder; `database` is the address of one elsewhere, `mend` as for a restore."""

    def __call__(self, data: Path, database: str | None = None, *, mend: bool = False) -> Store:
        """Return the store."""


def no_store(data: Path, database: str | None = None, *, mend: bool = False) -> Store:
    """Keep nothing."""
    del data, database, mend
    raise LookupError("the command line was started without a store")


def no_server(desk: Desk, port: int, ready: Callable[[str], None]) -> None:
    """Serve nobody."""
    del desk, port, ready
    raise LookupError("the command line was started without a server")


@dataclass(frozen=True, slots=True)
class Parts:
    """`compute` gives what does long work, by the number of workers and the address of a cluster.

    `store` opens what the shop keeps. `prepare` takes what `compute` does and begins to get it ready, while something
    else is done. `serve` serves a desk's store at a port of this machine until it is stopped, and says its address.
    """

    compute: Callable[[int | None, str | None], Compute]
    store: Opens = no_store
    prepare: Callable[[int | None, str | None], None] = nothing
    serve: Callable[[Desk, int, Callable[[str], None]], None] = no_server


def parts() -> Parts:
    """Return what the running command was handed."""
    found = click.get_current_context().find_object(Parts)
    if found is None:
        raise LookupError("the command line was started without its parts")
    return found
