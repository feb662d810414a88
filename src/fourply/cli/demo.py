"""`./run demo`: the demo show, made into out/."""

from __future__ import annotations

from pathlib import Path

import click

from fourply.cli.make import Wish, make
from fourply.cli.options import Reading


@click.command("demo")
@click.option("--metric", is_flag=True, help="The small metric show instead of the one in inches.")
@click.option("--out", type=click.Path(path_type=Path, file_okay=False), default="out", show_default=True)
def command(out: Path, *, metric: bool) -> int:
    """Make the demo show, an invented one, and say where everything is. Its files are copied beside the results."""
    from fourply.app.demo import copy_demo  # noqa: PLC0415 (imported when called)

    show = copy_demo(out / "show", metric=metric)
    code = make(show, out, Reading(None, None, ()), Wish())
    click.echo(f"The show itself is in {show.parent}: change it and run  ./run make {show} --out {out}")
    work = "H1" if metric else "TM-01"
    click.echo(f"Open {out / 'tickets.pdf'} and {out / 'cutting.pdf'} first; ask  ./run why {show} {work}")
    click.echo("See it as a wall, and each work on its design page:  ./run serve --demo")
    return code
