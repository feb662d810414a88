"""How light falls on slopes: one lamp, above and to the left of whoever looks, and the light of the room.

Tones are judged by eye, not photometry: the lamp's share follows Lambert's cosine, the room's share is even, and
what is flat keeps its own colour.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence

from fourply.drawing.scene import Area, Colour, mitre, outward
from fourply.drawing.shapes import Point, polygon

_LAMP = (-0.42, -0.56, 0.714)  # to the lamp: right, down, towards who looks; a direction of length 1
_ROOM = 0.62
_TONES = 36  # a slope that turns is drawn in so many tones a turn


def tone(facing: Point, steepness_deg: float) -> float:
    """Return how bright a slope is against the flat; `facing` is the unit direction, on the page, that it falls to.

    >>> tone((0.0, 1.0), 45) < tone((0.0, 1.0), 0) == 1.0 < tone((0.0, -1.0), 45)
    True
    """
    lean, up = math.sin(math.radians(steepness_deg)), math.cos(math.radians(steepness_deg))
    direct = lean * (facing[0] * _LAMP[0] + facing[1] * _LAMP[1]) + up * _LAMP[2]
    return _ROOM + (1 - _ROOM) * max(0.0, direct) / _LAMP[2]


def gloss(facing: Point, steepness_deg: float, *, polish: float = 14) -> float:
    """Return the share of the lamp that a polished slope throws to who looks, 0 to 1 (Blinn's half-way rule)."""
    half = (_LAMP[0], _LAMP[1], _LAMP[2] + 1)
    length = math.hypot(*half)
    lean, up = math.sin(math.radians(steepness_deg)), math.cos(math.radians(steepness_deg))
    along = (lean * (facing[0] * half[0] + facing[1] * half[1]) + up * half[2]) / length
    return float(max(0.0, along) ** polish)


def lit(colour: Colour, brightness: float, shine: float = 0.0) -> Colour:
    """Return a colour brighter or darker by a factor, and mixed with so much of white.

    >>> lit("#804020", 0.5), lit("#804020", 1.0, 0.5), lit("#ffffff", 1.2)
    ('#402010', '#c0a090', '#ffffff')
    """
    parts = (int(colour[at : at + 2], 16) * brightness for at in (1, 3, 5))
    shone = (min(255.0, part + (255 - part) * shine) for part in parts)
    return "#" + "".join(f"{math.floor(part + 0.5):02x}" for part in shone)


def slopes(
    points: Sequence[Point], near: float, far: float, colour: Colour, steepness_deg: float, *, inwards: bool
) -> Iterator[Area]:
    """Yield the lit band that runs along a closed outline, between two distances outside it.

    `points` go round clockwise on screen; corners are mitred. The slope falls to the inside or to the outside. Each
    area reaches a little under the one after it, so that nothing shows through between them.
    """
    count = len(points)
    normals = [outward(points[i], points[(i + 1) % count]) for i in range(count)]
    mitres = [mitre(normals[i - 1], normals[i]) for i in range(count)]
    keys = [round(math.atan2(y, x) / math.tau * _TONES) % _TONES for x, y in normals]
    start = next((i for i in range(count) if keys[i] != keys[i - 1]), 0)
    order = [(start + i) % count for i in range(count)]
    for _, run in itertools.groupby(order, key=keys.__getitem__):
        sides = list(run)
        smooth = _meet_smoothly(normals, sides[-1])
        corners = [*sides, (sides[-1] + 1) % count, *([(sides[-1] + 2) % count] if smooth else [])]
        middle = normals[sides[len(sides) // 2]]
        facing = (-middle[0], -middle[1]) if inwards else middle
        inner = [_along(points[i], mitres[i], near) for i in corners]
        outer = [_along(points[i], mitres[i], far) for i in reversed(corners)]
        yield Area(polygon([*inner, *outer]), lit(colour, tone(facing, steepness_deg)))


def _meet_smoothly(normals: Sequence[Point], side: int) -> bool:
    here, there = normals[side], normals[(side + 1) % len(normals)]
    return here[0] * there[0] + here[1] * there[1] > 0.9


def _along(point: Point, way: Point, by: float) -> Point:
    return point[0] + by * way[0], point[1] + by * way[1]
