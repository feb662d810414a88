"""Window shapes as people write them, and the drawings that free ones come from."""

from __future__ import annotations

import math
from decimal import Decimal

import pytest

from fourply.errors import BadFile, BadInput
from fourply.files.convertors import Reading
from fourply.files.shapes import SHAPE
from fourply.measure.dimensions import Order
from fourply.measure.length import Length
from fourply.measure.notation import Unit
from fourply.trade.shapes.outline import Outline, Segment, Sweep
from fourply.trade.shapes.rule import ShapeKind, ShapeRule

INCHES = Reading(Unit.INCH, Order.WIDTH_HEIGHT)
KITE = b'<svg xmlns="http://www.w3.org/2000/svg"><path d="M4 0 L8 4 L4 12 L0 4 Z"/></svg>'


def fetch(name: str) -> bytes:
    if name not in {"kite.svg", "shapes/kite.svg"}:
        raise BadFile(name, "No such file", "a file that can be read")
    return KITE


SHOW = Reading(Unit.INCH, Order.WIDTH_HEIGHT, fetch=fetch)
INCH, HALF = Length.inches(1), Length.inches(1, 2)


@pytest.mark.parametrize(
    ("raw", "rule"),
    [
        ("rectangle", ShapeRule()),
        ("Oval", ShapeRule(ShapeKind.OVAL)),
        ("ellipse", ShapeRule(ShapeKind.OVAL)),
        ("circle", ShapeRule(ShapeKind.CIRCLE)),
        ("round arch", ShapeRule(ShapeKind.ROUND_ARCH)),
        ("Round-Arch", ShapeRule(ShapeKind.ROUND_ARCH)),
        ("arch", ShapeRule(ShapeKind.ARCH)),
        ("arch rise 2 in", ShapeRule(ShapeKind.ARCH, rise=Length.inches(2))),
        ("arch shoulder 3", ShapeRule(ShapeKind.ARCH, shoulder=Length.inches(3))),
        ("elliptical arch shoulder 80 mm", ShapeRule(ShapeKind.ELLIPTICAL_ARCH, shoulder=Length.mm(80))),
        ("clipped 1 in", ShapeRule(ShapeKind.CLIPPED, leg=INCH)),
        ("clipped leg 1", ShapeRule(ShapeKind.CLIPPED, leg=INCH)),
        ("octagon", ShapeRule(ShapeKind.OCTAGON)),
        ("rounded 1/2 in", ShapeRule(ShapeKind.ROUNDED, radius=HALF)),
        ("scooped radius 1/2", ShapeRule(ShapeKind.SCOOPED, radius=HALF)),
        ("stepped 1/2 in + 1", ShapeRule(ShapeKind.STEPPED, steps=(HALF, INCH))),
        ("stepped 1/2 in and 1", ShapeRule(ShapeKind.STEPPED, steps=(HALF, INCH))),
        ("polygon 6", ShapeRule(ShapeKind.POLYGON, sides=6)),
        ("polygon of 6 sides", ShapeRule(ShapeKind.POLYGON, sides=6)),
        ("hexagon", ShapeRule(ShapeKind.POLYGON, sides=6)),
        ({"kind": "hexagon"}, ShapeRule(ShapeKind.POLYGON, sides=6)),
        ({"kind": "clipped", "leg": 1}, ShapeRule(ShapeKind.CLIPPED, leg=INCH)),
        ({"kind": "arch", "rise": Decimal("0.5")}, ShapeRule(ShapeKind.ARCH, rise=HALF)),
        ({"kind": "stepped", "steps": ["1/2", 1]}, ShapeRule(ShapeKind.STEPPED, steps=(HALF, INCH))),
        ({"kind": "stepped", "steps": "1/2 + 1"}, ShapeRule(ShapeKind.STEPPED, steps=(HALF, INCH))),
        ({"kind": "polygon", "sides": 6}, ShapeRule(ShapeKind.POLYGON, sides=6)),
    ],
)
def test_shapes_are_read_as_a_framer_writes_them(raw: object, rule: ShapeRule) -> None:
    assert SHAPE.parse(raw, INCHES) == rule


