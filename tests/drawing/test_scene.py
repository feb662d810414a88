"""Soft edges fade like a blur; slopes are dark where they turn from the lamp, and join without gaps."""

from __future__ import annotations

import math
from statistics import NormalDist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fourply.drawing.light import gloss, lit, slopes, tone
from fourply.drawing.scene import Area, Scene, Shadow, beside, grown, soft
from fourply.drawing.shapes import Box, Point, bounds, flatten

SQUARE = [(0.0, 0.0), (40.0, 0.0), (40.0, 40.0), (0.0, 40.0)]
CIRCLE = [(50 * math.cos(math.tau * i / 90), 50 * math.sin(math.tau * i / 90)) for i in range(90)]


def brightness(area: Area) -> int:
    return int(area.colour[1:3], 16)


def area_of(points: list[Point]) -> float:
    return abs(sum(x * v - u * y for (x, y), (u, v) in zip(points, points[1:] + points[:1], strict=True))) / 2


def test_a_stack_fades_over_the_edge_like_a_gaussian() -> None:
    stack = list(soft(lambda by: grown(SQUARE, by), "#000000", 2.0, 0.6, layers=40))
    for away in (-3.0, -1.0, 0.0, 1.0, 3.0):
        over = [area.opacity for area in stack if bounds(area.steps).right >= 40 + away]
        clear = math.prod(1 - opacity for opacity in over)
        ideal = 1 - (1 - 0.6) ** NormalDist(sigma=2.0).cdf(-away)  # derived: so many of the thin layers reach there
        assert 1 - clear == pytest.approx(ideal, abs=0.02)


@given(st.floats(0.1, 15), st.integers(3, 12))
def test_growing_rounds_the_corners_and_adds_a_strip_all_round(by: float, sides: int) -> None:
    ring = [(30 * math.cos(math.tau * i / sides), 30 * math.sin(math.tau * i / sides)) for i in range(sides)]
    around = 60 * math.sin(math.pi / sides) * sides
    (outline,) = flatten(grown(ring, by))
    # Steiner's formula for a convex figure: area + perimeter times distance + a circle
    assert area_of(outline) == pytest.approx(area_of(ring) + around * by + math.pi * by * by, rel=1e-3)
    (inner,) = flatten(grown(ring, -by))
    assert area_of(inner) < area_of(ring)


def test_what_lies_beside_a_square_is_a_square() -> None:
    assert area_of(beside(SQUARE, 3)) == pytest.approx(46 * 46)
    assert area_of(beside(SQUARE, -3)) == pytest.approx(34 * 34)


def test_the_lamp_is_above_and_to_the_left() -> None:
    down, up, right, left = ((0.0, 1.0), (0.0, -1.0), (1.0, 0.0), (-1.0, 0.0))
    assert tone(down, 45) < tone(right, 45) < 1 < tone(left, 45) < tone(up, 45)
    assert gloss(up, 20) > gloss(up, 0) > gloss(down, 20)


def test_a_colour_is_never_brighter_than_white() -> None:
    assert lit("#f0e0d0", 1.5) == "#ffffff"
    assert lit("#102030", 0.0) == "#000000"


def test_the_sides_of_a_square_bevel_are_four_mitred_areas_lit_by_side() -> None:
    bands = list(slopes(SQUARE, 0, 2, "#c0c0c0", 45, inwards=True))
    assert len(bands) == 4
    assert sum(area_of(flatten(band.steps)[0]) for band in bands) == pytest.approx(44 * 44 - 40 * 40)
    by_side = {
        (bounds(band.steps).width > 10, bounds(band.steps).left + bounds(band.steps).top): band for band in bands
    }
    top, bottom = by_side[True, -4.0], by_side[True, 38.0]
    assert brightness(top) < 0xC0 < brightness(bottom)
    outwards = list(slopes(SQUARE, 0, 2, "#c0c0c0", 45, inwards=False))
    assert sorted(map(brightness, outwards)) == sorted(map(brightness, bands))
    assert brightness(outwards[bands.index(top)]) > 0xC0


def test_round_a_curve_the_tone_turns_slowly_and_no_gap_is_left() -> None:
    bands = list(slopes(CIRCLE, 0, 2, "#c0c0c0", 45, inwards=True))
    tones = list(map(brightness, bands))
    assert len(bands) == 36
    assert max(abs(here - there) for here, there in zip(tones, [*tones[1:], tones[0]], strict=True)) < 16
    # the pieces overlap a little, so together they are no smaller than the ring
    assert sum(area_of(flatten(band.steps)[0]) for band in bands) > math.pi * (52**2 - 50**2)


def test_a_scene_has_a_size() -> None:
    with pytest.raises(ValueError, match="above nothing"):
        Scene(Box(0, 0, 0, 9), ())


def test_a_shadow_as_layers_has_its_opacity_well_inside() -> None:
    shadow = Shadow(tuple(SQUARE), "#000000", 1.0, 0.4)
    clear = math.prod(1 - area.opacity for area in shadow.layers(12))
    assert 1 - clear == pytest.approx(0.4)


def test_what_is_covered_of_a_shadow_is_left_out() -> None:
    shadow = Shadow(tuple(SQUARE), "#000000", 1.0, 0.4, tuple(beside(SQUARE, -5)))
    for area in shadow.layers(6):
        outlines = flatten(area.steps)
        assert [area_of(outline) for outline in outlines[:1]] == [pytest.approx(900)]
        assert area_of(outlines[1]) > 30 * 30
