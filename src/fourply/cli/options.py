"""Options that several commands share, and how a show is opened from them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from fourply.cli.report import working
from fourply.settings import data_folder

if TYPE_CHECKING:
    from fourply.app.reading import Asked
    from fourply.app.shows import Opened
    from fourply.bench.cutter import Cutter

type Command = Callable[..., Any]

UNITS = ("in", "mm", "cm")
ORDERS = ("width x height", "height x width")
PAPERS = ("a4", "letter")
SIDES = ("back", "front")


@dataclass(frozen=True, slots=True)
class Reading:
    """How the caller wants a list read, and what is set for every work."""

    unit: str | None
    order: str | None
    settings: tuple[str, ...]


def reading(command: Command) -> Command:
    """Add the options that say how a list is read; the command takes them as one `reading`."""

    @wraps(command)
    def with_reading(*, unit: str | None, order: str | None, settings: tuple[str, ...], **rest: object) -> object:
        return command(reading=Reading(unit, order, settings), **rest)

    wrapped: Command = with_reading
    for option in (
        click.option(
            "--set", "settings", multiple=True, metavar="RULE=VALUE", help='For every work, such as border="3 in".'
        ),
        click.option("--order", type=click.Choice(ORDERS), help="Which of two numbers comes first."),
        click.option("--unit", type=click.Choice(UNITS), help="Unit of bare numbers."),
    ):
        wrapped = option(wrapped)
    return wrapped


@dataclass(frozen=True, slots=True)
class OnCutter:
    """The cutter of the shop that the caller names, None for a nominal one, and where the shop keeps its data."""

    name: str | None = None
    data: Path | None = None

    def cutter(self) -> Cutter:
        """Return the cutter; raises Unknown for one that there is not."""
        from fourply.bench.cutter import NOMINAL  # noqa: PLC0415 (imported when called)
        from fourply.cli.shop import cutters  # noqa: PLC0415

        return NOMINAL if self.name is None else cutters(self.data).on(self.name)


def on_cutter(command: Command) -> Command:
    """Add the options that name a cutter of the shop; the command takes them as one `on`."""

    @wraps(command)
    def with_cutter(*, cutter: str | None, data: Path | None, **rest: object) -> object:
        return command(on=OnCutter(cutter, data), **rest)

    wrapped: Command = with_cutter
    for option in (
        click.option(
            "--data",
            type=click.Path(path_type=Path, file_okay=False),
            help="Folder of the shop's data; FOURPLY_DATA or the system's usual place unless given.",
        ),
        click.option("--cutter", help="The cutter of the shop that mats are cut on; a nominal one unless named."),
    ):
        wrapped = option(wrapped)
    return wrapped


def pairs(settings: tuple[str, ...]) -> dict[str, str]:
    """Return RULE=VALUE options as a mapping; raises UsageError for one without `=`."""
    found = {}
    for setting in settings:
        key, equals, value = setting.partition("=")
        if not equals or not key.strip():
            raise click.UsageError(f"--set takes RULE=VALUE, not {setting[:60]!r}")
        found[key.strip().replace("-", "_").replace(" ", "_")] = value.strip()
    return found


def asked(reading: Reading) -> Asked:
    """Return what the options say of a list before it is read."""
    from fourply.app.reading import asked_for  # noqa: PLC0415 (imported when called)

    return asked_for(reading.unit, reading.order)


class _Show(click.ParamType[Path | str]):
    """A show file or a list where there is one of that name, else the title of a kept show."""

    name = "show"

    def convert(self, value: Path | str, param: click.Parameter | None, ctx: click.Context | None) -> Path | str:
        """Return a path for a file, text for a title."""
        if not Path(value).exists():
            return value
        if not Path(value).is_file():
            self.fail(f"{value} is no file", param, ctx)
        return Path(value)


SHOW = _Show()


def opened(show: Path | str, reading: Reading, cutter: Cutter | None = None) -> Opened:
    """Return the show that the options name, every work resolved, for a cutter (None: a nominal one).

    A kept show is looked for in the folder that the command was given as --data.
    """
    from fourply.app.shows import open_show  # noqa: PLC0415 (imported when called)
    from fourply.bench.cutter import NOMINAL  # noqa: PLC0415

    if isinstance(show, str):
        return opened_kept(show, reading, cutter or NOMINAL)
    with working("reading the show"):
        return open_show(show, asked(reading), pairs(reading.settings), cutter or NOMINAL)


def opened_kept(title: str, reading: Reading, cutter: Cutter) -> Opened:
    """Return the kept show of a title, every work resolved; raises UsageError where there is none."""
    from fourply.app.keep_shows import find_show, open_kept  # noqa: PLC0415 (imported when called)
    from fourply.cli.shop import desk, is_kept  # noqa: PLC0415

    data = click.get_current_context().params.get("data")
    if not is_kept(data):
        raise click.UsageError(f"there is no file {title[:200]}, and no show is kept in {data_folder(data)}")
    if reading.unit or reading.order:
        raise click.UsageError("a kept show has a unit and an order of its own; --unit and --order are for lists")
    with desk(data) as found, working("opening the show"):
        return open_kept(found, find_show(found, title).id, pairs(reading.settings), cutter)
