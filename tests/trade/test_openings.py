"""Shaped, grouped and decorated openings through the public way in: what is promised of each holds on any design."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import HealthCheck, assume, given, settings
from shapely import box
from shapely.geometry import Polygon
from tests.sheets.shaped import RULES as SHAPE_RULES
from tests.trade.cases import MATERIALS, PLAIN, SHEET, WORK, art, but, inch, length, rules_of
from tests.trade.designs import Design, designs, several_designs, single_designs
from tests.trade.evaluate import fault

from fourply.errors import BadTreatment, CannotHonour, Unknown
from fourply.files.svgpath import parse_path
from fourply.measure.length import ZERO, Length
from fourply.measure.size import Rect, Size
from fourply.trade import opening_rules
from fourply.trade.accents import (
    Align,
    Arrange,
    Gaps,
    GrooveRule,
    InlayRule,
    LayoutRule,
    LineRule,
    Round,
    SinkRule,
    TitleRule,
)
from fourply.trade.package import Opening, Package
from fourply.trade.parts import flat_parts
from fourply.trade.resolve import resolve
from fourply.trade.shapes.outline import Outline
from fourply.trade.shapes.rule import ShapeKind, ShapeRule
from fourply.trade.treatment import Bevel, Layer, MatRule
from fourply.trade.work import Artwork, Work
from fourply.working.working import Rule

DRAWN = settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
DOUBLE = (MatRule("white"), MatRule("grey", inch(1, 4)))
OVAL, RECTANGLE = ShapeRule(ShapeKind.OVAL), ShapeRule()


def made(design: Design) -> Package:
    try:
        return resolve(*design, MATERIALS)
    except (BadTreatment, CannotHonour):
        assume(condition=False)
        raise


def several(*sheets: Artwork, **rules: object) -> Package:
    first, *others = sheets
    return resolve(Work("1", "", first, others=tuple(others)), but(PLAIN, **rules), MATERIALS)


def shaped(outline: Outline) -> Polygon:
    return Polygon(outline.flatten(0.001))


@DRAWN
@given(designs())
def test_every_formula_of_any_design_gives_its_value_again(design: Design) -> None:
    figures = made(design).figures
    assert [said for path in figures if (said := fault(figures, path))] == []


@DRAWN
@given(single_designs())
def test_the_sight_lies_inside_the_face_of_a_normal_bevel_by_the_run(design: Design) -> None:
    for mat in made(design).mats:
        opening = mat.opening
        if not opening.run:
            continue
        inner, outer = shaped(opening.sight_outline()), shaped(_outer(opening))
        assert outer.contains(inner)
        assert inner.exterior.distance(outer.exterior) == pytest.approx(opening.run.as_mm, abs=0.005)


def _outer(opening: Opening) -> Outline:
    return opening.face_outline() if opening.bevel is Bevel.NORMAL else opening.back_outline()


@DRAWN
@given(single_designs())
def test_the_strip_of_an_under_mat_is_what_is_promised_or_a_finding_says_so(design: Design) -> None:
    package = made(design)
    seen = [mat for mat in package.mats if not mat.hidden]
    told = {"shape.covers", "shape.near", "strip.none"} & set(rules_of(package.findings))
    for over, under in pairwise(seen):
        sight = shaped(over.opening.sight_outline())
        face = shaped(under.opening.face_outline())
        shift = _between(under.holes[0].place, over.holes[0].place)
        face = Polygon([(x + shift[0], y + shift[1]) for x, y in face.exterior.coords])
        if under.strip <= ZERO or told:
            continue
        assert sight.buffer(0.01).contains(face)
        assert sight.exterior.distance(face.exterior) >= under.strip.as_mm - 0.01


def _between(one: Rect, two: Rect) -> tuple[float, float]:
    return (
        (one.left + one.right - two.left - two.right).as_mm / 2,
        (one.top + one.bottom - two.top - two.bottom).as_mm / 2,
    )


@DRAWN
@given(designs())
def test_openings_lie_on_the_mat_and_their_borders_add_up(design: Design) -> None:
    package = made(design)
    for mat in package.mats:
        for hole in mat.holes:
            back = hole.opening.back
            assert hole.borders.across + back.width == package.outer.width
            assert hole.borders.along + back.height == package.outer.height


@DRAWN
@given(designs())
def test_every_fallout_lies_inside_its_opening(design: Design) -> None:
    package = made(design)
    for mat in package.mats:
        for hole in mat.holes:
            inside = shaped(hole.opening.sight_outline()).buffer(0.001)
            for fallout in hole.fallouts:
                assert fits_somewhere(fallout, inside), (hole.opening.shape, fallout)


def fits_somewhere(size: Size, inside: Polygon) -> bool:
    """Tell whether a rectangle lies in an outline in one of the places that are tried: a grid, the finer the later."""
    left, top, right, bottom = inside.bounds
    w, h = size.width.as_mm, size.height.as_mm
    room_x, room_y = right - left - w, bottom - top - h
    if min(w, h) <= 0 or min(room_x, room_y) < -1e-6:
        return False
    for parts in (2, 8, 64):
        for down in range(parts + 1):
            for along in [parts // 2, *range(parts + 1)]:
                x, y = left + room_x * along / parts, top + room_y * down / parts
                if inside.covers(box(x, y, x + w, y + h)):
                    return True
    return False


LOW = "arch without shoulders"  # of a high window there is none
FALLING = [
    *(rule for name, rule in SHAPE_RULES.items() if name != LOW),
    ShapeRule(ShapeKind.FREE, path=parse_path("M4 0 L8 4 L4 12 L0 4 Z", source="kite")),
]


@pytest.mark.parametrize("rule", FALLING, ids=lambda rule: rule.kind.value)
def test_every_shape_gives_a_fallout_that_lies_inside_it(rule: ShapeRule) -> None:
    package = resolve(Work("1", "", art(inch(10), inch(16))), but(PLAIN, shape=rule), MATERIALS)
    (hole,) = package.mats[0].holes
    inside = shaped(hole.opening.sight_outline()).buffer(0.001)
    assert hole.fallouts
    assert all(fits_somewhere(fallout, inside) for fallout in hole.fallouts)


@DRAWN
@given(several_designs())
def test_windows_lie_over_their_own_sheets(design: Design) -> None:
    package = made(design)
    assert [place.art for place in package.arts] == list(design[0].arts)
    for place, hole in zip(package.arts, package.mats[-1].holes, strict=False):
        assert place.window.left == hole.borders.left + (place.window.size.width - hole.opening.sight.width) // 2 or (
            hole.opening.bevel is Bevel.REVERSE
        )


def test_a_row_has_equal_gutters_and_one_middle_line() -> None:
    package = several(art(inch(5), inch(7)), art(inch(4), inch(6)), art(inch(6), inch(5)), layout=LayoutRule())
    places = [hole.place for hole in package.mats[0].holes]
    assert [after.left - before.right for before, after in pairwise(places)] == [inch(1), inch(1)]
    assert len({place.top + place.bottom for place in places}) == 1


@pytest.mark.parametrize(
    ("align", "edge"), [(Align.TOP, lambda place: place.top), (Align.BASE, lambda place: place.bottom)]
)
def test_a_row_may_stand_by_its_tops_or_on_its_base_line(align: Align, edge: object) -> None:
    package = several(art(inch(5), inch(7)), art(inch(4), inch(6)), layout=LayoutRule(align=align))
    assert callable(edge)
    assert len({edge(hole.place) for hole in package.mats[0].holes}) == 1


def test_a_grid_keeps_its_columns_under_one_another() -> None:
    sheets = [art(inch(5), inch(7)), art(inch(4), inch(6)), art(inch(6), inch(5)), art(inch(5), inch(7))]
    package = several(*sheets, layout=LayoutRule(Arrange.GRID, columns=2))
    one, two, three, four = (hole.place for hole in package.mats[0].holes)
    assert one.left + one.right == three.left + three.right
    assert two.left + two.right == four.left + four.right
    assert one.top + one.bottom == two.top + two.bottom


def test_free_places_are_taken_as_they_are() -> None:
    places = ((ZERO, ZERO), (inch(8), inch(-1)))
    package = several(SHEET_SMALL, SHEET_SMALL, layout=LayoutRule(Arrange.FREE, places=places))
    one, two = (hole.place for hole in package.mats[0].holes)
    assert (two.left - one.left, two.top - one.top) == places[1]


SHEET_SMALL = art(inch(5), inch(7))


def test_auto_takes_the_smallest_outer_size_of_all_rows_and_columns() -> None:
    sheets = [art(inch(w), inch(h)) for w, h in ((5, 7), (6, 4), (4, 4), (7, 5), (5, 5))]
    rules = {"border": inch(2), "overlap": ZERO, "mats": (MatRule("white"),)}
    auto = several(*sheets, layout=LayoutRule(Arrange.AUTO), **rules)
    sizes = [(sheet.least.width, sheet.least.height) for sheet in sheets]
    turned = [(high, wide) for wide, high in sizes]
    best = min(_areas(sizes) | _areas(turned))
    assert _area(auto.outer) == best


def _areas(sizes: list[tuple[Length, Length]]) -> set[int]:
    """Return the outer area of every way to break the sizes into rows, with gutters of 1 in and borders of 2 in."""
    areas = set()
    for bits in range(2 ** (len(sizes) - 1)):
        rows, row = [], [sizes[0]]
        for at, size in enumerate(sizes[1:]):
            if bits >> at & 1:
                rows.append(row)
                row = []
            row.append(size)
        rows.append(row)
        width = max(sum(w.nm for w, _ in row) + (len(row) - 1) * inch(1).nm for row in rows)
        height = sum(max(h.nm for _, h in row) for row in rows) + (len(rows) - 1) * inch(1).nm
        areas.add((width + inch(4).nm) * (height + inch(4).nm))
    return areas


def _area(size: Size) -> int:
    return size.width.nm * size.height.nm


def test_auto_in_a_given_size_leaves_the_widest_equal_gaps() -> None:
    package = several(*[SHEET_SMALL] * 4, layout=LayoutRule(Arrange.AUTO), outer=Size(inch(20), inch(24)))
    one, two, three, _ = (hole.place for hole in package.mats[0].holes)
    assert (one.top, two.left - one.right) == (three.top - one.bottom, three.top - one.bottom)


@pytest.mark.parametrize(
    ("rules", "found"),
    [
        ({"layout": LayoutRule(gaps=Gaps.EVEN)}, "layout"),
        ({"layout": LayoutRule(gaps=Gaps.FILL), "outer": Size(inch(9), inch(20))}, "layout.gutter.width"),
        ({"layout": LayoutRule(Arrange.FREE, places=((ZERO, ZERO),))}, "layout.places"),
        ({"layout": LayoutRule(Arrange.AUTO), "outer": Size(inch(6), inch(8))}, "outer"),
        ({"title": TitleRule(Size(inch(2), inch(4)))}, "title"),
        ({"sink": SinkRule("thin", inch(1, 8))}, "sink"),
    ],
)
def test_what_cannot_be_laid_out_is_refused_where_it_is_wrong(rules: dict[str, object], found: str) -> None:
    with pytest.raises(BadTreatment) as refused:
        several(SHEET_SMALL, SHEET_SMALL, **rules)
    assert found in str(refused.value)


def test_an_opening_may_only_differ_in_what_is_its_own() -> None:
    with pytest.raises(Unknown):
        several(SHEET_SMALL, SHEET_SMALL, openings=(Layer("opening 1", {"border": inch(2)}),))
    with pytest.raises(ValueError, match="same boards"):
        several(SHEET_SMALL, SHEET_SMALL, openings=(Layer("opening 1", {"mats": DOUBLE}),))


def test_openings_that_meet_and_thin_gutters_are_found() -> None:
    thin = several(SHEET_SMALL, SHEET_SMALL, layout=LayoutRule(gutter=inch(3, 8)))
    assert "gutter.thin" in rules_of(thin.findings)
    none = several(SHEET_SMALL, SHEET_SMALL, layout=LayoutRule(gutter=inch(1, 8)))
    assert "gutter.none" in rules_of(none.findings)
    wide = several(SHEET_SMALL, SHEET_SMALL, layout=LayoutRule())
    assert {"gutter.thin", "gutter.none"} & set(rules_of(wide.checks)) == set()


def test_a_rectangle_over_an_oval_and_an_oval_over_a_rectangle() -> None:
    over = but(PLAIN, mats=(replace(DOUBLE[0], shape=RECTANGLE), replace(DOUBLE[1], shape=OVAL)))
    package = resolve(WORK, over, MATERIALS)
    top, under = (mat.opening for mat in package.mats)
    assert (top.shape.words, under.shape.words) == ("rectangle", "oval")
    assert top.back == under.back.grown(inch(1, 4))
    around = but(PLAIN, mats=(replace(DOUBLE[0], shape=OVAL), replace(DOUBLE[1], shape=RECTANGLE)))
    package = resolve(WORK, around, MATERIALS)
    outer, inner = (shaped(mat.opening.back_outline()) for mat in package.mats)
    assert outer.contains(inner)


def test_an_oval_says_where_its_reveal_is_narrow() -> None:
    slim = but(PLAIN, shape=OVAL, mats=(DOUBLE[0], replace(DOUBLE[1], reveal=inch(1, 2))))
    package = resolve(Work("1", "", art(inch(5), inch(14))), slim, MATERIALS)
    assert "oval.narrow" in rules_of(package.findings)
    assert package.mats[1].strip < inch(1, 2) - package.mats[1].run


def test_an_image_whose_corners_an_oval_covers_is_told() -> None:
    image = Rect.at(inch(1, 4), inch(1, 4), inch(19, 2), inch(25, 2))
    package = resolve(Work("1", "", replace(SHEET, image=image)), but(PLAIN, shape=OVAL), MATERIALS)
    assert "shape.corners" in rules_of(package.findings)


def test_a_partial_groove_is_narrower_and_shallower() -> None:
    package = resolve(WORK, but(PLAIN, grooves=(GrooveRule(inch(1, 2), inch(-1, 32)),)), MATERIALS)
    (groove,) = package.mats[0].all_grooves
    assert groove.width == inch(3, 32)  # CV064, derived
    assert length(package, "mat.1.groove.depth") == inch(3, 64)


def test_grooves_run_round_each_window_or_round_all() -> None:
    rules = (GrooveRule(inch(3, 8)), GrooveRule(inch(1), round=Round.ALL))
    package = several(SHEET_SMALL, SHEET_SMALL, layout=LayoutRule(gutter=inch(2)), grooves=rules)
    top = package.mats[0]
    assert [len(hole.grooves) for hole in top.holes] == [1, 1]
    (around,) = top.grooves
    assert around.borders.left == top.borders.left - inch(1)


def test_an_inlay_is_cut_with_the_same_settings_from_two_boards() -> None:
    inlay = InlayRule("grey", inch(1, 2), inch(3, 8))
    package = resolve(WORK, but(PLAIN, inlay=inlay), MATERIALS)
    let_in = package.inlay
    assert let_in is not None
    assert let_in.inner.plus(-inch(3, 8)) == let_in.outer
    top = package.mats[0]
    assert let_in.blank == top.opening.back.grown(inch(1, 2) + inch(3, 8) + let_in.hold)
    assert "inlay" in {part.name for part in flat_parts(package)}


def test_thick_art_lies_in_a_sink() -> None:
    thick = replace(SHEET, thickness=inch(3, 16))
    package = resolve(Work("1", "", thick), but(PLAIN, sink=SinkRule("thick", inch(1, 8))), MATERIALS)
    sink = package.sink
    assert sink is not None
    assert (sink.layers, sink.height) == (2, inch(1, 4))
    assert Rect(package.art.sheet.left, package.art.sheet.top, thick.most).inside(sink.opening)
    assert {part.copies for part in flat_parts(package) if part.name.startswith("sink mat")} == {2}


def test_lines_are_measured_from_the_edge_of_the_colour() -> None:
    package = resolve(WORK, but(PLAIN, lines=(LineRule(inch(1, 4), inch(1, 32)),)), MATERIALS)
    top = package.mats[0]
    (line,) = top.holes[0].lines
    assert line.borders.left == top.borders.left - top.run - inch(1, 4)


def test_a_mat_set_back_is_hidden_behind_the_one_above() -> None:
    mats = (MatRule("white"), MatRule("thick", setback=inch(1, 4)), MatRule("grey", inch(1, 4)))
    package = resolve(WORK, but(PLAIN, mats=mats), MATERIALS)
    top, spacer, under = package.mats
    assert [mat.name for mat in package.mats] == ["top mat", "spacer mat", "under-mat"]
    assert spacer.opening.back == top.opening.back.grown(inch(1, 4))
    assert under.opening.back == top.opening.back.grown(-inch(1, 4))


RULES = {value.id: value for value in vars(opening_rules).values() if isinstance(value, Rule)}


@pytest.mark.parametrize("rule", RULES.values(), ids=RULES)
def test_every_rule_of_openings_has_a_reason_and_a_source(rule: Rule) -> None:
    assert rule.reason.endswith(".")
    assert rule.source


HEXAGON, TRIANGLE = (ShapeRule(ShapeKind.POLYGON, sides=sides) for sides in (6, 3))
SHAPED: list[dict[str, Any]] = [
    {"shape": HEXAGON, "mats": DOUBLE, "grooves": (GrooveRule(inch(1, 2)), GrooveRule(inch(1), inch(-1, 32)))},
    {"shape": TRIANGLE, "mats": (replace(DOUBLE[0], bevel=Bevel.REVERSE), DOUBLE[1])},
    {"shape": TRIANGLE, "mats": (DOUBLE[0], replace(DOUBLE[1], bevel=Bevel.REVERSE))},
    {"shape": ShapeRule(ShapeKind.CIRCLE), "mats": DOUBLE, "lines": (LineRule(inch(1, 8), inch(1, 32)),)},
    {"shape": OVAL, "mats": DOUBLE, "grooves": (GrooveRule(inch(1, 2)),)},
    {"mats": (replace(DOUBLE[0], shape=OVAL), replace(DOUBLE[1], shape=RECTANGLE))},
    {"mats": (replace(DOUBLE[0], shape=ShapeRule(ShapeKind.CIRCLE)), DOUBLE[1])},
    {"mats": (DOUBLE[0], MatRule("thick", setback=inch(1, 4)), DOUBLE[1])},
    {"mats": (replace(DOUBLE[0], bevel=Bevel.REVERSE),), "lines": (LineRule(inch(1, 8), inch(1, 32)),)},
    {"inlay": InlayRule("grey", inch(1, 2), inch(3, 8)), "sink": SinkRule("thin", inch(1, 8))},
]
GROUPED: list[dict[str, Any]] = [
    {"layout": LayoutRule(), "title": TitleRule(Size(inch(2), inch(1, 2)))},
    {"layout": LayoutRule(align=Align.TOP), "title": TitleRule(Size(inch(2), inch(1, 2)), inch(1))},
    {"layout": LayoutRule(align=Align.BASE), "mats": DOUBLE},
    {"layout": LayoutRule(gaps=Gaps.EVEN), "outer": Size(inch(30), inch(20))},
    {"layout": LayoutRule(gaps=Gaps.FILL), "outer": Size(inch(30), inch(20))},
    {"layout": LayoutRule(Arrange.FREE, places=((ZERO, ZERO), (inch(9), inch(1))))},
]


def test_every_rule_of_openings_is_used_and_its_formula_gives_its_value() -> None:
    packages = [resolve(WORK, but(PLAIN, **rules), MATERIALS) for rules in SHAPED]
    packages += [several(SHEET_SMALL, art(inch(6), inch(4)), **rules) for rules in GROUPED]
    reached = {working.rule.id for package in packages for working in package.figures.values()}
    said = [what for package in packages for path in package.figures if (what := fault(package.figures, path))]
    assert said == []
    assert set(RULES) - reached == set()


def test_gutters_and_their_faces() -> None:
    even = {"overlap": ZERO, "layout": LayoutRule(gaps=Gaps.EVEN)}
    three = several(*[art(inch(16), inch(20))] * 3, outer=Size(inch(60), inch(30)), **even)
    assert length(three, "layout.gutter.width") == inch(3)  # CV042, published panel layout
    row = {"overlap": ZERO, "layout": LayoutRule(gutter=inch(1)), "outer": Size(inch(20), inch(12))}
    ends = several(*[art(inch(5), inch(7))] * 3, **row)
    assert ends.mats[0].borders.left == ends.mats[0].borders.right == inch(3, 2)  # CV043, derived
    face = several(SHEET_SMALL, SHEET_SMALL, layout=LayoutRule(gutter=inch(3, 4)))
    assert length(face, "layout.gutter.face.width") == inch(5, 8)  # CV044, derived
    double = several(SHEET_SMALL, SHEET_SMALL, layout=LayoutRule(gutter=inch(1, 2)), mats=DOUBLE)
    one, two = (hole.place for hole in double.mats[1].holes)
    assert two.left - one.right == inch(1)  # CV045, derived
    assert "gutter.thin" in rules_of(double.findings)


def test_scoops_that_the_bevel_uses_up_are_refused_before_anything_is_drawn() -> None:
    """The arcs of the upper mat keep the centres of the lower one's: grown out by reveal and run, little is left."""
    mats = (MatRule("thick"), MatRule("grey", inch(11, 16)))
    for radius, fits in ((inch(3, 2), True), (inch(89, 64), False)):
        rules = {"mats": mats, "shape": ShapeRule(ShapeKind.SCOOPED, radius=radius)}
        if fits:
            package = resolve(WORK, but(PLAIN, **rules), MATERIALS)
            assert [mat.holes[0].opening.face_outline().perimeter > 0 for mat in package.mats] == [True, True]
        else:
            with pytest.raises(BadTreatment, match="shape"):
                resolve(WORK, but(PLAIN, **rules), MATERIALS)
