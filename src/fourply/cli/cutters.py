"""`./run cutters`: the cutters of the shop, and what to set on one for a border."""

from __future__ import annotations

from pathlib import Path

import click

from fourply.settings import data_folder

_FAULTS = 2
_PLACES = ("mid", "far", "near")


@click.command("cutters")
@click.argument("cutter", required=False)
@click.option("--border", help="Say what to set for this border at the back line.")
@click.option("--at", "place", type=click.Choice(_PLACES), default="mid", show_default=True, help="Where it is wanted.")
@click.option("--length", default="", help="Length of the cut, where the border is wanted at one of its ends.")
@click.option("--why", is_flag=True, help="The working of what to set.")
@click.option(
    "--data",
    type=click.Path(path_type=Path, file_okay=False),
    help="Folder of the shop's data; FOURPLY_DATA or the system's usual place unless given.",
)
def command(cutter: str | None, border: str | None, place: str, length: str, *, why: bool, data: Path | None) -> int:
    """List the cutters of the shop, or say of one CUTTER what to set for a border.

    Cutters are TOML files in the folder `cutters` of the shop's data; docs/cutters.md has every key.
    """
    from fourply.app.cutters import Place, open_shop, set_border, summary  # noqa: PLC0415 (imported when called)

    shop = open_shop(data_folder(data))
    for fault in shop.faults:
        click.echo(click.style("fault  ", fg="red") + str(fault), err=True)
    if border is None:
        for profile in shop.cutters.values() if cutter is None else [shop.cutter(cutter)]:
            click.echo(click.style(profile.name, bold=True))
            for line in summary(shop, profile):
                click.echo(f"  {line}")
        return _FAULTS if shop.faults else 0
    if cutter is None:
        raise click.UsageError("--border needs the name of a cutter")
    if place != "mid" and not length:
        raise click.UsageError("--at far and --at near need the --length of the cut")
    told = set_border(shop, shop.cutter(cutter), border, Place[place.upper()], length)
    for sentence in told.sentences:
        click.echo(sentence)
    for answer in told.working if why else ():
        click.echo(f"{'  ' * answer.depth}{click.style(answer.figure, bold=True)} = {answer.sentence}")
    return 0 if told.reached else _FAULTS
