"""Grooves, lines, titles, inlays, sink mats and layouts as people write them."""

from __future__ import annotations

import pytest

from fourply.errors import BadInput
from fourply.files.accents import PEN
from fourply.files.convertors import Reading
from fourply.files.rules import TREATMENT
from fourply.measure.dimensions import Order
from fourply.measure.length import ZERO, Length
from fourply.measure.notation import Unit
from fourply.measure.size import Size
from fourply.trade.accents import (
    Align,
    Arrange,
    Gaps,
    GrooveRule,
    InlayRule,
    LayoutRule,
    LineRule,
    Round,
    SinkRule,
    TitleRule,
)
from fourply.trade.shapes.rule import ShapeKind, ShapeRule

INCHES = Reading(Unit.INCH, Order.WIDTH_HEIGHT)


def inch(count: int, over: int = 1) -> Length:
    return Length.inches(count, over)


TITLE = Size(inch(3), inch(1, 2))
GRID = LayoutRule(Arrange.GRID, inch(3, 4), align=Align.BASE, columns=3)
PLACES = ((ZERO, ZERO), (inch(9), inch(-1)))


@pytest.mark.parametrize(
    ("key", "raw", "value"),
    [
        ("grooves", "none", ()),
        ("grooves", 0, ()),
        ("grooves", [], ()),
        ("grooves", "1/2", (GrooveRule(inch(1, 2)),)),
        ("grooves", "1/2 in + 3/4", (GrooveRule(inch(1, 2)), GrooveRule(inch(3, 4)))),
        ("grooves", ["1/2", {"distance": "3/4"}], (GrooveRule(inch(1, 2)), GrooveRule(inch(3, 4)))),
        (
            "grooves",
            [{"distance": "1/2", "shave": "-1/64 in", "shape": "oval", "round": "all"}],
            (GrooveRule(inch(1, 2), inch(-1, 64), ShapeRule(ShapeKind.OVAL), Round.ALL),),
        ),
        ("lines", "none", ()),
        ("lines", "1/4 + 3/8", (LineRule(inch(1, 4), PEN), LineRule(inch(3, 8), PEN))),
        (
            "lines",
            [{"distance": "1/4", "width": "1/8", "colour": "#c9b68a", "wash": True}],
            (LineRule(inch(1, 4), inch(1, 8), "#c9b68a", wash=True),),
        ),
        ("title", "none", None),
        ("title", "3 x 1/2 in", TitleRule(TITLE)),
        ("title", "3 x 1/2 in, drop 1", TitleRule(TITLE, inch(1))),
        ("title", {"size": "3 x 1/2"}, TitleRule(TITLE)),
        ("title", {"size": {"width": 3, "height": "1/2"}, "drop": "1 in"}, TitleRule(TITLE, inch(1))),
        ("inlay", "none", None),
        ("inlay", "red 4-ply @ 1/2 in, 1/4 in wide", InlayRule("red 4-ply", inch(1, 2), inch(1, 4))),
        ("inlay", {"board": "red", "distance": 1, "width": "1/4"}, InlayRule("red", inch(1), inch(1, 4))),
        ("sink", "none", None),
        ("sink", "white 8-ply, clearance 1/8 in", SinkRule("white 8-ply", inch(1, 8))),
        ("sink", {"board": "white", "clearance": 0}, SinkRule("white", ZERO)),
        ("layout", "row", LayoutRule()),
        ("layout", "Column", LayoutRule(Arrange.COLUMN)),
        ("layout", "gutter 2", LayoutRule(gutter=inch(2))),
        ("layout", "grid 3, gutter 3/4 in, base", GRID),
        ("layout", "grid 3 gutter 3/4 in base", GRID),
        ("layout", "base grid 3 columns gutter 3/4", GRID),
        ("layout", "row gutter 2,5 cm even top", LayoutRule(Arrange.ROW, Length.mm(25), Gaps.EVEN, Align.TOP)),
        ("layout", "auto, fill, center", LayoutRule(Arrange.AUTO, gaps=Gaps.FILL)),
        ("layout", {"arrange": "grid", "columns": 3, "gutter": "3/4", "align": "base"}, GRID),
        ("layout", {"gaps": "even"}, LayoutRule(gaps=Gaps.EVEN)),
        (
            "layout",
            {"arrange": "free", "places": [{"left": 0, "top": 0}, {"left": "9 in", "top": "-1 in"}]},
            LayoutRule(Arrange.FREE, places=PLACES),
        ),
        ("layout", {"arrange": "free", "places": [[0, 0], ["9", "−1"]]}, LayoutRule(Arrange.FREE, places=PLACES)),
    ],
)
def test_accents_are_read_as_people_write_them(key: str, raw: object, value: object) -> None:
    assert TREATMENT[key].parse(raw, INCHES) == value


@pytest.mark.parametrize(
    ("key", "raw", "says"),
    [
        ("grooves", "0 in", "more than nothing"),
        ("grooves", "1/2 + wide", "a length such as"),
        ("grooves", "8-Mar", "likely 3/8"),
        ("grooves", " + ".join(["1"] * 21), "at most 20"),
        ("grooves", [{"shave": 0}], "1/2 in + 3/4 in, or tables"),
        ("grooves", [{"distance": 1, "deep": 2}], "1/2 in + 3/4 in, or tables"),
        ("grooves", [{"distance": 1, "shave": "1/64"}], "stands open"),
        ("grooves", [{"distance": 1, "round": "both"}], "window, all"),
        ("grooves", {"distance": 1}, "one value"),
        ("grooves", True, "a length such as"),
        ("lines", [{"distance": 1, "wash": True}], "the width of the band"),
        ("lines", [{"distance": 1, "width": 0}], "has a width"),
        ("lines", [{"distance": 1, "colour": "red"}], "a colour such as"),
        ("lines", [{"distance": 1, "wash": "some"}], "yes or no"),
        ("title", "Low water", "two lengths"),
        ("title", "3 x 1/2, drop far", "a length such as"),
        ("title", {"drop": 1}, "3 x 1/2 in"),
        ("inlay", "red 4-ply", "red 4-ply @ 1/2 in, 1/4 in wide"),
        ("inlay", {"board": "red"}, "a table of board, distance and width"),
        ("inlay", {"board": "", "distance": 1, "width": 1}, "the name of a board"),
        ("inlay", "red @ 0 in, 1/4 in wide", "outside the window"),
        ("sink", "white 8-ply", "clearance 1/8 in"),
        ("sink", ["white"], "one value"),
        ("layout", "", "row, column, grid 3"),
        ("layout", "heap", "row, column, grid 3"),
        ("layout", "grid", "row, column, grid 3"),
        ("layout", "grid 0", "1 to 60 columns"),
        ("layout", "row 3", "row, column, grid 3"),
        ("layout", "row column", "one thing once"),
        ("layout", "gutter wide", "a length such as"),
        ("layout", "free", 'arrange = "free"'),
        ("layout", {"arrange": "free"}, "the place of every opening"),
        ("layout", {"arrange": "free", "gaps": "even", "places": [[0, 0]]}, "no gutters to fill"),
        ("layout", {"arrange": "free", "places": 3}, "places ="),
        ("layout", {"arrange": "free", "places": [[1]]}, "a place such as"),
        ("layout", {"arrange": "free", "places": [{"left": 1}]}, "left, top"),
        ("layout", {"rows": 3}, "row, column, grid 3"),
    ],
)
def test_an_accent_that_cannot_be_read_is_refused(key: str, raw: object, says: str) -> None:
    with pytest.raises(BadInput) as refused:
        TREATMENT[key].parse(raw, INCHES)
    assert says in str(refused.value)
