"""Signs are told apart by form and hold their text."""

from __future__ import annotations

import pytest

from fourply.drawing.ink import Ink
from fourply.drawing.record import Recorder
from fourply.drawing.shapes import bounds
from fourply.drawing.signs import box as tick_box
from fourply.drawing.signs import check, disc, dot, ring, warning
from fourply.drawing.text import box


@pytest.mark.parametrize("text", ["1", "12", "128", "A 14"])
@pytest.mark.parametrize("sign", [disc, ring])
def test_the_text_of_a_disc_or_ring_stays_inside_it(sign: type, text: str) -> None:
    pen = Recorder()
    sign(pen, (20, 20), text)
    drawing = pen.drawing(40, 40)
    outer, inner = bounds(drawing.paths[0].steps), box(drawing.labels[0])
    assert outer.left < inner.left < inner.right < outer.right
    assert (inner.left + inner.right) / 2 == pytest.approx(20)


def test_a_disc_is_black_and_a_ring_white() -> None:
    pen = Recorder()
    disc(pen, (20, 20), "1")
    ring(pen, (30, 20), "1")
    assert [path.fill for path in pen.drawing(40, 40).paths] == [Ink.BLACK, Ink.PAPER]
    assert [label.ink for label in pen.drawing(40, 40).labels] == [Ink.PAPER, Ink.BLACK]


def test_a_grave_warning_is_filled() -> None:
    fills = []
    for grave in (False, True):
        pen = Recorder()
        warning(pen, 0, 10, 4, grave=grave)
        fills.append({path.fill for path in pen.drawing(40, 40).paths if len(path.steps) == 4})
    assert fills == [{None}, {Ink.BLACK}]


def test_small_signs_stand_on_the_base_line() -> None:
    for draw in (check, warning):
        pen = Recorder()
        draw(pen, 5, 10, 4)
        assert max(bounds(path.steps).bottom for path in pen.drawing(40, 40).paths) == pytest.approx(10)
    pen = Recorder()
    dot(pen, (3, 3))
    assert bounds(pen.drawing(9, 9).paths[0].steps).width == pytest.approx(0.9)


def test_a_box_to_tick_is_open_and_square() -> None:
    pen = Recorder()
    tick_box(pen, 5, 6, 3)
    (path,) = pen.drawing(40, 40).paths
    assert path.fill is None
    assert tuple(bounds(path.steps)) == (5, 6, 8, 9)
