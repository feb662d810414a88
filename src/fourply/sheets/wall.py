"""Works as they hang on one base line at one scale: how large each is on a screen, and the rule along the wall.

The scale is an inch to the foot, eight dots an inch: 1:12 on a screen of ninety-six dots an inch.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from fourply.drawing.scene import Scene
from fourply.drawing.shapes import Box
from fourply.measure.length import Length
from fourply.measure.size import Size
from fourply.sheets.front_view import reach_of
from fourply.sheets.preview import preview
from fourply.trade.package import Package

SCALE = "1:12"
_DOTS_PER_MM = 8 / 25.4
_LEAST_DOTS = 6


def dots(length: Length) -> int:
    """Return how many dots a length is on the wall.

    >>> dots(Length.inches(12)), dots(Length.mm(100))
    (96, 31)
    """
    return max(_LEAST_DOTS, int(length.as_mm * _DOTS_PER_MM + 0.5))


def outside(package: Package) -> Box:
    """Return the box of the finished work, in millimetres from its top left."""
    frame, outer = package.frame, package.outer
    if frame is None:
        return Box(0, 0, outer.width.as_mm, outer.height.as_mm)
    if frame.sides == 4:
        return Box(0, 0, frame.outside.width.as_mm, frame.outside.height.as_mm)
    left, top, right, bottom = reach_of(frame)
    return Box(0, 0, left + right, top + bottom)


def seen_dots(package: Package) -> tuple[int, int]:
    """Return how many dots the finished work is wide and high on the wall."""
    box = outside(package)
    width, height = (int(side * _DOTS_PER_MM + 0.5) for side in (box.width, box.height))
    return max(_LEAST_DOTS, width), max(_LEAST_DOTS, height)


def standing(package: Package) -> Scene:
    """Return the finished work alone, to its very edge, with no wall behind it."""
    return replace(preview(package, wall=None), seen=outside(package), shadows=())


def finished(package: Package) -> Size:
    """Return the size of the finished work: the frame's outside, or the package's where there is no frame."""
    return package.outer if package.frame is None else package.frame.outside


@dataclass(frozen=True, slots=True)
class Tick:
    """A division of the rule along the wall: where it is, how tall, what stands at it."""

    at: float
    tall: int
    word: str = ""


def rule_ticks(*, metric: bool, feet: int = 24) -> Iterator[Tick]:
    """Yield the divisions of the rule: inches with feet named, or five centimetres with half metres named.

    >>> [tick.word for tick in rule_ticks(metric=False, feet=2) if tick.word]
    ["0'", "1'", "2'"]
    """
    if metric:
        for step in range(feet * 6 + 1):
            named = step % 10 == 0
            yield Tick(step * 50 * _DOTS_PER_MM, 11 if named else 4, f"{step * 5} cm" if named else "")
        return
    for inch in range(feet * 12 + 1):
        named = inch % 12 == 0
        tall = 11 if named else 7 if inch % 6 == 0 else 4
        yield Tick(inch * 8, tall, f"{inch // 12}'" if named else "")
