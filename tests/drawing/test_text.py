"""Text is measured as the font sets it, kept whole where a break would lie, and shown even where it cannot be set."""

from __future__ import annotations

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from fourply.drawing import text
from fourply.drawing.pen import Label
from fourply.drawing.text import Figures, can_set, clean, drawn, fit, pieces, width, wrap
from fourply.render.fonts import BOLD, REGULAR

# every sign that the sheets use of their own accord; names and titles may hold any other
USED = "ABCxyz0123456789⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉⁄×–—·…°′″±÷%&/().,:;!?'’“”→"[:-1] + text.MISSING


@pytest.mark.parametrize("sign", USED)
def test_every_sign_of_the_sheets_is_in_the_bundled_font(sign: str) -> None:
    assert can_set(sign)


@pytest.mark.parametrize(("file", "bold"), [(REGULAR, False), (BOLD, True)])
def test_the_table_of_widths_is_that_of_the_bundled_font(file: str, bold: bool) -> None:  # noqa: FBT001
    font = TTFont(file)
    advances, glyphs = font["hmtx"], font.getBestCmap()
    sample = [chr(code) for code in list(glyphs)[::37] if 0x20 < code < 0xFFFF and can_set(chr(code))]
    assert len(sample) > 50
    for sign in sample:
        if clean(sign) == sign:
            assert width(sign, 1000, bold=bold) == pytest.approx(advances[glyphs[ord(sign)]][0]), sign


def test_a_fraction_is_set_from_small_figures_and_read_as_plain_ones() -> None:
    made = pieces("16 3⁄8 in")
    assert "".join(piece.text for piece in made) == "16 3⁄8 in"
    assert [drawn(piece) for piece in made] == ["16 ", "³", "⁄", "₈", " in"]
    assert [piece.figures for piece in made[1:4]] == [Figures.SUPERIOR, Figures.FULL, Figures.INFERIOR]


def test_the_numerator_stands_at_figure_height_and_the_denominator_on_the_base_line() -> None:
    font = TTFont(REGULAR)
    shape, names = font["glyf"], font.getBestCmap()
    top, _, foot = pieces("3⁄8")
    three, eight = shape[names[ord("3")]], shape[names[ord("8")]]
    superior, inferior = shape[names[ord("³")]], shape[names[ord("₈")]]
    assert top.rise + top.scale * superior.yMax / 1000 == pytest.approx(three.yMax / 1000, abs=0.004)
    assert foot.rise + foot.scale * inferior.yMin / 1000 == pytest.approx(eight.yMin / 1000, abs=0.004)


@pytest.mark.parametrize("title", ["3⁄4⁄5", "⁄", "12⁄", "⁄8", "1⁄", "2/3"])
def test_what_is_no_fraction_is_set_as_it_stands(title: str) -> None:
    assert [piece.figures for piece in pieces(title)] == [Figures.FULL]


@pytest.mark.parametrize(
    ("given_text", "shown"),
    [
        ("Slack\nWater", "Slack Water"),
        ("bell\x07", "bell�"),
        ("川の流れ", "����"),
        ("שלום", "����"),
        ("\u202eevil", "�evil"),
        ("e\u0301tude", "étude"),
        ("3 − 1", "3 – 1"),
        ("\U0001f5bc", "�"),
        ("half \ud800", "half �"),
        ("soft\u00adhyphen\ufeff", "softhyphen"),
    ],
)
def test_what_cannot_be_set_is_shown_as_missing(given_text: str, shown: str) -> None:
    assert clean(given_text) == shown


@given(st.text(max_size=60), st.floats(min_value=0.5, max_value=80), st.booleans())
def test_a_fitted_text_is_no_wider_than_its_room_or_an_ellipsis(title: str, room: float, bold: bool) -> None:  # noqa: FBT001
    fitted = fit(title, room, 3, bold=bold)
    assert width(fitted, 3, bold=bold) <= room or fitted == "…"


@given(st.text(max_size=120), st.floats(min_value=6, max_value=80))
def test_wrapped_lines_fit_and_lose_no_character(title: str, room: float) -> None:
    lines = wrap(title, room, 3)
    assert all(width(line, 3) <= room or len(line) == 1 for line in lines)
    assert "".join("".join(lines).split()) == "".join(clean(title).split())


def test_a_number_is_never_parted_from_its_fraction_nor_a_size_at_its_cross() -> None:
    lines = wrap("opens 10 1⁄2 × 13 1⁄4 at the sight", width("10 1⁄2 × 13 1⁄4 at", 3), 3)
    assert lines == ["opens", "10 1⁄2 × 13 1⁄4 at", "the sight"]


def test_the_box_of_an_upright_figure_lies_left_of_its_base_line() -> None:
    area = text.box(Label(50, 80, "13 1⁄4", 3, angle=90))
    assert area.left < 50 < area.right < 51
    assert (area.bottom, area.top) == pytest.approx((80, 80 - width("13 1⁄4", 3)))
