"""A preview shows every edge where the package has it, in the colours of the materials, lit from the upper left."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from tests.sheets.samples import INCHES, MATERIALS, SHEET, TICKETS, art, inch, mm
from tests.sheets.test_golden import GOLDEN, NUMBER

from fourply.drawing.scene import Area, Field, Hair, Scene
from fourply.drawing.shapes import Box, bounds, flatten
from fourply.measure.size import Rect, Size
from fourply.render import scene_svg
from fourply.sheets.front_view import front_view
from fourply.sheets.preview import GREY, PAPER, WALL, preview
from fourply.sheets.preview_frame import profile
from fourply.sheets.view import Edge
from fourply.trade.accents import Arrange, GrooveRule, InlayRule, LayoutRule, LineRule, TitleRule
from fourply.trade.materials import Materials, Moulding
from fourply.trade.package import Package
from fourply.trade.resolve import resolve
from fourply.trade.shapes.rule import ShapeKind, ShapeRule
from fourply.trade.treatment import INCH, MatRule, Treatment
from fourply.trade.work import Work

TOP, UNDER, CORE, WOOD = "#f1e7d0", "#405060", "#e0e0e0", "#806040"
PLUM, INK = "#603050", "#112233"
BOARDS = MATERIALS.boards
COLOURED = replace(
    MATERIALS,
    boards=dict(BOARDS)
    | {
        "top": replace(BOARDS["white 4-ply"], name="top", colour=TOP, core=CORE),
        "under": replace(BOARDS["slate 4-ply"], name="under", colour=UNDER, core=CORE),
        "plum": replace(BOARDS["slate 4-ply"], name="plum", colour=PLUM, core=CORE),
    },
    mouldings={"wood": replace(MATERIALS.mouldings["ash 3/4"], name="wood", colour=WOOD)},
)
DOUBLE = replace(INCH, mats=(MatRule("top"), MatRule("under", inch(1, 4))), moulding="wood", border=inch(3))


def made(treatment: Treatment, materials: Materials = COLOURED, work: Work | None = None) -> Package:
    return resolve(work or Work("7", "Ebb", SHEET), treatment, materials)


def of_colour(scene: Scene, colour: str) -> list[Area]:
    return [patch for patch in scene.patches if isinstance(patch, Area) and patch.colour == colour]


def light(area: Area) -> int:
    return int(area.colour[1:3], 16)


def outlines(area: Area) -> list[Box]:
    """Return the boxes of the outlines of an area, the widest first."""
    boxes = [Box(min(xs), min(ys), max(xs), max(ys)) for xs, ys in (zip(*o, strict=True) for o in flatten(area.steps))]
    return sorted(boxes, key=lambda box: -box.width)


def edges(package: Package, edge: Edge) -> list[Box]:
    boxes = [bounds(outline.steps) for outline in front_view(package, INCHES).outlines if outline.edge is edge]
    return sorted(boxes, key=lambda box: -box.width)


def same(here: Box, there: Box) -> bool:
    return here == pytest.approx(there, abs=0.02)


GOLDEN_WORKS = ("double", "float")


@pytest.mark.parametrize("name", GOLDEN_WORKS)
def test_a_preview_is_as_it_was(name: str, request: pytest.FixtureRequest) -> None:
    drawn = scene_svg.render(preview(TICKETS[name][0])).decode()
    file = GOLDEN / f"preview-{name}.svg"
    if request.config.getoption("--regen", default=False):
        file.write_text(drawn, encoding="utf-8")
    kept = file.read_text(encoding="utf-8")
    assert NUMBER.sub("#", drawn) == NUMBER.sub("#", kept)
    numbers = zip(NUMBER.findall(drawn), NUMBER.findall(kept), strict=True)
    assert all(abs(float(here) - float(there)) < 0.011 for here, there in numbers)


def test_faces_windows_and_frame_are_where_the_front_view_has_them() -> None:
    package = made(DOUBLE)
    scene, view = preview(package), front_view(package, INCHES)
    top, under = (of_colour(scene, colour)[-1] for colour in (TOP, UNDER))
    outer_face, inner_face = edges(package, Edge.FACE)
    assert same(outlines(top)[0], edges(package, Edge.BLANK)[0])
    assert same(outlines(top)[1], outer_face)
    assert same(outlines(under)[1], inner_face)
    assert scene.seen.width > view.width
    assert (scene.ground, scene.title) == (WALL, "7 Ebb")
    assert [shadow.corners[1][0] > view.width for shadow in scene.shadows] == [True, True]


def bevels(package: Package, around: Box) -> dict[str, Area]:
    """Return the four lit slopes whose inner edge is the box, by side."""
    found = {}
    for patch in preview(package).patches:
        if not isinstance(patch, Area) or patch.opacity < 1 or len(flatten(patch.steps)[0]) != 4:
            continue
        box = bounds(patch.steps)
        if box.bottom == pytest.approx(around.top, abs=0.02) and box.left < around.left < around.right < box.right:
            found["top"] = patch
        if box.top == pytest.approx(around.bottom, abs=0.02) and box.left < around.left < around.right < box.right:
            found["bottom"] = patch
        if box.right == pytest.approx(around.left, abs=0.02) and box.top < around.top < around.bottom < box.bottom:
            found["left"] = patch
        if box.left == pytest.approx(around.right, abs=0.02) and box.top < around.top < around.bottom < box.bottom:
            found["right"] = patch
    return found


def test_bevels_begin_at_the_back_line_and_are_dark_at_top_and_left() -> None:
    package = made(DOUBLE)
    (window,) = edges(package, Edge.WINDOW)
    slopes = bevels(package, window)
    assert light(slopes["top"]) < light(slopes["left"]) < int(CORE[1:3], 16)
    assert int(CORE[1:3], 16) < light(slopes["right"]) <= light(slopes["bottom"])
    run = package.mats[-1].opening.run.as_mm
    assert bounds(slopes["top"].steps).height > run  # and goes on a little under the face


def test_a_reverse_bevel_shows_no_core() -> None:
    package = TICKETS["reverse"][0]
    (window,) = edges(package, Edge.WINDOW)
    assert bevels(package, window) == {}
    assert bevels(TICKETS["float"][0], edges(TICKETS["float"][0], Edge.WINDOW)[0])


def test_a_groove_is_two_slopes_of_opposite_light_between_its_edges() -> None:
    package = made(replace(DOUBLE, grooves=(GrooveRule(inch(1, 2)),)))
    face = of_colour(preview(package), TOP)[-1]
    outer, inner = edges(package, Edge.GROOVE)
    assert same(outlines(face)[1], outer)
    assert same(outlines(face)[2], inner)
    middle = Box(*((a + b) / 2 for a, b in zip(outer, inner, strict=True)))
    tops = [
        patch
        for patch in preview(package).patches
        if isinstance(patch, Area)
        and len(flatten(patch.steps)[0]) == 4
        and inner.top + 1 > bounds(patch.steps).bottom > bounds(patch.steps).top > outer.top - 1
    ]
    falling, rising = tops
    assert light(falling) < light(rising)
    assert bounds(rising.steps).top == pytest.approx(middle.top, abs=0.02)


def test_lines_wash_and_inlay_have_their_colours_and_places() -> None:
    lines = (LineRule(inch(1, 4), inch(1, 32), INK), LineRule(inch(1, 2), inch(1, 4), "#c9b68a", wash=True))
    package = made(replace(DOUBLE, lines=lines, inlay=InlayRule("plum", inch(5, 4), inch(3, 8))))
    scene = preview(package)
    (ruled,), (wash,), (inlay,) = (of_colour(scene, colour) for colour in (INK, "#c9b68a", PLUM))
    assert ruled.opacity > wash.opacity
    bands = edges(package, Edge.LINE)
    assert same(outlines(ruled)[0], bands[-2])
    assert same(outlines(wash)[0], bands[0])
    assert [box.width for box in outlines(inlay)] == pytest.approx(
        [box.width for box in edges(package, Edge.INLAY)], abs=0.02
    )


def test_the_field_lies_on_the_image_where_it_is_known_else_on_the_sheet() -> None:
    on_sheet = preview(made(DOUBLE))
    known = replace(art(inch(12), inch(15)), image=Rect(inch(2), inch(3), Size(inch(8), inch(9))))
    on_image = preview(made(DOUBLE, work=Work("8", "", known)))
    for scene, size in ((on_sheet, (43 / 4, 27 / 2)), (on_image, (8, 9))):
        (field,) = (patch for patch in scene.patches if isinstance(patch, Field))
        assert (field.box.width / 25.4, field.box.height / 25.4) == pytest.approx(size)
        assert (field.number, field.colour) == (0, GREY)
        (paper,) = of_colour(scene, PAPER)
        sheet = bounds(paper.steps)
        assert sheet.left <= field.box.left < field.box.right <= sheet.right


def test_a_floated_sheet_casts_a_shadow_under_it_and_a_covered_one_none() -> None:
    def before_the_paper(scene: Scene) -> list[Area]:
        (paper,) = of_colour(scene, PAPER)
        return [patch for patch in scene.patches[: scene.patches.index(paper)] if isinstance(patch, Area)]

    floated = [patch for patch in before_the_paper(preview(TICKETS["float"][0])) if patch.opacity < 1]
    assert len(floated) > 8
    sheet = bounds(of_colour(preview(TICKETS["float"][0]), PAPER)[0].steps)
    reach = [bounds(patch.steps) for patch in floated]
    assert max(box.bottom for box in reach) - sheet.bottom > sheet.top - min(box.top for box in reach)
    assert max(box.right for box in reach) - sheet.right > sheet.left - min(box.left for box in reach)
    assert [patch for patch in before_the_paper(preview(made(DOUBLE))) if patch.opacity < 1] == []


def depth_of_shadow(package: Package) -> float:
    """Return how far the shadows within the package reach past the upper edge of what throws them, in millimetres."""
    faint = [p for p in preview(package).patches if isinstance(p, Area) and p.opacity < 1 and len(outlines(p)) == 2]
    return max(inner.top - outer.top for outer, inner in map(outlines, faint))


def test_a_mat_that_is_raised_and_a_deeper_glazing_throw_longer_shadows() -> None:
    three = (MatRule("top"), MatRule("plum", setback=inch(1, 4)), MatRule("under", inch(1, 4)))
    flat = depth_of_shadow(made(replace(DOUBLE, moulding="")))
    raised = depth_of_shadow(made(replace(DOUBLE, moulding="", mats=three)))
    framed = depth_of_shadow(made(DOUBLE))
    spaced = depth_of_shadow(made(replace(DOUBLE, spacer="spacer 1/8")))
    assert flat < raised
    assert flat < framed < spaced


SHAPES = {
    "oval": ShapeRule(ShapeKind.OVAL),
    "arch": ShapeRule(ShapeKind.ROUND_ARCH),
    "clipped": ShapeRule(ShapeKind.CLIPPED, leg=inch(1)),
    "scooped": ShapeRule(ShapeKind.SCOOPED, radius=inch(1)),
    "stepped": ShapeRule(ShapeKind.STEPPED, steps=(inch(1, 2), inch(1, 2))),
    "hexagon": ShapeRule(ShapeKind.POLYGON, sides=6),
}


@pytest.mark.parametrize("shape", SHAPES)
def test_every_shape_is_cut_through_face_and_board_where_the_front_view_has_it(shape: str) -> None:
    package = made(replace(DOUBLE, shape=SHAPES[shape]))
    face = of_colour(preview(package), TOP)[-1]
    assert same(outlines(face)[1], edges(package, Edge.FACE)[0])
    darkest, brightest = (pick(map(light, _slopes(package, outlines(face)[1]))) for pick in (min, max))
    assert darkest < int(CORE[1:3], 16) < brightest


def _slopes(package: Package, around: Box) -> list[Area]:
    """Return the opaque greys, which only the core has here, in and a little round a box."""
    room = around.grown(2)
    areas = [patch for patch in preview(package).patches if isinstance(patch, Area) and patch.opacity == 1]
    greys = [area for area in areas if area.colour[1:3] == area.colour[3:5] == area.colour[5:7]]
    boxes = [(area, bounds(area.steps)) for area in greys]
    return [area for area, box in boxes if box.left > room.left and box.top > room.top and box.right < room.right]


def test_every_window_of_a_mat_has_its_field_and_the_title_has_none() -> None:
    small = art(inch(5), inch(7))
    treatment = replace(
        DOUBLE, layout=LayoutRule(Arrange.ROW, gutter=inch(1)), title=TitleRule(Size(inch(3), inch(1, 2)))
    )
    package = made(treatment, work=Work("9", "", small, others=(small, small)))
    scene = preview(package)
    assert [patch.number for patch in scene.patches if isinstance(patch, Field)] == [0, 1, 2]
    assert len(outlines(of_colour(scene, TOP)[-1])) == 1 + 3 + 1


@pytest.mark.parametrize("name", TICKETS)
def test_every_work_can_be_pictured_and_nothing_leaves_the_picture(name: str) -> None:
    scene = preview(TICKETS[name][0])
    for patch in scene.patches:
        box = patch.box if isinstance(patch, Field) else bounds(patch.steps)
        assert scene.seen.left < box.left <= box.right < scene.seen.right
        assert scene.seen.top < box.top <= box.bottom < scene.seen.bottom


def test_rails_are_mitred_and_their_flat_faces_keep_the_colour_of_the_wood_nearly() -> None:
    scene = preview(made(DOUBLE))
    hairs = [patch for patch in scene.patches if isinstance(patch, Hair)]
    assert sum(len(patch.steps) == 2 for patch in hairs) >= 4
    reds = [light(patch) for patch in scene.patches[-200:] if isinstance(patch, Area) and patch.opacity == 1]
    assert any(abs(red - int(WOOD[1:3], 16)) <= 6 for red in reds)


def test_without_a_wall_there_is_no_ground() -> None:
    assert preview(made(DOUBLE), wall=None).ground is None


def moulding(**given: object) -> Moulding:
    return replace(MATERIALS.mouldings["ash 3/4"], **given)  # type: ignore[arg-type]


def test_a_profile_runs_from_the_outer_edge_to_the_sight_edge() -> None:
    plain = moulding()
    points = profile(plain)
    assert points[0][0] == pytest.approx(0)
    assert points[-1][0] == pytest.approx(plain.width.as_mm)
    assert all(here[0] <= there[0] + 1e-9 for here, there in pairwise(points))
    assert max(height for _, height in points) == pytest.approx(plain.height.as_mm)
    own = moulding(profile=((mm(0), mm(10)), (plain.width, mm(5))))
    assert profile(own) == [(0.0, 10.0), (plain.width.as_mm, 5.0)]


@pytest.mark.parametrize(
    "points",
    [
        ((mm(1), mm(5)), (inch(3, 4), mm(5))),
        ((mm(0), mm(5)), (mm(9), mm(5))),
        ((mm(0), mm(5)), (mm(9), mm(5)), (mm(8), mm(5)), (inch(3, 4), mm(5))),
        ((mm(0), mm(26)), (inch(3, 4), mm(5))),
        ((mm(0), mm(-1)), (inch(3, 4), mm(5))),
    ],
    ids=["begins inside", "ends inside", "goes back", "too high", "below the back"],
)
def test_a_profile_that_cannot_be_is_refused(points: object) -> None:
    with pytest.raises(ValueError, match="profile"):
        moulding(profile=points)
