"""Images that people give: turned as the camera says, cut to shape, and refused where they are none or too much."""

from __future__ import annotations

import io
import struct
import zlib
from contextlib import suppress

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from fourply.errors import BadInput
from fourply.render import photo

RED, BLUE = (200, 30, 30), (30, 30, 200)
ORIENTATION = 0x0112  # Exif 2.3, 4.6.4 A (from memory)


def halves(mode: str = "RGB", size: tuple[int, int] = (80, 40)) -> Image.Image:
    """Return an image that is red at the left and blue at the right."""
    image = Image.new("RGB", size, RED)
    image.paste(BLUE, (size[0] // 2, 0, size[0], size[1]))
    return image.convert(mode)


def written(image: Image.Image, kind: str, **options: object) -> bytes:
    file = io.BytesIO()
    image.save(file, kind, **options)
    return file.getvalue()


def fitted(data: bytes, shape: tuple[float, float] = (2, 1), longest: int = 2000) -> Image.Image:
    image = Image.open(io.BytesIO(photo.fit(data, shape, longest=longest)))
    assert (image.format, image.mode) == ("JPEG", "RGB")
    return image


def near(image: Image.Image, at: tuple[int, int], colour: tuple[int, int, int], within: int = 12) -> bool:
    pixel = image.getpixel(at)
    assert isinstance(pixel, tuple)
    return all(abs(here - there) <= within for here, there in zip(pixel, colour, strict=True))


@pytest.mark.parametrize("kind", photo.FORMATS)
def test_the_formats_of_cameras_and_scanners_are_read(kind: str) -> None:
    image = fitted(written(halves(), kind))
    assert image.size == (80, 40)
    assert near(image, (10, 20), RED)
    assert near(image, (70, 20), BLUE)


def test_an_image_is_turned_as_the_camera_says() -> None:
    exif = Image.Exif()
    exif[ORIENTATION] = 6  # the camera was turned: what is at the left belongs on top
    image = fitted(written(halves(), "JPEG", exif=exif, quality=95), (1, 2))
    assert image.size == (40, 80)
    assert near(image, (20, 10), RED)
    assert near(image, (20, 70), BLUE)
    assert not image.getexif()


def test_what_does_not_fit_is_cut_off_at_both_ends() -> None:
    image = fitted(written(halves(size=(100, 40)), "PNG"), (1, 1))
    assert image.size == (40, 40)
    assert near(image, (5, 20), RED)
    assert near(image, (35, 20), BLUE)


@given(st.integers(1, 90), st.integers(1, 90), st.floats(0.01, 100), st.integers(1, 60))
@settings(max_examples=60, deadline=None)
def test_any_image_fits_any_shape(width: int, height: int, ratio: float, longest: int) -> None:
    image = fitted(written(Image.new("L", (width, height), 99), "PNG"), (ratio, 1.0), longest)
    assert max(image.size) <= longest
    assert image.width <= width
    assert image.height <= height


def test_a_large_image_is_made_as_small_as_is_needed() -> None:
    assert fitted(written(halves(size=(3000, 1500)), "JPEG"), longest=300).size == (300, 150)


@pytest.mark.parametrize(
    ("image", "kind"),
    [
        (halves("CMYK"), "JPEG"),
        (halves("P"), "PNG"),
        (halves("L"), "PNG"),
        (halves("I;16"), "PNG"),
        (halves("1"), "TIFF"),
    ],
    ids=["cmyk", "palette", "grey", "16 bit", "bitmap"],
)
def test_every_kind_of_colour_becomes_plain(image: Image.Image, kind: str) -> None:
    assert fitted(written(image, kind)).size == (80, 40)


def test_grey_of_sixteen_bits_keeps_its_tone() -> None:
    assert near(fitted(written(Image.new("I;16", (40, 20), 0x8080), "PNG")), (20, 10), (128, 128, 128), 2)


def test_what_shows_through_stands_on_white() -> None:
    clear = Image.new("RGBA", (40, 20), (0, 0, 0, 0))
    assert near(fitted(written(clear, "PNG")), (20, 10), (255, 255, 255))


def bomb(width: int, height: int) -> bytes:
    """Return the beginning of a PNG that claims to be so large (PNG specification, 11.2: from memory)."""

    def chunk(name: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(bytes(100))) + chunk(b"IEND", b"")


JPEG = written(halves(size=(400, 300)), "JPEG")


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"not an image",
        b"<svg xmlns='http://www.w3.org/2000/svg'/>",
        written(halves(), "GIF"),
        written(halves(), "BMP"),
        JPEG[: len(JPEG) // 2],
        JPEG[:30],
        bomb(30000, 30000),
        bomb(11000, 11000),
        bomb(2000, 2000),
        bomb(0, 9),
    ],
    ids=["empty", "text", "svg", "gif", "bmp", "half", "head", "bomb", "small bomb", "torn", "no width"],
)
def test_what_is_no_whole_image_or_too_much_is_refused(data: bytes) -> None:
    with pytest.raises(BadInput):
        photo.fit(data, (2, 1))


@pytest.mark.parametrize("side", [10_000, 11_000, 30_000])
def test_a_limit_is_named(side: int) -> None:
    with pytest.raises(BadInput, match="at most 80 megapixels"):
        photo.fit(bomb(side, 8_001), (1, 1))


def test_a_file_is_not_unpacked_to_see_how_large_it_is() -> None:
    with pytest.raises(BadInput, match="at most 100 MB"):
        photo.fit(bytes(photo.MOST_BYTES + 1), (1, 1))


@given(st.binary(max_size=60), st.integers(0, 600))
@settings(max_examples=60, deadline=None)
def test_a_spoilt_file_is_read_or_refused_and_nothing_else(junk: bytes, at: int) -> None:
    spoilt = JPEG[:at] + junk + JPEG[at + len(junk) :]
    with suppress(BadInput):
        photo.fit(spoilt, (1, 1))
