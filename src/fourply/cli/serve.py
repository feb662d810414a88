"""`./run serve`: the shop in a browser on this machine, and its API."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from fourply.cli.parts import parts
from fourply.cli.shop import data_option, desk, each_day
from fourply.settings import data_folder

if TYPE_CHECKING:
    from fourply.app.keep import Desk

PORT = 8421


@click.command("serve")
@click.option(
    "--port",
    type=click.IntRange(0, 65_535),
    default=PORT,
    show_default=True,
    help="Where to listen on this machine; 0: any port that is free.",
)
@click.option("--demo", is_flag=True, help="The demo shows with their pictures, in a shop of their own.")
@data_option
def command(port: int, data: Path | None, *, demo: bool) -> int:
    """Serve the shop to browsers and programs on this machine until Ctrl-C.

    Nobody else can reach it. /openapi.json describes the API.
    """
    if demo and data is None:
        data = data_folder() / "demo"
    with desk(data, apart=demo) as at, each_day(at.store):
        pages = _demo(at) if demo else ()

        def ready(address: str) -> None:
            click.echo(f"fourply is at {address} (Ctrl-C ends it)")
            for what, page in pages:
                click.echo(f"{what:<8} {address}{page}")

        parts().serve(at, port, ready)
    return 0


def _demo(at: Desk) -> Sequence[tuple[str, str]]:
    """Return the addresses of the wall and of a design page of the demo, kept first where it is not there yet."""
    from fourply.app.demo import demo_pages  # noqa: PLC0415 (imported when called)

    return demo_pages(at)
