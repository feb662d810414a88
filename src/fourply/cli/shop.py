"""The shop's store on the command line: where it is, who is at it."""

from __future__ import annotations

import getpass
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import click

from fourply.cli.parts import parts
from fourply.errors import CannotBackUp
from fourply.settings import data_folder, database_address

if TYPE_CHECKING:
    from fourply.app.keep import Desk

data_option = click.option(
    "--data",
    type=click.Path(path_type=Path, file_okay=False),
    help="Folder of the shop's data; FOURPLY_DATA or the system's usual place unless given.",
)


def is_kept(data: Path | None) -> bool:
    """Tell whether there is a shop in the folder, or in a database that FOURPLY_DATABASE names."""
    return database_address() is not None or (data_folder(data) / "shop.sqlite").exists()


@contextmanager
def desk(data: Path | None, *, mend: bool = False) -> Iterator[Desk]:
    """Give the desk of whoever calls, on the shop in the folder; the first of a day makes a backup."""
    from fourply.app.keep import Desk  # noqa: PLC0415 (imported when called)

    store = parts().store(data_folder(data), database_address(), mend=mend)
    try:
        try:
            store.backup_if_due()
        except CannotBackUp as bad:
            click.echo(f"{click.style('warning', fg='yellow')}  {bad}", err=True)
        yield Desk(store, _who())
    finally:
        store.close()


def _who() -> str:
    try:
        return getpass.getuser()
    except (OSError, KeyError):  # a number without a name
        return ""
