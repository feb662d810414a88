"""Options that several commands share, and how a show is opened from them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from fourply.app.reading import Asked
    from fourply.app.shows import Opened

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


def opened(show: Path, reading: Reading) -> Opened:
    """Return the show that the options name, every work resolved."""
    from fourply.app.shows import open_show  # noqa: PLC0415 (imported when called)

    return open_show(show, asked(reading), pairs(reading.settings))
