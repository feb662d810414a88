"""`./run backup`: everything that is typed, in one file."""

from __future__ import annotations

from pathlib import Path

import click

from fourply.cli.report import working
from fourply.cli.shop import data_option, desk


@click.command("backup")
@data_option
def command(*, data: Path | None) -> None:
    """Write a backup of the shop's records and their history, open it to see that it is whole, and say where it is.

    Pictures are never changed and stay where they are; ./run export holds them too.
    """
    with desk(data) as found:
        with working("backing up"):
            written = found.store.backup()
        click.echo(written)
