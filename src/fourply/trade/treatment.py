"""How a work is to be matted and framed: rules, not sizes.

A treatment is settled from layers: the shop's defaults, the show's, a named treatment, the work itself. A later layer
wins field by field; what it does not name is inherited, and every field knows which layer it came from. Resolving a
work against its treatment gives the package, every size of it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, fields, replace
from enum import Enum
from fractions import Fraction

from fourply.errors import BadTreatment, Unknown
from fourply.measure.length import ZERO, Length
from fourply.measure.rounding import HALF_MILLIMETRE, THIRTY_SECOND, Grid
from fourply.measure.size import Edges, Size
from fourply.trade.accents import ONE_ROW, GrooveRule, InlayRule, LayoutRule, LineRule, SinkRule, TitleRule
from fourply.trade.shapes.rule import RECTANGULAR, ShapeRule


class WindowFrom(Enum):
    """What the window is measured from."""

    SHEET = "sheet"
    IMAGE = "image"
    FLOAT = "float"


class Bevel(Enum):
    """Which way the cut leans: normal shows the core, reverse hides it."""

    NORMAL = "normal"
    REVERSE = "reverse"


class RevealMeans(Enum):
    """What the reveal of an under-mat states: the difference of two guide settings, or the flat strip seen."""

    GUIDE = "guide"
    FLAT = "flat"


class BorderMeans(Enum):
    """What a border states: the width that is cut, or what is seen beside the lip of the moulding."""

    CUT = "cut"
    VISIBLE = "visible"


class Service(Enum):
    """How a frame is bought: as sticks cut in the shop, cut to size, cut and joined, or whichever costs least."""

    LENGTH = "length"
    CHOP = "chop"
    JOIN = "join"
    CHEAPEST = "cheapest"


class HingeKind(Enum):
    """How the art is held to its mount board."""

    TEE = "T-hinge"
    THROUGH = "pass-through hinge"
    CORNERS = "paper corners"


class BottomRule(Enum):
    """How the bottom border follows from the top one."""

    EQUAL = "equal"
    AMOUNT = "amount"
    RATIO = "ratio"
    WIDTH = "width"
    OPTICAL = "optical"
    OPTICAL_CLAMPED = "optical clamped"
    GOLDEN = "golden"


@dataclass(frozen=True, slots=True)
class Bottom:
    """A rule for the bottom border, with its amount, ratio or width where the rule takes one."""

    rule: BottomRule = BottomRule.EQUAL
    amount: Length = ZERO
    ratio: Fraction = Fraction(1)

    def __post_init__(self) -> None:
        if not 0 < self.ratio <= 10:
            msg = "a bottom border is more than nothing and at most ten times the top"
            raise ValueError(msg)
        if self.amount < ZERO:
            msg = "a bottom border is wider than the top by an amount that is not below nothing"
            raise ValueError(msg)


@dataclass(frozen=True, slots=True)
class MatRule:
    """One mat of a stack: its board, and its reveal beside the mat above it (nothing for the top mat).

    Without a `shape` it opens as the mat under it does, the innermost as the treatment says. A mat with a `setback`
    is a spacer: its opening lies so far back behind the mat above that nothing of it is seen.
    """

    board: str
    reveal: Length = ZERO
    means: RevealMeans = RevealMeans.GUIDE
    bevel: Bevel = Bevel.NORMAL
    shape: ShapeRule | None = None
    setback: Length = ZERO

    def __post_init__(self) -> None:
        if self.reveal < ZERO or self.setback < ZERO:
            msg = "a reveal or setback is not below nothing"
            raise ValueError(msg)
        if self.setback and self.shape is not None:
            msg = "a mat that is set back out of sight follows the shape of the mat above it"
            raise ValueError(msg)


@dataclass(frozen=True, slots=True)
class Treatment:
    """Every rule that a package is resolved from. Names of materials; "" for none.

    Borders are to the back line of the top mat; the window is the innermost sight. `outer` (or `frame`, a ready-made
    frame) fixes the package and lets the borders follow; `group` gives the works that name it one common outer size.
    Where a mat has several openings, `openings` says for each what differs there (its shape, its window, its reveals).
    """

    window: WindowFrom = WindowFrom.SHEET
    overlap: Length = Length.inches(1, 8)
    overlap_least: Length = Length.mm(3, 2)
    paper_sides: Length = Length.inches(1, 4)
    paper_top: Length = Length.inches(1, 4)
    paper_bottom: Length = Length.inches(1, 2)
    float_gap: Length = Length.inches(1, 2)
    float_lift: Length = Length.inches(3, 16)
    float_setback: Length = Length.inches(1, 2)
    border: Length = Length.inches(5, 2)
    bottom: Bottom = Bottom()
    borders: Edges | None = None
    border_means: BorderMeans = BorderMeans.CUT
    outer: Size | None = None
    frame: str = ""
    group: str = ""
    mats: tuple[MatRule, ...] = (MatRule("white 4-ply"),)
    bevel_deg: float = 45.0
    inset: Length = Length.inches(1, 8)
    stack_cut: bool = True
    shape: ShapeRule = RECTANGULAR
    layout: LayoutRule = ONE_ROW
    openings: tuple[Layer, ...] = ()
    grooves: tuple[GrooveRule, ...] = ()
    lines: tuple[LineRule, ...] = ()
    title: TitleRule | None = None
    inlay: InlayRule | None = None
    sink: SinkRule | None = None
    fallout_trim: Length = Length.inches(1, 16)
    mount: str = "white 4-ply"
    backing: str = "foam board"
    glazing: str = "clear glass"
    spacer: str = ""
    fillet: str = ""
    moulding: str = ""
    moulding_sides: str = ""
    frame_sides: int = 4
    allowance: Length = Length.inches(1, 8)
    points: Length = Length.inches(1, 8)
    service: Service = Service.CHEAPEST
    hinge: HingeKind = HingeKind.TEE
    grid: Grid = THIRTY_SECOND
    origins: Mapping[str, str] = field(default_factory=dict, compare=False)

    def __post_init__(self) -> None:
        if not 1 <= len(self.mats) <= 4:
            msg = "a package has one to four mats"
            raise ValueError(msg)
        if self.mats[0].setback or self.mats[-1].setback:
            msg = "a mat that is set back out of sight lies between two that are seen"
            raise ValueError(msg)
        if not 20.0 <= self.bevel_deg <= 90.0:
            msg = "a bevel is 20 to 90 degrees to the face of the board (45 is usual)"
            raise ValueError(msg)
        if not 3 <= self.frame_sides <= 24:
            msg = "a frame has 3 to 24 sides"
            raise ValueError(msg)
        self._check_lengths()

    def _check_lengths(self) -> None:
        for each in fields(self):
            value = getattr(self, each.name)
            length = value.least if isinstance(value, Edges) else value
            if isinstance(length, Length) and length < ZERO:
                msg = f"{each.name.replace('_', ' ')} is not below nothing"
                raise ValueError(msg)

    def origin(self, name: str) -> str:
        """Return the layer that the field came from."""
        return self.origins.get(name, "shop default")


INCH = Treatment()
METRIC = Treatment(
    overlap=Length.mm(3),
    paper_sides=Length.mm(6),
    paper_top=Length.mm(6),
    paper_bottom=Length.mm(12),
    float_gap=Length.mm(12),
    float_lift=Length.mm(5),
    float_setback=Length.mm(12),
    border=Length.mm(65),
    layout=LayoutRule(gutter=Length.mm(25)),
    inset=Length.mm(3),
    fallout_trim=Length.mm(3, 2),
    allowance=Length.mm(3),
    points=Length.mm(3),
    mats=(MatRule("white 1.4 mm"),),
    mount="white 1.4 mm",
    backing="foam board 5 mm",
    glazing="clear glass 2 mm",
    grid=HALF_MILLIMETRE,
)
"""The shop defaults of the two systems, with their materials of the starter set."""

FIELDS = tuple(each.name for each in fields(Treatment) if each.name != "origins")
OPENING_FIELDS = (
    *("window", "shape", "mats", "overlap", "overlap_least", "float_gap"),
    *("paper_sides", "paper_top", "paper_bottom"),
)
"""What may differ from one opening of a mat to the next."""


@dataclass(frozen=True, slots=True)
class Layer:
    """What one place says of a treatment: values by field name, and how that place is called."""

    name: str
    values: Mapping[str, object]

    def __post_init__(self) -> None:
        for key in self.values:
            if key not in FIELDS:
                raise Unknown("rule of a treatment", key, FIELDS)


def for_opening(treatment: Treatment, number: int) -> Treatment:
    """Return the treatment of one opening of several, the first being 1.

    Raises Unknown for a rule that all openings of a mat share, BadTreatment where the opening names other boards.
    """
    if not 1 <= number <= len(treatment.openings):
        return treatment
    layer = treatment.openings[number - 1]
    for key in layer.values:
        if key not in OPENING_FIELDS:
            raise Unknown("rule of one opening", key, OPENING_FIELDS)
    own = settle(treatment, [layer])
    if [mat.board for mat in own.mats] != [mat.board for mat in treatment.mats]:
        expected = "all openings are cut in the same boards: the same names in the same order"
        raise BadTreatment("openings", f"the mats of {layer.name}", expected)
    return own


def settle(shop: Treatment, layers: Iterable[Layer]) -> Treatment:
    """Return the treatment that the layers make over the shop's defaults; the last one wins, field by field.

    >>> quay = Layer("treatment Quay", {"border": Length.inches(3)})
    >>> settle(INCH, [quay]).origin("border"), settle(INCH, [quay]).origin("overlap")
    ('treatment Quay', 'shop default')
    """
    values: dict[str, object] = {}
    origins = dict(shop.origins)
    for layer in layers:
        values.update(layer.values)
        origins.update(dict.fromkeys(layer.values, layer.name))
    return replace(shop, **values, origins=origins)  # type: ignore[arg-type]
