"""The shop's store on the command line: where it is, who is at it."""

from __future__ import annotations

import getpass
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from fourply.cli.options import Reading, pairs
from fourply.cli.parts import parts
from fourply.errors import CannotBackUp
from fourply.settings import data_folder, database_address

if TYPE_CHECKING:
    from fourply.app.keep import Desk
    from fourply.app.shows import Opened
    from fourply.bench.cutter import Cutter

type Command = Callable[..., Any]

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


def opened_kept(title: str, reading: Reading, cutter: Cutter) -> Opened:
    """Return the kept show of a title, every work resolved; raises UsageError where there is none."""
    from fourply.app.keep_shows import find_show, open_kept  # noqa: PLC0415 (imported when called)

    data = click.get_current_context().params.get("data")
    if not is_kept(data):
        raise click.UsageError(f"there is no file {title[:200]}, and no show is kept in {data_folder(data)}")
    if reading.unit or reading.order:
        raise click.UsageError("a kept show has a unit and an order of its own; --unit and --order are for lists")
    with desk(data) as found:
        return open_kept(found, find_show(found, title).id, pairs(reading.settings), cutter)
