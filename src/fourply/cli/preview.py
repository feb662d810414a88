"""`./run preview`: the finished work as a picture."""

from __future__ import annotations

from pathlib import Path

import click

from fourply.cli.options import SHOW, Reading, opened
from fourply.cli.options import reading as with_reading

_FILE = click.Path(path_type=Path, exists=True, dir_okay=False)


@click.command("preview")
@click.argument("show", type=SHOW)
@click.argument("work")
@click.option(
    "--image",
    "images",
    type=_FILE,
    multiple=True,
    help="An image of the work (JPEG, PNG, TIFF, WebP); once for each window, in their order.",
)
@click.option("--pixels", type=click.IntRange(16, 8000), help="The longer side of a PNG in dots; 2000 unless given.")
@click.option(
    "--out", type=click.Path(path_type=Path, dir_okay=False), required=True, help="The picture: .svg or .png."
)
@with_reading
def command(
    show: Path | str, work: str, reading: Reading, *, images: tuple[Path, ...], pixels: int | None, out: Path
) -> None:
    """Picture one WORK of SHOW as it will hang, true to scale, in the colours of its mats and frame."""
    from fourply.app.picturing import PIXELS, write_picture  # noqa: PLC0415 (imported when called)

    click.echo(f"{write_picture(opened(show, reading), work, images, out, pixels or PIXELS)}")
