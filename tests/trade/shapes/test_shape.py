"""What holds for every shape: box, area, parallel and grown shape, held against an independent geometry library."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import assume, given, reject
from hypothesis import strategies as st
from tests.trade.shapes.shapes import EXAMPLES, FINE_MM, MANY, blobs, corners, exact_shapes, ovals, seen, tenths

from fourply.errors import BadTreatment
from fourply.measure.length import ZERO, Length
from fourply.measure.size import Rect, Size
from fourply.trade.shapes.arch import Arch, EllipticalArch
from fourply.trade.shapes.ellipse import Ellipse
from fourply.trade.shapes.rectangle import Rectangle
from fourply.trade.shapes.shape import Shape
from fourply.trade.shapes.stepped import Stepped

NM = 1e-6
ANY = st.one_of(exact_shapes(), blobs())


def longest(shape: Shape) -> float:
    return max(shape.size.width, shape.size.height).as_mm


@EXAMPLES
@given(ANY)
def test_the_size_is_the_box_of_the_outline(shape: Shape) -> None:
    left, top, right, bottom = shape.outline().bounds()

    assert right - left == pytest.approx(shape.size.width.as_mm, abs=NM)
    assert bottom - top == pytest.approx(shape.size.height.as_mm, abs=NM)
    assert (left + right, top + bottom) == pytest.approx((0, 0), abs=NM)


@EXAMPLES
@given(ANY)
def test_area_and_perimeter_are_those_of_the_flattened_outline(shape: Shape) -> None:
    polygon = seen(shape.outline())

    assert polygon.is_valid
    assert shape.area == pytest.approx(polygon.area, abs=FINE_MM * shape.perimeter)
    assert shape.perimeter == pytest.approx(polygon.length, rel=1e-4)


@MANY
@given(ANY, tenths(1, 200), st.lists(st.tuples(st.floats(0, 1), st.floats(0, 1)), min_size=10, max_size=10))
def test_inside_the_parallel_is_what_is_so_far_from_the_edge(
    shape: Shape, by: Length, parts: list[tuple[float, float]]
) -> None:
    base = seen(shape.outline())
    width, height = shape.size.width.as_mm, shape.size.height.as_mm
    points = [shapely.Point((x - 0.5) * width, (y - 0.5) * height) for x, y in parts]
    deep = [point for point in points if base.contains(point) and base.exterior.distance(point) > by.as_mm + 0.1]
    try:
        outline = shape.parallel(-by)
    except BadTreatment as bad:
        assume("parts" not in str(bad) and "run into one another" not in str(bad))
        assert deep == []
        return
    inner = seen(outline)

    assert inner.is_valid
    for x, y in outline.flatten(1e-2):
        away = base.exterior.distance(shapely.Point(x, y))
        assert away == pytest.approx(by.as_mm, abs=3e-3) or (isinstance(shape, Stepped) and away > by.as_mm)
    if not isinstance(shape, Stepped):  # a mitre round a corner that points inwards takes a little more
        for point in deep:
            assert inner.contains(point)


@MANY
@given(ANY, tenths(1, 300))
def test_every_point_of_the_parallel_outside_is_so_far_away_but_at_mitres(shape: Shape, by: Length) -> None:
    base, sharp = seen(shape.outline()).exterior, shapely.MultiPoint(corners(shape.outline()))
    try:
        outline = shape.parallel(by)
    except BadTreatment:
        reject()

    assert seen(outline).is_valid
    for point in map(shapely.Point, outline.flatten(1e-2)):
        distance = base.distance(point)
        assert distance >= by.as_mm - 3e-3
        if distance > by.as_mm + 3e-3 and not isinstance(shape, Stepped):  # small steps lie under one another's mitres
            nearest = shapely.shortest_line(base, point).coords[0]
            assert sharp.distance(shapely.Point(nearest)) < 0.05 + 1e-3 * longest(shape)


@EXAMPLES
@given(ANY, tenths(-200, 200))
def test_growing_gives_the_parallel_but_for_ovals(shape: Shape, by: Length) -> None:
    assume(not isinstance(shape, EllipticalArch | Ellipse) or shape.words == "circle")
    try:
        grown, parallel = shape.grown(by), shape.parallel(by)
    except BadTreatment:
        reject()

    right, down = shape.drift(by)
    found = seen(grown.outline().moved(right.as_mm, down.as_mm))

    assert found.symmetric_difference(seen(parallel)).area <= 1e-3 * parallel.perimeter


@EXAMPLES
@given(exact_shapes(), tenths(0, 100), tenths(0, 100))
def test_growing_twice_is_growing_once(shape: Shape, one: Length, two: Length) -> None:
    try:
        once, twice = shape.grown(one + two), shape.grown(one).grown(two)
    except BadTreatment:
        reject()

    assert type(once) is type(twice)
    slack = 1e-5 * longest(shape)  # a flat arch magnifies the nanometre that its width is rounded to
    assert once.size.width.as_mm == pytest.approx(twice.size.width.as_mm, abs=slack)
    assert once.size.height.as_mm == pytest.approx(twice.size.height.as_mm, abs=slack)
    assert once.area == pytest.approx(twice.area, abs=slack * longest(shape))


@EXAMPLES
@given(exact_shapes(), tenths(1, 200))
def test_the_narrowest_is_the_distance_to_the_grown_shape(shape: Shape, by: Length) -> None:
    try:
        grown = shape.grown(by)
    except BadTreatment:
        reject()
    right, down = shape.drift(by)

    distance = seen(grown.outline().moved(right.as_mm, down.as_mm)).exterior.distance(seen(shape.outline()).exterior)

    assert shape.narrowest(by).as_mm == pytest.approx(distance, abs=1e-3)


@EXAMPLES
@given(ovals(), tenths(1, 100))
def test_the_narrowest_is_the_same_from_either_oval(oval: Ellipse, by: Length) -> None:
    assert oval.narrowest(by) <= by
    assert abs(oval.grown(by).narrowest(-by) - oval.narrowest(by)) <= Length(1)


@EXAMPLES
@given(ANY, st.floats(-1, 1), st.floats(-1, 1))
def test_inside_is_inside(shape: Shape, x: float, y: float) -> None:
    point = (x * shape.size.width.as_mm, y * shape.size.height.as_mm)
    polygon = seen(shape.outline())
    assume(polygon.exterior.distance(shapely.Point(point)) > 1e-3)

    assert shape.outline().contains(point) == polygon.contains(shapely.Point(point))


@MANY
@given(ANY, st.tuples(*[st.floats(0, 1)] * 4))
def test_a_rectangle_is_held_where_it_is_inside(shape: Shape, parts: tuple[float, float, float, float]) -> None:
    (x0, x1), (y0, y1) = sorted(parts[:2]), sorted(parts[2:])
    width, height = shape.size.width, shape.size.height
    edges = [Length(int(part * side.nm)) for part, side in ((x0, width), (y0, height), (x1, width), (y1, height))]
    assume(edges[2] - edges[0] > Length.mm(1) and edges[3] - edges[1] > Length.mm(1))
    rect = Rect.at(edges[0], edges[1], edges[2] - edges[0], edges[3] - edges[1])
    mm = [edge.as_mm - side.as_mm / 2 for edge, side in zip(edges, (width, height) * 2, strict=True)]
    polygon = seen(shape.outline())
    assume(polygon.exterior.distance(shapely.box(*mm).exterior) > 1e-3 or not polygon.contains(shapely.box(*mm)))
    assume(polygon.buffer(1e-3).contains(shapely.box(*mm)) == polygon.contains(shapely.box(*mm)))

    assert shape.holds(rect) == polygon.contains(shapely.box(*mm))


@EXAMPLES
@given(ANY)
def test_mirrored_twice_is_the_same(shape: Shape) -> None:
    outline = shape.outline()
    mirrored = outline.mirrored()

    assert mirrored.area == pytest.approx(outline.area)
    left, top, right, bottom = outline.bounds()
    assert mirrored.bounds() == pytest.approx((-right, top, -left, bottom))
    assert seen(mirrored.mirrored()).symmetric_difference(seen(outline)).area < 1e-3 * outline.perimeter


@EXAMPLES
@given(st.one_of(exact_shapes(), blobs()), tenths(0, 100))
def test_what_closes_says_what_would_be_right(shape: Shape, more: Length) -> None:
    closing = -(max(shape.size.width, shape.size.height) // 2 + more + Length(1))

    for ask in (shape.grown, shape.parallel):
        with pytest.raises(BadTreatment, match=r"shape.*;"):
            ask(closing)
    assert shape.fallouts(-closing) == ()


def test_only_a_straight_guide_cuts_what_is_straight() -> None:
    assert Rectangle(Size(Length.mm(1), Length.mm(1))).straight


@EXAMPLES
@given(exact_shapes())
def test_straight_shapes_have_straight_pieces_only(shape: Shape) -> None:
    flat = len(shape.outline().flatten(1e-9 + math.inf)) == len(shape.outline().flatten(1e-2))

    assert shape.straight == flat
    assert shape.words
    assert shape.grown(ZERO).size == shape.size


def test_an_arch_next_to_a_half_circle_stays_closed_beside_itself() -> None:
    arch = Arch(Size(Length(372268750), Length(296068750)), Length(186134375))
    for by in range(-90, 30):
        outline = arch.parallel(Length.mm(by))
        assert outline.bounds()[3] == pytest.approx(arch.size.height.as_mm / 2 + by)
