"""What is done to a mat beside its window: grooves, lines, inlays, titles; how several openings are laid out.

Values only, a rule each; `resolve` works out every size from them.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from fourply.measure.length import ZERO, Length
from fourply.measure.size import Size
from fourply.trade.shapes.rule import ShapeRule

_MOST_PLACES = 60


class Round(Enum):
    """What an accent runs round: each window by itself, or all of them together."""

    WINDOW = "window"
    ALL = "all"


@dataclass(frozen=True, slots=True)
class GrooveRule:
    """A V-groove: how far its back line lies outside the window's, and how far the shave passes the arris.

    `shave` is nothing for the full depth and below nothing for a shallower groove; it cannot be above nothing, where
    the gap would not close. Without a `shape` the groove follows the window.
    """

    distance: Length
    shave: Length = ZERO
    shape: ShapeRule | None = None
    round: Round = Round.WINDOW

    def __post_init__(self) -> None:
        if self.distance <= ZERO:
            msg = "a groove lies outside the window by more than nothing"
            raise ValueError(msg)
        if self.shave > ZERO:
            msg = "the shave of a groove stays at or short of the arris: past it the groove stands open"
            raise ValueError(msg)


@dataclass(frozen=True, slots=True)
class LineRule:
    """A ruled line on the face of the top mat, or a band of wash.

    `distance` runs from the face edge of the window to the nearer edge of the line; `width` is that of the pen, or of
    the band where `wash` is set.
    """

    distance: Length
    width: Length
    colour: str = "#23262B"
    wash: bool = False

    def __post_init__(self) -> None:
        if self.distance < ZERO or self.width <= ZERO:
            msg = "a line lies at or outside the face edge and has a width"
            raise ValueError(msg)


@dataclass(frozen=True, slots=True)
class TitleRule:
    """A small opening for a title, centred below the windows, in the middle of the bottom border unless dropped.

    `size` is its sight; `drop` the way from the block of windows to it at the back line, none for the middle.
    """

    size: Size
    drop: Length | None = None


@dataclass(frozen=True, slots=True)
class InlayRule:
    """A band of another board let into the face of the top mat, `distance` outside the window's back line."""

    board: str
    distance: Length
    width: Length

    def __post_init__(self) -> None:
        if self.distance <= ZERO or self.width <= ZERO:
            msg = "an inlay lies outside the window and has a width"
            raise ValueError(msg)


@dataclass(frozen=True, slots=True)
class SinkRule:
    """Boards cut out round thick art so that the package lies flat; `clearance` is left on every side of the art."""

    board: str
    clearance: Length


class Arrange(Enum):
    """How several openings lie."""

    ROW = "row"
    COLUMN = "column"
    GRID = "grid"
    FREE = "free"
    AUTO = "auto"


class Gaps(Enum):
    """How wide the gutters are: as given, filling what the borders leave, or equal to the borders at the ends."""

    GIVEN = "given"
    FILL = "fill"
    EVEN = "even"


class Align(Enum):
    """How openings of different sizes stand beside one another: by their tops, their middles, their base line."""

    TOP = "top"
    CENTRE = "centre"
    BASE = "base"


@dataclass(frozen=True, slots=True)
class LayoutRule:
    """How the openings of one mat are laid out.

    `gutter` is between the back lines of the top mat. `columns` is for a grid. `places` are for free placement: the
    left and top of each opening's back box from those of the first, which may be negative.
    """

    arrange: Arrange = Arrange.ROW
    gutter: Length = Length.inches(1)
    gaps: Gaps = Gaps.GIVEN
    align: Align = Align.CENTRE
    columns: int = 0
    places: tuple[tuple[Length, Length], ...] = ()

    def __post_init__(self) -> None:
        if self.gutter < ZERO:
            msg = "a gutter is not below nothing"
            raise ValueError(msg)
        if self.arrange is Arrange.GRID and not 1 <= self.columns <= _MOST_PLACES:
            msg = f"a grid has 1 to {_MOST_PLACES} columns"
            raise ValueError(msg)
        if self.arrange is Arrange.FREE and not self.places:
            msg = "free placement names the place of every opening"
            raise ValueError(msg)
        if self.arrange is Arrange.FREE and self.gaps is not Gaps.GIVEN:
            msg = "openings that are placed freely have no gutters to fill"
            raise ValueError(msg)


ONE_ROW = LayoutRule()
"""Openings side by side, an inch apart."""
