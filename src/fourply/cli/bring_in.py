"""`./run import`: a whole shop out of an export."""

from __future__ import annotations

from pathlib import Path

import click

from fourply.cli.report import working
from fourply.cli.shop import data_option, desk


@click.command("import")
@click.argument("file", type=click.Path(path_type=Path, exists=True, dir_okay=False))
@data_option
def command(file: Path, *, data: Path | None) -> None:
    """Fill an empty shop from FILE, which ./run export wrote."""
    with desk(data) as found, working("reading the export"):
        count = found.store.bring_in(file)
    click.echo(f"{count} records are here, with their history.")
