"""Which board is cut in which order, and what is done beside the windows."""

from __future__ import annotations

from dataclasses import replace

from tests.bench.drawn import spot
from tests.trade.cases import MATERIALS, PLAIN, SHEET, WORK, art, inch, made

from fourply.bench.cuts import Arc, Cut, Oval, Ruled, Shave, Slant
from fourply.bench.cutter import NOMINAL
from fourply.bench.settings import settings as set_up
from fourply.measure.length import ZERO
from fourply.measure.size import Size
from fourply.trade.accents import GrooveRule, InlayRule, LayoutRule, LineRule, SinkRule, TitleRule
from fourply.trade.package import Package
from fourply.trade.resolve import resolve
from fourply.trade.shapes.rule import ShapeKind, ShapeRule
from fourply.trade.treatment import Bevel, MatRule
from fourply.trade.work import Artwork, Readings, Work

# ── which board, which order ─────────────────────────────────────────────────────────────────────────────────────


def names(package: Package) -> list[str]:
    return [operation.name for operation in set_up(package, NOMINAL).operations]


DOUBLE = replace(PLAIN, mats=(MatRule("white"), MatRule("grey", inch(1, 4))))


def test_grooves_come_outermost_first_then_windows_then_lines_then_under_mats() -> None:
    lines = (LineRule(inch(1, 4), inch(1, 32)),)
    treatment = replace(DOUBLE, grooves=(GrooveRule(inch(1, 2)), GrooveRule(inch(1))), lines=lines)
    assert names(made(treatment)) == ["V-groove a", "V-groove b", "top mat window", "lines", "under-mat"]
    grooves = set_up(made(treatment), NOMINAL).operations[:2]
    assert grooves[0].cuts[0].guide < grooves[1].cuts[0].guide


def test_an_inlay_is_cut_in_the_top_mat_before_the_window_and_in_its_own_blank_with_the_same_head() -> None:
    package = made(replace(PLAIN, inlay=InlayRule("grey", inch(1, 2), inch(1, 4))))
    assert names(package) == [
        "inlay, outer edge",
        "inlay, inner edge",
        "top mat window",
        "insert, outer edge",
        "insert, inner edge",
    ]
    outer, inner, _, insert, within = set_up(package, NOMINAL).operations
    assert package.inlay is not None
    assert [cut.guide for cut in insert.cuts] == [package.inlay.hold] * 4
    assert [cut.guide for cut in within.cuts] == [package.inlay.hold + inch(1, 4)] * 4
    assert [a.length for a in outer.cuts] == [b.length for b in insert.cuts]
    assert [a.length for a in inner.cuts] == [b.length for b in within.cuts]
    assert insert.size == package.inlay.blank


def test_a_spacer_mat_is_cut_by_itself_on_its_own_edge_though_the_others_are_stacked() -> None:
    mats = (MatRule("white"), MatRule("white", setback=inch(1, 4)), MatRule("grey", inch(1, 4)))
    package = made(replace(PLAIN, mats=mats))
    top, spacer, under = set_up(package, NOMINAL).operations
    assert (top.then, spacer.then, under.then) == ("fallout goes back", "keep the fallout", "through the stack")
    assert spacer.size == package.mats[1].blank
    assert under.size == package.mats[0].blank
    assert spacer.cuts[0].guide == package.mats[1].borders.top - package.mats[1].inset


def test_boards_round_the_art_are_cut_upright_as_often_as_there_are_layers() -> None:
    thick = Artwork(Readings.of(inch(10)), Readings.of(inch(13)), thickness=inch(3, 8))
    package = made(replace(PLAIN, sink=SinkRule("thick", inch(1, 8))), thick)
    found = set_up(package, NOMINAL)
    sink, place = found.operations[-1], package.sink
    assert place is not None
    assert (sink.board, sink.copies) == ("sink", 3)
    assert all(end.blade == end.crossing for cut in sink.cuts for end in (cut.far, cut.near))
    guides = {cut.side: cut.guide for cut in sink.cuts}
    assert (guides["top"], guides["left"]) == (place.opening.top, place.opening.left)
    assert guides["right"] == package.outer.width - place.opening.right
    (length,) = (each for each in found.lengths if each.board == "sink")
    assert length.straight == 6 * (place.opening.size.width + place.opening.size.height)


