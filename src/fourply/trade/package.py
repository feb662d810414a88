"""The resolved package: every size of one framed work.

What stands here has been worked out; nothing here decides. Places are from the top left of the package as it hangs.
Each figure that a person may act on is in `figures` under its path, with the working that answers why.

Which outline an opening's size belongs to is always named: `back` is the line that the pencil draws and the guide
sets, `face` is where the coloured paper ends, `sight` is whichever of the two is the inner one.
"""

from __future__ import annotations

from dataclasses import dataclass

from fourply.measure.length import Length
from fourply.measure.size import Edges, Rect, Size
from fourply.trade.findings import Finding, Level
from fourply.trade.materials import Backing, Board, Fillet, Glazing, Moulding, Spacer
from fourply.trade.money import Money
from fourply.trade.treatment import Bevel, HingeKind, Treatment
from fourply.trade.work import Work
from fourply.working.working import Figures


@dataclass(frozen=True, slots=True)
class Opening:
    """The hole in one mat by its two outlines."""

    back: Size
    face: Size
    bevel: Bevel

    @property
    def sight(self) -> Size:
        """The inner outline: the back of a normal bevel, the face of a reverse one."""
        return self.back if self.bevel is Bevel.NORMAL else self.face


@dataclass(frozen=True, slots=True)
class Groove:
    """A V-groove round the opening: its guide settings (to its back line), its width seen, the strip to the window.

    The drop-out's face before and after its four edges are shaved; its back is unchanged.
    """

    borders: Edges
    width: Length
    strip: Length
    back: Size
    face_cut: Size
    face_shaved: Size


@dataclass(frozen=True, slots=True)
class Mat:
    """One mat of the stack, the top one first.

    `borders` run from the edge of the package to the back line; `inset` is how far this blank stays inside the
    package on every side; `reveal` is the difference of the guide settings to the mat above, `strip` the flat colour
    that shows of it. `fallouts` are the usable rectangles of the piece that falls out: one of them can be used.
    """

    number: int
    board: Board
    run: Length
    blank: Size
    inset: Length
    borders: Edges
    opening: Opening
    reveal: Length
    strip: Length
    fallouts: tuple[Size, ...]
    groove: Groove | None = None

    @property
    def path(self) -> str:
        """The start of its figures' paths."""
        return f"mat.{self.number}"


@dataclass(frozen=True, slots=True)
class ArtPlace:
    """Where the sheet lies on its mount board, how far each edge is covered (below nothing: clear)."""

    sheet: Rect
    image: Rect | None
    window: Rect
    covered: Edges


@dataclass(frozen=True, slots=True)
class Hinging:
    """How the art is held: the kind, and each hinge's distance from the left edge of the sheet to its middle.

    `board_edge` is the side on which window and mount board are hinged to one another.
    """

    kind: HingeKind
    at: tuple[Length, ...]
    board_edge: str


@dataclass(frozen=True, slots=True)
class Rail:
    """One side of the frame, or `count` alike; mitre in degrees from a square cut."""

    side: str
    moulding: Moulding
    long_point: Length
    short_point: Length
    mitre_deg: float
    count: int = 1


@dataclass(frozen=True, slots=True)
class Frame:
    """The frame: what the package lies in, what is seen through, what it measures outside; its rails.

    `chop` is what its rails cost cut to size by the supplier, `join` what they cost cut and joined; None where that is
    not offered.
    """

    moulding: Moulding
    rabbet: Size
    sight: Size
    outside: Size
    rails: tuple[Rail, ...]
    sides: int = 4
    chop: Money | None = None
    join: Money | None = None

    @property
    def least_lip(self) -> Length:
        """The narrowest lip of its rails: what is surely hidden and held all round."""
        return min(rail.moulding.lip for rail in self.rails)


@dataclass(frozen=True, slots=True)
class StackLayer:
    """One layer of the package, front to back."""

    name: str
    material: str
    thickness: Length


@dataclass(frozen=True, slots=True)
class Stack:
    """All layers front to back, against the depth of the rabbet where there is one."""

    layers: tuple[StackLayer, ...]
    depth: Length
    rabbet: Length | None
    spare: Length | None


@dataclass(frozen=True, slots=True)
class Strips:
    """Strips cut to length: spacers under the glazing, or a fillet in the window."""

    role: str
    spacer: Spacer | Fillet
    lengths: tuple[tuple[str, Length], ...]


@dataclass(frozen=True, slots=True)
class Lift:
    """What raises a floated sheet: so many layers of mount board of one size, and how far they raise it."""

    size: Size
    layers: int
    rise: Length


@dataclass(frozen=True, slots=True)
class Package:
    """Every size of one work, with its figures and its findings."""

    work: Work
    treatment: Treatment
    outer: Size
    window: Size
    mats: tuple[Mat, ...]
    art: ArtPlace
    mount: Board
    hinging: Hinging
    stack: Stack
    glazing: Glazing | None
    glazing_size: Size | None
    backing: Backing | None
    backing_size: Size | None
    frame: Frame | None
    strips: tuple[Strips, ...]
    lift: Lift | None
    figures: Figures
    checks: tuple[Finding, ...]

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What should be looked at, the most serious first."""
        order = list(Level)
        open_ = (check for check in self.checks if check.level is not Level.HOLDS)
        return tuple(sorted(open_, key=lambda finding: order.index(finding.level)))
