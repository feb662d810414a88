"""A person's photograph of a work, made fit to be placed in a picture: checked, upright, cut to shape, small enough.

The bytes come from anywhere, so only a few formats are tried, sizes are looked at before anything is unpacked, and
what comes out is a new file without anything that the old one carried.
"""

from __future__ import annotations

import io
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING

from fourply.errors import BadInput

if TYPE_CHECKING:
    from PIL.Image import Image
    from PIL.ImageFile import ImageFile

FORMATS = ("JPEG", "PNG", "TIFF", "WEBP")
MOST_BYTES = 100_000_000
MOST_PIXELS = 80_000_000
"""A sheet of 24 x 36 in at 300 dots an inch stays below; from 89 million on Pillow itself warns, which is refused."""
_QUALITY = 90


@dataclass(frozen=True, slots=True)
class Measured:
    """What a file is by its content: its media type, its dots across and down as stored."""

    media: str
    width: int
    height: int


def measure(data: bytes) -> Measured:
    """Return what an image is, read to its end so that it is known to be whole; raises BadInput as `fit` does."""
    with _opening(data) as opened:
        width, height = opened.size
        media = opened.get_format_mimetype() or ""
        opened.load()
    return Measured(media, width, height)


def fit(data: bytes, shape: tuple[float, float], *, longest: int = 2000) -> bytes:
    """Return an image as a JPEG file of the proportions of `shape`, at most so many dots on its longer side.

    What is too much one way is cut off on both ends alike. An image is turned as its camera says; what shows through
    stands on white; colours are brought to sRGB where the file says what they are. Raises BadInput for what is no
    JPEG, PNG, TIFF or WebP, is broken, or is too large.
    """
    from PIL import ImageOps  # noqa: PLC0415 - needed here alone

    with _opening(data) as opened:
        opened.draft("RGB", (longest, longest))
        image = _plain(ImageOps.exif_transpose(opened))
    file = io.BytesIO()
    _cut(image, shape, longest).save(file, "JPEG", quality=_QUALITY, subsampling=0)
    return file.getvalue()


@contextmanager
def _opening(data: bytes) -> Iterator[ImageFile]:
    """Give an image whose size has been looked at; whatever is wrong with it until it is left raises BadInput."""
    from PIL import Image  # noqa: PLC0415 - needed here alone

    if len(data) > MOST_BYTES:
        raise BadInput(f"an image of {len(data) // 1_000_000} MB", f"at most {MOST_BYTES // 1_000_000} MB")
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            opened = Image.open(io.BytesIO(data), formats=list(FORMATS))
            _check(opened)
            yield opened
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as bomb:
        raise BadInput("an image that unpacks to too much", f"at most {MOST_PIXELS // 1_000_000} megapixels") from bomb
    except (OSError, SyntaxError, ValueError, EOFError, OverflowError) as bad:
        if isinstance(bad, BadInput):
            raise
        raise BadInput("an image that cannot be read", f"write a whole {', '.join(FORMATS)} file") from bad


def _check(image: Image) -> None:
    width, height = image.size
    if width * height > MOST_PIXELS:
        raise BadInput(f"an image of {width} x {height} dots", f"at most {MOST_PIXELS // 1_000_000} megapixels")


def _plain(image: Image) -> Image:
    """Return an image in plain sRGB without a see-through part."""
    from PIL import Image as Images  # noqa: PLC0415
    from PIL import ImageCms  # noqa: PLC0415

    carried = image.info.get("icc_profile")
    if image.mode.startswith("I"):  # grey of 16 bits, which would be cut off at 8
        image = image.convert("I").point(lambda grey: grey * (1 / 257)).convert("L")
    if image.has_transparency_data:
        image = image.convert("RGBA")
        ground = Images.new("RGBA", image.size, "#ffffff")
        ground.alpha_composite(image)
        image = ground
    if image.mode != "CMYK":
        image = image.convert("RGB")
    if carried:
        try:
            profile = ImageCms.ImageCmsProfile(io.BytesIO(carried))
            turned = ImageCms.profileToProfile(image, profile, ImageCms.createProfile("sRGB"), outputMode="RGB")
        except ImageCms.PyCMSError:
            turned = None  # a profile that does not fit its image says nothing
        image = turned or image
    return image.convert("RGB")


def _cut(image: Image, shape: tuple[float, float], longest: int) -> Image:
    """Return the middle of an image in the proportions of a shape, never enlarged."""
    from PIL import Image as Images  # noqa: PLC0415

    width, height = image.size
    across, down = shape
    scale = min(width / across, height / down)
    box_width, box_height = across * scale, down * scale
    left, top = max(0.0, (width - box_width) / 2), max(0.0, (height - box_height) / 2)
    shrink = min(1.0, longest / max(box_width, box_height))
    size = (max(1, int(box_width * shrink + 0.5)), max(1, int(box_height * shrink + 0.5)))
    box = (left, top, min(width, left + box_width), min(height, top + box_height))
    return image.resize(size, Images.Resampling.LANCZOS, box=box, reducing_gap=3.0)
