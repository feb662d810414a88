"""Cuts as values: what is set, where a blade enters and leaves, how an arc or an oval is set out.

All is seen from the back, the board face down. The four sides keep the names that they have in front, so the cut of
the left side lies at the right; a `Spot` is measured from edges as the board lies. Every length here is a figure of
the settings' ledger, so nothing is left to be added up at the bench.
"""

from __future__ import annotations

from dataclasses import dataclass

from fourply.bench.cutter import Guided
from fourply.measure.length import ZERO, Length
from fourply.measure.size import Edges, Size


@dataclass(frozen=True, slots=True)
class End:
    """One end of a cut: the side it runs to, the pencil crossing from that edge, the stop's reading, the blade.

    `off` is how far past its place the blade comes since the stop's scale shows no finer, below nothing short of it.
    Without a stop on the cutter (`stopped` is false) the index line is brought to its place by the pencil line.
    """

    towards: str
    crossing: Length
    stop: Length
    blade: Length
    off: Length = ZERO
    stopped: bool = True


@dataclass(frozen=True, slots=True)
class Cut:
    """One straight cut along one side: its border at the guide, its far and near end, its length on the face.

    `guided` is what the guide's scale is set to for that border, which on a cutter without errors is the border itself.
    `changed` is what must be set anew after the cut before: guide, far, near. `ring` numbers the rectangles of stepped
    corners, the outermost first; it is nothing elsewhere. `part` is 1 or 2 where only the far or the near end of the
    line is cut, since what falls out must stay whole.
    """

    side: str
    figure: str
    guide: Length
    guided: Guided
    far: End
    near: End
    changed: tuple[str, ...]
    length: Length
    ring: int = 0
    part: int = 0

    @property
    def reset(self) -> frozenset[str]:
        """What must be set anew."""
        return frozenset(self.changed)


@dataclass(frozen=True, slots=True)
class Spot:
    """A point on the back by its distance from two edges as the board lies, face down: the nearer ones.

    `across` is from the left edge (the right one where `right`), `down` from the top (the bottom where `low`).
    """

    figure: str
    across: Length
    down: Length
    right: bool = False
    low: bool = False

    def on(self, board: Size) -> tuple[Length, Length]:
        """Return the place from the left and the top edge as the board lies.

        >>> spot = Spot("", Length.mm(20), Length.mm(30), right=True)
        >>> [length.as_mm for length in spot.on(Size(Length.mm(100), Length.mm(80)))]
        [80.0, 30.0]
        """
        across = board.width - self.across if self.right else self.across
        return across, board.height - self.down if self.low else self.down


@dataclass(frozen=True, slots=True)
class Slant:
    """A straight cut along no side, between two points.

    `line` is its pencil line, `past` what the blade adds at each end, `length` the cut on the face.
    """

    figure: str
    start: Spot
    end: Spot
    line: Length
    past: Length
    length: Length


@dataclass(frozen=True, slots=True)
class Arc:
    """An arc of a circle, or of an ellipse where the two radii differ: its centre, its ends, the length of its line."""

    figure: str
    centre: Spot
    radius: Length
    upright: Length
    start: Spot
    end: Spot
    line: Length


@dataclass(frozen=True, slots=True)
class Oval:
    """A whole oval: its centre and axes, and what sets it out.

    `semi` are half the axes; `difference` is what a trammel's sliders lie apart; two pins stand `pins` apart on the
    longer axis, `pin` from the centre each, in a closed `loop` of string. A circle has no pins. `scale` is what an oval
    cutter is set to, None where none is known; it works on the face where `face_up`.
    """

    figure: str
    centre: Spot
    axes: Size
    semi: tuple[Length, Length]
    difference: Length
    pins: Length
    pin: Length
    loop: Length
    scale: Size | None = None
    reads: str = ""
    face_up: bool = False

    @property
    def circle(self) -> bool:
        """Whether both axes are alike."""
        return self.axes.width == self.axes.height


@dataclass(frozen=True, slots=True)
class Template:
    """A line that no guide makes, followed along a template.

    `corner` is the upper left one of its box as the board lies, `size` that of the box, `line` its length.
    """

    figure: str
    corner: Spot
    size: Size
    line: Length


@dataclass(frozen=True, slots=True)
class Shave:
    """The shaving of a groove's drop-out, face up, the tip of the blade on the back arris.

    Its back stays, its face goes from one size to a smaller one; the `sliver` is so wide at the face and nothing at
    the back. `depth` is that of a groove that does not go through the board, none for one that does.
    """

    figure: str
    back: Size
    before: Size
    after: Size
    sliver: Length
    depth: Length | None
    straight: Length
    curved: Length


@dataclass(frozen=True, slots=True)
class Ruled:
    """A line or band of wash on the face, ruled from the face edge of the window: its distance and its width."""

    figure: str
    distance: Length
    width: Length
    wash: bool
    borders: Edges


type Task = Cut | Slant | Arc | Oval | Template | Shave | Ruled


@dataclass(frozen=True, slots=True)
class Operation:
    """One opening, groove or band of one board: its cuts in order, and what to do with what falls out.

    `board` begins the paths of the board's figures, `size` is what it registers on; `mat` is nothing where the board
    is no mat. `hole` numbers the openings of a mat that has several. `copies` boards are cut alike. `straight` and
    `curved` are the lengths of blade in board.
    """

    name: str
    board: str
    mat: int
    then: str
    size: Size
    tasks: tuple[Task, ...]
    hole: int = 0
    copies: int = 1
    straight: Length = ZERO
    curved: Length = ZERO

    @property
    def cuts(self) -> tuple[Cut, ...]:
        """The straight cuts along its sides."""
        return tuple(task for task in self.tasks if isinstance(task, Cut))


@dataclass(frozen=True, slots=True)
class BoardLength:
    """How much is cut in the boards of one kind: straight, and along curves; grooves, shaving and waste among it."""

    board: str
    straight: Length
    curved: Length
