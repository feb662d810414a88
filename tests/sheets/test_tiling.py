"""Tiles cover what they part, fit their paper, overlap, and keep their seams away where they can."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from fourply.drawing.shapes import Box
from fourply.sheets.tiling import OVERLAP, Avoid, seams, tile

NEAR = 1e-6


@given(st.floats(10, 2500), st.floats(100, 300), st.lists(st.floats(0, 2500), max_size=5))
def test_every_tile_fits_and_there_are_no_more_than_need_be(whole: float, room: float, avoid: list[float]) -> None:
    found, _ = seams((0.0, whole), room, [Avoid(at) for at in avoid])
    edges = [0.0, *found, whole]
    shown = [(low - OVERLAP / 2 * (low > 0), high + OVERLAP / 2 * (high < whole)) for low, high in pairwise(edges)]
    assert all(high - low <= room + NEAR for low, high in shown)
    assert sorted(edges) == edges
    # one tile fewer could not show it all
    assert len(found) == 0 or len(found) * (room - OVERLAP) + OVERLAP < whole + NEAR


@given(st.floats(200, 360), st.floats(0, 400))
def test_a_seam_is_clear_of_an_axis_where_the_slack_allows(whole: float, axis: float) -> None:
    (seam,), badness = seams((0.0, whole), 197.0, [Avoid(axis, 10)])
    low, high = max(20.0, whole - 197 + OVERLAP / 2), min(whole - 20, 197 - OVERLAP / 2)
    assert low - NEAR <= seam <= high + NEAR
    reach = max(abs(low - axis), abs(high - axis))
    if reach >= 13:
        assert abs(seam - axis) >= 11
    assert (badness > 0) == (abs(seam - axis) < OVERLAP / 2 + 7)


def test_tiles_are_lettered_row_by_row_and_neighbours_share_the_overlap() -> None:
    tiles = tile(Box(0, 0, 300, 300), (200, 200), [], []).tiles
    assert [each.letter for each in tiles] == ["A", "B", "C", "D"]
    a, b, c, _ = tiles
    assert a.shown.right - b.shown.left == OVERLAP
    assert a.shown.bottom - c.shown.top == OVERLAP
    assert (a.kept.right, a.kept.bottom) == (b.kept.left, c.kept.top)
    assert (a.shown.left, b.shown.right) == (0, 300)
