"""`./run one`: all sizes of one work, typed on the command line."""

from __future__ import annotations

from pathlib import Path

import click

from fourply.cli.make import Wish, make_opened
from fourply.cli.options import Reading, asked, pairs
from fourply.cli.options import reading as with_reading
from fourply.cli.report import tell_summary


@click.command("one", context_settings={"ignore_unknown_options": True})
@click.argument("size")
@click.option("--title", default="", help="What the work is called.")
@with_reading
@click.option("--out", type=click.Path(path_type=Path, file_okay=False), help="Folder for its ticket and plan.")
@click.option("--why", "figure", help="Only this figure, with all that it stands on.")
def command(size: str, title: str, reading: Reading, *, out: Path | None, figure: str | None) -> int:
    """Print every size of one work of SIZE, such as "10 3/4 x 13 1/2 in", and what should be looked at.

    The rules are the shop's defaults; change them with --set, such as --set border="3 in" --set mats="cream 4-ply".
    """
    from fourply.app.one import NUMBER, one_work  # noqa: PLC0415 (imported when called)
    from fourply.app.summary import summary  # noqa: PLC0415
    from fourply.app.why import why  # noqa: PLC0415

    found = one_work(size, title, asked(reading), pairs(reading.settings))
    if not found.packages:
        raise click.ClickException(str(found.faults[0]))
    if figure:
        for line in why(found, NUMBER, figure):
            click.echo(f"{'  ' * line.depth}{click.style(line.figure, bold=True)} = {line.sentence}")
        return 0
    tell_summary(summary(found, NUMBER))
    if out is None:
        return 0
    return make_opened(found, out, Wish())
