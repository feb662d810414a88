"""What to set and set out for each cut of a package's boards, in the order of work.

Everything is seen from the back, where the cuts are made: going round clockwise the top comes first, then the side
that is on the left in front and so on the right here. For each straight cut three figures along it are kept apart:
where the pencil lines cross, what the stop reads (by the cutter's datum), and where the blade enters or leaves, which
lies past the crossing by what the bevel asks for at that corner and by the cutter's constant.
"""

from __future__ import annotations

from dataclasses import dataclass

from fourply.bench import cut_rules as rules
from fourply.bench.cuts import BoardLength, Cut, End, Operation, Ruled, Shave, Slant, Task
from fourply.bench.cutter import Cutter
from fourply.bench.cutter_findings import cutter_findings
from fourply.bench.jobs import Job, Ruling, jobs
from fourply.bench.off_guide import curves_first, others
from fourply.bench.setting_out import rings
from fourply.bench.shop_cutter import ShopCutter, enter_cutter
from fourply.bench.straight import ROUND, side_cut
from fourply.measure.length import ZERO, Length, total
from fourply.measure.rounding import from_mm
from fourply.trade.findings import Finding
from fourply.trade.package import Groove, Package
from fourply.trade.shapes.outline import Segment
from fourply.trade.shapes.rectangle import Rectangle
from fourply.working.ledger import Ledger
from fourply.working.working import Figures

__all__ = ["ROUND", "Cut", "End", "Operation", "Settings", "settings"]


@dataclass(frozen=True, slots=True)
class Settings:
    """All operations of one package in the order of work, with the figures they add to the package's own.

    `lengths` say how much is cut in the boards of each kind, `findings` what a cutter of the shop cannot do of it.
    """

    cutter: Cutter
    operations: tuple[Operation, ...]
    lengths: tuple[BoardLength, ...]
    figures: Figures
    findings: tuple[Finding, ...] = ()

    @property
    def tasks(self) -> tuple[Task, ...]:
        """Every cut of every board, in the order of work."""
        return tuple(task for operation in self.operations for task in operation.tasks)


def settings(package: Package, cutter: Cutter) -> Settings:
    """Return what to set for every cut of the package's boards on this cutter, in the order of work.

    Grooves and inlays come before windows and windows before under-mats, which are cut through the stack where mats
    are stacked; then the inlay's own blank and the boards round the art.
    """
    ledger = Ledger(package.figures)
    enter_cutter(ledger, cutter)
    operations: list[Operation] = []
    paths: dict[str, list[tuple[str, Operation]]] = {}
    before: Cut | None = None
    for job in jobs(package, ledger):
        if isinstance(job, Ruling):
            operations.append(_ruled(job))
            continue
        operation, before = _operation(job, cutter, before)
        operations.append(operation)
        paths.setdefault(job.board, []).append((f"{job.scope}{job.key}", operation))
    lengths = tuple(_board_length(ledger, board, made) for board, made in paths.items())
    made = tuple(operations)
    findings = cutter_findings(package, made, cutter) if isinstance(cutter, ShopCutter) else ()
    return Settings(cutter, made, lengths, ledger.figures, findings)


def _operation(job: Job, cutter: Cutter, before: Cut | None) -> tuple[Operation, Cut | None]:
    """Return one operation, and the last straight cut made."""
    cuts: list[Task] = []
    for ring in rings(job):
        for side in ROUND:
            if (side, _any_end(side)) in ring.ends:
                before = side_cut(job, ring, side, cutter, before)
                cuts.append(before)
    off = others(job, cutter)
    tasks = [*off, *cuts] if curves_first(job.shape) else [*cuts, *off]
    straight, curved = _lengths(job, tasks)
    if job.groove is not None:
        shave = _shave(job, job.groove)
        tasks.append(shave)
        straight = _plus(job, "straight", straight, shave.straight)
        curved = _plus(job, "curved", curved, shave.curved)
    return (
        Operation(
            job.name,
            job.board,
            job.mat,
            job.then,
            job.size,
            tuple(tasks),
            job.hole,
            job.copies,
            straight,
            curved,
        ),
        before,
    )


def _any_end(side: str) -> str:
    return "left" if side in ("top", "bottom") else "bottom"


