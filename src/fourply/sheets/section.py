"""The section through the bottom rail, magnified: what lies on what, what shows, what is left for the points.

The package rests on the rail. Where nothing changes over a long stretch the drawing is broken, and both parts stand
at one scale.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

from fourply.drawing import dimension
from fourply.drawing.callout import spread
from fourply.drawing.dimension import Side, lay_out
from fourply.drawing.hatch import growth_rings, hatch
from fourply.drawing.ink import DIMENSION, EXTENSION, HATCHING, HIDDEN, THIN, VISIBLE, Ink
from fourply.drawing.lettering import Anchor, Type, write, write_lines
from fourply.drawing.page import ENLARGED, Scale
from fourply.drawing.pen import Path, Pen, Step, Steps
from fourply.drawing.shapes import Box, Point, polygon, polyline
from fourply.drawing.signs import dot, stroke, tick
from fourply.sheets.types import CAPTION, HEADING, SMALL
from fourply.sheets.view import Beside, Filling, Layer, SectionView

_SCALES = (*ENLARGED, *(Scale(1, less) for less in (1, 2, 3, 4, 5, 10)))
_BREAK = 4.0
_LABEL = Type(8)
_LEAST_PITCH = 3.4
_BESIDE = _LABEL.size * 1.15
_HATCHES = {Filling.RISING: (1.5, 45.0), Filling.FALLING: (1.5, 135.0), Filling.WIDE: (2.6, 135.0)}


class _Frame:
    """Where the section stands: real heights and depths to places on the page, the break taken out."""

    def __init__(self, view: SectionView, scale: Scale, left: float, base: float) -> None:
        self._view = view
        self.scale = scale
        self.left = left
        self.base = base
        self.broken = view.cut_high > view.cut_low

    @property
    def top(self) -> float:
        return self.y(self._view.top)

    def x(self, depth: float) -> float:
        return self.left + self.scale.of(depth)

    def y(self, height: float) -> float:
        view = self._view
        if not self.broken or height <= view.cut_low:
            return self.base - self.scale.of(height - view.bottom)
        low = self.base - self.scale.of(view.cut_low - view.bottom)
        return low - _BREAK - self.scale.of(max(height, view.cut_high) - view.cut_high)

    def parts(self, area: Sequence[Point]) -> list[list[Point]]:
        """Return an area as it is seen on the page: below and above the break."""
        view = self._view
        spans = [(view.bottom, view.cut_low), (view.cut_high, view.top)] if self.broken else [(view.bottom, view.top)]
        cut = (_between(area, low, high) for low, high in spans)
        return [
            [(self.x(x), self._on(y, low)) for x, y in part] for part, (low, _) in zip(cut, spans, strict=True) if part
        ]

    def break_levels(self) -> tuple[float, ...]:
        """Return the places on the page of the two edges of the break."""
        low = self.y(self._view.cut_low)
        return (low, low - _BREAK) if self.broken else ()

    def _on(self, height: float, low: float) -> float:
        """Return the place of a height in the part that starts at `low`."""
        return self.y(low + 1e-9) - self.scale.of(height - low)


def section_scale(area: Box, view: SectionView) -> Scale:
    """Return the scale that the section takes in an area."""
    return _place(view, area).scale


def compose_section(pen: Pen, area: Box, view: SectionView) -> None:
    """Draw the section with its dimensions and names in the area of a page."""
    head = write(pen, (area.left, area.top + 3.2), "Section A", HEADING)
    frame = _place(view, area)
    caption = f"{frame.scale}. " + (
        "Bottom rail, front at the left." if view.rail else "Bottom edge, front at the left."
    )
    write(pen, (area.left + head + 2, area.top + 3.2), CAPTION.fit(caption, area.width - head - 2), CAPTION)
    for layer in view.layers:
        _layer(pen, frame, layer)
    if view.rail:
        _rail(pen, frame, view)
    _broken_edges(pen, frame, view)
    _depths(pen, frame, view, area)
    _heights(pen, frame, view)
    _names(pen, frame, view, area)
    _notes(pen, frame, view, area)


def _place(view: SectionView, area: Box) -> _Frame:
    """Return the section at the largest scale that fits, centred in its area."""
    beside = max((_LABEL.width(each.text) for each in view.beside), default=-4.0) + 7
    names = max((_LABEL.width(layer.name) for layer in view.layers), default=0.0) + 9
    rail, front, back = min((x for x, _ in view.rail), default=0.0), _front(view), _back(view)
    head = 6.5 + (4.4 + len(view.depths) * dimension.PITCH if view.depths else 2)
    for scale in _SCALES:
        frame = _Frame(view, scale, area.left, area.bottom - 1)
        left = max(beside + scale.of(-front), scale.of(-rail) + 1)
        spare = area.width - left - scale.of(back) - names
        if spare >= 0 and frame.top >= area.top + head:
            break
    below = max(frame.base - frame.top, len(view.layers) * _LEAST_PITCH + 2 + len(view.notes) * 2 * SMALL.lead)
    down = max(0.0, area.bottom - area.top - head - below) / 2
    base = area.top + head + down + (frame.base - frame.top)
    return _Frame(view, scale, area.left + left + min(max(0.0, spare) / 2, 12.0), base)


def _front(view: SectionView) -> float:
    """Return the depth of what stands out most in front of the glazing's face: a sheet that is raised, or nothing."""
    return min((x for layer in view.layers for part in layer.areas for x, _ in part), default=0.0)


