"""`./run calibrate`: a test cut to print, and the constants that its readings make."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from fourply.cli.options import PAPERS
from fourply.cli.shop import cutters, data_option, desk

if TYPE_CHECKING:
    from fourply.app.calibrating import Found

_FAULTS = 2


@click.command("calibrate")
@click.argument("cutter")
@click.option(
    "--measured",
    type=click.Path(path_type=Path, exists=True, dir_okay=False),
    help="The readings of a test cut, CSV or TOML; without it the sheet is printed.",
)
@click.option("--leave-out", multiple=True, metavar="BOX", help="Leave a reading out.")
@click.option("--keep", multiple=True, metavar="BOX", help="Keep a reading although it does not fit.")
@click.option("--accept", is_flag=True, help="Put the constants into the cutter.")
@click.option("--caliper", default="", help="Caliper of the board of the test cut; that of common board unless given.")
@click.option(
    "--paper", type=click.Choice(PAPERS, case_sensitive=False), help="Paper; that of the region unless named."
)
@click.option(
    "--out",
    type=click.Path(path_type=Path, file_okay=False),
    default=Path(),
    help="Folder for the sheet and its table; the present one unless given.",
)
@data_option
def command(
    cutter: str,
    measured: Path | None,
    leave_out: tuple[str, ...],
    keep: tuple[str, ...],
    *,
    accept: bool,
    caliper: str,
    paper: str | None,
    out: Path,
    data: Path | None,
) -> int:
    """Print the test cut of a CUTTER with the table to fill in; with --measured say what the readings tell.

    Nothing of the cutter changes without --accept.
    """
    from fourply.app import calibrating  # noqa: PLC0415 (imported when called)
    from fourply.app.cutters import keep_cutter  # noqa: PLC0415

    shop = cutters(data)
    profile = shop.cutter(cutter)
    if measured is None:
        sheet, table = calibrating.write_sheet(profile, caliper, paper, out)
        click.echo(f"{sheet}  what to cut and what to read")
        click.echo(f"{table}  fill in, then: ./run calibrate '{profile.name}' --measured {table}")
        return 0
    found = calibrating.read_readings(profile, measured, leave_out, keep)
    _tell(found)
    if found.calibrated is None:
        return _FAULTS
    if not accept:
        click.echo("Nothing is changed; --accept puts these constants into the cutter.")
        return _FAULTS if found.misfits else 0
    accepted = calibrating.accept(profile, found.calibrated)
    with desk(data) as at:
        keep_cutter(at, accepted, shop.own.get(profile.name))
    click.echo(f"The constants of {profile.name} are in force.")
    return 0


def _tell(found: Found) -> None:
    for fault in found.faults:
        click.echo(click.style("fault  ", fg="red") + str(fault), err=True)
    names, values = (max((len(row[at]) for row in found.constants), default=0) for at in (0, 1))
    for name, value, without in found.constants:
        more = f"{' ' * (values - len(value))}  without what does not fit: {without}" if without else ""
        click.echo(f"{name:<{names}}  {click.style(value, bold=True)}{more}")
    for misfit in found.misfits:
        click.echo(f"{click.style('does not fit', fg='yellow')}: {misfit}. Read it again, --leave-out or --keep it.")
    for line in found.advice:
        click.echo(line)
