"""What is cut in which board, in the order of work.

In the top mat what lies further out comes first, grooves and inlay, while there is most board to hold; then the
windows. Lines are ruled after the windows, since they are measured from the face edge, and before an under-mat is taped
on, while the board is dry and flat. Under-mats that are seen are cut through the stack; a spacer mat opens wider than
the mat above it and would score its back, so it is always cut by itself. Boards round the art come last.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import NamedTuple

from fourply.bench import cut_rules as rules
from fourply.measure.length import ZERO, Length
from fourply.measure.size import Edges, Size
from fourply.trade.package import Groove, Hole, Inlay, Mat, Package
from fourply.trade.parts import mat_name
from fourply.trade.shapes.rectangle import Rectangle
from fourply.trade.shapes.shape import Shape
from fourply.trade.treatment import Bevel
from fourply.working.ledger import Ledger

_BACK = "shave, put back, tape"
SIDES = ("top", "right", "bottom", "left")


@dataclass(frozen=True, slots=True)
class Job:
    """What one operation is cut from.

    `borders` run from the edges of the package and stand at `at`; `out` is how far the face lies outside the back line
    (below nothing for a reverse bevel) and stands at `out_at`; an upright blade has none. The board registers on
    `size`, whose figures begin with `edge`; its edge lies `inset` inside the package or `beyond` outside. `key` begins
    the paths of the job's figures in the scope of its ledger, `scope`. What falls out is needed where `whole`. The
    `caliper` of the board stands at `caliper_at`.
    """

    ledger: Ledger
    scope: str
    key: str
    name: str
    then: str
    board: str
    mat: int
    shape: Shape
    borders: Edges
    at: Mapping[str, str]
    out: Length
    out_at: str
    size: Size
    edge: str
    caliper: Length
    caliper_at: str
    inset: Length = ZERO
    beyond: Length = ZERO
    on_top: bool = False
    hole: int = 0
    copies: int = 1
    groove: Groove | None = None
    whole: bool = False

    def border(self, path: str, side: str) -> Length:
        """Enter and return one border as the guide or a stop sees it."""
        border, operands = dict(self.borders.named())[side], {"border": self.at[side]}
        if self.beyond:
            inset = {"inset": "treatment.inset"} if self.inset else {}
            rule = rules.GUIDE_ON_BLANK_INSET if self.inset else rules.GUIDE_ON_BLANK
            value = border + self.beyond - self.inset
            return self.ledger.figure(path, value, rule, **operands, blank="outer.blank", outer="outer.width", **inset)
        if self.inset:
            value = border - self.inset
            return self.ledger.figure(path, value, rules.GUIDE_OWN_EDGE, **operands, inset="treatment.inset")
        return self.ledger.figure(path, border, rules.GUIDE_ON_TOP if self.on_top else rules.GUIDE, **operands)

    def side(self, side: str) -> tuple[Length, str]:
        """Return one border as the board registers, with the path of its figure."""
        path = f"{self.key}.edge.{side}"
        value = self.ledger.length(path) if path in self.ledger else self.border(path, side)
        return value, path

    def box(self, side: str) -> tuple[Length, str]:
        """Return width or height of the box between the borders, with the path of its figure."""
        path = f"{self.key}.box.{side}"
        one, other = ("left", "right") if side == "width" else ("top", "bottom")
        (near, near_at), (far, far_at) = self.side(one), self.side(other)
        value = (self.size.width if side == "width" else self.size.height) - near - far
        operands = {"edge": f"{self.edge}.{side}", "one": near_at, "other": far_at}
        return self.ledger.figure(path, value, rules.BOX, **operands), path


@dataclass(frozen=True, slots=True)
class Ruling:
    """Lines to be ruled on the face round the windows of the top mat."""

    mat: Mat


def jobs(package: Package, ledger: Ledger) -> Iterator[Job | Ruling]:
    """Yield every operation of a package in the order of work."""
    top, *others = package.mats
    first = [*_grooves(package, ledger), *_inlay(package, ledger)]
    yield from sorted(first, key=lambda job: job.borders.least)
    yield from _windows(package, ledger, top)
    if any(hole.lines for hole in top.holes):
        yield Ruling(top)
    for mat in others:
        yield from _windows(package, ledger, mat)
    yield from _insert(package, ledger)
    yield from _sink(package, ledger)


class _Line(NamedTuple):
    """A line that is cut in the face of the top mat; `prefix` begins the paths of its borders."""

    key: str
    name: str
    then: str
    shape: Shape
    borders: Edges
    prefix: str


def _on_top_mat(package: Package, ledger: Ledger, line: _Line, scope: str = "") -> Job:
    """Return the job of a line of the top mat, cut with a normal bevel."""
    top = package.mats[0]
    return Job(
        ledger=ledger.scoped(scope),
        scope=scope,
        key=line.key,
        name=line.name,
        then=line.then,
        board=top.path,
        mat=top.number,
        shape=line.shape,
        borders=line.borders,
        at={side: f"{line.prefix}.{side}" for side in SIDES},
        out=top.run,
        out_at=f"{top.path}.run",
        size=top.blank,
        edge=f"{top.path}.blank",
        caliper=top.board.caliper,
        caliper_at=f"{top.path}.caliper",
        beyond=_beyond(package),
        whole=True,
    )


def _beyond(package: Package) -> Length:
    return (package.mats[0].blank.width - package.outer.width) // 2


def _grooves(package: Package, ledger: Ledger) -> Iterator[Job]:
    top = package.mats[0]
    rings = [("", 0, top.grooves)] + [(hole.scope, hole.number, hole.grooves) for hole in top.holes]
    for scope, number, grooves in rings:
        for at, groove in enumerate(grooves):
            name = "V-groove" if not top.grooves or scope or len(top.holes) == 1 else "V-groove round all"
            if scope:
                name += f" {number}"
            if len(grooves) > 1:
                name += f" {chr(ord('a') + at)}"
            line = _Line(f"cut.{groove.path}", name, _BACK, groove.shape, groove.borders, f"{groove.path}.border")
            yield replace(_on_top_mat(package, ledger, line, scope), groove=groove, hole=number if scope else 0)


def _inlay(package: Package, ledger: Ledger) -> Iterator[Job]:
    inlay = package.inlay
    if inlay is None:
        return
    outer = inlay.shape.grown(inlay.width)
    for line in (
        _Line("cut.inlay.outer", "inlay, outer edge", "put back, tape", outer, inlay.outer, "inlay.outer"),
        _Line("cut.inlay.inner", "inlay, inner edge", "keep the middle", inlay.shape, inlay.inner, "inlay.inner"),
    ):
        yield _on_top_mat(package, ledger, line)


def _windows(package: Package, ledger: Ledger, mat: Mat) -> Iterator[Job]:
    stacked = package.treatment.stack_cut and len(package.mats) > 1
    on_top = stacked and mat.number > 1 and not mat.hidden
    top = package.mats[0]
    register = top if on_top else mat
    for hole in mat.holes:
        opening = hole.opening
        scoped = ledger.scoped(hole.scope)
        key = f"cut.{mat.path}"
        out, out_at = opening.run, f"{mat.path}.run"
        if opening.bevel is Bevel.REVERSE:
            out_at = f"{key}.lean"
            scoped.figure(out_at, -opening.run, rules.LEAN, run=f"{mat.path}.run")
        yield Job(
            ledger=scoped,
            scope=hole.scope,
            key=key,
            name=_name(mat, hole),
            then=_then(package, mat, stacked=stacked),
            board=mat.path,
            mat=mat.number,
            shape=opening.shape,
            borders=hole.borders,
            at={side: f"{mat.path}.border.{side}" for side in SIDES},
            out=out if opening.bevel is Bevel.NORMAL else -out,
            out_at=out_at,
            size=register.blank,
            edge=f"{register.path}.blank",
            caliper=mat.board.caliper,
            caliper_at=f"{mat.path}.caliper",
            inset=ZERO if on_top else mat.inset,
            beyond=_beyond(package),
            on_top=mat.number > 1,
            hole=hole.number if len(mat.holes) > 1 else 0,
        )


def _name(mat: Mat, hole: Hole) -> str:
    if hole.title:
        return f"{mat_name(mat)}, title"
    name = f"{mat_name(mat)} window" if mat.number == 1 else mat_name(mat)
    return f"{name} {hole.number}" if len(mat.holes) > 1 else name


def _then(package: Package, mat: Mat, *, stacked: bool) -> str:
    if not stacked or mat.hidden:
        return "keep the fallout"
    return "through the stack" if mat.number == len(package.mats) else "fallout goes back"


def _insert(package: Package, ledger: Ledger) -> Iterator[Job]:
    """Yield the two cuts of the inlay's own blank, with the settings of the top mat's."""
    inlay = package.inlay
    if inlay is None:
        return
    outer = inlay.shape.grown(inlay.width)
    yield _insert_job(package, ledger, inlay, "outer", outer)
    yield _insert_job(package, ledger, inlay, "inner", inlay.shape)


def _insert_job(package: Package, ledger: Ledger, inlay: Inlay, edge: str, shape: Shape) -> Job:
    outer = edge == "outer"
    borders = Edges.equal(inlay.hold if outer else inlay.hold + inlay.width)
    ledger.given("cut.insert.caliper", inlay.board.caliper, f"board {inlay.board.name}")
    return Job(
        ledger=ledger,
        scope="",
        key=f"cut.insert.{edge}",
        name=f"insert, {edge} edge",
        then="put back, tape" if outer else "keep the band",
        board="inlay",
        mat=0,
        shape=shape,
        borders=borders,
        at=dict.fromkeys(SIDES, "inlay.guide" if outer else "inlay.guide_inner"),
        out=package.mats[0].run,
        out_at="mat.1.run",
        size=inlay.blank,
        edge="inlay.blank",
        caliper=inlay.board.caliper,
        caliper_at="cut.insert.caliper",
        whole=True,
    )


def _sink(package: Package, ledger: Ledger) -> Iterator[Job]:
    """Yield the opening of the boards round the art, cut with the blade upright."""
    sink = package.sink
    if sink is None:
        return
    at = {"top": "sink.at.top", "left": "sink.at.left"}
    rest = {}
    for side, along, start in (("right", "width", "left"), ("bottom", "height", "top")):
        at[side] = f"cut.sink.rest.{side}"
        names = {"outer": f"outer.{along}", "at": f"sink.at.{start}", "opening": f"sink.opening.{along}"}
        value = ledger.length(names["outer"]) - ledger.length(names["at"]) - ledger.length(names["opening"])
        rest[side] = ledger.figure(at[side], value, rules.SINK_REST, **names)
    borders = Edges(sink.opening.top, rest["right"], rest["bottom"], sink.opening.left)
    yield Job(
        ledger=ledger,
        scope="",
        key="cut.sink",
        name="sink mat",
        then="blade upright",
        board="sink",
        mat=0,
        shape=Rectangle(sink.opening.size),
        borders=borders,
        at=at,
        out=ZERO,
        out_at="",
        size=sink.blank,
        edge="mat.1.blank",
        caliper=sink.board.caliper,
        caliper_at="sink.caliper",
        beyond=_beyond(package),
        copies=sink.layers,
    )
