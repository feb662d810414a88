"""The finished work as a picture, to choose by: mats and frame in their colours round the work's own image."""

from __future__ import annotations

from collections.abc import Sequence
from enum import Enum
from pathlib import Path

from fourply.app.shows import Opened
from fourply.app.writing import write_file
from fourply.drawing.scene import Field, Scene
from fourply.errors import BadFile, BadInput
from fourply.render import photo, scene_png, scene_svg
from fourply.sheets.preview import preview

PIXELS = 2000
"""The longer side of a picture, in dots, unless another is asked for."""


class Kind(Enum):
    """The formats of pictures; the value is the end of their names."""

    SVG = "svg"
    PNG = "png"


def picture(opened: Opened, work: str, kind: Kind, images: Sequence[bytes] = (), pixels: int = PIXELS) -> bytes:
    """Return a work as it will hang, in its mats and frame, as an SVG or a PNG file.

    `images` are those of its sheets, in the order of their windows, each placed on the image's rectangle where it is
    known, else on the sheet; a sheet without one is a grey field. An empty one is none. `pixels` is the longer side of
    a PNG, and of an image in an SVG. Raises Unknown for a work that is not there, BadInput for an image that cannot
    be used or is one too many.
    """
    scene = preview(opened.package(work))
    photographs = placed(scene, images, pixels)
    if kind is Kind.SVG:
        return scene_svg.render(scene, photographs)
    return scene_png.render(scene, pixels, photographs)


def placed(scene: Scene, images: Sequence[bytes], pixels: int) -> dict[int, bytes]:
    """Return the images of a scene's fields, cut to their proportions; raises BadInput for one too many."""
    fields = {patch.number: patch.box for patch in scene.patches if isinstance(patch, Field)}
    if len(images) > len(fields):
        raise BadInput(f"{len(images)} images", f"this work has {len(fields)}, in the order of its windows")
    longest = max(scene.seen.width, scene.seen.height)
    return {
        number: photo.fit(
            data,
            (fields[number].width, fields[number].height),
            longest=max(1, int(pixels * max(fields[number].width, fields[number].height) / longest + 1)),
        )
        for number, data in enumerate(images)
        if data
    }


def write_picture(opened: Opened, work: str, images: Sequence[Path], out: Path, pixels: int = PIXELS) -> Path:
    """Write the picture of a work, as its file's end says; returns the file.

    Raises as `picture` does, BadFile naming an image that is too large to be read or no image, BadInput for another
    end than .svg or .png, OSError where a file cannot be read or written.
    """
    try:
        kind = Kind(out.suffix.lower().removeprefix("."))
    except ValueError:
        raise BadInput(out.name, "a name that ends in .svg or .png") from None
    return write_file(out, picture(opened, work, kind, [_read(path) for path in images], pixels))


def _read(path: Path) -> bytes:
    size = path.stat().st_size
    if not 0 < size <= photo.MOST_BYTES:
        raise BadFile(path.name, f"{size} bytes", f"an image of at most {photo.MOST_BYTES // 1_000_000} MB")
    return path.read_bytes()
