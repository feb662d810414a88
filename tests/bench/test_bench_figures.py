"""Fitting, what must not be forgotten, and every formula of the bench evaluated again from its operands."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from tests.trade.cases import FRAMED, MATERIALS, artworks, but, inch, made, treatments
from tests.trade.evaluate import fault

from fourply.bench.cutter import Cutter, Side, StopDatum
from fourply.bench.first import MOST, first_things
from fourply.bench.fitting import COVER_INSET, POINT_SPACING, fitting
from fourply.bench.settings import settings as cutter_settings
from fourply.errors import FourplyError
from fourply.measure.length import Length
from fourply.trade.accents import GrooveRule
from fourply.trade.findings import Level
from fourply.trade.package import Package
from fourply.trade.resolve import resolve
from fourply.trade.treatment import Treatment, WindowFrom
from fourply.trade.work import Artwork, Work
from fourply.working.words import Words

CUTTER = Cutter(guide=Side.RIGHT, stops=StopDatum.BAR, start=Length.mm(1, 2), stop=Length.mm(3, 4))


@settings(max_examples=60, deadline=None)
@given(artworks(), treatments())
def test_every_figure_of_the_bench_agrees_with_its_formula(art: Artwork, treatment: Treatment) -> None:
    try:
        package = resolve(Work("1", "", art), treatment, MATERIALS)
    except FourplyError:
        return
    figures = cutter_settings(package, CUTTER).figures
    fitted = fitting(package)
    for found in (figures, fitted.figures if fitted else {}):
        assert [fault(found, path) for path in found if path not in package.figures and fault(found, path)] == []


def framed() -> Package:
    return made(FRAMED)


def test_points_are_at_most_a_hand_apart_and_fill_the_rail() -> None:
    package = framed()
    fit = fitting(package)
    assert fit is not None
    for points, length in ((fit.across, package.outer.width), (fit.up, package.outer.height)):
        run = length - 2 * points.first
        assert points.spacing <= POINT_SPACING + inch(1, 16)
        assert abs((points.count - 1) * points.spacing - run) <= (points.count - 1) * inch(1, 8)


def test_the_dust_cover_stays_inside_the_frame() -> None:
    package = framed()
    fit, frame = fitting(package), package.frame
    assert fit is not None
    assert frame is not None
    over = frame.outside.width - 2 * COVER_INSET - fit.dust_cover.width
    assert Length(0) <= over < package.treatment.grid.step


def test_the_seal_goes_once_round_the_package() -> None:
    package = framed()
    fit = fitting(package)
    assert fit is not None
    over = fit.edge_seal - 2 * (package.outer.width + package.outer.height)
    assert Length(0) <= over < inch(1)


def test_what_has_no_frame_is_not_fitted() -> None:
    assert fitting(made()) is None


@pytest.mark.parametrize(
    ("treatment", "first"),
    [
        (but(FRAMED, grooves=(GrooveRule(inch(1, 2)),)), "Groove before window."),
        (but(FRAMED, window=WindowFrom.FLOAT, spacer="spacer"), "Keep the art clear of the glazing."),
        (but(FRAMED, border=inch(1, 8)), "Do not cut yet."),
    ],
)
def test_the_most_ruinous_thing_is_said_first(treatment: Treatment, first: str) -> None:
    things = first_things(made(treatment), Words(metric=False).write)
    assert things[0].do == first or any(f.level is Level.FAULT for f in made(treatment).findings)
    assert first in [thing.do for thing in things]
    assert len(things) <= MOST
