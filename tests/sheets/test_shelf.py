"""Works on a shelf: at their true sizes, side by side, on their feet."""

from __future__ import annotations

from itertools import pairwise

import pytest
from tests.sheets.samples import TICKETS

from fourply.drawing.scene import Area
from fourply.drawing.shapes import Box, bounds
from fourply.sheets.shelf import APART, dots_of, shelf
from fourply.sheets.wall import finished

PACKAGES = [package for package, _ in TICKETS.values()]


def outsides(works: int, most: int) -> list[Box]:
    """Return the box of the outermost area of each work on a shelf."""
    boxes: list[Box] = []
    for patch in shelf(PACKAGES[:works], most).patches:
        assert isinstance(patch, Area)
        box = bounds(patch.steps)
        if not boxes or box.left > boxes[-1].right:
            boxes.append(box)
    return boxes


def test_works_stand_at_their_sizes_on_one_line_and_do_not_touch() -> None:
    """Every work is as large as it is finished; the feet of all are the lower edge."""
    scene, boxes = shelf(PACKAGES, 5000), outsides(len(PACKAGES), 5000)
    assert len(boxes) == len(PACKAGES)
    for package, box in zip(PACKAGES, boxes, strict=True):
        size = finished(package)
        assert box.width == pytest.approx(size.width.as_mm)
        assert box.height == pytest.approx(size.height.as_mm)
        assert box.bottom == pytest.approx(scene.seen.bottom)
    gaps = [after.left - before.right for before, after in pairwise(boxes)]
    assert gaps == pytest.approx([APART.as_mm] * len(gaps))


def test_shelf_holds_no_more_than_fit_and_one_at_the_least() -> None:
    """What does not fit any more is left off; a quarter inch of it is a foot (1:48, ninety-six dots an inch)."""
    for most in (1, 40, 100, 200, 400):
        scene = shelf(PACKAGES, most)
        wide, _ = dots_of(scene)
        assert wide == pytest.approx(scene.seen.width / 25.4 / 12 * 24, abs=0.51)
        assert wide <= most + 1 or len(outsides(len(PACKAGES), most)) == 1
