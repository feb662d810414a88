"""`./run template`: the mats of one work at full size, to print."""

from __future__ import annotations

from pathlib import Path

import click

from fourply.cli.options import PAPERS, SHOW, SIDES, Reading, opened
from fourply.cli.options import reading as with_reading


@click.command("template")
@click.argument("show", type=SHOW)
@click.argument("work")
@click.option("--view", type=click.Choice(SIDES), default="back", show_default=True, help="The side that is seen.")
@click.option(
    "--paper", type=click.Choice(PAPERS, case_sensitive=False), help="Paper; that of the region unless named."
)
@click.option(
    "--out", type=click.Path(path_type=Path, dir_okay=False), help="The PDF; named after the work unless given."
)
@with_reading
def command(show: Path | str, work: str, view: str, reading: Reading, *, paper: str | None, out: Path | None) -> None:
    """Print the mats of one WORK of SHOW at full size: a key, then tiles with rulers and marks.

    Seen from the back, left and right change places, as on a board that is marked out and cut from its back.
    """
    from fourply.app.full_size import View, write_template  # noqa: PLC0415 (imported when called)
    from fourply.app.papers import Papers  # noqa: PLC0415

    found = opened(show, reading)
    papers = Papers.of_show(found, paper)
    path, pages = write_template(found, work, View(view), papers, out)
    tiles = "1 tile" if pages == 2 else f"{pages - 1} tiles"
    click.echo(f"{path}  {tiles}, seen from the {view}, on {papers.paper.name}")
    click.echo("Print at 100 %, no scaling to page, and measure the rulers before anything is cut.")