@pytest.mark.parametrize(
    ("raw", "says"),
    [
        ("", "one of rectangle, oval"),
        ("heart", "one of rectangle, oval"),
        ("ovals", "one of rectangle, oval"),
        ("oval 2", "write oval alone"),
        ("hexagon 6", "write hexagon alone"),
        ("arch 2 in", "arch rise 2 in, arch shoulder 8 in"),
        ("arch rise", "arch rise 2 in"),
        ("arch leg 2", "arch rise 2 in"),
        ("arch rise 0", "above nothing"),
        ("arch rise 8-Mar", "likely 3/8"),
        ("clipped", "write clipped 1 in"),
        ("clipped 1 in thick", "a length such as"),
        ("rounded -1", "no sign"),
        ("stepped", "stepped 1/4 in + 1/4 in"),
        ("stepped 1/4 +", "a length such as"),
        ("stepped " + " + ".join(["1"] * 13), "1 to 12 steps"),
        ("polygon", "polygon 6 or hexagon"),
        ("polygon 2", "3 to 24 sides"),
        ("polygon many", "a whole number"),
        ("free", "path data such as"),
        (7, "one of rectangle"),
        ([], "one value"),
        ({}, "a kind: one of"),
        ({"kind": "heart"}, "a kind: one of"),
        ({"kind": ["oval"]}, "one value"),
        ({"kind": "oval", "leg": 1}, "oval takes no number"),
        ({"kind": "arch", "rise": 1, "shoulder": 1}, "one of them"),
        ({"kind": "clipped"}, "clipped 1 in"),
        ({"kind": "free", "path": 7}, "path data such as"),
        ({"kind": "free", "path": "kite.png"}, "path data such as"),
        ({"kind": "free", "path": "M0 0 L3 3 L3 0 L0 1 Z"}, "does not cross itself"),
        ({"kind": "free", "path": "M0 0 L1 1 Z"}, "a closed path round an area"),
        ({"kind": "free", "path": "M0 0 H8 V6 Z M1 1 H2 V2 Z"}, "one closed path"),
        ({"kind": "free", "path": "M" + "1 " * 20_000}, "path data such as"),
        ({"kind": "free", "path": "none.svg"}, "a file that can be read"),
        ({"kind": "free", "path": "../kite.svg"}, "beside the show file"),
        ({"kind": "free", "path": "/kite.svg"}, "beside the show file"),
        ({"kind": "free", "path": "C:kite.svg"}, "beside the show file"),
        ({"kind": "free", "path": "a\\..\\kite.svg"}, "beside the show file"),
        ({"kind": "free", "path": "https://example.org/kite.svg"}, "beside the show file"),
    ],
)
def test_a_shape_that_cannot_be_is_refused_with_what_would_be_right(raw: object, says: str) -> None:
    with pytest.raises(BadInput) as refused:
        SHAPE.parse(raw, SHOW)
    assert says in str(refused.value)


@pytest.mark.parametrize(
    "raw",
    [
        "free M4 0 L8 4 L4 12 L0 4 Z",
        "free kite.svg",
        {"kind": "free", "path": "m4 0 4 4-4 8-4-8z"},
        {"kind": "free", "path": "kite.svg"},
        {"kind": "free", "path": "shapes/kite.svg"},
    ],
)
def test_a_free_shape_is_a_path_or_a_drawing_beside_the_show(raw: object) -> None:
    path = SHAPE.parse(raw, SHOW).path
    assert path is not None
    assert len(path.pieces) == 4
    left, top, right, bottom = path.bounds()
    assert math.isclose((right - left) / (bottom - top), 8 / 12)


def test_who_cannot_fetch_cannot_name_a_drawing() -> None:
    with pytest.raises(BadInput, match="only a show file can name a drawing"):
        SHAPE.parse("free kite.svg", INCHES)


@pytest.mark.parametrize(
    "path",
    [
        "M4 0 L8 4 L4 12 L0 4 Z",
        "M0 4 A5 3 0 0 1 10 4 L5 12 Z",
        "M0 4 A4 4 0 1 1 8 4 A4 4 0 1 1 0 4 Z",
        "M0 4 C0 0 8 0 8 4 Q8 9 4 12 Q0 9 0 4 Z",
        "M0 4 A5 3 30 0 1 10 4 L5 12 Z",
    ],
)
def test_a_free_shape_prints_and_reads_back_to_the_nanometre(path: str) -> None:
    rule = SHAPE.parse({"kind": "free", "path": path}, INCHES)
    again = SHAPE.parse(SHAPE.print(rule), INCHES)
    assert rule.path is not None
    assert again.path is not None
    assert again.path.bounds() == pytest.approx(rule.path.bounds(), abs=2e-6)
    assert again.path.area == pytest.approx(rule.path.area, rel=1e-6)
    assert again.path.perimeter == pytest.approx(rule.path.perimeter, rel=1e-6)


def test_what_runs_parallel_to_an_arc_is_printed_by_straight_lines_near_it() -> None:
    """Half a ring's outer edge has no command of its own in path data."""
    half = Sweep(0.0, 0.0, 30.0, 20.0, 180.0, 180.0, away=10.0)
    rule = ShapeRule(ShapeKind.FREE, path=Outline((half, Segment(half.last, half.first))))
    again = SHAPE.parse(SHAPE.print(rule), INCHES).path
    assert again is not None
    assert rule.path is not None
    (left, top, right, bottom), scale = again.bounds(), 80 / 30
    assert (right - left) / (bottom - top) == pytest.approx(scale, rel=1e-3)
