"""What to set for each cut of a package's mats.

Everything is seen from the back, where the cuts are made: going round clockwise the top comes first, then the side
that is on the left in front and so on the right here. For each cut three figures along it are kept apart: where the
pencil lines cross, what the stop reads (by the cutter's datum), and where the blade enters or leaves, which lies past
the crossing by the run of the bevel and the cutter's constant.
"""

from __future__ import annotations

from dataclasses import dataclass

from fourply.bench.cutter import Cutter, Side, StopDatum
from fourply.measure.length import ZERO, Length
from fourply.measure.size import Edges, Size
from fourply.trade.package import Mat, Package
from fourply.trade.parts import mat_name
from fourply.working.ledger import Ledger
from fourply.working.working import Figures, Rule

GUIDE = Rule("guide.set", "border", "The guide is set to the border at the back line.")
GUIDE_ON_TOP = Rule(
    "guide.on_top",
    "border",
    "The under-mat is taped to the top mat and registers on the top mat's edge, so the guide is its whole border.",
)
GUIDE_OWN_EDGE = Rule(
    "guide.own_edge",
    "border - inset",
    "The under-mat is cut by itself and registers on its own edge, which lies inside the package by the inset.",
)
GUIDE_ON_BLANK = Rule(
    "guide.on_blank",
    "border + (blank - outer) / 2",
    "The blank of a frame with more or fewer than four sides is a larger square round the package.",
)
GUIDE_ON_BLANK_INSET = Rule(
    "guide.on_blank_inset", "border + (blank - outer) / 2 - inset", "The same, on an under-mat cut by itself."
)
STOP_FROM_BAR = Rule(
    "stop.from_bar",
    "edge - crossing",
    "Read from the bar, the far stop is the length of the edge that is cut less the border beyond it.",
)
BLADE = Rule(
    "blade.past",
    "crossing - run - constant",
    "The corner on the face lies one run past the crossing of the pencil lines, and the cutter's constant beyond.",
)
OPPOSITE = Rule(
    "blade.past_reverse",
    "crossing + run - constant",
    "A reverse bevel's corner on the face lies one run short of the crossing of the pencil lines.",
)

ROUND = ("top", "left", "bottom", "right")
"""The order of the cuts: clockwise seen from the back."""
_FAR = {"top": "left", "left": "bottom", "bottom": "right", "right": "top"}
_NEAR = {"top": "right", "left": "top", "bottom": "left", "right": "bottom"}


@dataclass(frozen=True, slots=True)
class End:
    """One end of a cut: the side it runs to, the pencil crossing from that edge, the stop's reading, the blade."""

    towards: str
    crossing: Length
    stop: Length
    blade: Length


@dataclass(frozen=True, slots=True)
class Cut:
    """One cut along one side: what the guide is set to, and its far and near end; `reset` is what has changed."""

    side: str
    figure: str
    guide: Length
    far: End
    near: End
    reset: frozenset[str]


@dataclass(frozen=True, slots=True)
class Operation:
    """One opening or groove cut in one mat: four cuts, and what to do with what falls out."""

    name: str
    mat: int
    then: str
    cuts: tuple[Cut, ...]


@dataclass(frozen=True, slots=True)
class Settings:
    """All operations of one package in the order of work, with the figures they add to the package's own."""

    cutter: Cutter
    operations: tuple[Operation, ...]
    figures: Figures


@dataclass(frozen=True, slots=True)
class _Job:
    """What one operation is cut from: borders and their paths, the board's size, how it registers.

    `inset` is how far the board's own edge lies inside the package, `beyond` how far outside.
    """

    name: str
    then: str
    mat: Mat
    path: str
    borders: Edges
    board: Size
    inset: Length
    beyond: Length


def settings(package: Package, cutter: Cutter) -> Settings:
    """Return what to set for every cut of the package's mats on this cutter, in the order of work.

    Grooves come before windows and windows before under-mats, which are cut through the stack where mats are stacked.
    """
    ledger = Ledger(package.figures)
    origin = f"{cutter.name}" + ("" if cutter.tested else ", no test cut on file")
    ledger.given("cutter.start", cutter.start, origin)
    ledger.given("cutter.stop", cutter.stop, origin)
    operations: list[Operation] = []
    before: Cut | None = None
    for job in _jobs(package):
        cuts = []
        for side in ROUND:
            before = _cut(ledger, job, side, cutter, before)
            cuts.append(before)
        operations.append(Operation(job.name, job.mat.number, job.then, tuple(cuts)))
    return Settings(cutter, tuple(operations), ledger.figures)


