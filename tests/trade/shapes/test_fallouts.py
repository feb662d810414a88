"""The rectangles that can be cut from what falls out."""

from __future__ import annotations

import itertools

import pytest
import shapely
from hypothesis import assume, given, reject
from hypothesis import strategies as st
from tests.trade.shapes.shapes import EXAMPLES, arches, cornered, exact_shapes, ovals, polygons, seen, stepped, tenths

from fourply.errors import BadTreatment
from fourply.measure.length import ZERO, Length
from fourply.measure.size import Size
from fourply.trade.shapes.corners import Clipped
from fourply.trade.shapes.ellipse import Ellipse
from fourply.trade.shapes.fallouts import MOST
from fourply.trade.shapes.shape import Shape
from fourply.trade.shapes.stepped import Stepped


def highest(shape: Shape, trim: Length, width: float) -> tuple[float, float]:
    """Return between which heights a rectangle of this width, as far left as right, lies inside what is left."""
    left = seen(shape.parallel(-trim))
    reach = width / 2 - 1e-6
    upright = shapely.LineString([(reach, -1e4), (reach, 1e4)])
    _, top, _, bottom = left.intersection(upright).bounds
    return top, bottom


@EXAMPLES
@given(exact_shapes(), tenths(0, 50))
def test_every_rectangle_lies_in_what_is_left(shape: Shape, trim: Length) -> None:
    sizes = shape.fallouts(trim)
    try:
        polygon = seen(shape.parallel(-trim))
    except BadTreatment:
        reject()

    assert 1 <= len(sizes) <= MOST
    _, top, _, bottom = polygon.bounds
    room = polygon.buffer(2e-3)
    for size in sizes:
        wide, high = size.width.as_mm / 2, size.height.as_mm / 2
        middles = [0.0, top + high, bottom - high]
        if not isinstance(shape, Stepped):
            middles.append(sum(highest(shape, trim, size.width.as_mm)) / 2)
        assert any(room.contains(shapely.box(-wide, at - high, wide, at + high)) for at in middles)


@EXAMPLES
@given(exact_shapes(), tenths(0, 50))
def test_none_fits_into_another_and_the_largest_comes_first(shape: Shape, trim: Length) -> None:
    sizes = shape.fallouts(trim)

    assert not any(one.holds(two) for one, two in itertools.permutations(sizes, 2))
    areas = [size.width.nm * size.height.nm for size in sizes]
    assert areas == sorted(areas, reverse=True)


@EXAMPLES
@given(st.one_of(ovals(), arches(), cornered(), polygons()), tenths(0, 50))
def test_no_rectangle_of_another_width_is_larger(shape: Shape, trim: Length) -> None:
    sizes = shape.fallouts(trim)
    assume(sizes)
    left, _, right, _ = shape.parallel(-trim).bounds()
    wide = min(-left, right) * 2
    widths = [wide * part / 40 for part in range(1, 40)]

    largest = max(width * (bottom - top) for width in widths for top, bottom in [highest(shape, trim, width)])

    assert sizes[0].width.as_mm * sizes[0].height.as_mm >= largest * (1 - 1e-4)


@EXAMPLES
@given(ovals())
def test_the_largest_of_an_oval_takes_half_the_product_of_the_axes(oval: Ellipse) -> None:
    largest = oval.fallouts(ZERO)[0]

    wanted = oval.size.width.as_mm * oval.size.height.as_mm / 2
    assert largest.width.as_mm * largest.height.as_mm == pytest.approx(wanted, rel=1e-6)


@EXAMPLES
@given(ovals())
def test_an_oval_offers_flat_and_high_ones_as_well(oval: Ellipse) -> None:
    sizes = oval.fallouts(ZERO)

    assert len(sizes) >= 5
    assert max(size.width.nm for size in sizes) > 0.95 * oval.size.width.nm
    assert max(size.height.nm for size in sizes) > 0.95 * oval.size.height.nm


@EXAMPLES
@given(stepped())
def test_of_stepped_corners_only_the_innermost_rectangle_survives(shape: Stepped) -> None:
    assert shape.fallouts(ZERO) == (shape.rectangles[-1],)


def test_clipped_corners_offer_the_whole_width_and_the_whole_height() -> None:
    shape = Clipped(Size(Length.mm(200), Length.mm(300)), Length.mm(40))
    sizes = {(round(size.width.as_mm, 6), round(size.height.as_mm, 6)) for size in shape.fallouts(ZERO)}

    assert (200.0, 220.0) in sizes
    assert (120.0, 300.0) in sizes
