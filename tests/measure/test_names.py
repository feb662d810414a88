"""Named sizes against the standards and lists that name them."""

from __future__ import annotations

import pytest

from fourply.errors import Unknown
from fourply.measure.length import Length
from fourply.measure.names import BOARDS, FRAMES, ISO, MUSEUM_MATS, NAMED, size_named
from fourply.measure.size import Size


@pytest.mark.parametrize(
    ("name", "width", "height"),
    [
        ("A0", 841, 1189),  # ISO 216
        ("A3", 297, 420),  # CV003: ISO 216
        ("A4", 210, 297),  # CV003: ISO 216
        ("A6", 105, 148),  # CV003: ISO 216
        ("A7", 74, 105),  # from memory: ISO 216
        ("A10", 26, 37),  # from memory: ISO 216
        ("B2", 500, 707),  # CV004, from memory: ISO 216
        ("B3", 353, 500),  # CV004, from memory: ISO 216
        ("B4", 250, 353),  # CV004, from memory: ISO 216
        ("A3+", 329, 483),  # common practice
        ("board 815x1120 mm", 815, 1120),  # common practice
        ("frame 40x50 cm", 400, 500),  # common practice
    ],
)
def test_metric_names_have_the_sizes_that_the_standards_give(name: str, width: int, height: int) -> None:
    assert size_named(name) == Size(Length.mm(width), Length.mm(height))


@pytest.mark.parametrize(
    ("name", "width", "height"),
    [
        ("ANSI A", 17, 22),  # ANSI/ASME Y14.1, in halves of an inch
        ("ANSI C", 34, 44),  # CV007: ANSI/ASME Y14.1
        ("ANSI E", 68, 88),  # CV007: ANSI/ASME Y14.1
        ("Arch E1", 60, 84),  # common practice
        ("half imperial", 30, 44),  # from memory: imperial paper
        ("photo 3.5x5 in", 7, 10),  # common practice
        ("museum mat 22x28 in", 44, 56),  # CV013: a museum handbook of 1917
        ("board 32x40 in", 64, 80),  # CV002: common practice
    ],
)
def test_inch_names_have_the_sizes_that_the_lists_give(name: str, width: int, height: int) -> None:
    assert size_named(name) == Size(Length.inches(width, 2), Length.inches(height, 2))


def test_the_short_side_of_b1_is_the_geometric_mean_of_a0_and_a1() -> None:
    # CV005: rule of ISO 216, B1 against A1 = 594 and A0 = 841
    assert round((594 * 841) ** 0.5) == ISO["B1"].width.as_mm


@pytest.mark.parametrize("text", ["a4", " A 4 ", "A-4"])
def test_a_name_is_found_whatever_its_case_and_blanks(text: str) -> None:
    assert size_named(text) is ISO["A4"]


@pytest.mark.parametrize("text", ["", "A11", "C4", "16x20", "A4" * 100_000, "\0"])
def test_a_name_that_is_not_there_is_refused(text: str) -> None:
    with pytest.raises(Unknown, match="no size is called"):
        size_named(text)


def test_every_name_finds_its_own_upright_size() -> None:
    for name, size in NAMED.items():
        assert size_named(name.upper()) == size
        assert size.width <= size.height


def test_families_can_be_listed() -> None:
    assert len(ISO) == 22
    assert "frame 16x20 in" in FRAMES
    assert all(name.startswith("board") for name in BOARDS)
    assert len(MUSEUM_MATS) == 7
