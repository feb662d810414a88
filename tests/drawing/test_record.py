"""A recorded drawing holds its marks in order and gives them back."""

from __future__ import annotations

import pytest

from fourply.drawing.ink import VISIBLE
from fourply.drawing.lettering import Anchor, Type, write
from fourply.drawing.pen import Label, Path
from fourply.drawing.record import Drawing, Recorder, replay
from fourply.drawing.shapes import line


def test_marks_are_replayed_in_their_order() -> None:
    marks = (Path(line(0, 0, 1, 1), VISIBLE), Label(0, 0, "a", 3), Path(line(1, 1, 2, 2), VISIBLE))
    pen = Recorder()
    replay(marks, pen)
    assert pen.drawing(10, 10).marks == marks


@pytest.mark.parametrize("size", [(0, 10), (10, -1), (float("nan"), 10)])
def test_a_drawing_without_size_cannot_be(size: tuple[float, float]) -> None:
    with pytest.raises(ValueError, match="above nothing"):
        Drawing(*size, ())


@pytest.mark.parametrize(("anchor", "angle", "start"), [
    (Anchor.START, 0, (50, 50)),
    (Anchor.MIDDLE, 0, (50 - 1.144, 50)),
    (Anchor.END, 0, (50 - 2.288, 50)),
    (Anchor.END, 90, (50, 50 + 2.288)),
])  # fmt: skip
def test_a_line_of_text_is_anchored_where_it_should_align(
    anchor: Anchor, angle: float, start: tuple[float, float]
) -> None:
    pen = Recorder()
    write(pen, (50, 50), "00", Type(2 * 72 / 25.4), anchor=anchor, angle=angle)  # 0 is 572 thousandths wide
    (label,) = pen.drawing(100, 100).labels
    assert (label.x, label.y) == pytest.approx(start)