def _jobs(package: Package) -> list[_Job]:
    stacked = package.treatment.stack_cut and len(package.mats) > 1
    beyond = (package.mats[0].blank.width - package.outer.width) // 2
    jobs = []
    for mat in package.mats:
        for groove in mat.all_grooves:
            path = f"{groove.path}.border"
            jobs.append(_Job("V-groove", "shave, put back, tape", mat, path, groove.borders, mat.blank, ZERO, beyond))
        on_top = stacked and mat.number > 1
        last = mat.number == len(package.mats)
        then = "keep the fallout" if not stacked else "through the stack" if last else "fallout goes back"
        inset = ZERO if on_top else mat.inset
        board = package.mats[0].blank if on_top else mat.blank
        name = f"{mat_name(mat)} window" if mat.number == 1 else mat_name(mat)
        jobs.append(_Job(name, then, mat, f"{mat.path}.border", mat.borders, board, inset, beyond))
    return jobs


def _cut(ledger: Ledger, job: _Job, side: str, cutter: Cutter, before: Cut | None) -> Cut:
    path = f"cut.{job.path.removesuffix('.border')}.{side}"
    guide = _border(ledger, f"{path}.guide", job, side)
    sides = (_FAR[side], _NEAR[side])
    towards = sides if cutter.guide is Side.LEFT else sides[::-1]
    far = _end(ledger, f"{path}.far", job, (side, towards[0]), cutter)
    near = _end(ledger, f"{path}.near", job, (side, towards[1]), cutter)
    now = {"guide": guide, "far": far.stop, "near": near.stop}
    then = {} if before is None else {"guide": before.guide, "far": before.far.stop, "near": before.near.stop}
    return Cut(side, path, guide, far, near, frozenset(k for k, v in now.items() if then.get(k) != v))


def _border(ledger: Ledger, path: str, job: _Job, side: str) -> Length:
    """Enter and return one border as the guide or a stop sees it."""
    border = dict(job.borders.named())[side]
    operands = {"border": f"{job.path}.{side}"}
    if job.beyond:
        value = border + job.beyond - job.inset
        inset = {"inset": "treatment.inset"} if job.inset else {}
        rule = GUIDE_ON_BLANK_INSET if job.inset else GUIDE_ON_BLANK
        return ledger.figure(path, value, rule, **operands, blank="outer.blank", outer="outer.width", **inset)
    if job.inset:
        return ledger.figure(path, border - job.inset, GUIDE_OWN_EDGE, **operands, inset="treatment.inset")
    return ledger.figure(path, border, GUIDE_ON_TOP if job.mat.number > 1 else GUIDE, **operands)


def _end(ledger: Ledger, path: str, job: _Job, sides: tuple[str, str], cutter: Cutter) -> End:
    """Enter and return the three figures of one end of a cut along the first side, towards the second."""
    side, towards = sides
    crossing = _border(ledger, f"{path}.crossing", job, towards)
    far = path.endswith("far")
    stop = crossing
    if cutter.stops is StopDatum.BAR and far:
        along = "width" if side in ("top", "bottom") else "height"
        edge = job.board.width if along == "width" else job.board.height
        blank = "mat.1" if job.inset == ZERO else job.mat.path
        operands = {"edge": f"{blank}.blank.{along}", "crossing": f"{path}.crossing"}
        stop = ledger.figure(f"{path}.stop", edge - crossing, STOP_FROM_BAR, **operands)
    constant, name = (cutter.start, "cutter.start") if far else (cutter.stop, "cutter.stop")
    normal = job.mat.opening.face.width >= job.mat.opening.back.width
    past = job.mat.run if normal else -job.mat.run
    operands = {"crossing": f"{path}.crossing", "run": f"{job.mat.path}.run", "constant": name}
    blade = ledger.figure(f"{path}.blade", crossing - past - constant, BLADE if normal else OPPOSITE, **operands)
    return End(towards, crossing, stop, blade)
