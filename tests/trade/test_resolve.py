"""What must hold of every package, whatever is asked; and what a show shares."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import HealthCheck, assume, given, settings
from tests.trade.cases import (
    FRAMED,
    MATERIALS,
    PLAIN,
    SHEET,
    art,
    artworks,
    but,
    inch,
    length,
    made,
    mm,
    treatments,
    work,
)

from fourply.errors import BadTreatment, Unknown
from fourply.measure.length import ZERO, Length, total
from fourply.measure.size import Edges, Rect, Size
from fourply.trade.accents import GrooveRule
from fourply.trade.materials import Fillet
from fourply.trade.package import Package
from fourply.trade.resolve import resolve, resolve_show
from fourply.trade.treatment import Bevel, BorderMeans, Bottom, BottomRule, HingeKind, MatRule, Treatment, WindowFrom
from fourply.trade.work import Artwork
from fourply.working.working import Value

DOUBLE = (MatRule("white"), MatRule("grey", inch(1, 4)))
SIDES = ("top", "right", "bottom", "left")


def anything(test: Callable[[Package], None]) -> Callable[[], None]:
    """Run a test on packages of every kind that Hypothesis can think of."""

    @settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
    @given(treatments(), artworks())
    def run(treatment: Treatment, artwork: Artwork) -> None:
        try:
            package = made(treatment, artwork)
        except BadTreatment:
            assume(condition=False)
        test(package)

    run.__name__ = run.__qualname__ = test.__name__
    return run


# ── sums ─────────────────────────────────────────────────────────────────────────────────────────────────────────


@anything
def test_borders_and_opening_add_up_to_the_package(package: Package) -> None:
    for mat in package.mats:
        assert mat.borders.across + mat.opening.back.width == package.outer.width
        assert mat.borders.along + mat.opening.back.height == package.outer.height


@anything
def test_covered_edges_and_window_add_up_to_the_sheet(package: Package) -> None:
    covered, sheet = package.art.covered, package.work.art.least

    assert covered.across + package.window.width == sheet.width
    assert covered.along + package.window.height == sheet.height


@anything
def test_what_shows_of_the_stack_adds_up(package: Package) -> None:
    assert package.stack.depth == total([layer.thickness for layer in package.stack.layers])
    if package.stack.rabbet is not None:
        assert package.stack.spare == package.stack.rabbet - package.stack.depth


# ── outlines ─────────────────────────────────────────────────────────────────────────────────────────────────────


@anything
def test_face_and_back_are_one_run_apart_on_each_side(package: Package) -> None:
    for mat in package.mats:
        away = mat.run if mat.opening.bevel is Bevel.NORMAL else -mat.run
        assert mat.opening.face == mat.opening.back.grown(away)
        assert mat.opening.back.holds(mat.opening.sight)
        assert mat.opening.face.holds(mat.opening.sight)


@anything
def test_openings_widen_by_the_reveal_from_the_window_out(package: Package) -> None:
    for above, under in pairwise(package.mats):
        assert above.opening.back == under.opening.back.grown(under.reveal)
        assert 0 <= above.opening.sight.width.nm - under.opening.face.width.nm - 2 * under.strip.nm <= 1


@anything
def test_the_window_is_the_innermost_sight(package: Package) -> None:
    innermost = package.mats[-1].opening.sight
    shown = [strips.spacer.shown for strips in package.strips if isinstance(strips.spacer, Fillet)]

    assert package.window == innermost.grown(-total(shown))
    assert package.art.window.size == package.window


@anything
def test_the_window_lies_at_its_borders_within_the_package(package: Package) -> None:
    window, outer = package.art.window, package.outer

    assert window.inside(Rect(ZERO, ZERO, outer))
    assert window.left == length(package, "window.at.left")
    assert outer.width - window.right == length(package, "window.at.right")
    assert outer.height - window.bottom == length(package, "window.at.bottom")


@anything
def test_a_fallout_lies_clean_inside_its_opening(package: Package) -> None:
    trim = package.treatment.fallout_trim
    for mat in package.mats:
        for fallout in mat.holes[0].fallouts:
            assert mat.opening.sight.grown(-trim).holds(fallout)
    if not package.treatment.stack_cut:
        return
    for above, under in pairwise(package.mats):
        # Where the knife comes out of the under-mat's face it scores the back of the piece that lies below.
        score = min(under.opening.face.width, above.opening.back.width)
        assert [fallout for fallout in above.holes[0].fallouts if fallout.width > score] == []


# ── the marking grid ─────────────────────────────────────────────────────────────────────────────────────────────


def on_grid(package: Package, value: Length) -> bool:
    return not value % package.treatment.grid.step


@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
@given(treatments(), artworks())
def test_what_is_marked_lies_on_the_grid(treatment: Treatment, artwork: Artwork) -> None:
    step = treatment.grid.step

    def whole(value: Length) -> Length:
        return step * max(1, value // step)

    mats = tuple(replace(mat, reveal=whole(mat.reveal)) for mat in treatment.mats)
    outer = Size(whole(treatment.outer.width), whole(treatment.outer.height)) if treatment.outer else None
    asked = replace(treatment, mats=mats, outer=outer, fillet="", frame="", inset=whole(treatment.inset))
    try:
        package = made(asked, artwork)
    except BadTreatment:
        assume(condition=False)
    marked = [package.outer.width, package.outer.height, *(hinge for hinge in package.hinging.at[:-1])]
    for mat in package.mats:
        back, blank = mat.opening.back, mat.blank
        marked += [back.width, back.height, blank.width, blank.height, *(border for _, border in mat.borders.named())]
        marked += [side for fallout in mat.holes[0].fallouts for side in (fallout.width, fallout.height)]
    assert [value for value in marked if not on_grid(package, value)] == []


@anything
def test_a_window_from_the_sheet_covers_and_one_round_a_float_clears(package: Package) -> None:
    treatment, sheet = package.treatment, package.work.art
    if any(mat.bevel is Bevel.REVERSE for mat in treatment.mats[-1:]):
        return  # the marking grid has the last word there
    if treatment.window is WindowFrom.SHEET:
        assert package.art.covered.least >= treatment.overlap
    if treatment.window is WindowFrom.FLOAT:
        assert package.window.holds(sheet.most.grown(treatment.float_gap))
    if treatment.window is WindowFrom.IMAGE and package.art.image is not None:
        assert package.art.image.inside(package.art.window)


# ── the frame ────────────────────────────────────────────────────────────────────────────────────────────────────


@anything
def test_a_rail_is_shorter_inside_by_the_widths_of_the_rails_that_it_meets(package: Package) -> None:
    if package.frame is None or package.frame.sides != 4:
        return
    top, right, bottom, left = package.frame.rails
    assert top.long_point - top.short_point == right.moulding.width + left.moulding.width
    assert right.long_point - right.short_point == top.moulding.width + bottom.moulding.width
    assert package.frame.outside == Size(top.long_point, right.long_point)
    assert top.mitre_deg + right.mitre_deg == pytest.approx(90.0)


@anything
def test_glazing_and_backing_are_no_larger_than_the_rabbet(package: Package) -> None:
    for size in (package.glazing_size, package.backing_size):
        if package.frame is not None and package.frame.sides == 4 and size is not None:
            assert package.frame.rabbet.holds(size)


# ── figures ──────────────────────────────────────────────────────────────────────────────────────────────────────


@anything
def test_every_operand_was_worked_out_before(package: Package) -> None:
    found: set[str] = set()
    late = []
    for path, working in package.figures.items():
        late += [(path, operand) for _, operand in working.operands if operand not in found]
        found.add(path)

    assert late == []


@anything
def test_every_finding_stands_at_a_figure(package: Package) -> None:
    assert [check for check in package.checks if check.place not in package.figures] == []


@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
@given(treatments(), artworks())
def test_the_same_work_gives_the_same_package(treatment: Treatment, artwork: Artwork) -> None:
    try:
        assert made(treatment, artwork) == made(treatment, artwork)
    except BadTreatment:
        assume(condition=False)


def _at(size: Size | None) -> tuple[Length, Length]:
    assert size is not None
    return size.width, size.height


def _values(package: Package) -> dict[str, Value]:
    """Return what stands in the package by the path that the figure has."""
    frame = package.frame
    assert frame is not None
    found: dict[str, Value] = {}

    def sized(path: str, size: Size | None) -> None:
        found[f"{path}.width"], found[f"{path}.height"] = _at(size)

    def edged(path: str, edges: Edges) -> None:
        found.update({f"{path}.{side}": value for side, value in edges.named()})

    sized("outer", package.outer)
    sized("window", package.window)
    sized("glazing", package.glazing_size)
    sized("backing", package.backing_size)
    for mat in package.mats:
        sized(f"{mat.path}.back", mat.opening.back)
        sized(f"{mat.path}.face", mat.opening.face)
        sized(f"{mat.path}.opening", mat.opening.sight)
        sized(f"{mat.path}.blank", mat.blank)
        sized(f"{mat.path}.fallout", mat.holes[0].fallouts[0])
        edged(f"{mat.path}.border", mat.borders)
        found |= {f"{mat.path}.run": mat.run, f"{mat.path}.caliper": mat.board.caliper}
        if mat.number > 1:
            found |= {f"{mat.path}.reveal": mat.reveal, f"{mat.path}.strip": mat.strip, "treatment.inset": mat.inset}
    (groove,) = package.mats[0].all_grooves
    edged("mat.1.groove.border", groove.borders)
    sized("mat.1.groove.back", groove.back)
    sized("mat.1.groove.face_cut", groove.face_cut)
    sized("mat.1.groove.face_shaved", groove.face_shaved)
    found |= {"mat.1.groove.width": groove.width, "mat.1.groove.strip": groove.strip}
    sized("frame.rabbet", frame.rabbet)
    sized("frame.sight", frame.sight)
    sized("frame.outside", frame.outside)
    for rail in frame.rails:
        found[f"frame.rail.{rail.side}.long_point"] = rail.long_point
        found[f"frame.rail.{rail.side}.short_point"] = rail.short_point
    edged("art.covered", package.art.covered)
    found |= {"art.offset.left": package.art.sheet.left, "art.offset.top": package.art.sheet.top}
    found |= {f"hinge.{number}.at": at for number, at in enumerate(package.hinging.at, start=1)}
    found |= {"stack.depth": package.stack.depth, "stack.spare": package.stack.spare or ZERO}
    for strips in package.strips:
        path = "spacer.{}" if strips.role == "spacer" else "fillet.rail.{}.long_point"
        found |= {path.format(side): value for side, value in strips.lengths}
    return found


def test_every_size_of_the_package_is_the_figure_at_its_path() -> None:
    everything = but(
        FRAMED,
        mats=DOUBLE,
        grooves=(GrooveRule(inch(3, 8)),),
        spacer="spacer",
        fillet="fillet",
        moulding_sides="narrow lip",
    )
    package = made(everything, art(inch(25), inch(30)))

    assert {path: package.figures[path].value for path in _values(package)} == _values(package)


def test_every_size_of_a_polygon_is_the_figure_at_its_path() -> None:
    package = made(but(FRAMED, frame_sides=8, outer=Size(inch(24), inch(24))))
    assert package.frame is not None
    (rail,) = package.frame.rails

    assert {
        "frame.rabbet.width": package.frame.rabbet.width,
        "frame.sight.width": package.frame.sight.width,
        "frame.outside.width": package.frame.outside.width,
        "frame.rail.each.long_point": rail.long_point,
        "frame.rail.each.short_point": rail.short_point,
        "frame.rail.each.mitre_deg": rail.mitre_deg,
        "frame.sides": rail.count,
        "outer.blank": package.mats[0].blank.width,
        "glazing.width": _at(package.glazing_size)[0],
    }.items() <= {path: working.value for path, working in package.figures.items()}.items()


@pytest.mark.parametrize(
    ("bottom", "seen"),
    [
        (Bottom(BottomRule.RATIO, ratio=Fraction(4, 3)), inch(4)),
        (Bottom(BottomRule.WIDTH, inch(4)), inch(4)),
        (Bottom(BottomRule.AMOUNT, inch(1)), inch(4)),
        (Bottom(), inch(3)),
    ],
)
def test_borders_given_as_they_are_seen_are_seen_so_at_the_bottom_too(bottom: Bottom, seen: Length) -> None:
    """Centred, as such borders are given: what the lip hides is its width less half the allowance (derived)."""
    package = made(but(FRAMED, border=inch(3), border_means=BorderMeans.VISIBLE, bottom=bottom))
    assert package.frame is not None
    hidden = package.frame.moulding.lip - package.treatment.allowance // 2

    borders = package.mats[0].borders
    assert (borders.top - hidden, borders.bottom - hidden) == (inch(3), seen)


@pytest.mark.parametrize("window", [WindowFrom.SHEET, WindowFrom.FLOAT])
def test_a_reverse_bevel_keeps_the_promise_of_its_window(window: WindowFrom) -> None:
    """The back line is what is marked; the sight that follows covers the sheet, or clears a floated one."""
    package = made(but(window=window, mats=(MatRule("grey", bevel=Bevel.REVERSE),)))
    art, rules = package.work.art, package.treatment

    if window is WindowFrom.SHEET:
        assert package.window.width <= art.least.width - 2 * rules.overlap
    else:
        assert package.window.width >= art.most.width + 2 * rules.float_gap


def test_a_lift_is_the_figure_at_its_path() -> None:
    package = made(but(window=WindowFrom.FLOAT))

    assert package.lift is not None
    assert _at(package.lift.size) == (length(package, "lift.width"), length(package, "lift.height"))
    assert package.lift.rise == length(package, "lift.rise") >= package.treatment.float_lift
    assert package.lift.rise - package.mount.caliper < package.treatment.float_lift


# ── single answers ───────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize(
    ("treatment", "kind", "hinges", "edge"),
    [
        (PLAIN, HingeKind.TEE, 2, "left"),
        (but(outer=Size(inch(20), inch(18))), HingeKind.TEE, 2, "top"),
        (but(window=WindowFrom.FLOAT), HingeKind.THROUGH, 2, "left"),
        (but(hinge=HingeKind.CORNERS), HingeKind.CORNERS, 0, "left"),
    ],
)
def test_how_the_art_is_held(treatment: Treatment, kind: HingeKind, hinges: int, edge: str) -> None:
    hinging = made(treatment).hinging

    assert (hinging.kind, len(hinging.at), hinging.board_edge) == (kind, hinges, edge)


@pytest.mark.parametrize(("width", "hinges"), [(mm(600), 2), (mm(601), 3)])
def test_a_wide_sheet_gets_a_third_hinge_in_its_middle(width: Length, hinges: int) -> None:
    at = made(PLAIN, art(width, mm(500))).hinging.at

    assert len(at) == hinges
    assert at[0] + at[-1] == width


def test_nothing_lifts_a_float_that_is_not_to_be_lifted_or_too_small_for_its_setback() -> None:
    assert made(but(window=WindowFrom.FLOAT, float_lift=ZERO)).lift is None
    assert made(but(window=WindowFrom.FLOAT, float_setback=inch(5))).lift is None
    assert made(PLAIN).lift is None


def test_a_fallout_too_small_to_trim_is_none() -> None:
    assert made(but(fallout_trim=inch(6))).mats[0].holes[0].fallouts == ()


def test_skew_takes_from_the_width_what_the_sheet_drifts_over_its_height() -> None:
    square, skewed = made(), made(PLAIN, art(inch(10), inch(13), skew_deg=0.5))

    # 13 in · sin 0.5° is 0.1134 in: three and a half 1/32, so four of them go.
    assert square.window.width - skewed.window.width == inch(4, 32)
    assert square.window.height == skewed.window.height


def test_a_visible_border_is_what_shows_beside_the_lip_of_its_own_side() -> None:
    asked = but(FRAMED, moulding_sides="narrow lip", border_means=BorderMeans.VISIBLE, border=inch(2))

    package = made(asked)

    assert package.mats[0].borders.left == inch(2) + inch(1, 16)
    assert package.mats[0].borders.top == inch(2) + inch(3, 16)
    assert length(package, "frame.visible.left") == length(package, "frame.visible.right") == inch(2)
    # It rests on the bottom rail, so the half allowance that is asked for on both goes to the top.
    assert length(package, "frame.visible.top") == inch(2) + inch(1, 16)
    assert length(package, "frame.visible.bottom") == inch(2) - inch(1, 16)


# ── what cannot be ───────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize(
    ("treatment", "artwork", "figure"),
    [
        (but(overlap=inch(5)), SHEET, "window"),
        (but(window=WindowFrom.IMAGE), SHEET, "window"),
        (but(outer=Size(inch(9), inch(20))), SHEET, "outer"),
        (but(outer=Size(inch(20), inch(10))), SHEET, "outer"),
        (but(outer=Size(inch(16), inch(20)), bottom=Bottom(BottomRule.WIDTH, inch(8))), SHEET, "outer"),
        (but(border=ZERO), SHEET, "mat.1.border"),
        (but(borders=Edges(inch(1), inch(1), inch(1), ZERO)), SHEET, "mat.1.border"),
        (but(mats=DOUBLE, inset=inch(13, 4)), SHEET, "mat.2.blank"),
        (but(FRAMED, overlap=ZERO, border=inch(1, 16)), art(inch(1, 4), inch(1)), "frame.sight.width"),
        (but(FRAMED, overlap=ZERO, border=inch(1, 16)), art(inch(1), inch(1, 4)), "frame.sight.height"),
        (but(FRAMED, frame_sides=6), SHEET, "frame"),
        (
            but(overlap=ZERO, mats=(MatRule("thick", bevel=Bevel.REVERSE), MatRule("thin"))),
            art(inch(1, 8), inch(1)),
            "mat.1.face.width",
        ),
    ],
)
def test_what_cannot_be_made_is_refused_at_its_figure(treatment: Treatment, artwork: Artwork, figure: str) -> None:
    with pytest.raises(BadTreatment) as refused:
        made(treatment, artwork)

    assert refused.value.figure == figure
    assert refused.value.expected


@pytest.mark.parametrize(
    ("field", "kind"),
    [
        ("mount", "board"),
        ("backing", "backing"),
        ("glazing", "glazing"),
        ("spacer", "spacer"),
        ("fillet", "fillet"),
        ("moulding", "moulding"),
        ("moulding_sides", "moulding"),
        ("frame", "ready-made frame"),
    ],
)
def test_a_material_that_is_not_there_is_named_with_those_that_are(field: str, kind: str) -> None:
    with pytest.raises(Unknown) as unknown:
        made(but(FRAMED, **{field: "unheard of"}))

    assert unknown.value.kind == kind
    assert unknown.value.known


def test_a_board_of_a_mat_that_is_not_there_is_named() -> None:
    with pytest.raises(Unknown, match="unheard of"):
        made(but(mats=(MatRule("unheard of"),)))


# ── a show ───────────────────────────────────────────────────────────────────────────────────────────────────────

SMALL, WIDE, TALL = (work(art(inch(w), inch(h))) for w, h in ((8, 10), (14, 11), (9, 15)))


def test_a_group_gets_the_largest_size_that_one_of_its_works_needs() -> None:
    grouped = but(group="north wall")

    packages, failed = resolve_show([(each, grouped) for each in (SMALL, WIDE, TALL)], MATERIALS)

    assert failed == ()
    assert {package.outer for package in packages} == {Size(inch(79, 4), inch(83, 4))}
    assert packages[0].figures["outer.width"].origin == "group north wall: the largest that one of them needs"


def test_groups_and_single_works_keep_apart() -> None:
    show = [(SMALL, PLAIN), (SMALL, but(group="a")), (WIDE, but(group="a")), (TALL, but(group="b"))]

    packages, _ = resolve_show(show, MATERIALS)

    alone = [resolve(each, treatment, MATERIALS).outer for each, treatment in show]
    assert [package.outer for package in packages] == [
        alone[0],
        Size(alone[2].width, alone[2].height),
        alone[2],
        alone[3],
    ]


def test_a_work_that_cannot_be_resolved_is_reported_and_the_others_made() -> None:
    bad = but(group="a", overlap=inch(5))

    packages, failed = resolve_show([(SMALL, bad), (WIDE, but(group="a"))], MATERIALS)

    assert [package.work for package in packages] == [WIDE]
    assert [(each.work, type(each.error)) for each in failed] == [(SMALL, BadTreatment)]


def test_a_ready_made_frame_fixes_the_package_and_lends_its_moulding() -> None:
    package = made(but(frame="16x20"))

    assert package.outer == Size(inch(16), inch(20))
    assert package.frame is not None
    assert package.figures["outer.width"].origin == "ready-made frame 16x20"
    assert made(but(frame="bare 16x20")).frame is None


def test_an_outer_size_given_in_a_layer_knows_it() -> None:
    asked = but(outer=Size(inch(18), inch(22)), origins={"outer": "the work"})

    assert made(asked).figures["outer.width"].origin == "the work"


def test_the_exact_half_of_an_odd_margin_goes_to_the_larger_border() -> None:
    borders = made(but(outer=Size(inch(16) + inch(1, 32), inch(20)))).mats[0].borders

    assert borders.right - borders.left == inch(1, 32)
    assert Fraction(borders.left.nm + borders.right.nm, 25_400_000) == Fraction(6) + Fraction(9, 32)


@pytest.mark.parametrize(
    ("outer", "top"),
    [
        # The construction gives 3 3/4 against sides of 4: moved down to equal them.
        (Size(inch(16), inch(20)), inch(4)),
        # Sides of 10 and only 2 in of height to share: no equal top, the construction's 0.64 in stands.
        (Size(inch(28), inch(12)), inch(21, 32)),
    ],
)
def test_the_optical_top_is_clamped_to_the_sides_only_where_the_bottom_stays_wider(outer: Size, top: Length) -> None:
    asked = but(overlap=ZERO, outer=outer, bottom=Bottom(BottomRule.OPTICAL_CLAMPED))

    assert made(asked, art(inch(8), inch(10))).mats[0].borders.top == top
