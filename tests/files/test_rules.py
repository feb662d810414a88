"""The rules of a treatment as text and back."""

from __future__ import annotations

from dataclasses import fields
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.files import drawn

from fourply.errors import BadInput
from fourply.files.convertors import Reading
from fourply.files.rules import TREATMENT
from fourply.measure.dimensions import Order
from fourply.measure.length import Length
from fourply.measure.notation import Unit
from fourply.measure.size import Edges, Size
from fourply.trade.shapes.rule import ShapeKind, ShapeRule
from fourply.trade.treatment import (
    FIELDS,
    INCH,
    METRIC,
    Bevel,
    Bottom,
    BottomRule,
    Layer,
    MatRule,
    RevealMeans,
    Treatment,
)

OVAL = ShapeRule(ShapeKind.OVAL)
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
        ("mats", "cream, oval + blue @ 1/4", (MatRule("cream", shape=OVAL), MatRule("blue", Length.inches(1, 4)))),
        ("mats", "cream @ 1,5 mm flat, oval", (MatRule("cream", Length.mm(3, 2), RevealMeans.FLAT, shape=OVAL),)),
        (
            "mats",
            "cream, oval @ 1/4 reverse",
            (MatRule("cream", Length.inches(1, 4), bevel=Bevel.REVERSE, shape=OVAL),),
        ),
        (
            "mats",
            "cream + grey, set back 1/4 + blue @ 1/8",
            (MatRule("cream"), MatRule("grey", setback=Length.inches(1, 4)), MatRule("blue", Length.inches(1, 8))),
        ),
        (
            "mats",
            "cream, stepped 1/4 and 1/8",
            (MatRule("cream", shape=ShapeRule(ShapeKind.STEPPED, steps=(Length.inches(1, 4), Length.inches(1, 8)))),),
        ),
        ("mats", "cream, ovally ribbed", (MatRule("cream, ovally ribbed"),)),
        (
            "mats",
            [{"board": "cream", "shape": "oval"}, {"board": "grey", "setback": "1/4"}],
            (MatRule("cream", shape=OVAL), MatRule("grey", setback=Length.inches(1, 4))),
        ),
        ("openings", "none", ()),
        ("openings", [{}, {"name": "b", "shape": "oval"}], (Layer("opening 1", {}), Layer("b", {"shape": OVAL}))),
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
        ("mats", "a, stepped 1/4 + 1/4 + b @ 1", "join steps in a mat with and"),
        ("mats", "a, oval, circle", "one shape"),
        ("mats", "a, set back 1/4, oval", "follows the shape"),
        ("mats", "a, set back", "a length such as"),
        ("mats", "a, clipped", "clipped 1 in"),
        ("openings", "two", "tables, one for each opening"),
        ("openings", [{"border": 3}], "what may differ from opening to opening: window"),
        ("openings", [{"shape": "heart"}], "one of rectangle, oval"),
        ("openings", [{}] * 61, "at most 60"),
    ],
)
def test_rules_that_cannot_be_read_are_refused(key: str, raw: object, says: str) -> None:
    with pytest.raises(BadInput) as refused:
        TREATMENT[key].parse(raw, INCHES)
    assert says in str(refused.value)


@pytest.mark.parametrize(
    ("key", "values"),
    [
        ("bottom", drawn.bottoms),
        ("borders", st.none() | st.builds(Edges, *[drawn.lengths] * 4)),
        ("outer", st.none() | st.builds(Size, drawn.sides, drawn.sides)),
        ("mats", drawn.mats()),
        ("shape", drawn.shapes()),
        ("grooves", drawn.grooves),
        ("lines", drawn.lines),
        ("title", drawn.titles),
        ("inlay", drawn.inlays),
        ("sink", drawn.sinks),
        ("layout", drawn.layouts),
        ("openings", drawn.openings),
    ],
)
@settings(suppress_health_check=[HealthCheck.too_slow], deadline=None, max_examples=60)
@given(st.data())
def test_a_printed_rule_reads_back(key: str, values: st.SearchStrategy[object], data: st.DataObject) -> None:
    value = data.draw(values)
    assert TREATMENT[key].parse(TREATMENT[key].print(value), Reading(Unit.MM)) == value


@settings(suppress_health_check=[HealthCheck.too_slow], deadline=None, max_examples=25)
@given(drawn.treatments())
def test_every_treatment_prints_and_reads_back(treatment: Treatment) -> None:
    for key in FIELDS:
        value = getattr(treatment, key)
        assert TREATMENT[key].parse(TREATMENT[key].print(value), INCHES) == value, key
