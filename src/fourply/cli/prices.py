"""`./run prices`: a supplier's price list, its changes shown before they are kept."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from fourply.cli.options import ORDERS, UNITS, Reading, asked
from fourply.cli.report import working
from fourply.cli.shop import data_option, desk

if TYPE_CHECKING:
    from fourply.app.keep_materials import PriceChange

_FAULTS = 2


@click.command("prices")
@click.argument("file", type=click.Path(path_type=Path, exists=True, dir_okay=False))
@click.option("--supplier", default="", help="Whose list it is; what that supplier no longer lists is told.")
@click.option("--unit", type=click.Choice(UNITS), help="Unit of bare numbers; the shop's unless given.")
@click.option("--order", type=click.Choice(ORDERS), help="Which of two numbers comes first; the shop's unless given.")
@click.option("--keep", is_flag=True, help="Keep the changes; without this they are only shown.")
@data_option
def command(file: Path, supplier: str, *, unit: str | None, order: str | None, keep: bool, data: Path | None) -> int:
    """Show what the list of materials in FILE (TOML, CSV, XLSX) would change in the shop's, and keep it with --keep."""
    from fourply.app.keep_materials import keep_prices, load_prices  # noqa: PLC0415 (imported when called)

    with desk(data) as found:
        with working("reading the list"):
            prices = load_prices(found, file, asked(Reading(unit, order, ())), supplier)
        for change in prices.changes:
            click.echo(_told(change))
        for name in prices.missing_names:
            click.echo(f"{click.style('not listed', fg='yellow')}  {name}: it stays as it is")
        for fault in prices.faults:
            click.echo(click.style("fault  ", fg="red") + str(fault), err=True)
        kept = keep_prices(found, prices.changes, supplier) if keep else ()
    many = "1 change" if len(prices.changes) == 1 else f"{len(prices.changes)} changes"
    click.echo(f"{many}, {'kept' if kept else 'nothing to keep' if keep else 'not kept yet: add --keep'}.")
    return _FAULTS if prices.faults else 0


def _told(change: PriceChange) -> str:
    name = click.style(change.name, bold=True)
    return f"{name}: {', '.join(change.words)}" if change.fields else f"{name}: new"
