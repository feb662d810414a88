"""What the bench list shows, as text and outlines: built from the order of work, drawn without knowing it.

A group stands under one large figure, what is set; it holds strips, each of which stays together on a page. What is
bold differs from before and is set anew; what is light is left as it is.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from fourply.drawing.pen import Steps


@dataclass(frozen=True, slots=True)
class Picture:
    """A board as it lies, face down: width and height in real millimetres, its lines, and those to cut now."""

    size: tuple[float, float]
    lines: tuple[Steps, ...] = ()
    heavy: tuple[Steps, ...] = ()


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure to set, what it is called, and whether it must be set anew."""

    name: str
    text: str
    reset: bool = True


@dataclass(frozen=True, slots=True)
class Heading:
    """What is done to the pieces below it, and the stops with what they are read from."""

    text: str
    stops: tuple[Figure, ...] = ()
    note: str = ""


@dataclass(frozen=True, slots=True)
class Tile:
    """One piece: its work's number, the sides to cut in order, what else tells it from others, its picture.

    Its title is cut short where it has no room.
    """

    number: str
    sides: str
    lines: tuple[str, ...]
    picture: Picture
    title: str = ""


@dataclass(frozen=True, slots=True)
class Tiles:
    """Pieces side by side, as many as there is room for `across`."""

    tiles: tuple[Tile, ...]
    across: int = 3


@dataclass(frozen=True, slots=True)
class Alone:
    """The only piece under its heading, set beside its stops; `text` is what is set out on it."""

    heading: Heading
    tile: Tile
    text: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Line:
    """A thing to do, with a box to tick where `box`; `rings` are numbers of cuts on the cutting sheet."""

    strong: str
    text: str = ""
    box: bool = True
    rings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Caution:
    """What to mind before the step below it."""

    text: str


type Row = Heading | Tiles | Alone | Line | Caution
type Strip = tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class Group:
    """All that is done under the same large figures; `name` stands where there is none, `notes` below.

    `states` say, for each strip, what else the bench is set to when it is done: the head, the board it is set for.
    A `small` group has its figure at half the size.
    """

    big: tuple[Figure, ...]
    name: str
    notes: tuple[str, ...]
    strips: tuple[Strip, ...]
    states: tuple[str, ...] = ()
    small: bool = False


@dataclass(frozen=True, slots=True)
class Part:
    """A stage of the work with its time."""

    name: str
    note: str
    groups: tuple[Group, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """A table of the totals: its heading, what its columns are, its rows, a line below; the first row may be bold."""

    heading: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    note: str = ""
    bold: int = -1


@dataclass(frozen=True, slots=True)
class BenchView:
    """The whole list: head, parts in order, totals."""

    title: str
    lines: tuple[str, ...]
    corner: tuple[str, ...]
    parts: tuple[Part, ...]
    totals: tuple[Table, ...]
    foot: str

    def groups(self) -> Iterator[Group]:
        """Yield the groups of all parts in order."""
        for part in self.parts:
            yield from part.groups