def _lengths(job: Job, tasks: list[Task]) -> tuple[Length, Length]:
    """Enter and return how much of a job is cut straight and along curves, on the face."""
    ledger, key = job.ledger, job.key
    parts = [(task.length, f"{task.figure}.length") for task in tasks if isinstance(task, Cut)]
    parts += [(task.length, f"{job.scope}{key}.slant") for task in tasks if isinstance(task, Slant)]
    straight = total([length for length, _ in parts])
    path = f"{key}.straight"
    if parts:
        names = {f"cut_{at}": figure for at, (_, figure) in enumerate(parts, start=1)}
        ledger.figure(path, straight, rules.sum_of(len(parts)), **names)
    else:
        ledger.given(path, ZERO, "no straight cut")
    if job.shape.straight and parts:
        return straight, ledger.given(f"{key}.curved", ZERO, "no curve")
    around = from_mm(job.shape.parallel(job.out).perimeter)
    ledger.given(f"{key}.perimeter", around, f"length of the face edge, shape {job.shape.words}")
    names = {"perimeter": f"{key}.perimeter", "straight": path}
    return straight, ledger.figure(f"{key}.curved", around - straight, rules.CURVED, **names)


def _plus(job: Job, what: str, length: Length, shaved: Length) -> Length:
    names = {"cut_1": f"{job.key}.{what}", "cut_2": f"{job.key}.shave.{what}"}
    return job.ledger.figure(f"{job.key}.with_shave.{what}", length + shaved, rules.sum_of(2), **names)


def _shave(job: Job, groove: Groove) -> Shave:
    ledger, path = job.ledger, f"{job.key}.shave"
    sliver = ledger.figure(f"{path}.sliver", groove.width, rules.SLIVER, width=f"{groove.path}.width")
    if isinstance(groove.shape, Rectangle):
        names = {side: f"{groove.path}.back.{side}" for side in ("width", "height")}
        value = 2 * (groove.back.width + groove.back.height)
        straight, curved = ledger.figure(f"{path}.straight", value, rules.SHAVE_RECTANGLE, **names), ZERO
        ledger.given(f"{path}.curved", curved, "no curve")
    else:
        pieces = groove.shape.outline().pieces
        sums = [sum(piece.length for piece in pieces if isinstance(piece, Segment) is flat) for flat in (True, False)]
        origin = f"back of the drop-out, shape {groove.shape.words}"
        straight = ledger.given(f"{path}.straight", from_mm(sums[0]), origin)
        curved = ledger.given(f"{path}.curved", from_mm(sums[1]), origin)
    depth = f"{groove.path}.depth"
    return Shave(
        f"{job.scope}{path}",
        groove.back,
        groove.face_cut,
        groove.face_shaved,
        sliver,
        ledger.length(depth) if depth in ledger else None,
        straight,
        curved,
    )


def _ruled(ruling: Ruling) -> Operation:
    mat = ruling.mat
    tasks = [
        Ruled(f"{hole.scope}{line.path}", line.rule.distance, line.rule.width, line.rule.wash, line.borders)
        for hole in mat.holes
        for line in hole.lines
    ]
    return Operation("lines", mat.path, mat.number, "face up, dry", mat.blank, tuple(tasks))


def _board_length(ledger: Ledger, board: str, made: list[tuple[str, Operation]]) -> BoardLength:
    """Enter and return how much is cut in the boards of one kind."""
    sums = []
    for what in ("straight", "curved"):
        names, lengths = {}, []
        for at, (key, operation) in enumerate(made, start=1):
            shaved = f"{key}.with_shave.{what}"
            names[f"cut_{at}"] = shaved if shaved in ledger else f"{key}.{what}"
            lengths.append(operation.straight if what == "straight" else operation.curved)
        path, value, copies = f"cut.length.{board}.{what}", total(lengths), made[0][1].copies
        if copies > 1:
            ledger.figure(f"{path}.each", value, rules.sum_of(len(made)), **names)
            value = value * copies
            ledger.figure(path, value, rules.LAYERS, each=f"{path}.each", layers=f"{board}.layers")
        else:
            ledger.figure(path, value, rules.sum_of(len(made)), **names)
        sums.append(value)
    return BoardLength(board, sums[0], sums[1])
