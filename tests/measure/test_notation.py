"""Reading and printing lengths: what is accepted, what is refused and how, and that one undoes the other."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fourply.errors import BadLength, Unknown
from fourply.measure.length import Length
from fourply.measure.notation import (
    LONGEST,
    Decimal,
    Marks,
    Sign,
    Style,
    Unit,
    format_length,
    format_size,
    parse_length,
    parse_with_unit,
)
from fourply.measure.rounding import (
    EIGHTH,
    GRIDS,
    HALF_MILLIMETRE,
    MILLIMETRE,
    NANOMETRE,
    SIXTEENTH,
    SIXTY_FOURTH,
    TENTH_MILLIMETRE,
    Grid,
    down,
    up,
)
from fourply.measure.size import Size

SIXTEEN_THREE_EIGHTHS = Length.inches(131, 8)
METRIC = Length.mm(415)


@pytest.mark.parametrize(
    "text",
    [
        '16 3/8"',
        "16-3/8",
        "16‑3/8",
        "16 3⁄8 in",
        "16³⁄₈ in",
        "16⅜",
        "16 ⅜″",
        "16\N{NO-BREAK SPACE}3/8\N{THIN SPACE}in.",
        "16\N{NARROW NO-BREAK SPACE}3∕8”",
        "16 3/8''",
        "16 3/8 INCHES",
        "1' 4 3/8\"",
        "1′ 4 3⁄8″",
        "1'-4 3/8\"",
        "1 ft 4 3/8 in",
        "1ft. 4⅜",
        "1' 4.375",
        "16.375",
        "16,3750 in",
        " 16.375\tin ",
        "131/8",
        "415.925 mm",
        "41.5925cm",
        "0,415925 m",
    ],
)
def test_every_way_of_writing_sixteen_and_three_eighths_inches_is_read(text: str) -> None:
    assert parse_length(text, Unit.INCH) == SIXTEEN_THREE_EIGHTHS


@pytest.mark.parametrize("text", ["415 mm", "41,5 cm", "41.5 cm", "0.415 m", "0,415 m", "415", "830/2"])
def test_every_way_of_writing_415_mm_is_read(text: str) -> None:
    assert parse_length(text, Unit.MM) == METRIC


@pytest.mark.parametrize(
    ("text", "unit", "nm"),
    [
        ("1", Unit.INCH, 25_400_000),  # definition: 1 in = 25.4 mm
        ("1", Unit.FOOT, 304_800_000),  # definition: 12 in
        ("1", Unit.MM, 1_000_000),
        ("1", Unit.CM, 10_000_000),
        ("1", Unit.M, 1_000_000_000),
        ("1/64", Unit.INCH, 396_875),  # derived: 25 400 000 / 64
        (".5", Unit.INCH, 12_700_000),
        ("0", Unit.INCH, 0),
        ("0.060 in", Unit.MM, 1_524_000),  # CV008: 60 pt of board caliper
        ("100 m", Unit.MM, 100_000_000_000),
        ("1' 11 63/64\"", Unit.MM, 12 * 25_400_000 + 11 * 25_400_000 + 63 * 396_875),
        ("1.5 ft", Unit.MM, 457_200_000),
    ],
)
def test_a_bare_number_takes_the_given_unit_and_a_named_one_its_own(text: str, unit: Unit, nm: int) -> None:
    assert parse_length(text, unit).nm == nm


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "nothing is written"),
        ("   ", "nothing is written"),
        ("nonsense", "write a length such as"),
        ("1/0", "lower number"),
        ("3 1/0", "lower number"),
        ("-3", "no sign"),
        ("−3 in", "no sign"),
        ("+3", "no sign"),
        ("1e9", "write a length such as"),
        ("inf", "write a length such as"),
        ("nan", "write a length such as"),
        ("0x10", "write a length such as"),
        ("1_000", "write a length such as"),
        ("3 3/3", "below the lower"),
        ("3-5/4", "below the lower"),
        ("16 3/8 kg", "write a length such as"),
        ("16 - 3/8", "write a length such as"),
        ("16 in 3/8", "write a length such as"),
        ("1' 4 cm", "write a length such as"),
        ("1' 12\"", "below 12"),
        ("\0", "write a length such as"),
        ("16\0", "write a length such as"),
        ("16\n3/8", "write a length such as"),
        ("1,234", "1.234 or 1234"),
        ("1,234.5", "without a separator"),
        ("1.234,5", "without a separator"),
        ("1'234.5", "below 12"),
        ("1 234", "write a length such as"),
        ("١٦", "only the digits 0 to 9"),
        ("１６", "only the digits 0 to 9"),
        ("16²", "only the digits 0 to 9"),
        ("1/3", "nearest 1/64 in is 21/64 in"),
        ("1/128", "nearest 1/64 in is 1/64 in"),
        ("3/128", "nearest 1/64 in is 1/32 in"),
        ("16.333333333 in", "nearest 1/64 in is 16 21/64 in"),
        ("41.33333333 cm", "nearest 0.1 mm is 413.3 mm"),
        ("100.001 m", "at most 100 m"),
        ("999999999", "at most 100 m"),
        ("1000000000", "write a length such as"),
        pytest.param("16" * 100_000, "at most 80 characters", id="200 000 digits"),
        pytest.param(" " * 200_000, "at most 80 characters", id="200 000 spaces"),
        ("1/" * 40, "write a length such as"),
        ("9" * 79, "write a length such as"),
        ("16 ins ſ", "write a length such as"),
        ("16 inſ", "write a length such as"),
    ],
)
def test_what_is_no_clear_length_is_refused_with_what_would_be_right(text: str, says: str) -> None:
    with pytest.raises(BadLength) as refused:
        parse_length(text, Unit.INCH)
    assert says in str(refused.value)
    assert refused.value.found == text
    assert len(str(refused.value)) < 200


def test_the_message_repeats_what_was_read() -> None:
    with pytest.raises(BadLength, match=r"^'nonsense' is not a length"):
        parse_length("nonsense", Unit.MM)


def test_the_unit_that_the_text_names_is_told() -> None:
    assert parse_with_unit("41,5 cm", Unit.INCH) == (METRIC, Unit.CM)
    assert parse_with_unit("415", Unit.MM) == (METRIC, None)
    assert parse_with_unit("1' 4", Unit.MM)[1] is Unit.INCH


@pytest.mark.parametrize(
    ("name", "unit"), [("in.", Unit.INCH), ("″", Unit.INCH), ("MM", Unit.MM), (" Feet ", Unit.FOOT), ("Metres", Unit.M)]
)
def test_units_are_named_in_the_usual_ways(name: str, unit: Unit) -> None:
    assert Unit.named(name) is unit


def test_an_unknown_unit_is_refused_with_those_that_are() -> None:
    with pytest.raises(Unknown, match="in, ft, mm, cm, m"):
        Unit.named("furlong")


@given(st.text(max_size=90))
def test_any_text_is_a_length_or_a_bad_length(text: str) -> None:
    try:
        length = parse_length(text, Unit.INCH)
    except BadLength:
        return
    assert Length(0) <= length <= LONGEST


@given(st.text(alphabet="0123456789/ -.,'\"inmc⁄⅜³₈′″", max_size=20))
def test_any_text_of_the_right_signs_is_a_length_or_a_bad_length(text: str) -> None:
    try:
        length = parse_length(text, Unit.INCH)
    except BadLength:
        return
    assert Length(0) <= length <= LONGEST


@pytest.mark.parametrize(
    ("style", "text"),
    [
        (Style(Unit.INCH, SIXTEENTH), "16 3/8 in"),
        (Style(Unit.INCH, SIXTEENTH, sign=Sign.MARK), '16 3/8"'),
        (Style(Unit.INCH, SIXTEENTH, sign=Sign.NONE), "16 3/8"),
        (Style(Unit.INCH, SIXTEENTH, marks=Marks.TYPOGRAPHIC), "16 3⁄8 in"),
        (Style(Unit.INCH, SIXTEENTH, marks=Marks.TYPOGRAPHIC, sign=Sign.MARK), "16 3⁄8″"),
        (Style(Unit.INCH, Grid("1/100 in", Length.inches(1, 100))), "16.38 in"),
        (Style(Unit.INCH, Grid("1/1000 in", Length.inches(1, 1000)), decimal=Decimal.COMMA), "16,3750 in"),
        (Style(Unit.FOOT, SIXTEENTH), "1 ft 4 3/8 in"),
        (Style(Unit.FOOT, SIXTEENTH, sign=Sign.MARK), "1' 4 3/8\""),
        (Style(Unit.FOOT, SIXTEENTH, sign=Sign.NONE), "1' 4 3/8"),
        (Style(Unit.FOOT, SIXTEENTH, marks=Marks.TYPOGRAPHIC, sign=Sign.MARK), "1′ 4 3⁄8″"),
        (Style(Unit.MM, TENTH_MILLIMETRE), "415.9 mm"),
        (Style(Unit.MM, TENTH_MILLIMETRE, decimal=Decimal.COMMA), "415,9 mm"),
        (Style(Unit.MM, HALF_MILLIMETRE), "416 mm"),
        (Style(Unit.MM, HALF_MILLIMETRE, down), "415.5 mm"),
        (Style(Unit.CM, MILLIMETRE, up, decimal=Decimal.COMMA), "41,6 cm"),
        (Style(Unit.M, MILLIMETRE, decimal=Decimal.COMMA), "0,4160 m"),
        (Style(Unit.MM, NANOMETRE), "415.925 mm"),
        (Style(Unit.MM, SIXTEENTH), "415.925 mm"),
    ],
)
def test_a_style_says_unit_grid_direction_and_look(style: Style, text: str) -> None:
    assert format_length(SIXTEEN_THREE_EIGHTHS, style) == text


@pytest.mark.parametrize(
    ("nm", "style", "text"),
    [
        (0, Style(Unit.INCH, SIXTEENTH), "0 in"),
        (0, Style(Unit.FOOT, SIXTEENTH, sign=Sign.NONE), "0'"),
        (304_800_000, Style(Unit.FOOT, SIXTEENTH), "1 ft"),
        (25_400_000, Style(Unit.FOOT, SIXTEENTH), "1 in"),
        (3_175_000, Style(Unit.INCH, SIXTEENTH), "1/8 in"),
        (-13_000_000, Style(Unit.MM, MILLIMETRE), "-13 mm"),
        (-13_000_000, Style(Unit.MM, MILLIMETRE, marks=Marks.TYPOGRAPHIC), "−13 mm"),
        (-100_000, Style(Unit.MM, MILLIMETRE), "0 mm"),
        (500_000, Style(Unit.MM, HALF_MILLIMETRE, sign=Sign.NONE), "0.5"),
    ],
)
def test_nothing_and_less_than_nothing_are_printed_clearly(nm: int, style: Style, text: str) -> None:
    assert format_length(Length(nm), style) == text


@pytest.mark.parametrize("unit", [Unit.INCH, Unit.FOOT])
def test_a_grid_that_the_unit_cannot_print_is_refused(unit: Unit) -> None:
    with pytest.raises(ValueError, match=r"0\.5 mm cannot be printed exactly"):
        Style(unit, HALF_MILLIMETRE)


def test_a_size_is_width_by_height_with_the_word_once_and_the_mark_twice() -> None:
    size = Size(SIXTEEN_THREE_EIGHTHS, Length.inches(20))
    assert format_size(size, Style(Unit.INCH, EIGHTH)) == "16 3/8 x 20 in"
    assert format_size(size, Style(Unit.INCH, EIGHTH, sign=Sign.MARK)) == '16 3/8" x 20"'
    assert format_size(size, Style(Unit.INCH, EIGHTH, marks=Marks.TYPOGRAPHIC)) == "16 3⁄8 × 20 in"
    assert format_size(size, Style(Unit.FOOT, EIGHTH)) == "1 ft 4 3/8 in x 1 ft 8 in"


def _styles() -> st.SearchStrategy[Style]:
    looks = (st.sampled_from(Marks), st.sampled_from(Sign), st.sampled_from(Decimal))
    grids = st.sampled_from(list(GRIDS.values()))
    inch_grids = st.sampled_from([grid for grid in GRIDS.values() if grid.name.endswith("in")])
    metric = st.builds(Style, st.sampled_from([Unit.MM, Unit.CM, Unit.M]), grids, st.just(down), *looks)
    return metric | st.builds(Style, st.sampled_from([Unit.INCH, Unit.FOOT]), inch_grids, st.just(down), *looks)


@given(_styles(), st.integers(0, 5_000_000_000))
def test_what_is_printed_reads_back_as_the_length_on_the_grid(style: Style, nm: int) -> None:
    on_grid = Length(nm // style.grid.step.nm * style.grid.step.nm)
    assert parse_length(format_length(Length(nm), style), style.unit) == on_grid


@given(st.integers(0, 64 * 200))
def test_every_sixty_fourth_reads_back_from_superior_and_inferior_digits(count: int) -> None:
    printed = format_length(Length.inches(count, 64), Style(Unit.INCH, SIXTY_FOURTH, marks=Marks.TYPOGRAPHIC))
    whole, _, fraction = printed.removesuffix(" in").rpartition(" ")
    if "⁄" in fraction:
        over, under = fraction.split("⁄")
        small = (
            over.translate(str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")),
            under.translate(str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")),
        )
        printed = f"{whole}{small[0]}⁄{small[1]} in"
    assert parse_length(printed, Unit.MM).as_inches == Fraction(count, 64)
