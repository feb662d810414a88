"""A page of the PDF is the drawing: read back, lines have their lengths and figures their signs."""

from __future__ import annotations

import io

import pdfplumber
import pikepdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fourply.drawing import dimension
from fourply.drawing.dimension import Dim, Side, lay_out
from fourply.drawing.ink import AXIS, CUT, Ink
from fourply.drawing.lettering import Type, write
from fourply.drawing.page import Scale
from fourply.drawing.pen import Label, Path
from fourply.drawing.record import Drawing, Mark, Recorder
from fourply.drawing.shapes import Box, ellipse, line, rectangle
from fourply.render import pdf

PER_MM = 72 / 25.4


def page(*marks: Mark) -> Drawing:
    return Drawing(215.9, 279.4, marks)


def opened(*drawings: Drawing) -> pdfplumber.pdf.PDF:
    return pdfplumber.open(io.BytesIO(pdf.render(drawings)))


def text_of(drawing: Drawing) -> str:
    return "".join(char["text"] for char in opened(drawing).pages[0].chars)


def test_a_dimension_drawn_at_one_to_six_has_the_length_it_says() -> None:
    scale, real = Scale(1, 6), 16.375 * 25.4
    pen = Recorder()
    dimension.draw(pen, lay_out(Side.TOP, 60, [[Dim(40, 40 + scale.of(real), "16 3⁄8")]], within=(0, 200)))
    read = opened(pen.drawing(215.9, 279.4)).pages[0]
    longest = max(read.lines, key=lambda each: each["width"])
    assert longest["width"] / PER_MM * 6 == pytest.approx(real, abs=0.05)
    assert "".join(char["text"] for char in read.chars) == "16 3⁄8"


def test_a_rectangle_stands_where_it_was_drawn() -> None:
    read = opened(page(Path(rectangle(Box(20, 30, 121.6, 93.5)), CUT))).pages[0]
    (found,) = read.rects
    edges = [found[side] / PER_MM for side in ("x0", "top", "x1", "bottom")]
    assert edges == pytest.approx([20, 30, 121.6, 93.5], abs=0.0005)
    assert found["linewidth"] / PER_MM == pytest.approx(0.7, abs=0.001)


def test_an_oval_has_its_axes() -> None:
    (found,) = opened(page(Path(ellipse(100, 100, 50.8, 31.75), CUT))).pages[0].curves
    assert found["width"] / PER_MM == pytest.approx(101.6, abs=0.01)
    assert found["height"] / PER_MM == pytest.approx(63.5, abs=0.01)


@pytest.mark.parametrize(
    "text", ["16 3⁄8", "31⁄64", "10 1⁄2 × 13 1⁄4 in", "Étude № 3 – «Ω»", "5⁄16 and 11⁄32", "1 000 (2)\\ <>"]
)
@pytest.mark.parametrize("bold", [True, False])
def test_text_is_read_back_as_plain_characters(text: str, bold: bool) -> None:  # noqa: FBT001
    assert text_of(page(Label(20, 50, text, 4, bold=bold))) == text


@settings(max_examples=40, deadline=None)
@given(st.text(max_size=30))
def test_no_title_can_break_a_page(title: str) -> None:
    assert pdf.render([page(Label(20, 50, title, 4))], title=title).startswith(b"%PDF")


def test_more_characters_than_one_subset_holds_are_all_read_back() -> None:
    many = "".join(chr(code) for code in range(0x0100, 0x017F)) + "".join(chr(code) for code in range(0x0400, 0x0500))
    assert text_of(page(Label(0, 50, many, 1))) == many


def test_upright_text_reads_from_the_right() -> None:
    chars = opened(page(Label(50, 100, "13 1⁄4", 4, angle=90))).pages[0].chars
    assert "".join(char["text"] for char in chars) == "13 1⁄4"
    assert chars[0]["top"] > chars[1]["top"] > chars[-1]["top"]
    assert all(not char["upright"] for char in chars)


def test_the_printer_is_asked_not_to_scale() -> None:
    with pikepdf.open(io.BytesIO(pdf.render([page()]))) as file:
        assert file.Root.ViewerPreferences.PrintScaling == pikepdf.Name("/None")


def test_every_font_is_embedded() -> None:
    data = pdf.render([page(Label(20, 50, "16 3⁄8", 4), Label(20, 60, "16 3⁄8", 4, bold=True))])
    with pikepdf.open(io.BytesIO(data)) as file:
        fonts = file.pages[0].Resources.Font.values()
        assert len(list(fonts)) == 6
        assert all("/FontFile2" in font.FontDescriptor for font in file.pages[0].Resources.Font.values())


def test_pages_follow_their_drawings_in_size_and_order() -> None:
    read = opened(page(Label(20, 50, "first", 4)), Drawing(210, 297, (Label(20, 50, "second", 4),)))
    assert ["".join(char["text"] for char in each.chars) for each in read.pages] == ["first", "second"]
    assert [float(each.width) / PER_MM for each in read.pages] == pytest.approx([215.9, 210])


def test_the_same_drawings_give_the_same_bytes() -> None:
    drawing = page(Label(20, 50, "16 3⁄8", 4), Path(line(0, 0, 9, 9), AXIS))
    assert pdf.render([drawing], title="A show") == pdf.render([drawing], title="A show")


def test_inks_keep_their_colour_and_black_is_black() -> None:
    pen = Recorder()
    write(pen, (20, 20), "a", Type(8))
    write(pen, (20, 30), "b", Type(8, ink=Ink.BLADE))
    black, blade = (char["non_stroking_color"] for char in opened(pen.drawing(100, 100)).pages[0].chars)
    assert black == (0, 0, 0)
    assert blade == pytest.approx((0xB3 / 255, 0x26 / 255, 0x1E / 255), abs=0.001)


def test_a_pdf_without_pages_cannot_be() -> None:
    with pytest.raises(ValueError, match="one page or more"):
        pdf.render([])
