"""One cutter, as far as its settings need it.

A nominal cutter has no errors: its guide scale is true and its blade enters and leaves just where geometry says. A
profile says which edge the stops are measured from, since a stop read from the bar moves with the length of the board.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from fourply.measure.length import ZERO, Length


class Side(Enum):
    """The side of the bar on which the guide lies, seen by the person who cuts."""

    LEFT = "left"
    RIGHT = "right"


class StopDatum(Enum):
    """What a stop's scale is measured from."""

    EDGE = "board edge"
    BAR = "bar"


class Direction(Enum):
    """Which way the head travels along the bar, seen by the person who cuts: it starts at the near end or the far."""

    AWAY = "away"
    TOWARDS = "towards"


@dataclass(frozen=True, slots=True)
class Cutter:
    """A cutter's profile. `start` and `stop` are its constants past the geometric corner, found by a test cut."""

    name: str = "nominal cutter"
    guide: Side = Side.LEFT
    stops: StopDatum = StopDatum.EDGE
    start: Length = ZERO
    stop: Length = ZERO
    tested: bool = False
    direction: Direction = Direction.TOWARDS

    def is_start(self, *, far: bool) -> bool:
        """Tell whether the blade enters at that end."""
        return far is (self.direction is Direction.TOWARDS)


@dataclass(frozen=True, slots=True)
class Guided:
    """What a guide is set to for a border: what its scale shows, which border then comes out at mid-length.

    It does within `spread` 95 times in 100. A `strip` lies between guide and board, its width is in the reading.
    `reached` is false where neither the scale nor a strip of the shop reaches the border: the reading is the nearest.
    """

    reading: Length
    gives: Length
    spread: Length = ZERO
    strip: Length = ZERO
    reached: bool = True


NOMINAL = Cutter()
