"""The shop's store on the command line: where it is, who is at it."""

from __future__ import annotations

import getpass
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path
from threading import Event, Thread
from typing import TYPE_CHECKING

import click

from fourply.cli.parts import parts
from fourply.errors import FourplyError
from fourply.settings import data_folder, database_address

if TYPE_CHECKING:
    from fourply.app.cutters import Shop
    from fourply.app.keep import Desk
    from fourply.app.ports_store import Store

_PATIENCE = 0.3
"""Seconds that a backup which is being made has left when all else is over; it is whole or not there."""
_KEYS_LAST = timedelta(days=7)
"""How long a request may be repeated by its key: whoever lost an answer asks again within minutes."""

data_option = click.option(
    "--data",
    type=click.Path(path_type=Path, file_okay=False),
    help="Folder of the shop's data; FOURPLY_DATA or the system's usual place unless given.",
)


def is_kept(data: Path | None) -> bool:
    """Tell whether there is a shop in the folder, or in a database that FOURPLY_DATABASE names."""
    return database_address() is not None or (data_folder(data) / "shop.sqlite").exists()


@contextmanager
def desk(data: Path | None, *, apart: bool = False) -> Iterator[Desk]:
    """Give the desk of whoever calls, on the shop in the folder; the first of a day makes a backup.

    `apart` keeps it in that folder whatever FOURPLY_DATABASE names.
    """
    from fourply.app.keep import Desk  # noqa: PLC0415 (imported when called)

    store = parts().store(data_folder(data), None if apart else database_address())
    try:
        _see_to_the_day(store)
        yield Desk(store, _who())
    finally:
        store.close()


def cutters(data: Path | None) -> Shop:
    """Return the cutters of the shop in the folder; those that lie there as files are taken over and told.

    Where nothing is kept yet, those to start from, and nothing is begun.
    """
    from fourply.app.cutters import Shop, kept_shop, take_over  # noqa: PLC0415 (imported when called)

    folder = data_folder(data) / "cutters"
    if not is_kept(data) and not [*folder.glob("*.toml")]:
        return Shop()
    with desk(data) as at:
        taken = take_over(at, folder)
        for name in taken.names:
            click.echo(f"{name} is kept with the shop now; its file is set aside in {folder}", err=True)
        return kept_shop(at, taken.faults)


def _see_to_the_day(store: Store) -> None:
    """Make the backup of the day if it is due, and forget keys that nobody asks by any more."""
    try:
        if store.backup_if_due() is not None:
            store.forget_keys(datetime.now(UTC) - _KEYS_LAST)
    except FourplyError as bad:  # no reason to stop what somebody is about to do
        click.echo(f"{click.style('warning', fg='yellow')}  {bad}", err=True)


@contextmanager
def each_day(store: Store, every: float = 3600.0) -> Iterator[None]:
    """See to what each day wants meanwhile, looking every so many seconds whether its backup is due."""
    over = Event()

    def look() -> None:
        while not over.wait(every):
            _see_to_the_day(store)

    thread = Thread(target=look, daemon=True)
    thread.start()
    try:
        yield
    finally:
        over.set()
        thread.join(_PATIENCE)


def _who() -> str:
    try:
        return getpass.getuser()
    except (OSError, KeyError):  # a number without a name
        return ""
