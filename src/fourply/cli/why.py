"""`./run why`: why a figure is what it is."""

from __future__ import annotations

import json
from pathlib import Path

import click

from fourply.cli.options import SHOW, OnCutter, Reading, on_cutter, opened
from fourply.cli.options import reading as with_reading


@click.command("why")
@click.argument("show", type=SHOW)
@click.argument("work")
@click.argument("figure", required=False)
@with_reading
@on_cutter
@click.option("--json", "as_json", is_flag=True, help="Print the lines as JSON.")
def command(show: Path | str, work: str, figure: str | None, reading: Reading, *, on: OnCutter, as_json: bool) -> None:
    """Print the working of one FIGURE of a WORK with all that it stands on, or of every figure.

    SHOW is a show file or a list; FIGURE is a path such as mat.1.border.bottom.
    """
    from fourply.app.why import why  # noqa: PLC0415 (imported when called)

    cutter = on.cutter()
    lines = why(opened(show, reading, cutter), work, figure, cutter)
    if as_json:
        click.echo(json.dumps([line.as_data() for line in lines], ensure_ascii=False, indent=1))
        return
    for line in lines:
        click.echo(f"{'  ' * line.depth if figure else ''}{click.style(line.figure, bold=True)} = {line.sentence}")
        if figure and line.reason:
            click.echo(f"{'  ' * line.depth}  {click.style(line.reason, dim=True)}")
