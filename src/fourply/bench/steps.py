"""The work of a whole show as values: blocks in order, each one thing that is set and the pieces it is done to.

Nothing here decides; `bench/show.py` does. A block holds for one state of the bench: what changes from the block before
is named, so a page can print bold what must be set anew. Blocks with the same guide reading follow one another wherever
that saves time and may be printed under one figure. Sides keep the names that they have in front, as everywhere at the
bench; far and near ends are named by the side that they lie towards.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from fourply.measure.length import Length
from fourply.measure.size import Size


class Kind(Enum):
    """What is done in a block."""

    BLANK = "blanking"
    MARK = "marking"
    CUT = "cutting along the guide"
    OVAL = "ovals"
    HAND = "by hand, the guide stays"
    STACK = "off the bar"


class Head(Enum):
    """What holds the blade, or the pencil."""

    SQUARE = "square cut"
    PENCIL = "pencil"
    BEVEL = "bevel"
    REVERSE = "reverse bevel"
    UPRIGHT = "upright blade"
    OVAL = "oval cutter"
    GLASS = "glass cutter"


@dataclass(frozen=True, slots=True)
class Setting:
    """The state of the bench in a block; what is None is not needed and stays as it is.

    `board` names what the blade goes through, a stack as all its boards. `guide` is what its scale shows, with a
    `strip` between guide and board where there is one. `stop` is the stop of a square cut, None for the clean edge that
    is made first. `oval` is half the axes' difference and half the longer axis.
    """

    head: Head | None = None
    board: str | None = None
    guide: Length | None = None
    far: Length | None = None
    near: Length | None = None
    stop: Length | None = None
    oval: tuple[Length, Length] | None = None
    strip: Length | None = None


@dataclass(frozen=True, slots=True)
class Strike:
    """One cut, line or other thing done to one piece.

    `figure` begins the paths of its figures among those of the work's settings, empty for a cut of blanking, whose
    `number` is that of its ring on the cutting sheet. `hole` numbers the openings of a mat that has several. `far` and
    `near` are the sides that its ends lie towards, empty where it has none.
    """

    operation: str
    side: str = ""
    figure: str = ""
    hole: int = 0
    number: int = 0
    far: str = ""
    near: str = ""
    length: Length | None = None


@dataclass(frozen=True, slots=True)
class Fall:
    """What comes off or falls out: its size where it has one, where it goes, the label to write on it."""

    what: str
    goes: str
    label: str = ""
    size: Size | None = None


@dataclass(frozen=True, slots=True)
class Handling:
    """One piece handled in a block: what is cut on it, in order.

    `work` and `board` lead to its figures (`05`, `mat.1`), both empty for a sheet. `name` is what the bench calls it,
    `label` what is written on it (`board 2, piece 3`). `held` says that it lies on the cutter from the block before;
    `turns` how often it is turned. `copies` pieces alike are done one after the other.
    """

    work: str
    board: str
    name: str
    label: str
    size: Size
    strikes: tuple[Strike, ...]
    title: str = ""
    copies: int = 1
    held: bool = False
    turns: int = 0
    falls: tuple[Fall, ...] = ()


@dataclass(frozen=True, slots=True)
class Use:
    """An entry of the table of times, and how often (or how many metres) it counts."""

    entry: str
    count: float


@dataclass(frozen=True, slots=True)
class Block:
    """One thing that is set, and what is done with it set.

    `changed` names the parts of the setting that are not as before: head, board, guide, far, near, stop, oval.
    `seconds` are its own, `ends` those from the start of the show; `uses` is what they are made of.
    """

    number: int
    kind: Kind
    stage: str
    setting: Setting
    changed: tuple[str, ...]
    handlings: tuple[Handling, ...]
    cautions: tuple[str, ...]
    seconds: float
    ends: float
    uses: tuple[Use, ...]


@dataclass(frozen=True, slots=True)
class Tally:
    """What an order of work costs: settings changed (guide, stops, heads, boards), pieces handled, seconds.

    `guides` counts how often the guide is set, the first time too; `stops` each far and near stop.
    """

    name: str
    guides: int
    stops: int
    heads: int
    boards: int
    handled: int
    turned: int
    seconds: float


@dataclass(frozen=True, slots=True)
class Stage:
    """A part of the show's work with its time: expected, and between which two it will most likely lie."""

    name: str
    seconds: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Person:
    """What one of two people does: blocks by their numbers in order, and when each may begin."""

    name: str
    blocks: tuple[int, ...]
    begins: tuple[float, ...]
    seconds: float


@dataclass(frozen=True, slots=True)
class Steps:
    """The order of work of a whole show.

    `window` is what its windows cost in this order, `obvious` what they would in other orders, `bound` the seconds of
    windows that no order can beat. `times` names the table of times and how far it is to be trusted.
    """

    show: str
    cutter: str
    times: str
    blocks: tuple[Block, ...]
    window: Tally
    obvious: tuple[Tally, ...]
    bound: float
    stages: tuple[Stage, ...]
    people: tuple[Person, ...]

    @property
    def proved(self) -> bool:
        """Whether no order of the windows takes less time by this table."""
        return self.window.seconds <= self.bound + 1e-6
