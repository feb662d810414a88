"""`./run keep`: a show file or a list, kept in the shop's store."""

from __future__ import annotations

from pathlib import Path

import click

from fourply.cli.options import ORDERS, UNITS, Reading, asked
from fourply.cli.report import progress, working
from fourply.cli.shop import data_option, desk

_FAULTS = 2


@click.command("keep")
@click.argument("file", type=click.Path(path_type=Path, exists=True, dir_okay=False))
@click.option("--title", default="", help="Title of the show; its own, or the name of the list, unless given.")
@click.option("--into", metavar="SHOW", help="Add the works of a list to the kept show of that title.")
@click.option("--order", type=click.Choice(ORDERS), help="Which of two numbers comes first.")
@click.option("--unit", type=click.Choice(UNITS), help="Unit of bare numbers.")
@data_option
def command(file: Path, title: str, into: str | None, *, order: str | None, unit: str | None, data: Path | None) -> int:
    """Keep the show in FILE, a show file (TOML) or a list of works (CSV, XLSX), so that it is opened by its title.

    The file itself is left as it is, and is not looked at again.
    """
    from fourply.app.keep_shows import keep_file  # noqa: PLC0415 (imported when called)

    if into is not None:
        return _into(file, into, Reading(unit, order, ()), data)
    with desk(data) as found, working("reading and keeping"):
        kept = keep_file(found, file, asked(Reading(unit, order, ())), title)
    for note in kept.notes:
        click.echo(note)
    for fault in kept.faults:
        click.echo(click.style("fault  ", fg="red") + str(fault), err=True)
    called = kept.title
    click.echo(f"Kept {called} with {kept.works} works. Look at it with  ./run open '{called}'")
    return _FAULTS if kept.faults else 0


def _into(file: Path, into: str, reading: Reading, data: Path | None) -> int:
    from fourply.app.keep_shows import find_show  # noqa: PLC0415 (imported when called)
    from fourply.app.keep_works import bring_in_file  # noqa: PLC0415

    with desk(data) as found, progress(quiet=False) as told:
        count, read = bring_in_file(found, find_show(found, into).id, file, asked(reading), told)
    for note in read.notes:
        click.echo(note)
    for fault in read.faults:
        click.echo(click.style("fault  ", fg="red") + str(fault), err=True)
    click.echo(f"Added {count} works to {into}.")
    return _FAULTS if read.faults else 0
