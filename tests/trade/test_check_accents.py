"""What runs beside a window is held against all else that does: meetings and narrow strips are told, and only those."""

from __future__ import annotations

from typing import Any

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from tests.trade.cases import MATERIALS, PLAIN, art, but, inch, mm, rules_of
from tests.trade.designs import several_designs, single_designs
from tests.trade.test_openings import DRAWN, made

from fourply.errors import BadTreatment
from fourply.measure.length import Length
from fourply.measure.size import Size
from fourply.trade.accents import GrooveRule, InlayRule, LayoutRule, LineRule, Round, TitleRule
from fourply.trade.clearance import Relation, relate, relate_boxes
from fourply.trade.package import Package
from fourply.trade.resolve import resolve
from fourply.trade.shapes.outline import polygon
from fourply.trade.shapes.rule import ShapeKind, ShapeRule
from fourply.trade.work import Work

OVAL = ShapeRule(ShapeKind.OVAL)
PEN = mm(1, 2)
SMALL, NM = art(inch(5), inch(7)), Length(1)
RULES = {"groove.no_room", "line.off", "inlay.no_room"} | {
    f"{kind}.{what}" for kind in ("line", "groove", "inlay") for what in ("meets", "near")
}


def told(**rules: Any) -> set[str]:
    """Return what is told of one window with a run of 1/16 in."""
    return found(resolve(Work("1", "", art(inch(10), inch(13))), but(PLAIN, **rules), MATERIALS))


def told_of_two(**rules: Any) -> set[str]:
    return found(resolve(Work("1", "", SMALL, others=(SMALL,)), but(PLAIN, **rules), MATERIALS))


def found(package: Package) -> set[str]:
    return RULES & set(rules_of(package.findings))


@pytest.mark.parametrize(
    ("rules", "expected"),
    [
        # A groove 1/2 in out takes 7/16 to 9/16 in of the face; all limits are derived from the run of 1/16 in.
        ({"grooves": (GrooveRule(inch(1, 2)), GrooveRule(inch(5, 8)))}, {"groove.meets"}),
        ({"grooves": (GrooveRule(inch(1, 2)), GrooveRule(inch(5, 8) + NM))}, {"groove.near"}),
        ({"grooves": (GrooveRule(inch(1, 2)), GrooveRule(inch(13, 16) - NM))}, {"groove.near"}),
        ({"grooves": (GrooveRule(inch(1, 2)), GrooveRule(inch(13, 16)))}, set()),
        ({"grooves": (GrooveRule(inch(1, 2)),), "lines": (LineRule(inch(7, 16), PEN),)}, {"line.meets"}),
        ({"grooves": (GrooveRule(inch(1, 2)),), "lines": (LineRule(inch(3, 8) - PEN, PEN),)}, {"line.meets"}),
        ({"grooves": (GrooveRule(inch(1, 2)),), "lines": (LineRule(inch(3, 8) - PEN - NM, PEN),)}, set()),
        ({"grooves": (GrooveRule(inch(1, 2)),), "lines": (LineRule(inch(1, 2) + NM, PEN),)}, set()),
        ({"lines": (LineRule(inch(1, 4), PEN), LineRule(inch(1, 4), inch(1, 4), wash=True))}, set()),
        ({"inlay": InlayRule("grey", inch(1, 2), inch(1, 4)), "grooves": (GrooveRule(inch(5, 8)),)}, {"groove.meets"}),
        ({"inlay": InlayRule("grey", inch(1, 2), inch(1, 4)), "grooves": (GrooveRule(inch(1)),)}, {"groove.near"}),
        ({"inlay": InlayRule("grey", inch(1, 2), inch(1, 4)), "grooves": (GrooveRule(inch(5, 4)),)}, set()),
        ({"inlay": InlayRule("grey", inch(1, 2), inch(1, 4)), "lines": (LineRule(inch(1, 2), PEN),)}, {"line.meets"}),
        ({"grooves": (GrooveRule(inch(1, 2), shape=OVAL),)}, {"groove.no_room"}),
        ({"shape": OVAL, "grooves": (GrooveRule(inch(1, 2), shape=ShapeRule()),)}, set()),
        ({"title": TitleRule(Size(inch(3), inch(1, 2))), "grooves": (GrooveRule(inch(3, 2)),)}, {"groove.meets"}),
        ({"title": TitleRule(Size(inch(3), inch(1, 2))), "grooves": (GrooveRule(inch(1, 2)),)}, set()),
        ({"title": TitleRule(Size(inch(3), inch(1, 2))), "lines": (LineRule(inch(3, 2), PEN),)}, {"line.meets"}),
        (
            {"inlay": InlayRule("grey", inch(1), inch(1, 2)), "title": TitleRule(Size(inch(3), inch(1, 2)))},
            {"inlay.meets"},
        ),
    ],
)
def test_what_meets_beside_one_window(rules: dict[str, Any], expected: set[str]) -> None:
    assert told(**rules) == expected


