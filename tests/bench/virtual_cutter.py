"""A mat cutter of air: wood, bar, guide and blade with their errors, and the hand that works it by what it is told.

It knows nothing of how the program thinks of a cutter. Everything is plane geometry on the board: a cut is the line
that the blade draws on the back while one edge of the board lies along the guide, its bevel's face edge a parallel of
that, its ends where the blade really touched the face. Millimetres and degrees throughout.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from random import Random

type Point = tuple[float, float]

SCALE, OFFSET, SKEW, CORNER, READING = 0.01, 1.0, 0.2, 1.5, 0.2
"""Ranges of the errors, either way: share, mm, degrees, mm, mm."""


@dataclass(frozen=True)
class Machine:
    """The errors of one cutter: a true scale shows `scale` 1; the guide turns about the middle of its length.

    The blade falls `short_start` short of where it should touch the face as it enters, `short_stop` as it leaves. The
    board is pushed up against a fence at `fence` along the guide, measured from its middle, or laid with its own middle
    there where there is no fence.
    """

    scale: float
    offset: float
    skew: float
    short_start: float
    short_stop: float
    fence: float | None = None

    @classmethod
    def drawn(cls, random: Random, fence: float | None) -> Machine:
        return cls(
            1 + random.uniform(-SCALE, SCALE),
            random.uniform(-OFFSET, OFFSET),
            random.uniform(-SKEW, SKEW),
            random.uniform(-CORNER, CORNER),
            random.uniform(-CORNER, CORNER),
            fence,
        )

    def distance(self, shown: float, along: float) -> float:
        """Return how far the guide lies from the blade's line, at a place along it, when its scale shows a figure."""
        return self.offset + self.scale * shown + math.tan(math.radians(self.skew)) * along


@dataclass(frozen=True)
class Told:
    """What the hand is told to do for one side: what the scale shows, where the index line starts and ends.

    Both places are measured along the edge at the guide from the corner of the board at that end.
    """

    shown: float
    far: float
    near: float


@dataclass(frozen=True)
class Made:
    """A cut as it is on the board: its line on the back and on the face, each from its near to its far end."""

    back: tuple[Point, Point]
    face: tuple[Point, Point]


FAR = {"top": "left", "left": "bottom", "bottom": "right", "right": "top"}
"""The side at the far end of each cut when the guide lies at the left: the board goes round clockwise."""
NEAR = {far: side for side, far in FAR.items()}


def placed(side: str, board: tuple[float, float], along: float, inward: float) -> Point:
    """Return a point given from the near corner of a side, along its edge and inward, in board coordinates.

    They run as the board is seen from the back: x to the right, y down. The front's left lies at the right.
    """
    width, height = board
    return {
        "top": (along, inward),
        "left": (width - inward, along),
        "bottom": (width - along, height - inward),
        "right": (inward, height - along),
    }[side]


def edge_of(side: str, board: tuple[float, float]) -> float:
    return board[0] if side in ("top", "bottom") else board[1]


def cut(machine: Machine, board: tuple[float, float], side: str, told: Told, run: float) -> Made:
    """Cut one side, towards the person: the blade enters at the far end and leaves at the near one.

    The index line has the run built in: the blade should touch the face one run beyond it, and falls short of that.
    """
    turn, length = math.radians(machine.skew), edge_of(side, board)
    begins = -length / 2 if machine.fence is None else machine.fence
    first = told.near - run + machine.short_stop
    last = length - told.far + run - machine.short_start

    def at(along: float, out: float) -> Point:
        # The edge leans against the guide; the blade's line crosses it at the guide's turn.
        apart = machine.distance(told.shown, begins + along)
        return placed(side, board, along + apart * math.sin(turn), apart * math.cos(turn) - out)

    return Made((at(told.near, 0), at(length - told.far, 0)), (at(first, run), at(last, run)))


def crossing(one: tuple[Point, Point], other: tuple[Point, Point]) -> Point:
    """Return where two lines cross."""
    (x1, y1), (x2, y2) = one
    (x3, y3), (x4, y4) = other
    a, b = (x2 - x1, y2 - y1), (x4 - x3, y4 - y3)
    t = ((x3 - x1) * b[1] - (y3 - y1) * b[0]) / (a[0] * b[1] - a[1] * b[0])
    return x1 + t * a[0], y1 + t * a[1]


def overcuts(made: Mapping[str, Made]) -> dict[tuple[str, str], float]:
    """Return how far each cut runs past the corner that the face really has, by side and end; below nothing short."""
    found = {}
    for side, one in made.items():
        near, far = one.face
        way = ((far[0] - near[0]) / math.dist(near, far), (far[1] - near[1]) / math.dist(near, far))
        for end, point, sign, other in (("far", far, 1, FAR[side]), ("near", near, -1, NEAR[side])):
            corner = crossing(one.face, made[other].face)
            found[side, end] = sign * ((point[0] - corner[0]) * way[0] + (point[1] - corner[1]) * way[1])
    return found


def border(made: Mapping[str, Made], board: tuple[float, float], side: str, end: str) -> float:
    """Return the border of one side as a rule reads it on the back: at mid-length or at either end of the line."""
    line = made[side].back
    far, near = (crossing(line, made[other].back) for other in (FAR[side], NEAR[side]))
    point = {"far": far, "near": near, "mid": ((far[0] + near[0]) / 2, (far[1] + near[1]) / 2)}[end]
    return {"top": point[1], "left": board[0] - point[0], "bottom": board[1] - point[1], "right": point[0]}[side]


def read(value: float, random: Random) -> float:
    """Return what a person reads of a length, on a rule of tenths of a millimetre."""
    return round(value + random.uniform(-READING, READING), 1)
