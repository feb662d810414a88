"""Exactly what a ticket shows, ready to be set: words as they are printed, drawings in real millimetres.

Composition knows nothing of packages and units; it lays these values out. Geometry of the front view is measured from
the top left of the frame (of the package where there is no frame), y down; geometry of the section from the face of
the glazing (x, to the back) and the bottom edge of the package (y, up).
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import NamedTuple

from fourply.drawing.dimension import Dim
from fourply.drawing.pen import Steps
from fourply.drawing.shapes import Box, Point


class Edge(Enum):
    """What an outline of the front view is."""

    OUTSIDE = "outside of the frame"
    LIP = "edge of the lip"
    MITRE = "mitre"
    BLANK = "edge of the package"
    GROOVE = "edge of a groove"
    LINE = "edge of a ruled line"
    INLAY = "edge of an inlay"
    FACE = "edge of the coloured face"
    BACK = "back line of a mat"
    WINDOW = "the window"
    SHEET = "edge of the art"


class Outline(NamedTuple):
    """One outline of the front view in real millimetres."""

    edge: Edge
    steps: Steps


class SightWords(NamedTuple):
    """What stands in a window: its box and the room for words in it, the figure of its sight, notes, its number.

    The only window has number 0; `cut` is where the section cuts it, from the left, None where it does not.
    """

    box: Box
    room: Box
    sight: str
    notes: tuple[str, ...]
    number: int
    cut: float | None


@dataclass(frozen=True, slots=True)
class FrontView:
    """The work as it hangs: its outer size, outlines, dimensions inner tier first, words for the windows.

    Dimensions are in real millimetres along their side.
    """

    width: float
    height: float
    outlines: tuple[Outline, ...]
    bottom: tuple[tuple[Dim, ...], ...]
    left: tuple[tuple[Dim, ...], ...]
    top: tuple[tuple[Dim, ...], ...]
    right: tuple[tuple[Dim, ...], ...]
    windows: tuple[SightWords, ...]


class Filling(Enum):
    """How a layer cut through is shown."""

    EMPTY = "empty"
    SOLID = "solid"
    RISING = "rising lines"
    FALLING = "falling lines"
    WIDE = "wide falling lines"


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer of the section: its name with its thickness, and the areas that the cut shows of it."""

    name: str
    areas: tuple[tuple[Point, ...], ...]
    filling: Filling


class Beside(NamedTuple):
    """A height measured beside the section: where it starts and ends, its name with its figure.

    A `minor` one is left out where there is no room for all.
    """

    start: float
    end: float
    text: str
    minor: bool = False


@dataclass(frozen=True, slots=True)
class SectionView:
    """The section through the bottom rail: layers front to back, the rail, what is measured.

    Between `cut_low` and `cut_high` nothing changes and the drawing is broken; `rail` is the outline of the moulding
    and `point` the depth at which the points are driven; both absent where there is no frame.
    """

    layers: tuple[Layer, ...]
    rail: tuple[Point, ...]
    rail_growth: Point
    bottom: float
    cut_low: float
    cut_high: float
    top: float
    depths: tuple[tuple[Dim, ...], ...]
    beside: tuple[Beside, ...]
    notes: tuple[str, ...]
    point: float | None = None


class Setting(NamedTuple):
    """One figure to set; `reset` where it differs from the cut before."""

    text: str
    reset: bool


@dataclass(frozen=True, slots=True)
class EndRow:
    """One kind of mark at the two ends of the cuts of a window (`pencil`, `stop`, `blade`), in the order of cuts."""

    name: str
    far: tuple[Setting, ...]
    near: tuple[Setting, ...]


@dataclass(frozen=True, slots=True)
class SettingRow:
    """The cuts of one window or groove: what it is, what to mind, the guide for each side, the marks at the ends.

    A side that no guide cuts has an empty setting; without any straight cut there are no guides. `lines` say what is
    set out in another way.
    """

    name: str
    note: str
    guides: tuple[Setting, ...]
    ends: tuple[EndRow, ...]
    lines: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SettingsView:
    """All settings of a work. `sides` name the sides in the order of cutting; `board` is its width and height."""

    heading: str
    sides: tuple[str, ...]
    board: tuple[float, float]
    rows: tuple[SettingRow, ...]
    legend: tuple[str, ...] = ()


class PieceRow(NamedTuple):
    """One piece to cut: what it is, of what and from where, its size."""

    name: str
    note: str
    size: str


class Weight(Enum):
    """How serious a finding is, as its sign shows it."""

    GRAVE = "grave"
    CAUTION = "caution"
    NOTE = "note"
    HOLDS = "holds"


class FindingRow(NamedTuple):
    """One finding, with what puts it right."""

    weight: Weight
    text: str


class WorkingRow(NamedTuple):
    """One line of arithmetic."""

    name: str
    arithmetic: str


class FirstStep(NamedTuple):
    """What spoils the work if it is forgotten."""

    title: str
    detail: str


@dataclass(frozen=True, slots=True)
class TicketView:
    """A whole ticket."""

    number: str
    title: str
    lines: tuple[str, ...]
    corner: tuple[str, ...]
    first: tuple[FirstStep, ...]
    front: FrontView
    section: SectionView
    settings: SettingsView
    pieces: tuple[PieceRow, ...]
    findings: tuple[FindingRow, ...]
    workings: tuple[WorkingRow, ...]
    fitting: tuple[str, ...]
    measured: tuple[str, ...]
    cautions: tuple[str, ...]
