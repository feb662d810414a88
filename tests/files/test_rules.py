"""The rules of a treatment as text and back."""

from __future__ import annotations

from dataclasses import fields
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fourply.errors import BadInput
from fourply.files.convertors import Reading
from fourply.files.rules import TREATMENT
from fourply.measure.dimensions import Order
from fourply.measure.length import Length
from fourply.measure.notation import Unit
from fourply.measure.size import Edges, Size
from fourply.trade.treatment import (
    FIELDS,
    INCH,
    METRIC,
    Bevel,
    Bottom,
    BottomRule,
    MatRule,
    RevealMeans,
)

INCHES = Reading(Unit.INCH, Order.WIDTH_HEIGHT)


def test_every_rule_has_a_convertor_and_nothing_else_has() -> None:
    assert set(TREATMENT) == set(FIELDS)


@pytest.mark.parametrize("treatment", [INCH, METRIC])
def test_the_shops_defaults_print_and_read_back(treatment: object) -> None:
    for each in fields(treatment):  # type: ignore[arg-type]
        if each.name != "origins":
            value = getattr(treatment, each.name)
            printed = TREATMENT[each.name].print(value)
            assert TREATMENT[each.name].parse(printed, Reading(Unit.CM)) == value


@pytest.mark.parametrize(
    ("key", "raw", "value"),
    [
        ("bottom", "equal", Bottom()),
        ("bottom", "Optical Clamped", Bottom(BottomRule.OPTICAL_CLAMPED)),
        ("bottom", "golden", Bottom(BottomRule.GOLDEN)),
        ("bottom", "+1/2", Bottom(BottomRule.AMOUNT, amount=Length.inches(1, 2))),
        ("bottom", "x 4/3", Bottom(BottomRule.RATIO, ratio=Fraction(4, 3))),
        ("bottom", "1.25 times", Bottom(BottomRule.RATIO, ratio=Fraction(5, 4))),
        ("bottom", "3 1/2", Bottom(BottomRule.WIDTH, amount=Length.inches(7, 2))),
        ("borders", "none", None),
        (
            "borders",
            "top 3, right 2, bottom 4, left 1",
            Edges(Length.inches(3), Length.inches(2), Length.inches(4), Length.inches(1)),
        ),
        ("borders", {"top": 3, "right": 3, "bottom": "3 in", "left": "3"}, Edges.equal(Length.inches(3))),
        ("outer", "none", None),
        ("outer", "16 x 20", Size(Length.inches(16), Length.inches(20))),
        ("outer", "frame 40x50 cm", Size(Length.mm(400), Length.mm(500))),
        ("mats", "white 4-ply", (MatRule("white 4-ply"),)),
        ("mats", "cream + blue @ 1/4", (MatRule("cream"), MatRule("blue", Length.inches(1, 4)))),
        (
            "mats",
            "cream + blue @ 5 mm flat reverse",
            (MatRule("cream"), MatRule("blue", Length.mm(5), RevealMeans.FLAT, Bevel.REVERSE)),
        ),
        (
            "mats",
            [{"board": "cream"}, {"board": "blue", "reveal": "1/4", "means": "flat", "bevel": "reverse"}],
            (MatRule("cream"), MatRule("blue", Length.inches(1, 4), RevealMeans.FLAT, Bevel.REVERSE)),
        ),
        ("mats", ["cream", "blue @ 1/4"], (MatRule("cream"), MatRule("blue", Length.inches(1, 4)))),
        ("moulding", "none", ""),
        ("stack_cut", False, False),
    ],
)
def test_rules_are_read_as_people_write_them(key: str, raw: object, value: object) -> None:
    assert TREATMENT[key].parse(raw, INCHES) == value


@pytest.mark.parametrize(
    ("key", "raw", "says"),
    [
        ("bottom", "heavy", "equal, optical"),
        ("bottom", "x 100", "at most ten times"),
        ("bottom", "x", "write equal"),
        ("bottom", "+nonsense", "a length such as"),
        ("bottom", "8-Mar", "likely 3/8"),
        ("borders", "3 3 4 3", "top 3 in, right 3 in"),
        ("borders", "top 3, right 3", "top, right, bottom, left"),
        ("borders", {"top": 3}, "top, right, bottom, left"),
        ("borders", [3, 3, 4, 3], "one value"),
        ("outer", "16 by", "two lengths"),
        ("mats", "", "boards such as"),
        ("mats", "a + @ 1/4", "boards such as"),
        ("mats", "a + b @ wide", "a length such as"),
        ("mats", [{"reveal": "1/4"}], "board"),
        ("mats", [{"board": "a", "colour": "b"}], "board"),
        ("mats", 7.5, "one value"),
    ],
)
def test_rules_that_cannot_be_read_are_refused(key: str, raw: object, says: str) -> None:
    with pytest.raises(BadInput) as refused:
        TREATMENT[key].parse(raw, INCHES)
    assert says in str(refused.value)


lengths = st.integers(0, 3_000_000_000).map(Length)
sides = st.integers(1, 3_000_000_000).map(Length)
ratios = st.fractions(Fraction(1, 10), 10, max_denominator=999)
bottoms = (
    st.sampled_from([Bottom(), Bottom(BottomRule.OPTICAL), Bottom(BottomRule.OPTICAL_CLAMPED)])
    | st.builds(lambda amount: Bottom(BottomRule.AMOUNT, amount=amount), lengths)
    | st.builds(lambda amount: Bottom(BottomRule.WIDTH, amount=amount), lengths)
    | st.builds(lambda ratio: Bottom(BottomRule.RATIO, ratio=ratio), ratios)
)
boards = st.text(alphabet="abc 4-ply", min_size=1, max_size=12).map(str.strip).filter(bool)
mats = st.lists(
    st.builds(MatRule, boards, lengths, st.sampled_from(RevealMeans), st.sampled_from(Bevel)), min_size=1, max_size=4
).map(tuple)


@pytest.mark.parametrize(
    ("key", "values"),
    [
        ("bottom", bottoms),
        ("borders", st.none() | st.builds(Edges, lengths, lengths, lengths, lengths)),
        ("outer", st.none() | st.builds(Size, sides, sides)),
        ("mats", mats),
    ],
)
@given(st.data())
def test_a_printed_rule_reads_back(key: str, values: st.SearchStrategy[object], data: st.DataObject) -> None:
    value = data.draw(values)
    assert TREATMENT[key].parse(TREATMENT[key].print(value), Reading(Unit.MM)) == value
