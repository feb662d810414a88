"""What a machine is given is the package: read back from DXF to a micron, every board and line."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

import pytest
from shapely import LineString, Point
from shapely.strtree import STRtree
from tests.render.dxf_reader import Entity, File, read
from tests.sheets.samples import INCHES, TICKETS
from tests.sheets.shaped import SHAPED

from fourply.render import dxf
from fourply.sheets.cut_drawing import Follow, board_drawings, work_drawing
from fourply.sheets.template_view import View
from fourply.trade.package import Mat, Package
from fourply.trade.shapes.outline import Outline

MICRON = 0.001
FINE = 5e-5  # how finely the outlines of the trade are taken apart to be compared

COUNTS = {"LINE": 1, "SPLINE": 64}  # points taken of an entity: a whole ellipse needs many

type At = tuple[float, float]
both = pytest.mark.parametrize("follow", Follow, ids=lambda follow: follow.value)


def files(package: Package, view: View, follow: Follow) -> dict[str, File]:
    return {name: read(dxf.render(one)) for name, one in board_drawings(package, INCHES, view, follow)}


def cut(file: File, kind: str) -> list[Entity]:
    return [entity for entity in file.entities if kind in entity.layer]


def wanted(mat: Mat, follow: Follow) -> Iterator[tuple[Outline, At]]:
    """Yield the outlines of the windows from the shapes of the trade, about their middle on the package."""
    for hole in mat.holes:
        opening, place = hole.opening, hole.place
        outline = opening.sight_outline() if follow is Follow.SIGHT else opening.face_outline()
        yield outline, ((place.left + place.right).as_mm / 2, (place.top + place.bottom).as_mm / 2)


def on_package(package: Package, mat: Mat, entities: list[Entity], view: View) -> list[list[At]]:
    """Return the points of entities as the package is seen from the front, from its top left."""
    width, height = mat.blank.width.as_mm, mat.blank.height.as_mm
    left, top = (package.outer.width.as_mm - width) / 2, (package.outer.height.as_mm - height) / 2
    turn = -1 if view is View.BACK else 1
    start = width if view is View.BACK else 0.0
    return [
        [(left + start + turn * x, top + height - y) for x, y in entity.points(COUNTS.get(entity.kind, 2048))]
        for entity in entities
    ]


def apart(found: list[list[At]], outlines: list[tuple[Outline, At]]) -> float:
    """Return the greatest distance between lines that were read and outlines, either way."""
    there = [ring(outline, at) for outline, at in outlines]
    return max(_off(found, there), _off(there, found))


def ring(outline: Outline, at: At) -> list[At]:
    """Return an outline elsewhere, as points from its first back to it."""
    points = outline.flatten(FINE)
    return [(x + at[0], y + at[1]) for x, y in (*points, points[0])]


def _off(points: list[list[At]], lines: list[list[At]]) -> float:
    pieces = [LineString(pair) for line in lines for pair in pairwise(line)]
    tree = STRtree(pieces)
    every = [Point(point) for line in points for point in line]
    return float(max(tree.query_nearest(every, return_distance=True, all_matches=False)[1]))


@pytest.mark.parametrize(("view", "follow"), [(View.BACK, Follow.SIGHT), (View.FRONT, Follow.FACE)])
@pytest.mark.parametrize("name", SHAPED)
def test_every_window_read_back_is_that_of_the_package_to_a_micron(name: str, view: View, follow: Follow) -> None:
    package, _ = SHAPED[name]
    made = files(package, view, follow)
    for mat in package.mats:
        found = on_package(package, mat, cut(made[mat.name], "-window-"), view)
        assert apart(found, list(wanted(mat, follow))) < MICRON


@both
@pytest.mark.parametrize("name", ["oval with grooves", "three in a row"])
def test_every_groove_read_back_lies_where_its_borders_say(name: str, follow: Follow) -> None:
    package, _ = SHAPED[name]
    top = package.mats[0]
    found = cut(files(package, View.FRONT, follow)[top.name], "-groove-")
    outlines = []
    for groove in top.all_grooves:
        across, down = groove.borders.left - groove.borders.right, groove.borders.top - groove.borders.bottom
        middle = ((package.outer.width + across).as_mm / 2, (package.outer.height + down).as_mm / 2)
        shape = groove.shape
        outlines.append((shape.outline() if follow is Follow.SIGHT else shape.parallel(groove.run), middle))
    assert top.all_grooves
    assert apart(on_package(package, top, found, View.FRONT), outlines) < MICRON


def test_an_oval_is_a_true_ellipse_at_the_back_and_a_parallel_in_curves_at_the_face() -> None:
    package, _ = SHAPED["oval"]
    back, face = (files(package, View.BACK, follow)["top mat"] for follow in (Follow.SIGHT, Follow.FACE))
    (oval,) = cut(back, "-window-")
    assert oval.kind == "ELLIPSE"
    # the axes of the opening, halved
    sides = sorted((package.mats[0].opening.back.width.as_mm / 2, package.mats[0].opening.back.height.as_mm / 2))
    assert math.hypot(oval.one(11), oval.one(21)) == pytest.approx(sides[1], abs=1e-6)
    assert oval.one(40) * sides[1] == pytest.approx(sides[0], abs=1e-6)
    assert {entity.kind for entity in cut(face, "-window-")} == {"SPLINE"}
    assert any("no oval itself" in text for text in face.comments)
    assert not any("no oval itself" in text for text in back.comments)


def test_an_inlay_has_a_board_of_its_own_whose_band_fits_the_gap() -> None:
    package, _ = SHAPED["inlay"]
    made = files(package, View.FRONT, Follow.SIGHT)
    assert list(made) == ["top mat", "under-mat", "inlay"]
    gap, band = cut(made["top mat"], "1-white-4-ply-inlay-bevel"), cut(made["inlay"], "inlay-slate-4-ply-edge-of-band")
    assert len(gap) == len(band) == 16  # eight sides each way round (clipped corners)
    boxes = [_box(lines) for lines in (gap, band)]
    assert boxes[0][0] == pytest.approx(boxes[1][0], abs=MICRON)
    blank = _box(cut(made["inlay"], "-blank-"))
    assert package.inlay is not None
    hold = package.inlay.hold.as_mm
    assert boxes[1][0] == pytest.approx(tuple(side - 2 * hold for side in blank[0]), abs=MICRON)
    assert boxes[1][1] == pytest.approx((hold, hold), abs=MICRON)
    lengths = [sorted(math.dist(*line.points(1)) for line in lines) for lines in (gap, band)]
    assert lengths[0] == pytest.approx(lengths[1], abs=MICRON)


def _box(entities: list[Entity]) -> tuple[At, At]:
    xs, ys = zip(*(point for entity in entities for point in entity.points(1)), strict=True)
    return (max(xs) - min(xs), max(ys) - min(ys)), (min(xs), min(ys))


def test_the_boards_of_a_sink_are_cut_square_through_and_their_number_is_said() -> None:
    package, _ = SHAPED["sink"]
    made = files(package, View.BACK, Follow.SIGHT)
    sink = package.sink
    assert sink is not None
    file = made["sink mat"]
    assert {entity.layer for entity in file.entities} == {
        "sink-ochre-8-ply-opening-straight",
        "sink-ochre-8-ply-blank-straight",
        "note",
    }
    size, _ = _box(cut(file, "-opening-"))
    assert size == pytest.approx((sink.opening.size.width.as_mm, sink.opening.size.height.as_mm), abs=MICRON)
    # 3/16 in of art needs two boards of 1/8 in (derived)
    assert any("2 boards alike" in text for text in file.comments)


def test_a_spacer_mat_is_a_board_of_its_own_name() -> None:
    names = [name for name, _ in board_drawings(SHAPED["spacer"][0], INCHES, View.BACK, Follow.SIGHT)]
    assert names == ["top mat", "spacer mat", "under-mat"]


@both
@pytest.mark.parametrize("view", View, ids=lambda view: view.value)
def test_the_note_says_which_line_and_which_side(view: View, follow: Follow) -> None:
    for file in files(SHAPED["three in a row"][0], view, follow).values():
        said = [entity.text(1) for entity in file.entities if entity.layer == "note"]
        assert f"{follow.value} line, seen from the {view.value} of the mats" in said


def test_the_shaving_of_a_groove_is_noted_since_no_machine_does_it() -> None:
    package, _ = TICKETS["double"]
    comments = files(package, View.BACK, Follow.SIGHT)["top mat"].comments
    groove = package.mats[0].all_grooves[0]
    before, after = (INCHES.write(size.width) for size in (groove.face_cut, groove.face_shaved))
    (text,) = (line for line in comments if line.startswith("groove"))
    assert f"face {before} × " in text
    assert f"to {after} × " in text


@pytest.mark.parametrize("name", ["three in a row", "inlay", "sink", "polygon 3"])
def test_all_boards_in_their_places_hold_the_lines_of_each(name: str) -> None:
    package, _ = SHAPED[name]
    whole = read(dxf.render(work_drawing(package, INCHES, View.FRONT, Follow.SIGHT)))
    single = files(package, View.FRONT, Follow.SIGHT)
    for file in single.values():
        for layer in {entity.layer for entity in file.entities} - {"note"}:
            here, there = ([e for e in one.entities if e.layer == layer] for one in (file, whole))
            assert len(here) == len(there)
            assert _box(here)[0] == pytest.approx(_box(there)[0], abs=MICRON)


def test_a_polygon_s_inlay_runs_parallel_to_its_window() -> None:
    package, _ = SHAPED["inlay round a triangle"]
    inlay, top = package.inlay, package.mats[0]
    assert inlay is not None
    lines = cut(files(package, View.FRONT, Follow.SIGHT)["top mat"], "-inlay-")
    rule = package.treatment.inlay
    assert rule is not None
    ((outline, at),) = wanted(top, Follow.SIGHT)
    window = LineString(ring(outline, at))
    middles = [entity.points(2)[1] for entity in lines]
    height = package.outer.height.as_mm
    found = sorted(window.distance(Point(x, height - y)) for x, y in middles)
    distances = [rule.distance.as_mm] * 3 + [(rule.distance + rule.width).as_mm] * 3
    assert found == pytest.approx(distances, abs=MICRON)
