"""What the command line is handed by whoever starts it, since it may not know who does the work behind it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from fourply.app.ports import Compute


def nothing(workers: int | None, cluster: str | None) -> None:
    """Have nothing to get ready."""


@dataclass(frozen=True, slots=True)
class Parts:
    """`compute` gives what does long work, by the number of workers and the address of a cluster.

    `prepare` takes the same and begins to get it ready, while something else is done.
    """

    compute: Callable[[int | None, str | None], Compute]
    prepare: Callable[[int | None, str | None], None] = nothing


def parts() -> Parts:
    """Return what the running command was handed."""
    found = click.get_current_context().find_object(Parts)
    if found is None:
        raise LookupError("the command line was started without its parts")
    return found
