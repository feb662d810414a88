"""`./run open`: a kept show, or all sizes of one of its works."""

from __future__ import annotations

from pathlib import Path

import click

from fourply.cli.options import Reading, opened_kept
from fourply.cli.report import tell_faults, tell_summary
from fourply.cli.shop import data_option

_FAULTS = 2


@click.command("open")
@click.argument("name")
@click.argument("work", required=False)
@data_option
def command(name: str, work: str | None, *, data: Path | None) -> int:
    """List the works of the kept show called NAME, or print every size of one WORK of it."""
    from fourply.app.summary import summary, work_lines  # noqa: PLC0415 (imported when called)
    from fourply.bench.cutter import NOMINAL  # noqa: PLC0415

    del data  # it is looked for with the show
    found = opened_kept(name, Reading(None, None, ()), NOMINAL)
    if work is not None:
        tell_summary(summary(found, work))
        return 0
    for number, title, size, findings in work_lines(found):
        click.echo(f"{click.style(number, bold=True)}  {title}  {size}{f'  {findings}' if findings else ''}")
    tell_faults(found, None)
    return _FAULTS if found.faults else 0
