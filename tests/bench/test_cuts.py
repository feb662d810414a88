"""The cuts of drawn windows against the outlines that they must make; which board, which order, how much is cut."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

import pytest
import shapely
from hypothesis import HealthCheck, Phase, given, settings
from tests.bench.drawn import Case, bladed, off_line, on_back, pencilled, shaped, slanted, spot
from tests.trade.cases import PLAIN, art, inch, made
from tests.trade.evaluate import fault

from fourply.bench.cuts import Arc, Cut, Operation, Oval, Ruled, Shave, Slant, Template
from fourply.bench.cutter import NOMINAL, Cutter, Side, StopDatum
from fourply.bench.settings import Settings
from fourply.bench.settings import settings as set_up
from fourply.files.codec import decode, encode
from fourply.measure.length import Length, total
from fourply.measure.size import Edges, Rect
from fourply.trade.accents import GrooveRule
from fourply.trade.package import Groove, Hole, Package
from fourply.trade.shapes.outline import Outline, Segment, Sweep
from fourply.trade.shapes.rule import ShapeKind, ShapeRule
from fourply.trade.shapes.stepped import Stepped
from fourply.trade.treatment import Bevel, MatRule

NEAR_MM = 2e-5
"""Figures are whole nanometres; a polygon's corner adds up a few of them."""
DRAWN = settings(
    max_examples=60,
    deadline=None,
    phases=(Phase.explicit, Phase.reuse, Phase.generate),
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
FROM_BAR = Cutter(guide=Side.RIGHT, stops=StopDatum.BAR, start=Length.mm(1, 2), stop=Length.mm(3, 4))


def windows(package: Package, found: Settings) -> list[tuple[Operation, Hole]]:
    """Return every window's operation with its opening."""
    cut = [each for each in found.operations if each.mat and each.straight + each.curved and not _is_accent(each)]
    return list(zip(cut, [hole for mat in package.mats for hole in mat.holes], strict=True))


def _is_accent(operation: Operation) -> bool:
    return operation.name.startswith(("V-groove", "inlay", "insert"))


def grooves(package: Package, found: Settings) -> Iterator[tuple[Operation, Groove]]:
    """Yield every groove's operation with its groove."""
    top = package.mats[0]
    by_figure = {f"cut.{groove.path}.shave": groove for groove in top.grooves}
    for hole in top.holes:
        by_figure |= {f"{hole.scope}cut.{groove.path}.shave": groove for groove in hole.grooves}
    for operation in found.operations:
        if operation.tasks and isinstance(operation.tasks[-1], Shave):
            yield operation, by_figure[operation.tasks[-1].figure]


@DRAWN
@given(shaped())
def test_the_cuts_of_windows_and_grooves_make_their_outlines_and_end_on_them(case: Case) -> None:
    package = case.package
    found = set_up(package, NOMINAL)
    for operation, hole in windows(package, found):
        outline = on_back(package, operation, hole.place, hole.opening.back_outline())
        assert_made(outline, operation)
    for operation, groove in grooves(package, found):
        place = Rect(groove.borders.left, groove.borders.top, groove.back)
        assert_made(on_back(package, operation, place, groove.shape.outline()), operation)


def assert_made(outline: Outline, operation: Operation) -> None:
    """Assert that every piece of the outline is a cut's, and that every cut ends on the outline."""
    template = next((task for task in operation.tasks if isinstance(task, Template)), None)
    if template is not None:
        left, top, right, bottom = outline.bounds()
        corner, size = spot(template.corner, operation), template.size
        assert math.dist(corner, (left, top)) < NEAR_MM
        assert math.dist((size.width.as_mm, size.height.as_mm), (right - left, bottom - top)) < NEAR_MM
        assert abs(template.line.as_mm - outline.perimeter) < NEAR_MM
        return
    lines = [pencilled(cut, operation) for cut in operation.cuts]
    lines += [slanted(task, operation) for task in operation.tasks if isinstance(task, Slant)]
    arcs = [task for task in operation.tasks if isinstance(task, Arc | Oval)]
    for piece in outline.pieces:
        if isinstance(piece, Segment):
            ends = (piece.start, piece.end)
            assert min(max(off_line(end, line) for end in ends) for line in lines) < NEAR_MM
        else:
            assert isinstance(piece, Sweep)
            points = [piece.point(t) for t in (0.0, 0.3, 0.5, 0.9, 1.0)]
            assert min(max(off_arc(point, arc, operation) for point in points) for arc in arcs) < 1e-7
    ring = shapely.LinearRing(outline.flatten(1e-4))
    marks = [end for line in lines for end in line]
    marks += [spot(end, operation) for arc in arcs if isinstance(arc, Arc) for end in (arc.start, arc.end)]
    assert max((ring.distance(shapely.Point(mark)) for mark in marks), default=0.0) < 2e-4


def off_arc(point: tuple[float, float], arc: Arc | Oval, operation: Operation) -> float:
    """Return by what part a point is off the ellipse of an arc."""
    x, y = spot(arc.centre, operation)
    if isinstance(arc, Arc):
        wide, high = arc.radius.as_mm, arc.upright.as_mm
    else:
        wide, high = arc.axes.width.as_mm / 2, arc.axes.height.as_mm / 2
    return abs(math.hypot((point[0] - x) / wide, (point[1] - y) / high) - 1)


@DRAWN
@given(shaped(accents=False))
def test_the_blade_leaves_the_corners_of_the_face(case: Case) -> None:
    """Every straight piece of the face edge is just what the blade's tip goes along, none longer or shorter."""
    package = case.package
    for operation, hole in windows(package, set_up(package, NOMINAL)):
        out = hole.opening.towards_face
        face = on_back(package, operation, hole.place, hole.opening.face_outline())
        if isinstance(hole.opening.shape, Stepped) or not operation.cuts or not _keeps(hole):
            continue
        made_ = [bladed(cut, operation, out.as_mm) for cut in operation.cuts]
        sides = [piece for piece in face.pieces if isinstance(piece, Segment) and 0 in _way(piece)]
        for line in made_:
            assert min(_apart(line, piece) for piece in sides) < 0.02
        for cut, line in zip(operation.cuts, made_, strict=True):
            assert abs(math.dist(*line) - cut.length.as_mm) < NEAR_MM


def _way(piece: Segment) -> tuple[float, float]:
    return round(piece.end[0] - piece.start[0], 6), round(piece.end[1] - piece.start[1], 6)


def _apart(line: tuple[tuple[float, float], tuple[float, float]], piece: Segment) -> float:
    there = max(math.dist(line[0], piece.start), math.dist(line[1], piece.end))
    back = max(math.dist(line[1], piece.start), math.dist(line[0], piece.end))
    return min(there, back)


def _keeps(hole: Hole) -> bool:
    """Tell whether the face has the same pieces as the back: a bevel may close a corner that is next to nothing."""

    def kinds(outline: Outline) -> list[type]:
        return [type(piece) for piece in outline.pieces]

    return kinds(hole.opening.back_outline()) == kinds(hole.opening.face_outline())


@DRAWN
@given(shaped(accents=False))
def test_what_is_cut_is_as_long_as_the_face_edge_and_more_only_through_waste(case: Case) -> None:
    package = case.package
    for operation, hole in windows(package, set_up(package, NOMINAL)):
        opening, shape = hole.opening, hole.opening.shape
        face = opening.face_outline()
        whole = (operation.straight + operation.curved).as_mm
        if isinstance(shape, Stepped):
            rectangles, out = shape.rectangles, opening.towards_face
            each = [2 * (size.width + size.height) + 8 * out for size in rectangles]
            assert operation.straight == total(each)
            assert whole > face.perimeter
        elif _keeps(hole):
            assert abs(whole - face.perimeter) < 0.02
            straight = sum(piece.length for piece in face.pieces if isinstance(piece, Segment))
            if not isinstance(operation.tasks[0], Template):
                assert abs(operation.straight.as_mm - straight) < 0.05


@DRAWN
@given(shaped())
def test_every_figure_of_a_cut_agrees_with_its_formula(case: Case) -> None:
    package = case.package
    figures = set_up(package, FROM_BAR).figures
    assert [fault(figures, path) for path in figures if path not in package.figures and fault(figures, path)] == []


@DRAWN
@given(shaped())
def test_every_length_of_a_cut_is_the_figure_that_it_names(case: Case) -> None:
    package = case.package
    found = set_up(package, NOMINAL)
    for task in found.tasks:
        match task:
            case Cut():
                assert found.figures[f"{task.figure}.guide"].value == task.guide
                assert found.figures[f"{task.figure}.far.blade"].value == task.far.blade
                assert found.figures[f"{task.figure}.length"].value == task.length
            case Slant():
                spots = [task.start, task.end]
            case Arc():
                spots = [task.centre, task.start, task.end]
            case Oval():
                spots = [task.centre]
                assert found.figures[f"{task.figure}.loop"].value == task.loop
            case Shave():
                assert found.figures[f"{task.figure}.sliver"].value == task.sliver
            case Template():
                assert found.figures[task.figure].value == task.line
                spots = [task.corner]
            case Ruled():
                assert found.figures[f"{task.figure}.border.top"].value == task.borders.top
        for each in spots if isinstance(task, Slant | Arc | Oval | Template) else []:
            assert found.figures[f"{each.figure}.across"].value == each.across
            assert found.figures[f"{each.figure}.down"].value == each.down


@DRAWN
@given(shaped())
def test_the_cuts_go_through_json_and_back(case: Case) -> None:
    package = case.package
    for operation in set_up(package, NOMINAL).operations:
        assert decode(Operation, encode(operation), "cuts") == operation


@DRAWN
@given(shaped())
def test_each_board_is_cut_as_long_as_its_operations_together(case: Case) -> None:
    package = case.package
    found = set_up(package, NOMINAL)
    for board in found.lengths:
        mine = [each for each in found.operations if each.board == board.board]
        assert board.straight == total([each.straight * each.copies for each in mine])
        assert board.curved == total([each.curved * each.copies for each in mine])
        for what, value in (("straight", board.straight), ("curved", board.curved)):
            assert found.figures[f"cut.length.{board.board}.{what}"].value == value


@pytest.mark.parametrize("bevel", Bevel)
def test_an_arch_without_shoulders_meets_its_foot_further_out_on_the_face(bevel: Bevel) -> None:
    treatment = replace(PLAIN, shape=ShapeRule(ShapeKind.ARCH), mats=(MatRule("thick", bevel=bevel),))
    package = made(treatment, art(inch(16), inch(6)))
    (window,) = set_up(package, NOMINAL).operations
    (foot,) = window.cuts
    (straight,) = (p for p in package.mats[0].opening.face_outline().pieces if isinstance(p, Segment))
    assert foot.side == "bottom"
    assert abs(foot.length.as_mm - straight.length) < NEAR_MM


# ── seen from the back ───────────────────────────────────────────────────────────────────────────────────────────


def test_what_is_left_in_front_is_measured_from_the_right_as_the_board_lies() -> None:
    """Borders 2 at the left and 4 at the right: on the back the centre of a corner's arc lies 4 + 1 from the left."""
    borders = Edges(inch(3), inch(4), inch(3), inch(2))
    rule = ShapeRule(ShapeKind.ROUNDED, radius=inch(1))
    (window,) = set_up(made(replace(PLAIN, shape=rule, borders=borders)), NOMINAL).operations
    arcs = [task for task in window.tasks if isinstance(task, Arc)]
    assert [(arc.centre.right, arc.centre.across) for arc in arcs] == [
        (False, inch(5)),
        (True, inch(3)),
        (True, inch(3)),
        (False, inch(5)),
    ]
    assert [arc.centre.low for arc in arcs] == [False, False, True, True]
    left = next(cut for cut in window.cuts if cut.side == "left")
    assert left.guide == inch(2)


def test_borders_exchanged_left_and_right_exchange_the_cuts() -> None:
    for kind in (ShapeRule(ShapeKind.POLYGON, sides=7), ShapeRule(ShapeKind.SCOOPED, radius=inch(1))):
        one, other = (
            set_up(made(replace(PLAIN, shape=kind, borders=Edges(inch(3), right, inch(3), left))), NOMINAL)
            for right, left in ((inch(2), inch(4)), (inch(4), inch(2)))
        )
        places = [
            {
                (turn ^ each.right, each.across, each.low, each.down)
                for task in found.tasks
                if isinstance(task, Slant | Arc)
                for each in (task.start, task.end)
                if abs(each.on(made(replace(PLAIN, shape=kind)).outer)[0].nm) and not _in_middle(found, each.figure)
            }
            for found, turn in ((one, False), (other, True))
        ]
        assert places[0] == places[1]


def _in_middle(found: Settings, figure: str) -> bool:
    """Tell whether a corner lies in the middle from side to side: it is measured from the left both times."""
    turn = found.figures.get(f"{figure}.turn")
    return turn is not None and turn.value == 180.0


def test_stepped_corners_of_what_must_stay_whole_are_cut_along_their_outline_only() -> None:
    """A groove's drop-out goes back, so no cut may cross it: every line ends where the outline turns."""
    steps = (inch(1, 4), inch(1, 2))
    rule = ShapeRule(ShapeKind.STEPPED, steps=steps)
    package = made(replace(PLAIN, shape=rule, grooves=(GrooveRule(inch(3, 4)),)))
    for cutter in (NOMINAL, Cutter(guide=Side.RIGHT)):
        groove = set_up(package, cutter).operations[0]
        (made_,) = package.mats[0].all_grooves
        middle = (
            (made_.borders.left - made_.borders.right).as_mm / 2,
            (made_.borders.top - made_.borders.bottom).as_mm / 2,
        )
        at = (middle[0] + package.outer.width.as_mm / 2, middle[1] + package.outer.height.as_mm / 2)
        wide = package.outer.width.as_mm
        for outline, lines in (
            (made_.shape.outline(), [pencilled(cut, groove) for cut in groove.cuts]),
            (made_.shape.parallel(made_.run), [bladed(cut, groove, made_.run.as_mm) for cut in groove.cuts]),
        ):
            pieces = outline.moved(*at).moved(-wide, 0.0).mirrored().pieces
            assert len(pieces) == len(lines) == 20
            for piece in pieces:
                assert isinstance(piece, Segment)
                assert min(_apart(line, piece) for line in lines) < NEAR_MM
        assert [cut.part for cut in groove.cuts[:4]] == [0] * 4
