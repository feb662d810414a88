"""`./run serve`: the shop in a browser on this machine, and its API."""

from __future__ import annotations

from pathlib import Path

import click

from fourply.cli.parts import parts
from fourply.cli.shop import data_option, desk, each_day

PORT = 8421


@click.command("serve")
@click.option(
    "--port",
    type=click.IntRange(0, 65_535),
    default=PORT,
    show_default=True,
    help="Where to listen on this machine; 0: any port that is free.",
)
@data_option
def command(port: int, data: Path | None) -> int:
    """Serve the shop to browsers and programs on this machine until Ctrl-C.

    Nobody else can reach it. /openapi.json describes the API.
    """

    def ready(address: str) -> None:
        click.echo(f"fourply is at {address} (Ctrl-C ends it)")

    with desk(data) as at, each_day(at.store):
        parts().serve(at, port, ready)
    return 0
