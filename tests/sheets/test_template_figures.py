"""The figures of a template set its shapes out: by worked values, for every opening, beside every accent."""

from __future__ import annotations

import math

import pytest
from tests.sheets.full_size import INCH, sample_view
from tests.sheets.samples import INCHES, inch
from tests.sheets.shaped import SHAPED

from fourply.measure.size import Size
from fourply.sheets.template_figures import figure_groups, shape_rows, two_ways
from fourply.sheets.template_marks import points_of
from fourply.sheets.template_view import View
from fourply.trade.shapes.arch import Arch, EllipticalArch
from fourply.trade.shapes.corners import Clipped, Rounded, Scooped
from fourply.trade.shapes.ellipse import Ellipse
from fourply.trade.shapes.rectangle import Rectangle
from fourply.trade.shapes.regular import Regular
from fourply.trade.shapes.shape import Shape
from fourply.trade.shapes.stepped import Stepped

CASES: list[tuple[Shape, dict[str, str]]] = [
    (Rectangle(Size(inch(8), inch(10))), {}),
    # foci and trammel of an ellipse: any textbook of technical drawing; 3-4-5 triangle
    (
        Ellipse(Size(inch(8), inch(10))),
        {
            "pins apart": "6",
            "each pin from the centre": "3",
            "loop round both pins": "16",
            "trammel, half axes": "5 and 4",
            "axis difference": "2",
            "sliders apart": "1",
        },
    ),
    (Ellipse(Size(inch(8), inch(8))), {"radius": "4"}),
    # sagitta: (8^2 / 4 + 2^2) / (2 * 2) = 5, any textbook of geometry
    (
        Arch(Size(inch(8), inch(10)), inch(2)),
        {
            "radius": "5",
            "centre below the crown": "5",
            "springs below the crown": "2",
            "springs above the foot": "8",
        },
    ),
    (
        EllipticalArch(Size(inch(10), inch(12)), inch(4)),
        {
            "springs below the crown": "4",
            "springs above the foot": "8",
            "top: pins apart": "6",
            "top: each pin from the centre": "3",
            "top: loop round both pins": "16",
            "top: trammel, half axes": "5 and 4",
            "top: axis difference": "2",
            "top: sliders apart": "1",
        },
    ),
    # 2 sqrt 2 (derived)
    (Clipped(Size(inch(16), inch(20)), inch(2)), {"leg of the corner": "2", "corner cut": "2.828"}),
    # trade's octagon: corner 0.29289 S, side 0.41421 S (derived)
    (Clipped.octagon(inch(8)), {"leg of the corner": "2.343", "side": "3.314"}),
    (Rounded(Size(inch(8), inch(10)), inch(1)), {"radius, centre as far in": "1"}),
    (
        Scooped(Size(inch(8), inch(10)), inch(2), inch(1, 4)),
        {"radius of the scoop": "2", "its centre inside the corner": "1⁄4"},
    ),
    (
        Stepped(Size(inch(11), inch(15)), (inch(1, 4), inch(1, 2))),
        {
            "rectangle 1": "11 × 15",
            "rectangle 2": "10 1⁄2 × 14 1⁄2",
            "rectangle 3": "9 1⁄2 × 13 1⁄2",
            "1, 2, 3 end on the lines of": "3, 2, 1",
            "step inwards from 1, all sides": "1⁄4",
            "step inwards from 2, all sides": "1⁄2",
        },
    ),
    # the side of a hexagon is 1 / sqrt 3 of its width across flats (any textbook of geometry)
    (Regular(6, inch(6)), {"across flats": "6", "side": "3.464"}),
    (Regular(3, inch(3)), {"circle inside": "3", "side": "5.196"}),
]


@pytest.mark.parametrize(("shape", "rows"), CASES, ids=lambda case: getattr(case, "words", ""))
def test_each_shape_is_set_out_by_its_own_figures(shape: Shape, rows: dict[str, str]) -> None:
    assert {row.name: row.figure for row in shape_rows(shape, INCHES)} == rows


