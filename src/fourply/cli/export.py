"""`./run export`: the whole shop as plain files."""

from __future__ import annotations

from pathlib import Path

import click

from fourply.cli.report import working
from fourply.cli.shop import data_option, desk


@click.command("export")
@click.argument("file", type=click.Path(path_type=Path, dir_okay=False))
@data_option
def command(file: Path, *, data: Path | None) -> None:
    """Write the whole shop, history and pictures too, into FILE: a ZIP of JSON and pictures that any program can read.

    docs/keeping.md says what is in it; ./run import reads it into an empty shop.
    """
    with desk(data) as found:
        with working("writing the export"):
            written = found.store.export(file)
        click.echo(written)
