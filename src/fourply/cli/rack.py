"""`./run rack`: the pieces in the shop's rack."""

from __future__ import annotations

from pathlib import Path

import click

from fourply.cli.shop import data_option, desk


@click.command("rack")
@click.argument("text", default="")
@click.option("--holds", metavar="SIZE", default="", help='Those that hold a size, such as "16 x 20".')
@click.option("--put", nargs=2, metavar="MATERIAL SIZE", help='Put a piece in: --put "white 4-ply" "12 x 30".')
@click.option("--place", default="", help="Where the new piece lies.")
@data_option
def command(text: str, holds: str, put: tuple[str, str] | None, place: str, data: Path | None) -> None:
    """List the pieces in the rack, those alone in which every word of TEXT is found where it is given."""
    from fourply.app.racked import Wanted, rack_lines, said_of, say  # noqa: PLC0415 (imported when called)
    from fourply.measure.notation import Marks  # noqa: PLC0415

    with desk(data) as found:
        if put is not None:
            material, size = put
            said = said_of(found, None) | {"material": material, "size": size, "place": place}
            record = say(found, said)
            click.echo(f"Put in as number {said_of(found, record)['number']}.")
            return
        lines = rack_lines(found, Wanted(text, holds), Marks.PLAIN)
    for line in lines:
        where = f", {line.place}" if line.place else ""
        promised = f"; promised to {line.title}" if line.show else ""
        click.echo(f"{click.style(line.number or '-', bold=True)}  {line.says} of {line.material}{where}{promised}")
    if not lines:
        click.echo(
            "No piece is so." if text or holds else 'The rack is empty; put in a piece with  --put "BOARD" "SIZE"'
        )
