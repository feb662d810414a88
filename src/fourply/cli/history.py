"""`./run history`: what was changed in a show or in the shop, undone, redone."""

from __future__ import annotations

from pathlib import Path

import click

from fourply.cli.shop import data_option, desk


@click.command("history")
@click.argument("name", required=False)
@click.option("--undo", is_flag=True, help="Take back the last change.")
@click.option("--redo", is_flag=True, help="Bring back the last change that was taken back.")
@click.option("--last", type=click.IntRange(1, 1000), default=20, show_default=True, help="How many changes to list.")
@data_option
def command(name: str | None, *, undo: bool, redo: bool, last: int, data: Path | None) -> None:
    """List the last changes to the kept show called NAME, or without one to what belongs to no show."""
    from fourply.app.keep import redo as bring_back  # noqa: PLC0415 (imported when called)
    from fourply.app.keep import undo as take_back  # noqa: PLC0415
    from fourply.app.keep_shows import SHOP, find_show  # noqa: PLC0415

    if undo and redo:
        raise click.UsageError("--undo and --redo take each other back; name one")
    with desk(data) as found:
        scope = SHOP if name is None else find_show(found, name).id
        if undo or redo:
            done = (take_back if undo else bring_back)(found, scope)
            click.echo(f"{'Taken back' if undo else 'Brought back'}: {done.entry.label}")
            return
        for entry in found.store.history(scope, limit=last).items:
            what = entry.label if entry.act.value == "do" else f"{entry.act.value} of {entry.label}"
            when = entry.at.astimezone().strftime("%Y-%m-%d %H:%M:%S")
            click.echo(f"{when}  {what}{f'  ({entry.who})' if entry.who else ''}")