def test_each_of_several_openings_is_cut_at_its_own_borders_and_a_title_after_them() -> None:
    work = Work("1", "", art(inch(5), inch(7)), others=(art(inch(6), inch(7)),))
    treatment = replace(PLAIN, title=TitleRule(Size(inch(4), inch(3, 4))), layout=LayoutRule(gutter=inch(1)))
    package = resolve(work, treatment, MATERIALS)
    found = set_up(package, NOMINAL)
    assert [each.name for each in found.operations] == ["top mat window 1", "top mat window 2", "top mat, title"]
    for operation, hole in zip(found.operations, package.mats[0].holes, strict=True):
        assert {cut.side: cut.guide for cut in operation.cuts} == dict(hole.borders.named())
        assert all(cut.figure.startswith(hole.scope) for cut in operation.cuts)
    assert found.operations[0].hole == 1


def test_a_polygon_frame_is_cut_on_the_square_round_it() -> None:
    rule = ShapeRule(ShapeKind.CIRCLE)
    treatment = replace(PLAIN, shape=rule, outer=Size(inch(20), inch(20)), frame_sides=8, borders=None)
    package = made(treatment, art(inch(10), inch(10)))
    (window,) = set_up(package, NOMINAL).operations
    (oval,) = window.tasks
    assert isinstance(oval, Oval)
    assert spot(oval.centre, window) == (window.size.width.as_mm / 2, window.size.height.as_mm / 2)
    assert window.size.width > package.outer.width


# ── accents ──────────────────────────────────────────────────────────────────────────────────────────────────────


def test_a_groove_is_shaved_to_the_back_and_the_shaving_counts_as_cut() -> None:
    (groove, _) = set_up(made(replace(PLAIN, grooves=(GrooveRule(inch(1, 2)),))), NOMINAL).operations
    shave = groove.tasks[-1]
    assert isinstance(shave, Shave)
    run = inch(1, 16)
    assert shave.sliver == 2 * run
    assert (shave.before, shave.after) == (shave.back.grown(run), shave.back.grown(-run))
    assert shave.depth is None
    around = 2 * (shave.back.width + shave.back.height)
    assert groove.straight == around + 8 * run + around


def test_an_oval_groove_is_cut_and_shaved_along_its_curve() -> None:
    treatment = replace(PLAIN, shape=ShapeRule(ShapeKind.OVAL), grooves=(GrooveRule(inch(1, 2)),))
    (groove, window) = set_up(made(treatment), NOMINAL).operations
    assert groove.straight == window.straight == ZERO
    assert groove.curved > 2 * window.curved


def test_lines_are_ruled_from_the_face_edge_of_each_window() -> None:
    line = LineRule(inch(1, 4), inch(1, 32))
    found = set_up(made(replace(PLAIN, lines=(line,))), NOMINAL)
    (ruled,) = found.operations[-1].tasks
    assert isinstance(ruled, Ruled)
    assert (ruled.distance, ruled.width, ruled.wash) == (line.distance, line.width, False)
    assert found.operations[-1].straight == ZERO


def test_a_bevel_that_leans_inward_stops_short_at_every_corner() -> None:
    rule = ShapeRule(ShapeKind.CLIPPED, leg=inch(1))
    treatment = replace(PLAIN, shape=rule, mats=(MatRule("white", bevel=Bevel.REVERSE),))
    (window,) = set_up(resolve(WORK, treatment, MATERIALS), NOMINAL).operations
    slants = [task for task in window.tasks if isinstance(task, Slant)]
    assert len(slants) == 4
    assert all(slant.past < ZERO and slant.length < slant.line for slant in slants)
    assert all(end.blade > end.crossing for cut in window.cuts for end in (cut.far, cut.near))


def test_curves_are_cut_before_the_sides_and_slants_after_them() -> None:
    for kind, first in ((ShapeKind.ROUND_ARCH, Arc), (ShapeKind.OCTAGON, Cut)):
        (window,) = set_up(made(replace(PLAIN, shape=ShapeRule(kind)), SHEET), NOMINAL).operations
        assert isinstance(window.tasks[0], first)
