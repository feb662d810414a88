"""Rules of shape: what they take, what they refuse, and the shape they give."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.trade.shapes.shapes import EXAMPLES, sizes

from fourply.errors import BadTreatment
from fourply.measure.length import ZERO, Length
from fourply.measure.size import Size
from fourply.trade.shapes.outline import polygon
from fourply.trade.shapes.rule import FIELDS, NEEDED, ShapeKind, ShapeRule

KITE = polygon([(0.0, -60.0), (40.0, -20.0), (0.0, 60.0), (-40.0, -20.0)])
NUMBERS: dict[str, Any] = {
    "leg": Length.mm(10),
    "radius": Length.mm(10),
    "rise": Length.mm(15),
    "shoulder": Length.mm(10),
    "steps": (Length.mm(5), Length.mm(5)),
    "sides": 7,
    "path": KITE,
}
SMALLER = {ShapeKind.CIRCLE, ShapeKind.OCTAGON, ShapeKind.POLYGON, ShapeKind.FREE}
NOW = Size(Length.mm(200), Length.mm(150))


def rule(kind: ShapeKind) -> ShapeRule:
    return ShapeRule(kind, **{name: NUMBERS[name] for name in FIELDS[kind][:1]})


@pytest.mark.parametrize("kind", ShapeKind)
@EXAMPLES
@given(sizes())
def test_every_kind_fits_into_a_window_and_fills_it_one_way(kind: ShapeKind, size: Size) -> None:
    if kind is ShapeKind.ROUND_ARCH and size.height < size.width // 2:
        return
    shape = rule(kind).fit(size)

    assert size.holds(shape.size)
    if kind in SMALLER:
        spare = min(size.width - shape.size.width, size.height - shape.size.height)
        assert spare <= Length(4)
    else:
        assert shape.size == size


@pytest.mark.parametrize("kind", ShapeKind)
@pytest.mark.parametrize("name", NUMBERS)
def test_a_kind_takes_its_own_numbers_only(kind: ShapeKind, name: str) -> None:
    needed = NEEDED.get(kind)
    numbers = {key: NUMBERS[key] for key in {name, needed} - {None} if key}
    if name in FIELDS[kind]:
        assert ShapeRule(kind, **numbers).kind is kind
        return
    with pytest.raises(BadTreatment) as caught:
        ShapeRule(kind, **numbers)
    assert caught.value.figure == f"shape.{name}"
    assert kind.value in caught.value.found


@pytest.mark.parametrize(("kind", "name"), NEEDED.items())
def test_what_a_kind_needs_is_asked_for(kind: ShapeKind, name: str) -> None:
    with pytest.raises(BadTreatment, match=f"shape.{name}: nothing; kind {kind.value} needs it"):
        ShapeRule(kind)


@pytest.mark.parametrize(
    ("kind", "numbers", "word"),
    [
        (ShapeKind.CLIPPED, {"leg": -Length.mm(1)}, "below nothing"),
        (ShapeKind.STEPPED, {"steps": (Length.mm(1), ZERO)}, "a step of nothing"),
        (ShapeKind.ARCH, {"rise": Length.mm(1), "shoulder": Length.mm(1)}, "the other follows"),
        (ShapeKind.POLYGON, {"sides": 2}, "3 to 24 sides"),
        (ShapeKind.POLYGON, {"sides": 25}, "3 to 24 sides"),
        (ShapeKind.POLYGON, {"sides": -3}, "below nothing"),
    ],
)
def test_numbers_that_nobody_can_follow_are_refused(kind: ShapeKind, numbers: dict[str, Any], word: str) -> None:
    with pytest.raises(BadTreatment, match=word):
        ShapeRule(kind, **numbers)


@pytest.mark.parametrize(
    ("kind", "numbers", "message"),
    [
        (ShapeKind.CLIPPED, {"leg": Length.mm(76)}, "shape.leg: a leg of 76 mm; .*half of the shorter side .75 mm"),
        (ShapeKind.ROUNDED, {"radius": Length.mm(80)}, "shape.radius: a radius of 80 mm; .*75 mm"),
        (ShapeKind.SCOOPED, {"radius": Length.mm(80)}, "shape.radius: scoops that take 80 mm .*75 mm"),
        (ShapeKind.STEPPED, {"steps": (Length.mm(40), Length.mm(35))}, "take 75 mm of each side; less than half"),
        (ShapeKind.ARCH, {"rise": Length.mm(101)}, "a rise of 101 mm; at most half the width .100 mm., or an ellip"),
        (ShapeKind.ARCH, {"rise": Length.mm(151)}, "a rise of 151 mm; .*the height of the opening .150 mm"),
        (ShapeKind.ARCH, {"shoulder": Length.mm(150)}, "a shoulder of 150 mm; less than the height"),
        (ShapeKind.ARCH, {}, "a rise of 150 mm; at most half the width"),
        (ShapeKind.ELLIPTICAL_ARCH, {"rise": Length.mm(151)}, "a rise of 151 mm; .*150 mm"),
    ],
)
def test_what_does_not_fit_says_where_and_what_would(kind: ShapeKind, numbers: dict[str, Any], message: str) -> None:
    with pytest.raises(BadTreatment, match=message):
        ShapeRule(kind, **numbers).fit(NOW)


def test_a_round_arch_needs_half_its_width_in_height() -> None:
    with pytest.raises(BadTreatment, match=r"a rise of 100 mm; .*the height of the opening .99 mm"):
        ShapeRule(ShapeKind.ROUND_ARCH).fit(Size(Length.mm(200), Length.mm(99)))


@given(st.integers(3, 24))
def test_a_polygon_stands_on_a_side(sides: int) -> None:
    outline = ShapeRule(ShapeKind.POLYGON, sides=sides).fit(NOW).outline()
    bottom = outline.bounds()[3]

    flat = [piece for piece in outline.pieces if abs(piece.first[1] - bottom) < 1e-9 > abs(piece.last[1] - bottom)]
    assert len(flat) == 1
    assert flat[0].first[0] == pytest.approx(-flat[0].last[0])


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        (ShapeKind.RECTANGLE, "rectangle"),
        (ShapeKind.OVAL, "oval"),
        (ShapeKind.CIRCLE, "circle"),
        (ShapeKind.ARCH, "segmental arch"),
        (ShapeKind.ROUND_ARCH, "semicircular arch"),
        (ShapeKind.ELLIPTICAL_ARCH, "elliptical arch"),
        (ShapeKind.CLIPPED, "clipped corners"),
        (ShapeKind.OCTAGON, "octagon"),
        (ShapeKind.ROUNDED, "rounded corners"),
        (ShapeKind.SCOOPED, "scooped corners"),
        (ShapeKind.STEPPED, "stepped corners"),
        (ShapeKind.POLYGON, "regular polygon"),
        (ShapeKind.FREE, "free shape"),
    ],
)
def test_every_kind_has_its_plain_name(kind: ShapeKind, words: str) -> None:
    assert rule(kind).fit(NOW).words == words
