"""A picture in colour: areas, fine lines and the places of photographs, the later over the earlier.

It stands beside the language of printed sheets, whose few inks hold on a bad printer. Here nothing is said in words
and everything is tone. Soft edges are stacks of thin areas, so no writer needs filters, gradients or clipping, and
the same scene is the same picture in every format.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import NormalDist
from typing import NamedTuple

from fourply.drawing.pen import Step, Steps
from fourply.drawing.shapes import Box, Point, polygon

_REACH = 2.4  # where a Gaussian is taken to end, in standard deviations: less than a hundredth is beyond

type Colour = str
"""A colour as #rrggbb (sRGB)."""


class Area(NamedTuple):
    """Closed outlines filled even-odd, opaque unless `opacity` is below 1."""

    steps: Steps
    colour: Colour
    opacity: float = 1.0


class Hair(NamedTuple):
    """A line so many millimetres wide."""

    steps: Steps
    colour: Colour
    width: float
    opacity: float = 1.0


class Field(NamedTuple):
    """Where the photograph of a number goes; `colour` stands there where there is none."""

    number: int
    box: Box
    colour: Colour


type Patch = Area | Hair | Field


class Shadow(NamedTuple):
    """The soft shadow of a convex outline on what lies behind everything.

    `corners` go round clockwise on screen; `blur` is the standard deviation of a Gaussian, in millimetres; `opacity`
    is reached well inside. Within the corners of `covered` other things lie over it, so that it need not be drawn.
    """

    corners: tuple[Point, ...]
    colour: Colour
    blur: float
    opacity: float
    covered: tuple[Point, ...] = ()

    def layers(self, count: int) -> Iterator[Area]:
        """Yield it as a stack of thin areas, for formats that have no blur."""
        hole = polygon(self.covered) if self.covered else ()
        return soft(lambda by: (*hole, *grown(self.corners, by)), self.colour, self.blur, self.opacity, layers=count)


@dataclass(frozen=True, slots=True)
class Scene:
    """What is seen of it, in millimetres: the ground (None for nothing), shadows on it, and the patches over them.

    `title` is for readers of files and for those who cannot see it.
    """

    seen: Box
    patches: tuple[Patch, ...]
    ground: Colour | None = None
    shadows: tuple[Shadow, ...] = ()
    title: str = ""

    def __post_init__(self) -> None:
        if not (self.seen.width > 0 and self.seen.height > 0):
            msg = f"a scene is above nothing both ways, not {self.seen.width} x {self.seen.height} mm"
            raise ValueError(msg)


def soft(
    outline: Callable[[float], Steps], colour: Colour, blur: float, opacity: float, *, layers: int = 8
) -> Iterator[Area]:
    """Yield a stack of areas that fade over the edge of an outline like a Gaussian blur.

    `outline` gives it larger by so many millimetres (smaller where below nothing); `blur` is the standard deviation
    in millimetres; `opacity` is reached well inside.

    >>> stack = list(soft(lambda by: grown([(0, 0), (9, 0), (9, 9), (0, 9)], by), "#000000", 1.0, 0.5, layers=4))
    >>> round(1 - math.prod(1 - area.opacity for area in stack), 9)
    0.5
    """
    spread = NormalDist()
    marks = [_REACH * (2 * mark / layers - 1) for mark in range(layers + 1)]
    whole = spread.cdf(_REACH) - spread.cdf(-_REACH)
    for low, high in pairwise(marks):
        share = (spread.cdf(high) - spread.cdf(low)) / whole
        yield Area(outline(-blur * (low + high) / 2), colour, 1 - (1 - opacity) ** share)


def grown(corners: Sequence[Point], by: float) -> Steps:
    """Return a convex outline larger by so many millimetres, its corners round; smaller, and sharp, where below 0.

    >>> grown([(0, 0), (9, 0), (9, 9), (0, 9)], -1)
    (('M', 1.0, 1.0), ('L', 8.0, 1.0), ('L', 8.0, 8.0), ('L', 1.0, 8.0), ('Z',))
    """
    normals = [outward(here, there) for here, there in pairwise((*corners, corners[0]))]
    if by <= 0:
        return polygon(beside(corners, by))
    steps: list[Step] = []
    for (x, y), (before, after) in zip(corners, pairwise((normals[-1], *normals)), strict=True):
        start = math.degrees(math.atan2(before[1], before[0]))
        sweep = (math.degrees(math.atan2(after[1], after[0])) - start) % 360
        x1, y1 = x + by * before[0], y + by * before[1]
        steps.append(("L", x1, y1) if steps else ("M", x1, y1))
        steps.append(("A", x, y, by, by, start, sweep))
    return (*steps, ("Z",))


def beside(corners: Sequence[Point], by: float) -> list[Point]:
    """Return the corners of a closed outline whose sides lie so many millimetres further out, mitred.

    >>> beside([(0, 0), (9, 0), (9, 9), (0, 9)], 1)
    [(-1.0, -1.0), (10.0, -1.0), (10.0, 10.0), (-1.0, 10.0)]
    """
    normals = [outward(here, there) for here, there in pairwise((*corners, corners[0]))]
    ways = (mitre(before, after) for before, after in pairwise((normals[-1], *normals)))
    return [(x + by * across, y + by * down) for (x, y), (across, down) in zip(corners, ways, strict=True)]


def outward(start: Point, end: Point) -> Point:
    """Return the direction that looks out from a side of an outline that goes round clockwise on screen."""
    across, down = end[0] - start[0], end[1] - start[1]
    length = math.hypot(across, down) or 1.0
    return down / length, -across / length


def mitre(before: Point, after: Point) -> Point:
    """Return the way that a corner moves for each millimetre that its two sides, by where they look, move outwards."""
    x, y = before[0] + after[0], before[1] + after[1]
    scale = 2 / max(x * x + y * y, 0.2)  # a needle's point is cut short
    return x * scale, y * scale
