"""Path data as drawing programs write it."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fourply.errors import BadFile
from fourply.files.svgpath import LONGER_SIDE_MM, LONGEST, MOST_PIECES, arc_pieces, parse_path
from fourply.trade.shapes.outline import Cubic, Outline, Segment, Sweep

SQUARE = "M 0 0 H 10 V 10 H 0 Z"
CIRCLE = "M -5 0 A 5 5 0 1 1 5 0 A 5 5 0 1 1 -5 0 Z"


def alike(one: Outline, two: Outline) -> bool:
    pairs = zip(one.flatten(1e-3), two.flatten(1e-3), strict=True)
    return all(math.dist(a, b) < 1e-6 for a, b in pairs)


@pytest.mark.parametrize(
    "text",
    [
        "M0,0H10V10H0Z",
        "m0 0h10v10h-10z",
        "M 0 0 10 0 10 10 0 10",
        "m 0 0 10 0 0 10 -10 0 z",
        "M 0 0 L 10 0 L 10 10 L 0 10 L 0 0 Z",
        "\n M\t0,0 L+1e1-0 L10.0 10. , L .0 10 z  ",
        "M 300 200 h 2 v 2 h -2 z",
    ],
)
def test_a_square_is_a_square_however_it_is_written(text: str) -> None:
    assert alike(parse_path(text), parse_path(SQUARE))


@pytest.mark.parametrize(
    ("text", "same"),
    [
        ("M 0 0 c 0 8 10 8 10 0 z", "M 0 0 C 0 8 10 8 10 0 Z"),
        ("M 0 0 C 0 8 10 8 10 0 S 20 -8 20 0 V 30 H 0 Z", "M 0 0 C 0 8 10 8 10 0 C 10 -8 20 -8 20 0 V 30 H 0 Z"),
        ("M 0 0 L 10 0 S 20 -8 20 0 V 30 H 0 Z", "M 0 0 L 10 0 C 10 0 20 -8 20 0 V 30 H 0 Z"),
        ("M 0 0 Q 6 9 12 0 Z", "M 0 0 C 4 6 8 6 12 0 Z"),
        ("M 0 0 q 6 9 12 0 t 12 0 v 30 h -24 z", "M 0 0 q 6 9 12 0 q 6 -9 12 0 v 30 h -24 z"),
        ("M 0 0 L 12 0 T 24 9 V 30 H 0 Z", "M 0 0 L 12 0 Q 12 0 24 9 V 30 H 0 Z"),
        ("M 0 0 A 0 5 0 0 1 10 0 V 10 H 0 Z", "M 0 0 L 10 0 V 10 H 0 Z"),
        ("M 0 0 A 1 1 0 0 1 10 0 Z", "M 0 0 A 5 5 0 0 1 10 0 Z"),
        ("M0 0a5 5 0 0110 0z", "M 0 0 A 5 5 0 0 1 10 0 Z"),
    ],
)
def test_what_is_short_for_something_is_that(text: str, same: str) -> None:
    assert alike(parse_path(text), parse_path(same))


def test_a_circle_stays_two_arcs() -> None:
    outline = parse_path(CIRCLE)

    assert all(isinstance(piece, Sweep) for piece in outline.pieces)
    assert outline.area == pytest.approx(math.pi * LONGER_SIDE_MM**2 / 4, rel=1e-12)


@pytest.mark.parametrize(("large", "sweep"), list(itertools.product((False, True), repeat=2)))
def test_flags_choose_one_of_four_arcs(large: bool, sweep: bool) -> None:  # noqa: FBT001
    (arc,) = arc_pieces((10.0, 0.0), (10.0, 10.0, 0.0), (large, sweep), (0.0, 10.0))

    assert isinstance(arc, Sweep)
    assert arc.first == pytest.approx((10, 0), abs=1e-9)
    assert arc.last == pytest.approx((0, 10), abs=1e-9)
    assert arc.sweep == pytest.approx((270 if large else 90) * (1 if sweep else -1))


ELLIPSES = st.tuples(st.floats(1, 50), st.floats(1, 50), st.floats(-360, 360))


@given(ELLIPSES, st.tuples(st.booleans(), st.booleans()), st.floats(5, 95))
def test_an_arc_of_a_turned_ellipse_goes_smoothly_from_end_to_end(
    ellipse: tuple[float, float, float], flags: tuple[bool, bool], x: float
) -> None:
    pieces = arc_pieces((0.0, 0.0), ellipse, flags, (x, 3.0))

    assert pieces[0].first == pytest.approx((0, 0), abs=1e-6)
    assert pieces[-1].last == pytest.approx((x, 3), abs=1e-6)
    for before, after in itertools.pairwise(pieces):
        assert before.last == pytest.approx(after.first, abs=1e-6)
        (ax, ay), (bx, by) = before.heading(1.0), after.heading(0.0)
        assert ax * bx + ay * by == pytest.approx(1, abs=1e-6)


def test_a_path_against_the_clock_is_turned() -> None:
    clockwise = parse_path("M 0 0 H 10 C 10 8 4 9 0 10 A 5 5 0 0 1 0 0 Z")
    against = parse_path("M 0 0 A 5 5 0 0 0 0 10 C 4 9 10 8 10 0 Z")

    assert against.area == pytest.approx(clockwise.area)
    assert against.bounds() == pytest.approx(clockwise.bounds())
    assert {type(piece) for piece in against.pieces} == {Segment, Cubic, Sweep}


@pytest.mark.parametrize(
    ("text", "found", "expected"),
    [
        ("", "does not begin with M at character 1", "M and the first point"),
        ("L 1 1", "does not begin with M", "M and the first point"),
        ("hello", "does not begin with M at character 1", "M and the first point"),
        ("xyz", "'xyz' at character 1", "a command: M L H"),
        ("M 0 0", "a path without a piece", "lines or curves"),
        ("M 0 0 L 10", "the end at character 11", "a number"),
        ("M 0 0 L 10 ten", "'ten' at character 12", "a number"),
        ("M 0 0 L 10 1e7", "'1e7' at character 12", "a number up to 1000000"),
        ("M 0 0 L 10 1e999", "'1e999' at character 12", "a number up to"),
        ("M 0 0 A 5 5 0 2 1 10 0 Z", "'2' at character 15", "a flag, 0 or 1"),
        ("M 0 0 H 10 V 10 Z 3", "'3' at character 19", "a command"),
        ("M 0 0 H 10 V 10 Z M 1 1 H 2 V 2 Z", "a second subpath at character 19", "one closed path"),
        ("M 0 0 H 10 V 10 M 1 1 H 2 V 2 Z", "a second subpath", "one closed path"),
        ("M 0 0 H 10 V 10 Z L 5 5", "a second subpath", "one closed path"),
        ("M 0 0 H 10 Z", "encloses next to nothing", "a closed path round an area"),
        ("M 0 1 L 10 11.3 Z", "encloses next to nothing", "a closed path round an area"),
        ("M 0 0 L 10 10 H 0 L 11 0 Z", "crosses itself", "does not cross itself"),
        ("M 0 0 L 10 10 L 10 0 L 0 10 Z", "encloses next to nothing", "a closed path"),
        ("M 0 0 " + "h 1 v 1 " * MOST_PIECES, "more than 500 pieces", "a simpler path"),
        ("M 0 0 " + " " * LONGEST, f"a path of {LONGEST + 6} characters", f"at most {LONGEST} characters"),
    ],
)
def test_what_is_no_path_is_refused_with_its_place(text: str, found: str, expected: str) -> None:
    with pytest.raises(BadFile) as caught:
        parse_path(text, source="heart.svg")

    assert found in caught.value.found
    assert expected in caught.value.expected
    assert str(caught.value).startswith("heart.svg: ")


@settings(deadline=None, max_examples=300)
@given(st.text("MmLlHhVvCcSsQqTtAaZz0123456789.,-+e \n", max_size=60).map(lambda text: "M0 0" + text))
def test_any_text_gives_an_outline_or_a_clear_word(text: str) -> None:
    check(text)


def check(text: str) -> None:
    try:
        outline = parse_path(text)
    except BadFile as bad:
        said = bad.found, bad.expected
    else:
        left, top, right, bottom = outline.bounds()
        assert max(right - left, bottom - top) == pytest.approx(LONGER_SIDE_MM)
        assert outline.area > 0
        return
    assert all(said)


NUMBER = st.one_of(st.integers(-20, 20).map(str), st.floats(-1e6, 1e6).map(repr))
COMMANDS = {"L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2}


@st.composite
def paths(draw: st.DrawFn) -> str:
    words = ["M", draw(NUMBER), draw(NUMBER)]
    for _ in range(draw(st.integers(1, 5))):
        command = draw(st.sampled_from([*COMMANDS, "A"]))
        words.append(draw(st.sampled_from((command, command.lower()))))
        if command == "A":
            flags = [draw(st.sampled_from("01")) for _ in range(2)]
            words += [draw(NUMBER), draw(NUMBER), draw(NUMBER), *flags, draw(NUMBER), draw(NUMBER)]
        else:
            words += [draw(NUMBER) for _ in range(COMMANDS[command])]
    return " ".join(words)


@settings(deadline=None, max_examples=200)
@given(paths())
def test_a_path_of_any_numbers_gives_an_outline_or_a_clear_word(text: str) -> None:
    check(text)
