"""The frame of a finished work: each rail as the bands of its profile, lit by the side that it is on, mitred."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise

from fourply.drawing.light import gloss, lit, tone
from fourply.drawing.scene import Area, Hair, Patch
from fourply.drawing.shapes import Box, Point, line, polygon
from fourply.sheets.front_view import reach_of, ring_of
from fourply.trade.materials import Moulding
from fourply.trade.package import Frame

_SIDES = ("top", "right", "bottom", "left")
_ARC = 7  # a rounded edge is drawn in so many bands
_SHEEN = 0.40
_DARK = "#15110d"
_GOLDEN = 0.6180339887
_WEIGHTS = 4


def rails(frame: Frame, outside: Box) -> Iterator[Patch]:
    """Yield the rails of a frame that fills a box."""
    yield from mitred(*_rings(frame, outside))


def mitred(outer: Sequence[Point], inner: Sequence[Point], mouldings: Sequence[Moulding]) -> Iterator[Patch]:
    """Yield rails between the corners outside and those at the sight edge, clockwise, mitred where they meet."""
    count = len(outer)
    for side in range(count):
        corners = (outer[side], outer[(side + 1) % count], inner[side], inner[(side + 1) % count])
        yield from _rail(corners, mouldings[side])
    for corner, near in zip(outer, inner, strict=True):
        yield Hair(line(*corner, *near), _DARK, 0.2, 0.4)
    yield Hair(polygon(outer), _DARK, 0.25, 0.35)
    yield Hair(polygon(inner), _DARK, 0.3, 0.45)


def _rings(frame: Frame, outside: Box) -> tuple[list[Point], list[Point], list[Moulding]]:
    """Return the corners outside and at the sight edge, clockwise, and the moulding of the side after each."""
    if frame.sides != 4:
        left, top, _, _ = reach_of(frame)
        outer, inner = (
            [(left + x, top + y) for x, y in ring_of(frame, across)]
            for across in (frame.outside.width, frame.sight.width)
        )
        return outer, inner, [frame.moulding] * frame.sides
    kinds = {rail.side: rail.moulding for rail in frame.rails}
    faces = {side: kinds[side].width.as_mm for side in _SIDES}
    sight = Box(
        outside.left + faces["left"],
        outside.top + faces["top"],
        outside.right - faces["right"],
        outside.bottom - faces["bottom"],
    )
    return outside.corners, sight.corners, [kinds[side] for side in _SIDES]


def _rail(corners: tuple[Point, Point, Point, Point], moulding: Moulding) -> Iterator[Patch]:
    """Yield one rail between its corners: outside first and second, sight edge first and second."""
    start, end, near_start, near_end = corners
    way = (end[0] - start[0], end[1] - start[1])
    length = math.hypot(*way)
    inward = (-way[1] / length, way[0] / length)

    def across(part: float) -> tuple[Point, Point]:
        return _between(start, near_start, part), _between(end, near_end, part)

    width = moulding.width.as_mm
    for (at, high), (after, low) in pairwise(profile(moulding)):
        if after - at <= 0:
            continue  # an upright face is not seen from the front
        steep = math.degrees(math.atan2(abs(high - low), after - at))
        facing = inward if low < high else (-inward[0], -inward[1])
        shine = _SHEEN * max(0.0, gloss(facing, steep) - gloss(facing, 0))  # so that the flat keeps its own colour
        colour = lit(moulding.colour, tone(facing, steep), shine)
        first, last = across(at / width)
        yield Area(polygon([first, last, near_end, near_start]), colour)
    yield from _grain(moulding, across)


def _between(start: Point, end: Point, part: float) -> Point:
    return start[0] + part * (end[0] - start[0]), start[1] + part * (end[1] - start[1])


def _grain(moulding: Moulding, across: Callable[[float], tuple[Point, Point]]) -> Iterator[Hair]:
    """Yield faint streaks along a rail, spread by the golden section so that no two rows look ruled.

    Streaks of one weight are one line, since a rail has many.
    """
    count = int(moulding.width.as_mm * 1.1)
    for weight in range(_WEIGHTS):
        parts = (0.04 + 0.92 * ((streak + 1) * _GOLDEN % 1) for streak in range(weight, count, _WEIGHTS))
        steps = tuple(step for part in parts for first, last in [across(part)] for step in line(*first, *last))
        if steps:
            ink = "#ffffff" if weight == _WEIGHTS - 1 else _DARK
            yield Hair(steps, ink, 0.15 + 0.1 * weight, 0.07 - 0.01 * weight)


def profile(moulding: Moulding) -> list[Point]:
    """Return how high a moulding stands, in millimetres, from its outer edge to its sight edge.

    Its own points where it has them; else a plain one of its size: rounded at the outer edge, falling a little to the
    inside, with a round lip.
    """
    if moulding.profile:
        return [(across.as_mm, height.as_mm) for across, height in moulding.profile]
    width, height = moulding.width.as_mm, moulding.height.as_mm
    lip = height - moulding.rabbet_depth.as_mm
    outer = min(0.14 * width, 0.2 * height, 5.0)
    inner = min(0.18 * width, 0.8 * lip, 5.0) if lip > 0 else 0.0
    slope = 0.05 * (width - outer - inner)
    rise = [_on_arc(outer, height - outer, outer, 180 + 90 * i / _ARC) for i in range(_ARC + 1)]
    low = height - slope
    drop = [_on_arc(width - inner, low - inner, inner, 270 + 90 * i / _ARC) for i in range(_ARC + 1)]
    return rise + drop


def _on_arc(across: float, height: float, radius: float, angle: float) -> Point:
    turn = math.radians(angle)
    return across + radius * math.cos(turn), height - radius * math.sin(turn)
