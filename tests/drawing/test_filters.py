"""A placed view is the same view, larger or smaller and elsewhere."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fourply.drawing.filters import Placed
from fourply.drawing.ink import VISIBLE
from fourply.drawing.pen import Label, Path, Steps
from fourply.drawing.record import Recorder
from fourply.drawing.shapes import flatten

EVERY_STEP: Steps = (
    ("M", 1.0, 0.0),
    ("L", 4.0, 2.0),
    ("C", 5.0, 2.0, 6.0, 3.0, 6.0, 5.0),
    ("L", 8.0, 6.0),
    ("A", 6.0, 6.0, 2.0, 3.0, 0.0, 90.0),
    ("Z",),
)


@given(st.floats(min_value=0.05, max_value=5), st.booleans())
def test_every_point_is_scaled_then_moved(scale: float, mirrored: bool) -> None:  # noqa: FBT001
    pen = Recorder()
    Placed(pen, 30, 40, scale=scale, mirrored=mirrored).path(Path(EVERY_STEP, VISIBLE))
    (path,) = pen.drawing(1, 1).paths
    across = -scale if mirrored else scale
    expected = [(30 + x * across, 40 + y * scale) for x, y in flatten(EVERY_STEP)[0]]
    for point, wanted in zip(flatten(path.steps)[0], expected, strict=True):
        assert point == pytest.approx(wanted)


def test_lines_and_text_keep_the_measure_of_the_page() -> None:
    pen = Recorder()
    placed = Placed(pen, 10, 10, scale=0.5)
    placed.path(Path(EVERY_STEP, VISIBLE))
    placed.label(Label(20, 40, "A", 3))
    drawing = pen.drawing(1, 1)
    assert drawing.paths[0].stroke == VISIBLE
    assert drawing.labels[0] == Label(20, 30, "A", 3)
