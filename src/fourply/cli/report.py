"""How a run is told in a terminal: progress, faults by row, totals. Colour only on a terminal."""

from __future__ import annotations

import shutil
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import Event, Thread
from typing import TYPE_CHECKING, Protocol

import click

if TYPE_CHECKING:
    from fourply.app.make import Made, Totals
    from fourply.app.ports import Progress, Standing
    from fourply.app.shows import Opened
    from fourply.app.summary import Summary

_BAR = 24
_EVERY = 0.05
_LOOKS_EVERY = 0.5
_SHOWN_FAULTS = 200
_PROVED = "proved to be the least"
_FAULT_LEVEL = "fault"


@contextmanager
def progress(*, quiet: bool) -> Iterator[Progress]:
    """Give what tells progress on standard error; nothing where that is no terminal."""
    if quiet or not sys.stderr.isatty():
        yield _untold
        return
    noted = ""

    def tell(stage: str, done: int, total: int, standing: Standing | None = None) -> None:
        nonlocal noted
        if standing is not None:
            open_ = f"gap {100 * standing.gap:.2f} %" if standing.gap else _PROVED
            noted = f"  {standing.material} {standing.cost}, {open_}"
        elif done == total:
            noted = ""
        full = _BAR * done // max(total, 1)
        line(f"{stage:<10} {'█' * full}{'·' * (_BAR - full)} {done}/{total}{noted}", last=done == total)

    with _line() as line:
        yield tell


@contextmanager
def working(stage: str) -> Iterator[None]:
    """Tell on standard error that something goes on, and for how long, once it has taken more than half a second."""
    if not sys.stderr.isatty():
        yield
        return
    began, over = time.monotonic(), Event()

    def tell() -> None:
        while not over.wait(_LOOKS_EVERY):
            line(f"{stage} … {time.monotonic() - began:.0f} s, Ctrl-C stops it", last=True)

    with _line() as line:
        thread = Thread(target=tell, daemon=True)
        thread.start()
        try:
            yield
        finally:
            over.set()
            thread.join()


@contextmanager
def standing(*, quiet: bool) -> Iterator[Callable[[int, int], None]]:
    """Give what tells on standard error how one plan stands, by cost and bound; nothing where that is no terminal."""
    if quiet or not sys.stderr.isatty():
        yield lambda *_: None
        return
    with _line() as line:
        yield lambda cost, bound: line(f"cost {cost}, {known(cost, bound)} (bound {bound})", last=False)


def known(cost: int, bound: int) -> str:
    """Say what is known of a plan that costs so much, and which none can cost less than the bound."""
    return f"at most {100 * (1 - bound / cost):.2f} % of it could still be saved" if cost > bound else _PROVED


class _Line(Protocol):
    def __call__(self, text: str, *, last: bool) -> None: ...


@contextmanager
def _line() -> Iterator[_Line]:
    """Give what writes one line of a terminal over and over, not too often unless it is the last; it is wiped."""
    before = 0.0

    def write(text: str, *, last: bool) -> None:
        nonlocal before
        now = time.monotonic()
        if last or now - before >= _EVERY:
            before = now
            width = shutil.get_terminal_size().columns - 1
            click.echo(f"\r{text[:width]}\x1b[K", nl=False, err=True)

    try:
        yield write
    finally:
        click.echo("\r\x1b[K", nl=False, err=True)


def _untold(stage: str, done: int, total: int, standing: Standing | None = None) -> None:
    del stage, done, total, standing


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
    for file in made.files[:7]:
        click.echo(f"  {file}")
    if made.files[7:]:
        click.echo(f"  {made.files[7].parent}  ({len(made.files) - 7} drawings)")
    cost = ", ".join(f"{amount} {currency}" for currency, amount in totals.cost.items()) or "nothing"
    click.echo(
        f"{totals.works} works made, {totals.faults} with faults; {totals.findings} findings to look at. "
        f"{totals.plans} cutting plans, {totals.proved} proved to be the least. To buy: {cost}."
    )
    for each in totals.service:
        click.echo(f"Frames: {each}.")


def tell_summary(told: Summary) -> None:
    """Print the sizes of one work, and below what should be looked at."""
    width = max(len(name) for name, _, _ in told.sizes)
    for name, text, note in told.sizes:
        click.echo(f"{name:<{width}}  {click.style(text, bold=True)}{f'  {note}' if note else ''}")
    for level, says, remedy in told.findings:
        click.echo(f"{click.style(level, fg='red' if level == _FAULT_LEVEL else 'yellow')}: {says} {remedy}")
