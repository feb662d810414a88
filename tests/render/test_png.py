"""The picture is the drawing in dots: black where lines are, white elsewhere, set in the bundled font."""

from __future__ import annotations

import io

from PIL import Image

from fourply.drawing.ink import CUT, Ink
from fourply.drawing.pen import Label, Path
from fourply.drawing.record import Drawing, Mark
from fourply.drawing.shapes import Box, line, rectangle
from fourply.render import png


def picture(*marks: Mark, dots_per_inch: float = 127) -> Image.Image:
    return Image.open(io.BytesIO(png.render(Drawing(100, 50, marks), dots_per_inch=dots_per_inch))).convert("L")


def test_the_picture_has_the_size_that_its_dots_ask_for() -> None:
    assert picture().size == (500, 250)
    assert picture(dots_per_inch=254).size == (1000, 500)


def test_a_line_is_black_on_white_where_it_was_drawn() -> None:
    image = picture(Path(line(10, 25, 90, 25), CUT))
    assert image.getpixel((250, 125)) == 0
    assert image.getpixel((250, 110)) == 255
    assert image.getpixel((20, 125)) == 255


def test_text_is_drawn_and_white_text_shows_on_black() -> None:
    black = Path(rectangle(Box(0, 0, 100, 50)), None, Ink.BLACK)
    dark = sum(picture(Label(10, 30, "16 3⁄8", 20)).histogram()[:64])
    light = sum(picture(black, Label(10, 30, "16 3⁄8", 20, ink=Ink.PAPER)).histogram()[192:])
    assert dark > 2000
    assert abs(dark - light) < 0.1 * dark