def _back(view: SectionView) -> float:
    """Return the greatest depth of anything in the section."""
    layers = [x for layer in view.layers for part in layer.areas for x, _ in part]
    return max([*layers, *(x for x, _ in view.rail), view.point or 0.0])


def _layer(pen: Pen, frame: _Frame, layer: Layer) -> None:
    for area in layer.areas:
        for part in frame.parts(area):
            if layer.filling is Filling.SOLID:
                pen.path(Path(polygon(part), THIN, Ink.BLACK))
                continue
            if layer.filling in _HATCHES:
                spacing, angle = _HATCHES[layer.filling]
                pen.path(Path(hatch([part], spacing, angle=angle), HATCHING))
            pen.path(Path(_edges(frame, part), THIN))


def _edges(frame: _Frame, part: Sequence[Point]) -> Steps:
    """Return the outline of a part, left open where the drawing is broken."""
    levels = frame.break_levels()
    steps: list[Step] = []
    for here, there in itertools.pairwise([*part, part[0]]):
        if not any(abs(here[1] - level) < 0.01 and abs(there[1] - level) < 0.01 for level in levels):
            steps.extend((("M", *here), ("L", *there)))
    return tuple(steps)


def _rail(pen: Pen, frame: _Frame, view: SectionView) -> None:
    for part in frame.parts(view.rail):
        centre = (frame.x(view.rail_growth[0]), frame.base + frame.scale.of(-view.rail_growth[1]))
        pen.path(Path(growth_rings([part], centre, 3.2), HATCHING))
        pen.path(Path(polygon(part), VISIBLE))
    if view.point is not None:
        x, floor = frame.x(view.point), frame.y(0)
        stroke(pen, (x, floor + 4.5), (x, floor - 4.5), VISIBLE)


def _broken_edges(pen: Pen, frame: _Frame, view: SectionView) -> None:
    """Draw the two wavy edges of the break."""
    left = frame.x(min(x for layer in view.layers for part in layer.areas for x, _ in part)) - 1.5
    right = frame.x(max(x for layer in view.layers for part in layer.areas for x, _ in part)) + 1.5
    for y in frame.break_levels():
        steps = max(2, round((right - left) / 3))
        points = [(left + (right - left) * i / steps, y + (0.5 if i % 2 else -0.5)) for i in range(steps + 1)]
        pen.path(Path(polyline(points), EXTENSION, None))


def _depths(pen: Pen, frame: _Frame, view: SectionView, area: Box) -> None:
    tiers = [[dim._replace(start=frame.x(dim.start), end=frame.x(dim.end)) for dim in tier] for tier in view.depths]
    within = (area.left, area.right)
    dimension.draw(pen, lay_out(Side.TOP, frame.top, tiers, within=within, points=8))
    if view.rail and view.depths:
        back = max(x for x, _ in view.rail)
        stroke(pen, (frame.x(back), frame.top), (frame.x(back), frame.y(0)), HIDDEN)


