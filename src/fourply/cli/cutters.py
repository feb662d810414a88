"""`./run cutters`: the cutters of the shop, and what to set on one for a border."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import click

from fourply.cli.shop import cutters, data_option, desk

if TYPE_CHECKING:
    from fourply.app.cutters import Shop
    from fourply.bench.profile import Profile

_FAULTS = 2
_PLACES = ("mid", "far", "near")


@click.command("cutters")
@click.argument("cutter", required=False)
@click.option("--border", help="Say what to set for this border at the back line.")
@click.option("--at", "place", type=click.Choice(_PLACES), default="mid", show_default=True, help="Where it is wanted.")
@click.option("--length", default="", help="Length of the cut, where the border is wanted at one of its ends.")
@click.option("--board", help="Say which edges of a board, width x height, take two passes.")
@click.option("--caliper", help="Say how the blade stands for board of this caliper.")
@click.option("--material", default="", help="The board's name, where the cutter has a position of its own for it.")
@click.option("--cut", help="Say whether blades that have cut so much are due.")
@click.option("--why", is_flag=True, help="The working of what to set.")
@click.option(
    "--take",
    type=click.Path(path_type=Path, exists=True, dir_okay=False),
    help="Keep the cutter of this TOML file, in place of the one of its name.",
)
@click.option("--write", type=click.Path(path_type=Path, dir_okay=False), help="Write the CUTTER as a TOML file.")
@data_option
def command(
    cutter: str | None,
    *,
    border: str | None,
    place: str,
    length: str,
    board: str | None,
    caliper: str | None,
    material: str,
    cut: str | None,
    why: bool,
    take: Path | None,
    write: Path | None,
    data: Path | None,
) -> int:
    """List the cutters of the shop, or say of one CUTTER what to set for a border, a board, a blade.

    Cutters are kept with the shop and given out and taken in as TOML files; docs/cutters.md has every key.
    """
    from fourply.app.boards_on import blade_on, due, passes_on  # noqa: PLC0415 (imported when called)
    from fourply.app.cutters import give_cutter, summary  # noqa: PLC0415

    if take is not None and not _taken(take, data):
        return _FAULTS
    if cutter is None and any((border, board, caliper, cut, write)):
        raise click.UsageError("name the cutter that this is asked of")
    shop = cutters(data)
    _tell(shop.faults)
    if cutter is None:
        for profile in shop.cutters.values():
            _list(profile.name, summary(shop, profile))
        return _FAULTS if shop.faults else 0
    profile = shop.cutter(cutter)
    if write is not None:
        click.echo(f"{give_cutter(profile, write)}  change it and give it back with --take")
        return 0
    if not any((border, board, caliper, cut)):
        _list(profile.name, summary(shop, profile))
    lines = (
        *(passes_on(profile, board) if board else ()),
        *(blade_on(profile, caliper, material) if caliper else ()),
        *(due(profile, cut) if cut else ()),
    )
    for line in lines:
        click.echo(line)
    return _border(shop, profile, Asked(border, place, length), why=why) if border else 0


def _taken(file: Path, data: Path | None) -> bool:
    """Keep the cutter of a file and say so; False where it has faults."""
    from fourply.app.cutters import bring_cutter  # noqa: PLC0415 (imported when called)

    with desk(data) as at:
        record, faults = bring_cutter(at, file)
    _tell(faults)
    if record is not None:
        click.echo(f"{file}  is kept with the shop")
    return record is not None


def _tell(faults: Sequence[object]) -> None:
    for fault in faults:
        click.echo(click.style("fault  ", fg="red") + str(fault), err=True)


def _list(name: str, lines: Sequence[str]) -> None:
    click.echo(click.style(name, bold=True))
    for line in lines:
        click.echo(f"  {line}")


@dataclass(frozen=True, slots=True)
class Asked:
    """The border that is asked for, as written: its width, the place of the cut, the cut's length."""

    border: str
    place: str
    length: str


def _border(shop: Shop, profile: Profile, asked: Asked, *, why: bool) -> int:
    from fourply.app.cutters import Place, set_border  # noqa: PLC0415 (imported when called)

    if asked.place != "mid" and not asked.length:
        raise click.UsageError("--at far and --at near need the --length of the cut")
    told = set_border(shop, profile, asked.border, Place[asked.place.upper()], asked.length)
    for sentence in told.sentences:
        click.echo(sentence)
    for answer in told.working if why else ():
        click.echo(f"{'  ' * answer.depth}{click.style(answer.figure, bold=True)} = {answer.sentence}")
    return 0 if told.reached else _FAULTS