def test_pins_and_centres_stand_where_geometry_puts_them() -> None:
    pins = points_of(Ellipse(Size(inch(10), inch(8))))
    assert [mark.x / INCH for mark in pins] == pytest.approx([-3, 3])
    assert [mark.y for mark in pins] == [0, 0]
    (centre,) = points_of(Arch(Size(inch(8), inch(10)), inch(2)))
    assert (centre.x, centre.y / INCH) == pytest.approx((0, 0))  # 5 below the crown of 10
    # the triangle's centre is a third of its height above its foot
    triangle = Regular(3, inch(3))
    (centre,) = points_of(triangle)
    assert centre.y == pytest.approx(triangle.size.height.as_mm * (1 / 2 - 1 / 3))
    corners = points_of(Rounded(Size(inch(8), inch(10)), inch(1)))
    assert {(round(abs(mark.x) / INCH, 6), round(abs(mark.y) / INCH, 6)) for mark in corners} == {(3, 4)}
    assert points_of(Ellipse(Size(inch(8), inch(8)))) == ()


def test_the_sum_of_the_ways_to_both_pins_is_the_loop_less_their_distance() -> None:
    oval = Ellipse(Size(inch(7), inch(9)))
    one, two = points_of(oval)
    for x, y in oval.outline().flatten(0.01):
        both = math.hypot(x - one.x, y - one.y) + math.hypot(x - two.x, y - two.y)
        assert both == pytest.approx((oval.loop - oval.pins).as_mm, abs=0.001)


def test_an_oval_s_reveal_is_given_on_the_axes_and_at_its_narrowest() -> None:
    package, _ = SHAPED["oval"]
    (under,) = (group for group in figure_groups(package, INCHES) if group.heading.startswith("Under-mat"))
    rows = {row.name: row.figure for row in under.rows}
    assert rows["reveal on the axes"] == "1⁄4"
    assert 0.2 < float(rows["reveal, narrowest"]) < 0.25
    assert float(rows["flat strip, narrowest"]) < 3 / 16


def test_openings_that_are_alike_share_one_group_and_all_places_are_given() -> None:
    package, _ = SHAPED["three in a row"]
    groups = {group.heading: group.rows for group in figure_groups(package, INCHES)}
    assert {"Top mat, opening 1", "Top mat, opening 2", "Top mat, opening 3", "Top mat, title"} <= set(groups)
    places = {row.name: row.figure for row in groups["Top mat, as it hangs"]}
    for hole in package.mats[0].holes:
        name = "title" if hole.title else f"opening {hole.number}"
        at = ", ".join(INCHES.write(edge) for edge in (hole.borders.left, hole.borders.top))
        assert places[f"{name} from left, top"] == at
    alike = [group.heading for group in figure_groups(SHAPED["nine in a grid"][0], INCHES)]
    assert "Top mat, opening 1, 2, 3, 4, 5, 6, 7, 8, 9" in alike


@pytest.mark.parametrize(
    ("name", "heading", "row"),
    [
        ("oval with grooves", "Top mat, white 4-ply", "groove b, back line"),
        ("oval with grooves", "Top mat, white 4-ply", "its face is shaved to"),
        ("three in a row", "Top mat, white 4-ply", "groove round all, back line"),
        ("three in a row", "Top mat, opening 2", "wash 1⁄4 wide, from face"),
        ("inlay", "Inlay, slate 4-ply", "outer edge, back line"),
        ("sink", "Sink mat, ochre 8-ply, 2 alike", "opening, square through"),
        ("spacer", "Spacer mat, ochre 8-ply", "set back by"),
    ],
)
def test_every_accent_has_its_figures(name: str, heading: str, row: str) -> None:
    groups = {group.heading: group.rows for group in figure_groups(SHAPED[name][0], INCHES)}
    assert row in {each.name for each in groups[heading]}


def test_the_two_ways_are_those_of_the_innermost_oval() -> None:
    package, _ = SHAPED["oval"]
    ways = two_ways(package, INCHES)
    assert ways is not None
    inner = package.mats[-1].opening.back
    assert (ways.name, ways.width, ways.height) == ("under-mat", inner.width.as_mm, inner.height.as_mm)
    assert two_ways(SHAPED["circle"][0], INCHES) is None
    assert two_ways(SHAPED["arch"][0], INCHES) is None


def test_numbers_and_marks_change_sides_with_the_view() -> None:
    front, back = (sample_view("three in a row", view) for view in (View.FRONT, View.BACK))
    assert [number.text for number in front.numbers] == ["1", "2", "3"]
    assert [number.x for number in back.numbers] == [back.width - number.x for number in front.numbers]
    assert [mark.x for mark in back.marks] == [back.width - mark.x for mark in front.marks]
