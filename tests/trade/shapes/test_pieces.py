"""Straight lines, arcs and cubics, one by one."""

from __future__ import annotations

import itertools
import math

import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st
from tests.trade.shapes.shapes import EXAMPLES

from fourply.trade.shapes.pieces import Cubic, Piece, Segment, Sweep

ALONG = st.floats(-100, 100).map(lambda mm: round(mm, 9))  # the other library loses lines that are next to nothing
POINTS = st.tuples(ALONG, ALONG)
RADII = st.floats(20, 100)
SEGMENTS = st.builds(Segment, POINTS, POINTS)
# At least 4 mm of curvature where the axes are 20 and 100, so a parallel 3 mm inside does not fold.
SWEEPS = st.builds(
    Sweep,
    ALONG,
    ALONG,
    RADII,
    RADII,
    st.floats(-360, 360),
    st.floats(5, 360).flatmap(lambda d: st.sampled_from((d, -d))),
    away=st.floats(-3, 30),
)
CUBICS = st.builds(Cubic, POINTS, POINTS, POINTS, POINTS)
PIECES: st.SearchStrategy[Piece] = st.one_of(SEGMENTS, SWEEPS, CUBICS)


def fine(piece: Piece) -> list[tuple[float, float]]:
    return [piece.point(t / 2000) for t in range(2001)]


@EXAMPLES
@given(PIECES)
def test_length_and_swept_area_are_those_of_many_chords(piece: Piece) -> None:
    points = fine(piece)
    chords = list(itertools.pairwise(points))

    assert piece.length == pytest.approx(sum(math.dist(*chord) for chord in chords), rel=1e-4, abs=0.1)
    swept = sum(ax * by - ay * bx for (ax, ay), (bx, by) in chords) / 2
    assert piece.swept == pytest.approx(swept, rel=1e-4, abs=1.0)


@EXAMPLES
@given(PIECES, st.sampled_from((1.0, 0.1, 0.01)))
def test_flattening_keeps_its_error(piece: Piece, error: float) -> None:
    chords = shapely.LineString([piece.first, *piece.flat(error)])

    assert max(chords.distance(shapely.Point(point)) for point in fine(piece)) <= error * (1 + 1e-6) + 1e-9
    assert piece.flat(error)[-1] == pytest.approx(piece.last, abs=1e-9)


@EXAMPLES
@given(PIECES, st.sampled_from((0, 1)))
def test_it_never_leaves_its_range(piece: Piece, axis: int) -> None:
    low, high = piece.range(axis)
    along = [point[axis] for point in fine(piece)]

    assert low == pytest.approx(min(along), abs=0.01)
    assert high == pytest.approx(max(along), abs=0.01)
    assert low <= min(along) + 1e-9
    assert high >= max(along) - 1e-9


@EXAMPLES
@given(PIECES, st.sampled_from((0, 1)), st.floats(0.001, 0.999))
def test_every_crossing_is_on_the_line_and_none_is_missed(piece: Piece, axis: int, part: float) -> None:
    low, high = piece.range(axis)
    assume(high - low > 1e-6)  # what lies along the line crosses it nowhere or everywhere
    value = low + part * (high - low)

    found = piece.crossings(axis, value)

    assert all(piece.point(t)[axis] == pytest.approx(value, abs=1e-7) for t in found)
    sides = [point[axis] > value for point in fine(piece)]
    assert len(found) >= sum(one != two for one, two in itertools.pairwise(sides))


@EXAMPLES
@given(PIECES, st.floats(0.01, 0.99))
def test_the_heading_is_where_it_goes(piece: Piece, t: float) -> None:
    before, after = piece.point(t - 1e-6), piece.point(t + 1e-6)
    way = math.dist(before, after)
    x, y = piece.heading(t)

    assert math.hypot(x, y) in (pytest.approx(1), 0)
    if way > 1e-7 * piece.length:
        assert x * (after[0] - before[0]) + y * (after[1] - before[1]) == pytest.approx(way, rel=1e-2)


@EXAMPLES
@given(PIECES)
def test_the_mirrored_piece_sweeps_as_much_and_runs_the_other_way(piece: Piece) -> None:
    mirrored = piece.mirrored()

    assert mirrored.first == pytest.approx((-piece.last[0], piece.last[1]), abs=1e-9)
    assert mirrored.swept == pytest.approx(piece.swept, abs=1e-6)
    assert mirrored.length == pytest.approx(piece.length, abs=1e-6)


@EXAMPLES
@given(PIECES, st.floats(0.1, 10), st.floats(-10, 10))
def test_moving_and_scaling_move_and_scale(piece: Piece, by: float, dx: float) -> None:
    x, y = piece.point(0.3)

    assert piece.moved(dx, -dx).point(0.3) == pytest.approx((x + dx, y - dx), abs=1e-9)
    assert piece.scaled(by).point(0.3) == pytest.approx((by * x, by * y), rel=1e-9, abs=1e-9)
    assert piece.scaled(by).length == pytest.approx(by * piece.length, rel=1e-6)


def test_a_handle_without_length_does_not_lose_the_heading() -> None:
    curve = Cubic((0.0, 0.0), (0.0, 0.0), (10.0, 0.0), (10.0, 0.0))

    assert curve.heading(0.0) == pytest.approx((1, 0))
    assert curve.heading(1.0) == pytest.approx((1, 0))


def test_a_parallel_of_an_ellipse_is_as_steiner_says() -> None:
    oval, beside = Sweep(0, 0, 50, 30, 0, 360), Sweep(0, 0, 50, 30, 0, 360, away=7)

    assert beside.length == pytest.approx(oval.length + 2 * math.pi * 7, rel=1e-12)
    assert beside.swept == pytest.approx(oval.swept + 7 * oval.length + math.pi * 49, rel=1e-12)
