"""Works side by side on one base line at a small true scale: a show at a glance."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fourply.drawing.scene import Area, Patch, Scene
from fourply.drawing.shapes import Box
from fourply.measure.length import Length
from fourply.sheets.front_colours import fills
from fourply.sheets.front_view import outlines
from fourply.sheets.outlines import moved
from fourply.sheets.preview import GREY
from fourply.sheets.wall import outside
from fourply.trade.package import Package

TIMES_SMALLER = 48
"""The scale of a shelf, 1:48: a quarter inch to the foot."""
APART = Length.inches(5)
_DOTS_PER_MM = 96 / 25.4 / TIMES_SMALLER


def shelf(packages: Sequence[Package], most_dots: int) -> Scene:
    """Return as many works as stand on a shelf so many dots of a screen wide, feet on its lower edge.

    At least one stands there, however wide it is.
    """
    most, left = most_dots / _DOTS_PER_MM, 0.0
    placed: list[tuple[Package, Box, float]] = []
    for package in packages:
        box = outside(package)
        if placed and left + box.width > most:
            break
        placed.append((package, box, left))
        left += box.width + APART.as_mm
    high = max(box.height for _, box, _ in placed)
    patches = [patch for package, box, at in placed for patch in _standing(package, at, high - box.height)]
    return Scene(Box(0, 0, left - APART.as_mm, high), tuple(patches))


def dots_of(scene: Scene) -> tuple[int, int]:
    """Return how many dots a shelf is wide and high on a screen of ninety-six dots an inch."""
    return round(scene.seen.width * _DOTS_PER_MM), round(scene.seen.height * _DOTS_PER_MM)


def _standing(package: Package, x: float, y: float) -> Iterator[Patch]:
    for each in fills(package, outlines(package)):
        if each.kind != "core":  # a bevel is a fraction of a dot here
            yield Area(moved(each.steps, x, y), GREY if each.kind == "window" else each.colour)
