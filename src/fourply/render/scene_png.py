"""Scenes as pictures in dots: flat parts by the SVG renderer, the wide shadows behind them by a Gaussian blur.

A blur over the whole picture costs seconds there, and thin layers of it show as steps; so ground and shadows are
made here and the rest is laid over them.
"""

from __future__ import annotations

import io
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from fourply.drawing.scene import Field, Patch, Scene
from fourply.errors import BadInput
from fourply.render import scene_svg

if TYPE_CHECKING:
    from PIL.Image import Image

MOST = 8000
"""The longest side of a picture, in dots."""
LEAST = 16
_COARSE = 4  # a shadow is blurred at a fraction of the size: there is nothing fine in it


def render(scene: Scene, pixels: int, photographs: Mapping[int, bytes] | None = None) -> bytes:
    """Return the scene as a PNG whose longer side has so many dots, transparent where there is no ground.

    Raises BadInput for fewer than 16 or more than 8000.
    """
    if not LEAST <= pixels <= MOST:
        raise BadInput(f"{pixels} pixels", f"a picture has {LEAST} to {MOST} on its longer side")
    size = _size(scene, pixels)
    picture = _behind(scene, size)
    if photographs:
        under, over = _parted(scene.patches)
        picture.alpha_composite(_drawn(scene, under, size))
        _place(picture, scene, photographs)
        picture.alpha_composite(_drawn(scene, over, size))
    else:
        picture.alpha_composite(_drawn(scene, scene.patches, size))
    file = io.BytesIO()
    (picture.convert("RGB") if scene.ground else picture).save(file, "PNG", compress_level=3)
    return file.getvalue()


def _size(scene: Scene, pixels: int) -> tuple[int, int]:
    seen = scene.seen
    scale = pixels / max(seen.width, seen.height)
    return max(1, int(seen.width * scale + 0.5)), max(1, int(seen.height * scale + 0.5))


def _parted(patches: Sequence[Patch]) -> tuple[Sequence[Patch], Sequence[Patch]]:
    """Return what lies under the photographs (and fields without one), and what lies over them."""
    last = max((at for at, patch in enumerate(patches) if isinstance(patch, Field)), default=-1)
    return patches[: last + 1], patches[last + 1 :]


def _drawn(scene: Scene, patches: Sequence[Patch], size: tuple[int, int]) -> Image:
    """Return patches alone, on nothing."""
    import resvg_py  # noqa: PLC0415 - needed here alone
    from PIL import Image  # noqa: PLC0415

    source = scene_svg.render(Scene(scene.seen, tuple(patches)), size=size).decode()
    drawn = resvg_py.svg_to_bytes(svg_string=source, dpi=96, skip_system_fonts=True)
    return Image.open(io.BytesIO(bytes(drawn)), formats=["PNG"]).convert("RGBA")


def _place(picture: Image, scene: Scene, photographs: Mapping[int, bytes]) -> None:
    """Put the photographs into their fields: here, since the SVG renderer takes a second to scale one."""
    from PIL import Image  # noqa: PLC0415 - needed here alone

    seen = scene.seen
    across, down = picture.width / seen.width, picture.height / seen.height
    for patch in scene.patches:
        if isinstance(patch, Field) and patch.number in photographs:
            xs = [int((x - seen.left) * across + 0.5) for x in (patch.box.left, patch.box.right)]
            ys = [int((y - seen.top) * down + 0.5) for y in (patch.box.top, patch.box.bottom)]
            photo = Image.open(io.BytesIO(photographs[patch.number]), formats=["JPEG"])
            room = (max(1, xs[1] - xs[0]), max(1, ys[1] - ys[0]))
            picture.paste(photo.resize(room, Image.Resampling.LANCZOS), (xs[0], ys[0]))


def _behind(scene: Scene, size: tuple[int, int]) -> Image:
    """Return the ground with the shadows on it, made coarse and brought up to size."""
    from PIL import Image, ImageDraw, ImageFilter  # noqa: PLC0415 - needed here alone

    left, top = scene.seen.left, scene.seen.top
    small = (-(-size[0] // _COARSE), -(-size[1] // _COARSE))
    across, down = small[0] / scene.seen.width, small[1] / scene.seen.height
    ground = Image.new("RGBA", small, scene.ground or "#00000000")
    for shadow in scene.shadows:
        mask = Image.new("L", small, 0)
        corners = [((x - left) * across - 0.5, (y - top) * down - 0.5) for x, y in shadow.corners]  # a dot's middle
        ImageDraw.Draw(mask).polygon(corners, fill=int(255 * shadow.opacity + 0.5))
        cast = Image.new("RGBA", small, shadow.colour)
        cast.putalpha(mask.filter(ImageFilter.GaussianBlur(shadow.blur * across)))
        ground.alpha_composite(cast)
    return ground.resize(size, Image.Resampling.BICUBIC)
