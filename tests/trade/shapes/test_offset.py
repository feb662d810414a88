"""Parallels by straight lines, where edges vanish, bays close and necks part."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given, reject, settings
from hypothesis import strategies as st
from tests.trade.shapes.shapes import EXAMPLES, blobs, seen, tenths

from fourply.errors import BadTreatment
from fourply.measure.length import Length
from fourply.trade.shapes.free import Free
from fourply.trade.shapes.offset import parallel, self_crossings
from fourply.trade.shapes.outline import Outline, Point, Sweep, polygon

BAY = polygon([(-50, -50), (50, -50), (50, 50), (5, 50), (5, 0), (-5, 0), (-5, 50), (-50, 50)])
_ROUND_NECK = [(50, -50), (50, -4), (60, -4), (60, -50), (90, -50), (90, 50), (60, 50), (60, 4), (50, 4), (50, 50)]
NECK = polygon([(-50, -50), *_ROUND_NECK, (-50, 50)])


@settings(EXAMPLES, max_examples=20)
@given(blobs(), tenths(-600, 300))
def test_the_parallel_of_a_path_is_that_of_the_other_library(shape: Free, by: Length) -> None:
    wanted = seen(shape.path, 1e-4).buffer(by.as_mm, join_style="mitre", mitre_limit=50)
    try:
        found = seen(parallel(shape.path, by.as_mm))
    except BadTreatment:
        if wanted.geom_type == "Polygon" and not wanted.interiors and wanted.area > 50:
            raise
        reject()

    # The other library evens out bays within a hundredth of the distance before it starts.
    assert found.is_valid
    assert found.hausdorff_distance(wanted) <= max(0.02, 0.012 * abs(by.as_mm) * 4)


def test_a_bay_narrows_and_then_closes() -> None:
    assert parallel(BAY, 4.0).area == pytest.approx(108**2 - 2 * 50, abs=1e-6)
    assert parallel(BAY, 6.0).area == pytest.approx(112**2, abs=1e-6)


def test_a_neck_parts() -> None:
    assert parallel(NECK, -3.0).contains((55.0, 0.0))
    with pytest.raises(BadTreatment, match="falls into parts"):
        parallel(NECK, -5.0)


def test_an_edge_that_vanishes_leaves_a_corner() -> None:
    clipped = polygon([(-50, -40), (-40, -50), (40, -50), (50, -40), (50, 50), (-50, 50)])

    inner = parallel(clipped, -30.0)

    assert inner.bounds() == pytest.approx((-20, -20, 20, 20))
    assert len(inner.pieces) == 4


def test_nothing_is_left_of_a_circle_beyond_its_middle() -> None:
    circle = Outline((Sweep(0, 0, 30, 30, 0, 360),))

    assert parallel(circle, -29.0).area == pytest.approx(math.pi, abs=0.02)
    for inside in (-30.0, -31.0, -300.0):
        with pytest.raises(BadTreatment, match="nothing of the opening is left"):
            parallel(circle, inside)


def test_needles_are_refused() -> None:
    with pytest.raises(BadTreatment, match=r"a corner too sharp at 0\.00, -50\.00 mm"):
        parallel(polygon([(0.0, -50.0), (2.0, 50.0), (-2.0, 50.0)]), 1.0)


@EXAMPLES
@given(st.lists(st.tuples(st.integers(-20, 20), st.integers(-20, 20)), min_size=4, max_size=9, unique=True))
def test_a_polygon_crosses_itself_where_the_other_library_says(points: list[Point]) -> None:
    ring = shapely.LinearRing(points)
    if self_crossings(points):
        assert not ring.is_simple
    elif not ring.is_simple:  # sides that lie on one another or only touch at a corner are no crossing
        lines = [shapely.LineString([a, b]) for a, b in zip(points, points[1:] + points[:1], strict=True)]
        assert not any(a.crosses(b) for a in lines for b in lines)
