"""Pairs, their order, and the dimensions of museum records."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fourply.errors import BadLength, Unknown
from fourply.measure.dimensions import (
    Dimension,
    Extent,
    Label,
    Order,
    is_museum,
    parse_pair,
    read_dimensions,
    sheet_of,
)
from fourply.measure.length import Length
from fourply.measure.notation import Marks, Sign, Style, Unit, format_size
from fourply.measure.rounding import SIXTY_FOURTH
from fourply.measure.size import Size

INCHES = Size(Length.inches(16), Length.inches(20))


@pytest.mark.parametrize(
    "text",
    [
        "16x20",
        "16X20",
        "16 × 20 in",
        '16" x 20"',
        '16" x 20',
        "16″×20″",
        "16 by 20",
        "16*20",
        "16\n×\t20",
        "40.64 x 50.8 cm",
        "40,64 cm x 20 in",
        "1' 4\" x 1' 8\"",
        "16 w x 20 h",
        "16w x 20h in",
        "20 h in × 16 w in.",
        "20 h x 16 w",
        "20 in (h) x 16 in (w)",
        "H. 20 × W. 16 in",
        "height: 20 x width: 16",
        "16 wide by 20 high",
    ],
)
def test_every_way_of_writing_16_by_20_is_read(text: str) -> None:
    assert parse_pair(text, Unit.INCH, Order.WIDTH_HEIGHT) == Extent(INCHES)


def test_the_stated_order_says_which_number_is_the_width() -> None:
    assert parse_pair("20 x 16", Unit.INCH, Order.HEIGHT_WIDTH).size == INCHES


def test_letters_at_the_numbers_win_over_the_order_of_the_list() -> None:
    assert parse_pair("20 h x 16 w", Unit.INCH, Order.WIDTH_HEIGHT).size == INCHES


def test_a_third_number_is_the_depth() -> None:
    assert parse_pair("16 x 20 x 1 1/2", Unit.INCH, Order.WIDTH_HEIGHT) == Extent(INCHES, Length.inches(3, 2))
    assert parse_pair("20h x 16w x 1.5d", Unit.INCH, None) == Extent(INCHES, Length.inches(3, 2))


def test_a_pair_without_an_order_is_refused_and_says_how_to_state_it() -> None:
    with pytest.raises(BadLength) as refused:
        parse_pair("16 x 20", Unit.INCH, None)
    assert 'order = "width x height"' in str(refused.value)
    assert "--order" in str(refused.value)


def test_a_square_needs_no_order() -> None:
    assert parse_pair("30 x 30 cm", Unit.INCH, None).size == Size(Length.mm(300), Length.mm(300))


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "two lengths such as"),
        ("16", "two lengths such as"),
        ("16 x", "two lengths such as"),
        ("x 20", "two lengths such as"),
        ("1x2x3x4", "two lengths such as"),
        ("16 x 0", "above nothing"),
        ("0 x 16", "above nothing"),
        ("16 x -20", "no sign"),
        ("16 x nonsense", "write a length such as"),
        ("16 x 1/0", "lower number"),
        ("16 x 3 3/3", "below the lower"),
        ("16 x 1,234", "thousands"),
        ("16 w x 20", "a letter at each number"),
        ("16 w x 20 w", "a letter at each number"),
        ("16 w x 20 d", "a letter at each number"),
        pytest.param("1x2" * 100_000, "two lengths such as", id="300 000 characters"),
    ],
)
def test_what_is_no_clear_pair_is_refused(text: str, says: str) -> None:
    with pytest.raises(BadLength) as refused:
        parse_pair(text, Unit.INCH, Order.WIDTH_HEIGHT)
    assert says in str(refused.value)
    assert refused.value.found == text


@pytest.mark.parametrize(
    ("text", "order"),
    [
        ("width x height", Order.WIDTH_HEIGHT),
        ("Width by Height", Order.WIDTH_HEIGHT),
        ("W×H", Order.WIDTH_HEIGHT),
        ("height x width", Order.HEIGHT_WIDTH),
        ("h/w", Order.HEIGHT_WIDTH),
        ("HxW", Order.HEIGHT_WIDTH),
    ],
)
def test_orders_are_named_in_the_usual_ways(text: str, order: Order) -> None:
    assert Order.named(text) is order


@pytest.mark.parametrize("text", ["", "x", "width", "w x w", "first", "wh" * 100_000])
def test_an_unknown_order_is_refused_with_those_that_are(text: str) -> None:
    with pytest.raises(Unknown, match="width x height, height x width"):
        Order.named(text)


lengths = st.integers(1, 64 * 150).map(lambda count: Length.inches(count, 64))
sizes = st.builds(Size, lengths, lengths)


@given(sizes, st.sampled_from([Unit.INCH, Unit.FOOT]), st.sampled_from(Marks), st.sampled_from(Sign))
def test_a_printed_size_reads_back(size: Size, unit: Unit, marks: Marks, sign: Sign) -> None:
    printed = format_size(size, Style(unit, SIXTY_FOURTH, marks=marks, sign=sign))
    assert parse_pair(printed, unit, Order.WIDTH_HEIGHT).size == size


# ── museum records ───────────────────────────────────────────────────────────────────────────────────────────────


def test_museum_form_is_height_first() -> None:
    (stated,) = read_dimensions("support: 325 x 445 mm", Unit.INCH)
    assert stated == Dimension(Label.SUPPORT, "support", Extent(Size(Length.mm(445), Length.mm(325))))


@pytest.mark.parametrize(
    ("text", "label"),
    [
        ("325 x 445 mm", Label.UNLABELLED),
        ("Support: 325 x 445 mm", Label.SUPPORT),
        ("object: 325 x 445 mm", Label.OBJECT),
        ("unconfirmed: 325 x 445 mm", Label.UNCONFIRMED),
        ("Sheet 32.5 × 44.5 cm", Label.SHEET),
        ("paper: 32.5 × 44.5 cm", Label.SHEET),
        ("image: 325 x 445 mm", Label.IMAGE),
        ("Image (irregular): 325 x 445 mm", Label.IMAGE),
        ("plate mark: 325 x 445 mm", Label.PLATE),
        ("frame: 325 x 445 x 30 mm", Label.FRAME),
        ("mount: 325 x 445 x 4 mm", Label.MOUNT),
        ("mystery: 325 x 445 mm", Label.OTHER),
        ("sheet: 32.5 x 44.5 cm (12 13/16 x 17 1/2 in.)", Label.SHEET),
    ],
)
def test_labels_are_recognised(text: str, label: Label) -> None:
    (stated,) = read_dimensions(text, Unit.MM)
    assert stated.label is label
    assert stated.extent.size == Size(Length.mm(445), Length.mm(325))


def test_several_statements_stand_on_lines_or_between_semicolons() -> None:
    for text in ("support: 3 x 4 cm\nframe: 5 x 6 x 1 cm", "support: 3 x 4 cm; frame: 5 x 6 x 1 cm;"):
        assert [stated.label for stated in read_dimensions(text, Unit.MM)] == [Label.SUPPORT, Label.FRAME]


@pytest.mark.parametrize(
    "text",
    [
        "",
        "  \n ",
        "support",
        "support:",
        "support: 325 mm",
        "- 3 x 4",
        "support: 325 x 445 mm (10 x 10 in)",
        pytest.param("support: " * 50_000, id="450 000 characters"),
        pytest.param("a" + " " * 1_990, id="2 000 blanks"),
        pytest.param("a " * 990, id="1 000 words"),
    ],
)
def test_what_states_no_size_is_refused(text: str) -> None:
    with pytest.raises(BadLength):
        read_dimensions(text, Unit.MM)


def test_another_size_in_brackets_is_refused_with_the_difference() -> None:
    with pytest.raises(BadLength, match=r"differs by 2\.5 mm"):
        read_dimensions("sheet: 325 x 445 mm (32.5 x 44.75 cm)", Unit.MM)


@pytest.mark.parametrize(
    ("text", "label"),
    [
        ("support: 30 x 40 mm\nframe: 50 x 60 mm", Label.SUPPORT),
        ("image: 30 x 40 mm\nsupport: 50 x 60 mm", Label.SUPPORT),
        ("image: 30 x 40 mm\nmount: 50 x 60 mm", Label.IMAGE),
        ("plate: 30 x 40 mm", Label.PLATE),
        ("30 x 40 mm", Label.UNLABELLED),
    ],
)
def test_the_sheet_is_taken_before_the_image_and_frames_never(text: str, label: Label) -> None:
    assert sheet_of(text, read_dimensions(text, Unit.MM)).label is label


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("unconfirmed: 510 x 510 mm\nunconfirmed: 510 x 510 mm", "2 sizes of the sheet"),
        ("support: 30 x 40 mm; object: 31 x 41 mm", "2 sizes of the sheet"),
        ("image: 30 x 40 mm; plate: 31 x 41 mm", "2 sizes of the image or plate"),
        ("frame: 30 x 40 mm", "only that of frame"),
    ],
)
def test_of_two_sizes_neither_is_guessed(text: str, says: str) -> None:
    with pytest.raises(BadLength, match=says):
        sheet_of(text, read_dimensions(text, Unit.MM))


@pytest.mark.parametrize(
    ("text", "museum"),
    [
        ("Frame: 3 x 4", True),
        ("Sheet 3 x 4 cm", True),
        ("16 x 20\nimage: 3 x 4", True),
        ("16 x 20", False),
        ("box: 3 x 4", False),
    ],
)
def test_museum_text_is_known_by_its_labels(text: str, *, museum: bool) -> None:
    assert is_museum(text) is museum


@given(st.text(max_size=60) | st.text(alphabet="1234567890 x×/.,:;()\nimageshtwd\"'", max_size=60))
def test_any_text_is_dimensions_or_a_bad_length(text: str) -> None:
    try:
        stated = sheet_of(text, read_dimensions(text, Unit.MM))
    except BadLength:
        return
    assert stated.extent.size.width > Length(0)
