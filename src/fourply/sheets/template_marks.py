"""The points that a shape is set out from: pins of ovals, centres of arcs; about the middle of its box, millimetres."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from fourply.drawing.shapes import Point
from fourply.trade.shapes.arch import Arch, EllipticalArch
from fourply.trade.shapes.corners import Rounded, Scooped
from fourply.trade.shapes.ellipse import Ellipse
from fourply.trade.shapes.regular import Regular
from fourply.trade.shapes.shape import Shape


class Mark(NamedTuple):
    """A point that is pricked through; `name` is what is written beside it, nothing where axes cross there."""

    x: float
    y: float
    name: str = ""


def points_of(shape: Shape) -> tuple[Mark, ...]:
    """Return the points that a shape is set out from, the middle of its box left out.

    >>> from fourply.measure.length import Length
    >>> from fourply.measure.size import Size
    >>> points_of(Ellipse(Size(Length.mm(80), Length.mm(100))))
    (Mark(x=0.0, y=-30.0, name='pin'), Mark(x=0.0, y=30.0, name='pin'))
    """
    return tuple(_points(shape))


def _points(shape: Shape) -> Iterator[Mark]:
    wide, high = shape.size.width.as_mm / 2, shape.size.height.as_mm / 2
    match shape:
        case Ellipse():
            yield from _pins(wide, high, 0.0)
        case Arch():
            yield Mark(0.0, shape.radius.as_mm - high, "centre of the arc")
        case EllipticalArch():
            yield from _pins(wide, shape.rise.as_mm, shape.rise.as_mm - high)
        case Rounded():
            yield from _corners(wide - shape.radius.as_mm, high - shape.radius.as_mm)
        case Scooped():
            yield from _corners(wide - shape.inset.as_mm, high - shape.inset.as_mm)
        case Regular() if shape.sides % 2:
            yield Mark(0.0, high - shape.across.as_mm / 2, "centre")


def _pins(across: float, along: float, down: float) -> Iterator[Mark]:
    """Yield both pins of an ellipse by its half axes, none of a circle; `down` is its centre below the middle."""
    away = math.sqrt(abs(across * across - along * along))
    if away > 0:
        for side in (-away, away):
            yield Mark(side, down, "pin") if across > along else Mark(0.0, down + side, "pin")


def _corners(wide: float, high: float) -> Iterator[Mark]:
    for x, y in ((-wide, -high), (wide, -high), (wide, high), (-wide, high)):
        yield Mark(x, y, "centre of the arc")


def at(mark: Mark, middle: Point, whose: str) -> Mark:
    """Return a mark about another middle, named with what it belongs to."""
    return Mark(mark.x + middle[0], mark.y + middle[1], f"{whose}: {mark.name}" if mark.name else "")
