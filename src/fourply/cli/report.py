"""How a run is told in a terminal: progress, faults by row, totals. Colour only on a terminal."""

from __future__ import annotations

import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from fourply.app.make import Made, Totals
    from fourply.app.ports import Progress
    from fourply.app.shows import Opened

_BAR = 24
_EVERY = 0.05
_SHOWN_FAULTS = 200


@contextmanager
def progress(*, quiet: bool) -> Iterator[Progress]:
    """Give what tells progress on standard error; nothing where that is no terminal."""
    if quiet or not sys.stderr.isatty():
        yield _untold
        return
    last = 0.0

    def tell(stage: str, done: int, total: int) -> None:
        nonlocal last
        now = time.monotonic()
        if done < total and now - last < _EVERY:
            return
        last = now
        full = _BAR * done // max(total, 1)
        click.echo(f"\r{stage:<10} {'█' * full}{'·' * (_BAR - full)} {done}/{total}\x1b[K", nl=False, err=True)

    try:
        yield tell
    finally:
        click.echo("\r\x1b[K", nl=False, err=True)


def _untold(stage: str, done: int, total: int) -> None:
    del stage, done, total


def tell_faults(opened: Opened, made: Made | None) -> None:
    """Print every fault by file, row and column, and every piece that no plan holds, on standard error."""
    for fault in opened.faults[:_SHOWN_FAULTS]:
        click.echo(click.style("fault  ", fg="red") + str(fault), err=True)
    if len(opened.faults) > _SHOWN_FAULTS:
        click.echo(f"… and {len(opened.faults) - _SHOWN_FAULTS} more faults, all in show.json", err=True)
    for unplanned in made.cutting.unplanned[:_SHOWN_FAULTS] if made else ():
        part = unplanned.part
        told = f"work {part.work}, {part.name} of {part.material}: {unplanned.why}"
        click.echo(click.style("no plan  ", fg="yellow") + told, err=True)


def tell_made(opened: Opened, made: Made, totals: Totals) -> None:
    """Print what was read as what, what was made, and where it is."""
    for note in opened.show.notes:
        click.echo(note)
    for file in made.files[:6]:
        click.echo(f"  {file}")
    if made.files[6:]:
        click.echo(f"  {made.files[6].parent}  ({len(made.files) - 6} drawings)")
    cost = ", ".join(f"{amount} {currency}" for currency, amount in totals.cost.items()) or "nothing"
    click.echo(
        f"{totals.works} works made, {totals.faults} with faults; {totals.findings} findings to look at. "
        f"{totals.plans} cutting plans, {totals.proved} proved to be the least. To buy: {cost}."
    )
