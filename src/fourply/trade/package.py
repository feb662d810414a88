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
from fourply.trade.accents import LineRule
from fourply.trade.findings import Finding, Level
from fourply.trade.materials import Backing, Board, Fillet, Glazing, Moulding, Spacer
from fourply.trade.money import Money
from fourply.trade.shapes.outline import Outline
from fourply.trade.shapes.shape import Shape
from fourply.trade.treatment import Bevel, HingeKind, Treatment
from fourply.trade.work import Artwork, Work
from fourply.working.working import Figures


@dataclass(frozen=True, slots=True)
class Opening:
    """The hole in one mat: the boxes round its two outlines, and the shape of its back line."""

    back: Size
    face: Size
    bevel: Bevel
    shape: Shape
    run: Length

    @property
    def sight(self) -> Size:
        """The box of the inner outline: the back of a normal bevel, the face of a reverse one."""
        return self.back if self.bevel is Bevel.NORMAL else self.face

    @property
    def towards_face(self) -> Length:
        """How far the face outline lies outside the back line, below nothing for a reverse bevel."""
        return self.run if self.bevel is Bevel.NORMAL else -self.run

    def back_outline(self) -> Outline:
        """Return the line that the pencil draws, about the middle of the opening, in millimetres."""
        return self.shape.outline()

    def face_outline(self) -> Outline:
        """Return where the coloured face ends."""
        return self.shape.parallel(self.towards_face)

    def sight_outline(self) -> Outline:
        """Return the inner of the two outlines: the edge of what is seen."""
        return self.back_outline() if self.bevel is Bevel.NORMAL else self.face_outline()


@dataclass(frozen=True, slots=True)
class Groove:
    """A V-groove round the opening: its guide settings (to its back line), its width seen, the strip to the window.

    The drop-out's face before and after its edges are shaved; its back is unchanged. `shave` below nothing leaves the
    groove shallower than the board.
    """

    path: str
    borders: Edges
    width: Length
    strip: Length
    back: Size
    face_cut: Size
    face_shaved: Size
    shape: Shape
    shave: Length
    run: Length


@dataclass(frozen=True, slots=True)
class Line:
    """A ruled line or band of wash: from the edges of the package to its inner edge, and its shape there."""

    path: str
    rule: LineRule
    borders: Edges
    away: Length


@dataclass(frozen=True, slots=True)
class Hole:
    """One opening of a mat in its place: `borders` run from the edges of the package to its back line's box.

    `reveal` is the difference of the guide settings to the mat above, `strip` the flat colour that shows of this mat.
    `fallouts` are the usable rectangles of the piece that falls out: one of them can be used. `scope` begins the paths
    of its figures, empty for the only opening of a work; `title` marks the opening of a title.
    """

    number: int
    scope: str
    opening: Opening
    borders: Edges
    reveal: Length
    strip: Length
    fallouts: tuple[Size, ...]
    grooves: tuple[Groove, ...] = ()
    lines: tuple[Line, ...] = ()
    title: bool = False

    @property
    def place(self) -> Rect:
        """The box of its back line on the package."""
        return Rect(self.borders.left, self.borders.top, self.opening.back)


@dataclass(frozen=True, slots=True)
class Mat:
    """One mat of the stack, the top one first.

    `borders` run from the edge of the package to the back line of its opening, or to the box round all of them;
    `inset` is how far this blank stays inside the package on every side. `grooves` run round all its openings
    together. A `hidden` mat is set back out of sight.
    """

    number: int
    name: str
    board: Board
    run: Length
    blank: Size
    inset: Length
    borders: Edges
    holes: tuple[Hole, ...]
    grooves: tuple[Groove, ...] = ()
    hidden: bool = False

    @property
    def path(self) -> str:
        """The start of its figures' paths."""
        return f"mat.{self.number}"

    @property
    def opening(self) -> Opening:
        """Its first opening."""
        return self.holes[0].opening

    @property
    def reveal(self) -> Length:
        """The reveal of its first opening."""
        return self.holes[0].reveal

    @property
    def strip(self) -> Length:
        """The strip of its first opening."""
        return self.holes[0].strip

    @property
    def fallouts(self) -> tuple[tuple[Size, ...], ...]:
        """What falls out of each of its openings."""
        return tuple(hole.fallouts for hole in self.holes)

    @property
    def all_grooves(self) -> tuple[Groove, ...]:
        """Every groove, in the order of work: round all openings first."""
        return (*self.grooves, *(groove for hole in self.holes for groove in hole.grooves))


@dataclass(frozen=True, slots=True)
class Inlay:
    """A band of another board in the face of the top mat: its edges from the edges of the package, its own blank.

    `hold` is what the blank reaches past the band on every side while it is cut.
    """

    board: Board
    outer: Edges
    inner: Edges
    blank: Size
    hold: Length
    width: Length
    shape: Shape
    run: Length


@dataclass(frozen=True, slots=True)
class Sink:
    """Boards round thick art: so many of one size with one opening, and how high they stand."""

    board: Board
    layers: int
    height: Length
    blank: Size
    opening: Rect
    fallout: Size | None


@dataclass(frozen=True, slots=True)
class ArtPlace:
    """Where a sheet lies on its mount board, how far each edge is covered (below nothing: clear).

    `window` is the box of what is seen of it. `scope` begins the paths of its figures.
    """

    art: Artwork
    sheet: Rect
    image: Rect | None
    window: Rect
    covered: Edges
    scope: str = ""


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

    scope: str
    size: Size
    layers: int
    rise: Length


@dataclass(frozen=True, slots=True)
class Package:
    """Every size of one work, with its figures and its findings."""

    work: Work
    treatment: Treatment
    outer: Size
    mats: tuple[Mat, ...]
    arts: tuple[ArtPlace, ...]
    mount: Board
    hingings: tuple[Hinging, ...]
    stack: Stack
    glazing: Glazing | None
    glazing_size: Size | None
    backing: Backing | None
    backing_size: Size | None
    frame: Frame | None
    strips: tuple[Strips, ...]
    lifts: tuple[Lift, ...]
    figures: Figures
    checks: tuple[Finding, ...]
    inlay: Inlay | None = None
    sink: Sink | None = None

    @property
    def window(self) -> Size:
        """The box of the first window."""
        return self.art.window.size

    @property
    def art(self) -> ArtPlace:
        """The first sheet in its place."""
        return self.arts[0]

    @property
    def lift(self) -> Lift | None:
        """What raises the first sheet that floats, None where none does."""
        return self.lifts[0] if self.lifts else None

    @property
    def hinging(self) -> Hinging:
        """How the first sheet is held."""
        return self.hingings[0]

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What should be looked at, the most serious first."""
        order = list(Level)
        open_ = (check for check in self.checks if check.level is not Level.HOLDS)
        return tuple(sorted(open_, key=lambda finding: order.index(finding.level)))
