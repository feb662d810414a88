"""`./run shows`: the shows that are kept."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from fourply.cli.shop import data_option, desk

if TYPE_CHECKING:
    from fourply.app.keep_lists import ShowLine

_SORTS = ("title", "due", "changed")


@click.command("shows")
@click.argument("text", default="")
@click.option("--sort", type=click.Choice(_SORTS), default="title", show_default=True, help="What comes first.")
@click.option("--archived", is_flag=True, help="Those that were put away.")
@data_option
def command(text: str, sort: str, *, archived: bool, data: Path | None) -> None:
    """List the kept shows, those alone in which every word of TEXT is found where it is given."""
    from fourply.app.keep_lists import show_lines  # noqa: PLC0415 (imported when called)

    with desk(data) as found:
        lines = list(show_lines(found, text, sort, archived=archived))
    for line in lines:
        click.echo(_told(line))
    if not lines:
        click.echo("No show is kept that matches." if text else "No show is kept yet; begin with  ./run keep SHOWFILE")


def _told(line: ShowLine) -> str:
    due = f", due {line.due.isoformat()}" if line.due else ""
    client = f", for {line.client}" if line.client else ""
    works = "1 work" if line.works == 1 else f"{line.works} works"
    return f"{click.style(line.title, bold=True)}  {works}, {line.stage}{due}{client}"
