"""Hatches lie inside their outline, evenly, on one lattice."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, Polygon

from fourply.drawing.hatch import growth_rings, hatch
from fourply.drawing.pen import Steps
from fourply.drawing.shapes import flatten

SQUARE = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)]
HOLE = [(3.0, 3.0), (7.0, 3.0), (7.0, 7.0), (3.0, 7.0)]

stars = st.lists(st.floats(min_value=2, max_value=30), min_size=3, max_size=9).map(
    lambda radii: [
        (r * math.cos(2 * math.pi * i / len(radii)), r * math.sin(2 * math.pi * i / len(radii)))
        for i, r in enumerate(radii)
    ]
)


def lengths(steps: Steps) -> list[float]:
    return [math.dist(*outline) for outline in flatten(steps)]


@given(stars, st.floats(min_value=0.4, max_value=6), st.sampled_from([0, 30, 45, 90, 135]))
def test_hatch_lines_stay_inside_the_outline(outline: list[tuple[float, float]], spacing: float, angle: float) -> None:
    area = Polygon(outline).buffer(1e-6)
    assert all(area.covers(LineString(piece)) for piece in flatten(hatch([outline], spacing, angle=angle)))


@given(stars, st.floats(min_value=0.4, max_value=2))
def test_hatch_lines_cover_the_area_evenly(outline: list[tuple[float, float]], spacing: float) -> None:
    area, edge = Polygon(outline).area, Polygon(outline).length
    assert sum(lengths(hatch([outline], spacing))) * spacing == pytest.approx(area, abs=edge * spacing)


def test_a_hole_stays_empty() -> None:
    inner = Polygon(HOLE).buffer(-1e-6)
    assert not any(inner.intersects(LineString(piece)) for piece in flatten(hatch([SQUARE, HOLE], 1)))


def test_neighbours_hatched_alike_join_without_a_step() -> None:
    right = [(x + 10, y) for x, y in SQUARE]
    ends = {round(y, 6) for piece in flatten(hatch([SQUARE], 1.5)) for x, y in piece if x == pytest.approx(10)}
    starts = {round(y, 6) for piece in flatten(hatch([right], 1.5)) for x, y in piece if x == pytest.approx(10)}
    assert ends == starts != set()


def test_nothing_is_hatched_for_nothing() -> None:
    assert hatch([], 1) == ()
    assert growth_rings([], (0, 0), 1) == ()


@given(stars, st.floats(min_value=0.7, max_value=5))
def test_growth_rings_stay_inside_and_go_round_their_centre(outline: list[tuple[float, float]], spacing: float) -> None:
    area = Polygon(outline).buffer(0.05)
    for ring in flatten(growth_rings([outline], (5, 40), spacing), pieces=200):
        assert all(area.covers(Point(point)) for point in ring)
        distances = [math.dist(point, (5, 40)) / spacing for point in ring]
        assert all(a == pytest.approx(b, abs=1e-6) for a, b in itertools.pairwise(distances))
        assert distances[0] == pytest.approx(round(distances[0]), abs=1e-6)