@pytest.mark.parametrize(
    ("rules", "expected"),
    [
        ({"grooves": (GrooveRule(inch(1, 2)),)}, {"groove.meets"}),
        ({"grooves": (GrooveRule(inch(3, 8)),)}, {"groove.near"}),
        ({"grooves": (GrooveRule(inch(3, 8)),), "layout": LayoutRule(gutter=inch(5, 4))}, set()),
        ({"grooves": (GrooveRule(inch(5, 4)),)}, {"groove.meets"}),
        ({"grooves": (GrooveRule(inch(1, 2), round=Round.ALL),)}, set()),
        ({"lines": (LineRule(inch(1, 2), PEN),)}, set()),
        ({"lines": (LineRule(inch(7, 8), inch(1, 4)),)}, {"line.meets"}),
    ],
)
def test_what_meets_beside_two_windows_an_inch_apart(rules: dict[str, Any], expected: set[str]) -> None:
    assert told_of_two(**rules) == expected


EDGES = st.tuples(*[st.integers(-30, 30)] * 2, *[st.integers(1, 40)] * 2).map(
    lambda e: (float(e[0]), float(e[1]), float(e[0] + e[2]), float(e[1] + e[3]))
)


@given(EDGES, EDGES)
def test_boxes_lie_to_one_another_as_their_outlines_do(
    one: tuple[float, float, float, float], two: tuple[float, float, float, float]
) -> None:
    relation, apart = relate_boxes(one, two)
    first, second = shapely.box(*one), shapely.box(*two)
    assert {
        Relation.INSIDE: second.covers(first),
        Relation.AROUND: first.covers(second),
        Relation.BESIDE: not first.intersects(second) or first.touches(second),
        Relation.CROSSING: first.overlaps(second) or first.crosses(second),
    }[relation]
    assert apart <= first.exterior.distance(second.exterior) + 1e-9
    if apart > 0:
        one_ring, two_ring = (polygon(list(box.exterior.coords)[:-1]) for box in (first, second))
        assert relate(one_ring, two_ring)[0] is relation


@DRAWN
@given(st.one_of(single_designs(), several_designs()))
def test_grooves_of_any_design_that_cross_another_opening_are_told(design: Any) -> None:
    package = made(design)
    top = package.mats[0]
    holes = [placed(hole.opening.face_outline(), hole.borders, package) for hole in top.holes]
    for groove in top.all_grooves:
        line = placed(groove.shape.outline(), groove.borders, package).exterior
        if any(line.intersects(hole) for hole in holes):
            assert {"groove.meets", "groove.no_room"} & set(rules_of(package.findings))


def placed(outline: Any, borders: Any, package: Package) -> shapely.Polygon:
    x = (borders.left + package.outer.width - borders.right).as_mm / 2
    y = (borders.top + package.outer.height - borders.bottom).as_mm / 2
    return shapely.Polygon(outline.moved(x, y).flatten(0.05))


def test_an_inlay_whose_outer_edge_closes_its_scoops_is_refused_before_anything_is_set() -> None:
    # A scoop of radius r about a corner moves in by d + w and shrinks by as much: it closes at r = 2 (d + w); derived.
    rules = {"inlay": InlayRule("grey", inch(1, 2), inch(3, 8))}
    scooped = [ShapeRule(ShapeKind.SCOOPED, radius=radius) for radius in (inch(7, 4), inch(7, 4) + NM)]
    with pytest.raises(BadTreatment, match="scoops"):
        told(shape=scooped[0], **rules)
    told(shape=scooped[1], **rules)
