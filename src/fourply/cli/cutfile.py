"""`./run cutfile`: the cuts of one work for a machine."""

from __future__ import annotations

from pathlib import Path

import click

from fourply.cli.options import SHOW, SIDES, Reading, opened
from fourply.cli.options import reading as with_reading


@click.command("cutfile")
@click.argument("show", type=SHOW)
@click.argument("work")
@click.option("--out", required=True, type=click.Path(path_type=Path, file_okay=False), help="Folder for the files.")
@click.option("--format", "kind", type=click.Choice(("dxf", "svg")), default="dxf", show_default=True, help="Format.")
@click.option("--view", type=click.Choice(SIDES), default="back", show_default=True, help="The side that is seen.")
@click.option(
    "--line",
    "follow",
    type=click.Choice(("sight", "face")),
    default="sight",
    show_default=True,
    help="The line of a bevel that the machine follows.",
)
@with_reading
def command(show: Path | str, work: str, out: Path, reading: Reading, *, kind: str, view: str, follow: str) -> None:
    """Write the cuts of one WORK of SHOW at full size in millimetres, a file for each board.

    Each kind of cut stands on a layer of its own, named by board and cut; true lines and arcs, nothing flattened.
    """
    from fourply.app.full_size import Follow, Format, View, write_cut_files  # noqa: PLC0415 (imported when called)

    seen = (View(view), Follow(follow))
    for path, title in write_cut_files(opened(show, reading), work, Format(kind), seen, out):
        click.echo(f"{path}  {title}, {follow} line, seen from the {view}")
