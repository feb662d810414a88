"""`./run restore`: the shop as a backup has it."""

from __future__ import annotations

from pathlib import Path

import click

from fourply.cli.parts import parts
from fourply.cli.report import working
from fourply.cli.shop import data_option
from fourply.settings import data_folder, database_address


@click.command("restore")
@click.argument("file", type=click.Path(path_type=Path, exists=True, dir_okay=False))
@data_option
def command(file: Path, *, data: Path | None) -> None:
    """Put everything back as the backup FILE has it; what is there now is backed up first."""
    store = parts().store(data_folder(data), database_address(), mend=True)
    try:
        with working("restoring"):
            before = store.restore(file)
    finally:
        store.close()
    click.echo(f"Restored from {file}." + (f" What was there before is in {before}." if before else ""))
