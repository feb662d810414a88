"""Clipped, rounded, scooped and stepped corners, arches: what is special to each."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given, reject
from tests.trade.shapes.shapes import EXAMPLES, arches, seen, stepped, tenths

from fourply.errors import BadTreatment
from fourply.measure.length import Length
from fourply.measure.size import Size
from fourply.trade.shapes.arch import Arch, EllipticalArch
from fourply.trade.shapes.corners import Clipped, Rounded, Scooped
from fourply.trade.shapes.outline import Sweep
from fourply.trade.shapes.rectangle import Rectangle
from fourply.trade.shapes.stepped import Stepped

NOW = Size(Length.mm(200), Length.mm(150))


def test_a_grown_octagon_stays_one() -> None:
    octagon = Clipped.octagon(Length.mm(200))

    for by in (Length.mm(-40), Length.mm(3, 10), Length.mm(40)):
        grown = octagon.grown(by)
        assert isinstance(grown, Clipped)
        assert grown.is_octagon


@pytest.mark.parametrize("shape", [Clipped(NOW, Length.mm(3)), Rounded(NOW, Length.mm(3)), Scooped(NOW, Length.mm(3))])
def test_corners_that_shrink_away_leave_a_rectangle(shape: Clipped | Rounded | Scooped) -> None:
    narrower = shape.grown(-Length.mm(20))

    assert narrower == Rectangle(NOW.grown(-Length.mm(20)))
    assert seen(shape.parallel(-Length.mm(20))).equals(seen(narrower.outline()))


def test_a_rounded_corner_and_a_scoop_keep_their_centres() -> None:
    for shape in (Rounded(NOW, Length.mm(30)), Scooped(NOW, Length.mm(30))):
        before = {(round(p.cx, 9), round(p.cy, 9)) for p in shape.outline().pieces if isinstance(p, Sweep)}
        after = shape.grown(Length.mm(8)).outline()
        assert before == {(round(p.cx, 9), round(p.cy, 9)) for p in after.pieces if isinstance(p, Sweep)}
        assert len(before) == 4


def test_a_scoop_that_would_close_is_refused_with_a_remedy() -> None:
    with pytest.raises(BadTreatment, match=r"scoops of 10 mm radius close .* by 6 mm; a larger radius"):
        Scooped(NOW, Length.mm(10)).grown(Length.mm(6))


def test_a_scoop_that_closes_leaves_a_square_corner_to_its_bevel() -> None:
    face = Scooped(NOW, Length.mm(2)).parallel(Length.mm(15, 10))

    assert face.bounds() == pytest.approx((-101.5, -76.5, 101.5, 76.5), abs=1e-3)


@given(stepped())
def test_steps_cut_each_rectangle_only_as_far_as_its_opposite_number(shape: Stepped) -> None:
    rectangles = [(size.width.as_mm / 2, size.height.as_mm / 2) for size in shape.rectangles]
    edges = {round(abs(piece.first[1]), 9): abs(piece.first[0]) for piece in shape.outline().pieces[::2]}

    for (_, high), (wide, _) in zip(rectangles, reversed(rectangles), strict=True):
        reach = [
            max(abs(piece.first[0]), abs(piece.last[0]))
            for piece in shape.outline().pieces
            if piece.first[1] == pytest.approx(-high) and piece.last[1] == pytest.approx(-high)
        ]
        assert max(reach) == pytest.approx(wide)
    assert edges
    assert len(shape.outline().pieces) == 4 * (2 * len(shape.steps) + 1)


@EXAMPLES
@given(arches(), tenths(-100, 300))
def test_an_arch_keeps_the_centre_of_its_arc(arch: Arch, by: Length) -> None:
    try:
        grown = arch.grown(by)
    except BadTreatment:
        reject()

    slack = 1e-5 * max(1.0, arch.size.width.as_mm / grown.rise.as_mm, arch.size.width.as_mm / arch.rise.as_mm) ** 2
    assert grown.radius.as_mm - arch.radius.as_mm == pytest.approx(by.as_mm, abs=slack)
    assert grown.size.height == arch.size.height + 2 * by
    if arch.shoulder > Length(0) and grown.shoulder > Length(0):
        assert abs(grown.size.width - arch.size.width - 2 * by) <= Length(1)


def test_the_kinds_of_arch() -> None:
    semicircular = Arch(Size(Length.mm(200), Length.mm(260)), Length.mm(100))

    assert semicircular.words == "semicircular arch"
    assert semicircular.radius == Length.mm(100)
    assert semicircular.half_angle_deg == pytest.approx(90)
    assert semicircular.arc.as_mm == pytest.approx(100 * math.pi)
    assert semicircular.shoulder == Length.mm(160)
    assert Arch(Size(Length.mm(200), Length.mm(260)), Length.mm(99)).words == "segmental arch"


def test_a_low_semicircle_grows_upright_shoulders() -> None:
    grown = Arch(Size(Length.mm(200), Length.mm(100)), Length.mm(100)).grown(Length.mm(10))

    assert (grown.size, grown.rise) == (Size(Length.mm(220), Length.mm(120)), Length.mm(110))


def test_an_elliptical_arch_needs_shoulders_to_shrink() -> None:
    arch = EllipticalArch(NOW, Length.mm(148))

    assert arch.grown(-Length.mm(2)).shoulder == Length(0)
    with pytest.raises(BadTreatment, match=r"shoulders of 3 mm or more"):
        arch.grown(-Length.mm(3))
    assert arch.parallel(-Length.mm(3)).bounds()[3] == pytest.approx(72, abs=1e-3)


def test_rectangles_nest_from_the_outermost() -> None:
    shape = Stepped(NOW, (Length.mm(6), Length.mm(4), Length.mm(5)))

    widths = [size.width.as_mm for size in shape.rectangles]
    assert [one - two for one, two in itertools.pairwise(widths)] == [12, 8, 10]
    assert shape.cuts == 16
    assert shape.grown(Length.mm(9)).steps == shape.steps