def _heights(pen: Pen, frame: _Frame, view: SectionView) -> None:
    """Draw the chain of heights at the left: ticks on the line, names level beside it, spread where they crowd."""
    shown = _with_room(frame, view)
    if not shown:
        return
    front = frame.x(_front(view))
    x = front - 3.5
    spans = sorted((frame.y(each.end), frame.y(each.start), each.text) for each in shown)
    stroke(pen, (x, spans[0][0]), (x, spans[-1][1]), DIMENSION)
    for y in sorted({round(y, 3) for top, bottom, _ in spans for y in (top, bottom)}):
        tick(pen, (x, y))
        stroke(pen, (x + 0.9, y), (front - 0.8, y), EXTENSION)
    middles = [(top + bottom) / 2 for top, bottom, _ in spans]
    places = spread(middles, _BESIDE, frame.top + 1.5, _beside_end(frame, view))
    for (_, _, text), middle, place in zip(spans, middles, places, strict=True):
        if abs(place - middle) > 0.6:
            stroke(pen, (x - 0.6, middle), (x - 2.0, place), EXTENSION)
        write(pen, (x - 2.4, place + 0.36 * _LABEL.size), text, _LABEL, anchor=Anchor.END)


def _beside_end(frame: _Frame, view: SectionView) -> float:
    """Return how far down there is room for names at the left: to the rail, which stands out in front."""
    return frame.y(max((height for _, height in view.rail), default=view.bottom)) - 2.2


def _with_room(frame: _Frame, view: SectionView) -> list[Beside]:
    """Return the heights whose names have room, the minor ones left out where not all have."""
    room = math.floor((_beside_end(frame, view) - frame.top - 1.5) / _BESIDE) + 1
    if len(view.beside) <= room:
        return list(view.beside)
    return [each for each in view.beside if not each.minor][: max(0, room)]


def _names(pen: Pen, frame: _Frame, view: SectionView, area: Box) -> None:
    """Name the layers at the right, front layers lowest, each with a leader into what it names."""
    column = frame.x(_back(view)) + 4
    targets = _name_places(frame, view)
    for place, layer in zip(targets, reversed(view.layers), strict=True):
        inside = _inside(frame, layer, place)
        dot(pen, inside)
        stroke(pen, inside, (column - 0.8, place), DIMENSION)
        text = _LABEL.fit(layer.name, area.right - column)
        write(pen, (column, place + 0.36 * _LABEL.size), text, _LABEL)


def _name_places(frame: _Frame, view: SectionView) -> list[float]:
    """Return where the names stand, evenly, beside the part above the break where that is high enough."""
    low = frame.top + 1.5
    high = frame.y(view.cut_high) - 1 if frame.broken else frame.y(view.bottom)
    pitch = min(max((high - low) / max(len(view.layers), 1), _LEAST_PITCH), 6.5)
    return [low + pitch * i for i in range(len(view.layers))]


def _inside(frame: _Frame, layer: Layer, y: float) -> Point:
    """Return a point inside a layer, as near the height `y` as may be."""
    best: tuple[float, Point] | None = None
    for part in (part for area in layer.areas for part in frame.parts(area)):
        ys = [point[1] for point in part]
        at = min(max(y, min(ys) + 0.6), max(max(ys) - 0.6, min(ys) + 0.6))
        crossings = sorted(
            x1 + (at - y1) * (x2 - x1) / (y2 - y1)
            for (x1, y1), (x2, y2) in itertools.pairwise([*part, part[0]])
            if (y1 > at) != (y2 > at)
        )
        if len(crossings) >= 2 and (best is None or abs(at - y) < best[0]):
            best = (abs(at - y), ((crossings[0] + crossings[1]) / 2, at))
    return best[1] if best else (frame.left, y)


def _notes(pen: Pen, frame: _Frame, view: SectionView, area: Box) -> None:
    if not view.notes:
        return
    right = frame.x(_back(view))
    lines = [line for note in view.notes for line in SMALL.wrap(note, area.right - right - 3)]
    y = max(frame.base - SMALL.lead * (len(lines) - 1) - 1, *(place + 5.5 for place in _name_places(frame, view)[-1:]))
    write_lines(pen, (right + 4, y), lines, SMALL)


def _between(area: Sequence[Point], low: float, high: float) -> list[Point]:
    """Return an area cut to heights between two levels (the method of Sutherland and Hodgman)."""
    for level, above in ((low, True), (high, False)):
        kept: list[Point] = []
        for (x1, y1), (x2, y2) in itertools.pairwise([*area, *area[:1]]):
            in1, in2 = (y1 >= level, y2 >= level) if above else (y1 <= level, y2 <= level)
            if in1:
                kept.append((x1, y1))
            if in1 != in2:
                kept.append((x1 + (level - y1) * (x2 - x1) / (y2 - y1), level))
        area = kept
    return list(area) if len(area) > 2 else []
