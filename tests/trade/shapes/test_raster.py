"""Rectangles inside shapes of any form."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from tests.trade.shapes.shapes import EXAMPLES, blobs, seen, tenths

from fourply.measure.length import ZERO, Length
from fourply.measure.size import Size
from fourply.trade.shapes.fallouts import MOST
from fourply.trade.shapes.free import Free
from fourply.trade.shapes.outline import Outline, Point, polygon
from fourply.trade.shapes.raster import rectangles_anywhere

ELL = [(0.0, 0.0), (100.0, 0.0), (100.0, 40.0), (30.0, 40.0), (30.0, 90.0), (0.0, 90.0)]
TEE = [(0.0, 0.0), (90.0, 0.0), (90.0, 20.0), (50.0, 20.0), (50.0, 80.0), (40.0, 80.0), (40.0, 20.0), (0.0, 20.0)]
YOU = [(0.0, 0.0), (20.0, 0.0), (20.0, 60.0), (50.0, 60.0), (50.0, 10.0), (90.0, 10.0), (90.0, 90.0), (0.0, 90.0)]


def largest_by_trial(points: list[Point]) -> list[tuple[float, float]]:
    """Return the sizes of all rectangles between edges of an upright polygon that fit into no other, by trial."""
    shape = shapely.Polygon(points)
    xs, ys = (sorted({point[axis] for point in points}) for axis in (0, 1))
    sizes = {
        (right - left, bottom - top)
        for left, right in itertools.combinations(xs, 2)
        for top, bottom in itertools.combinations(ys, 2)
        if shape.covers(shapely.box(left, top, right, bottom))
    }
    return [one for one in sizes if not any(one != two and one[0] <= two[0] and one[1] <= two[1] for two in sizes)]


@pytest.mark.parametrize("points", [ELL, TEE, YOU])
def test_of_an_upright_polygon_all_largest_rectangles_are_found(points: list[Point]) -> None:
    found = {(round(size.width.as_mm, 2), round(size.height.as_mm, 2)) for size in rectangles_anywhere(polygon(points))}

    assert found == set(largest_by_trial(points))


def places(outline: Outline, size: Size) -> bool:
    """Tell whether the rectangle, 2 mm smaller, lies somewhere in the outline, by trying places 1 mm apart."""
    shape = seen(outline, 1e-2)
    shapely.prepare(shape)
    width, height = size.width.as_mm - 2, size.height.as_mm - 2
    left, top, right, bottom = outline.bounds()
    x, y = np.meshgrid(np.arange(left, right - width + 1), np.arange(top, bottom - height + 1))
    return bool(shape.contains(shapely.box(x, y, x + width, y + height)).any())


@settings(EXAMPLES, max_examples=15)
@given(blobs(), tenths(0, 30))
def test_rectangles_of_a_path_lie_in_it_and_none_in_another(shape: Free, trim: Length) -> None:
    sizes = shape.fallouts(trim)

    assert 1 <= len(sizes) <= MOST
    assert not any(one.holds(two) for one, two in itertools.permutations(sizes, 2))
    assert all(places(shape.parallel(-trim), size) for size in (sizes[0], sizes[-1]))


def test_too_small_a_path_gives_none() -> None:
    assert Free(polygon(ELL).centred().scaled(0.01)).fallouts(Length.mm(1)) == ()
    assert len(Free(polygon(ELL).centred()).fallouts(ZERO)) == 2
