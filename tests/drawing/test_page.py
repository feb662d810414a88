"""A drawing takes the largest scale of a short series at which it fits."""

from __future__ import annotations

import pytest

from fourply.drawing.page import A4, ENLARGED, LETTER, REDUCED, Scale, largest


@pytest.mark.parametrize(
    ("size", "room", "scale"),
    [
        ((100, 100), (100, 100), Scale(1, 1)),
        ((100.1, 50), (100, 100), Scale(1, 2)),
        ((50, 700), (100, 100), Scale(1, 8)),
        ((1e6, 1e6), (10, 10), REDUCED[-1]),
    ],
)
def test_the_largest_scale_that_fits_is_taken(
    size: tuple[float, float], room: tuple[float, float], scale: Scale
) -> None:
    assert largest(size, room) == scale


@pytest.mark.parametrize("series", [REDUCED, ENLARGED])
def test_a_series_runs_from_large_to_small(series: tuple[Scale, ...]) -> None:
    ratios = [scale.of(1) for scale in series]
    assert ratios == sorted(ratios, reverse=True)


def test_papers_have_their_standard_sizes() -> None:
    assert (A4.width, A4.height) == (210, 297)  # ISO 216
    assert (LETTER.width, LETTER.height) == pytest.approx((8.5 * 25.4, 11 * 25.4))  # ANSI/ASME Y14.1
