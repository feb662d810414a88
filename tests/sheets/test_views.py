"""Front view and section of any design: no word on another, on a line or off the page, at the sizes of a ticket."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import HealthCheck, Phase, assume, given, settings
from hypothesis import strategies as st
from tests.sheets.samples import INCHES, MILLIMETRES
from tests.trade.cases import MATERIALS
from tests.trade.designs import Design, several_designs, single_designs

from fourply.drawing.check import collisions, crossed, strays
from fourply.drawing.lettering import Type, write
from fourply.drawing.pen import Pen
from fourply.drawing.record import Drawing, Recorder
from fourply.drawing.shapes import Box
from fourply.errors import BadTreatment, CannotHonour
from fourply.sheets.front import compose_front
from fourply.sheets.front_view import front_view
from fourply.sheets.section import compose_section
from fourply.sheets.section_view import section_view
from fourply.trade.package import Package
from fourply.trade.resolve import resolve
from fourply.working.words import Words

# 500 designs in all, the same ones every time; a smaller design is no clearer, so what fails is shown as it was found
DRAWN = settings(
    max_examples=250,
    deadline=None,
    derandomize=True,
    database=None,
    phases=(Phase.explicit, Phase.generate),
    suppress_health_check=list(HealthCheck),
)
WORDS = st.sampled_from((INCHES, MILLIMETRES))
FRONTS, SECTIONS = ((112, 108), (92, 76), (172, 172)), ((78, 95), (70, 76))
"""Widths and heights of what a ticket leaves for the two, and of a front view alone."""


@DRAWN
@given(single_designs(), WORDS, st.sampled_from(FRONTS), st.sampled_from(SECTIONS))
def test_one_window_of_any_shape_with_accents_is_drawn_clean(
    design: Design, words: Words, front: tuple[float, float], section: tuple[float, float]
) -> None:
    package = made(design)
    assert faults(front_of(package, words, front)) == []
    assert faults(section_of(package, words, section)) == []


@DRAWN
@given(several_designs(), WORDS, st.sampled_from(FRONTS), st.sampled_from(SECTIONS))
def test_several_windows_are_drawn_clean(
    design: Design, words: Words, front: tuple[float, float], section: tuple[float, float]
) -> None:
    package = made(design)
    assert faults(front_of(package, words, front)) == []
    assert faults(section_of(package, words, section)) == []


def made(design: Design) -> Package:
    try:
        return resolve(*design, MATERIALS)
    except (BadTreatment, CannotHonour):
        assume(condition=False)
        raise


def front_of(package: Package, words: Words, size: tuple[float, float]) -> Drawing:
    view = front_view(package, words)
    return on_page(lambda pen, area: compose_front(pen, area, view), size)


def section_of(package: Package, words: Words, size: tuple[float, float]) -> Drawing:
    view = section_view(package, words)
    return on_page(lambda pen, area: compose_section(pen, area, view), size)


def on_page(compose: Callable[[Pen, Box], None], size: tuple[float, float]) -> Drawing:
    pen = Recorder()
    compose(pen, Box(2, 2, 2 + size[0], 2 + size[1]))
    return pen.drawing(size[0] + 4, size[1] + 4)


def faults(page: Drawing) -> list[object]:
    return [*collisions(page), *crossed(page), *strays(page, margin=1)]


@pytest.mark.parametrize("text", ["16 1⁄2", "16.5"])
def test_a_fault_would_be_seen(text: str) -> None:
    def twice(pen: Pen, area: Box) -> None:
        for _ in range(2):
            write(pen, (area.left + 5, area.top + 9), text, Type(9))

    assert faults(on_page(twice, (90, 40))) == [(text, text)]
