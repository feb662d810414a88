"""From the pieces of a show to what is cut from what: one plan for each material.

Here the two halves meet: pieces know their work and their figures, plans know rectangles, sticks and costs. A piece
that no sheet or stick holds is left out of its plan and said to be; the rest is planned.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from itertools import groupby

from fourply.app.framing import NO_LABOUR, Bought, Labour, Wanted, wanted_frames
from fourply.app.mixing import Mixed, Ways
from fourply.app.ports import Compute, Progress, Standing, Task, silent
from fourply.app.solving import Flat, FlatSolved, Long, solve
from fourply.errors import FourplyError
from fourply.measure.length import Length
from fourply.measure.rounding import from_mm
from fourply.measure.size import Size
from fourply.planning.budget import Budget
from fourply.planning.panes import scored
from fourply.planning.plan import Plan, Source
from fourply.planning.problem import Cutter, Kind, Piece, Problem, Rect, Stock
from fourply.planning.stick_problem import Rail, Stick, StickPlan, StickProblem
from fourply.trade import materials as shop
from fourply.trade.package import Package
from fourply.trade.parts import FlatPart, LongPart, Stuff, flat_parts, long_parts
from fourply.trade.treatment import Service

_RAILS_LIKE_ONE_PIECE = 8
"""Rails that take about as long to plan as one rectangle does: a guess, which decides only where that is done."""


@dataclass(frozen=True, slots=True)
class FlatCutting:
    """What is cut from one board, glazing or backing; `oriented` boards are never turned."""

    stuff: Stuff
    material: str
    parts: Mapping[str, FlatPart]
    problem: Problem
    plan: Plan


@dataclass(frozen=True, slots=True)
class LongCutting:
    """What is cut from the sticks of one moulding, spacer or fillet."""

    stuff: Stuff
    material: str
    parts: Mapping[str, LongPart]
    problem: StickProblem
    plan: StickPlan


@dataclass(frozen=True, slots=True)
class Unplanned:
    """A piece that could not be planned, and why."""

    part: FlatPart | LongPart
    why: str


@dataclass(frozen=True, slots=True)
class Framing:
    """How the frames of one moulding are had: those that could be bought cut to size, those that are, all the plans.

    `mixed` is None where no frame has a price.
    """

    moulding: str
    wanted: tuple[Wanted, ...]
    labour: Labour
    bought: tuple[Bought, ...]
    mixed: Mixed | None


@dataclass(frozen=True, slots=True)
class Cutting:
    """All plans of a show, and the pieces that no plan holds."""

    flats: tuple[FlatCutting, ...]
    longs: tuple[LongCutting, ...]
    unplanned: tuple[Unplanned, ...]
    framings: tuple[Framing, ...] = ()


@dataclass(frozen=True, slots=True)
class Means:
    """How long to look for each plan, where it is looked for, and who is told how far that is.

    `enough` is the gap for which nobody is kept waiting longer than half of that time.
    """

    budget: Budget
    compute: Compute
    progress: Progress = silent
    enough: float = 0.0


@dataclass(frozen=True, slots=True)
class _FlatJob:
    """The pieces of one board, glazing or backing that a sheet holds, and their problem."""

    stuff: Stuff
    material: str
    parts: Mapping[str, FlatPart]
    problem: Problem

    def task(self, means: Means) -> Task[Flat | Long]:
        return Task(self.material, Flat(self.problem, means.budget, means.enough), self.problem.demand)


@dataclass(frozen=True, slots=True)
class _LongJob:
    """The rails or strips that a stick holds, and their problem."""

    stuff: Stuff
    material: str
    parts: Mapping[str, LongPart]
    problem: StickProblem
    frames: tuple[Wanted, ...] = ()
    labour: Labour = NO_LABOUR

    def task(self, means: Means) -> Task[Flat | Long]:
        size = len(self.problem.rails) // _RAILS_LIKE_ONE_PIECE
        return Task(self.material, Long(self.problem, means.budget, self._ways()), size)

    def _ways(self) -> Ways | None:
        """Return what may be bought at a price, and what is to be bought; None where everything is cut."""
        if not self.frames:
            return None
        labour = self.labour
        may = tuple(each.rail_set(each.bought(labour), labour) for each in self.frames)
        chosen = tuple(
            each.rail_set(each.service, labour, must=True) if each.price(each.service) else free
            for each, free in zip(self.frames, may, strict=True)
            if each.service is not Service.LENGTH
        )
        return Ways(may, chosen)


def plan_cutting(packages: Iterable[Package], materials: shop.Materials, means: Means) -> Cutting:
    """Return what to cut from what for all packages together; the budget holds for each material."""
    packages = tuple(packages)
    jobs: list[_FlatJob | _LongJob] = []
    unplanned: list[Unplanned] = []
    for (stuff, material), flat in _by_material(part for package in packages for part in flat_parts(package)).items():
        flat_job, left = _flat_job(stuff, material, flat, materials)
        jobs += [flat_job] if flat_job else []
        unplanned += left
    frames = wanted_frames(packages)
    for (stuff, material), long in _by_material(part for package in packages for part in long_parts(package)).items():
        wanted = frames.get(material, ()) if stuff is Stuff.MOULDING else ()
        long_job, left = _long_job(stuff, material, long, materials, wanted)
        jobs += [long_job] if long_job else []
        unplanned += left
    watch = _Planning([job.material for job in jobs], means.progress)
    results = means.compute(solve, [job.task(means) for job in jobs], watch)
    unpriced = _unpriced(frames)
    return _gathered(zip(jobs, results, strict=True), unplanned, unpriced)


class _Planning:
    """Passes on how the planning of all materials goes."""

    def __init__(self, materials: list[str], progress: Progress) -> None:
        self.materials = materials
        self.progress = progress
        self.done = 0

    def standing(self, task: int, cost: int, bound: int) -> None:
        gap = 1 - bound / cost if cost > bound else 0.0
        self._tell(Standing(self.materials[task], Decimal(cost).scaleb(-2), gap))

    def finished(self, task: int) -> None:
        del task
        self.done += 1
        self._tell()

    def waiting(self) -> None:
        self._tell()

    def _tell(self, standing: Standing | None = None) -> None:
        self.progress("planning", self.done, len(self.materials), standing)


def _gathered(
    solved: Iterable[tuple[_FlatJob | _LongJob, FlatSolved | StickPlan | Mixed | FourplyError]],
    left: list[Unplanned],
    unpriced: Mapping[str, Framing],
) -> Cutting:
    """Return every plan with its pieces, and as unplanned what has none."""
    framings = dict(unpriced)
    flats: list[FlatCutting] = []
    longs: list[LongCutting] = []
    unplanned = list(left)
    for job, result in solved:
        match job, result:
            case _FlatJob(stuff, material, parts), FlatSolved(problem, plan):
                fit = {piece.key: parts[piece.key] for piece in problem.pieces}
                flats.append(FlatCutting(stuff, material, fit, problem, plan))
                why = f"no sheet of {material} can be cut down to it"
                unplanned += (Unplanned(part, why) for key, part in parts.items() if key not in fit)
            case _LongJob(stuff, material, parts, problem), StickPlan():
                longs.append(LongCutting(stuff, material, parts, problem, result))
            case _LongJob(stuff, material, parts), Mixed(chosen=mix):
                if mix.problem and mix.plan:
                    cut = {rail.key: parts[rail.key] for rail in mix.problem.rails}
                    longs.append(LongCutting(stuff, material, cut, mix.problem, mix.plan))
                framings[material] = _framing(job, result, framings.get(material))
            case _:
                unplanned += (Unplanned(part, str(result)) for part in job.parts.values())
    return Cutting(tuple(flats), tuple(longs), tuple(unplanned), tuple(framings.values()))


def _unpriced(frames: Mapping[str, tuple[Wanted, ...]]) -> dict[str, Framing]:
    """Return, by moulding, the frames that are to be bought in a way that has no price."""
    found = {}
    for moulding, wanted in frames.items():
        bought = tuple(Bought(each, each.copies, each.service, None) for each in wanted if each.unpriced)
        if bought:
            found[moulding] = Framing(moulding, (), NO_LABOUR, bought, None)
    return found


def _framing(job: _LongJob, result: Mixed, unpriced: Framing | None) -> Framing:
    bought = tuple(
        Bought(each, copies, way, each.price(way))
        for each in job.frames
        if (copies := result.chosen.bought.get(each.work, 0))
        for way in [each.service if each.price(each.service) else each.bought(job.labour)]
    )
    others = unpriced.bought if unpriced else ()
    return Framing(job.material, job.frames, job.labour, (*bought, *others), result)


def _by_material[P: (FlatPart, LongPart)](parts: Iterable[P]) -> dict[tuple[Stuff, str], list[P]]:
    order = list(Stuff)
    rank = sorted(parts, key=lambda part: (order.index(part.stuff), part.material))
    return {key: list(group) for key, group in groupby(rank, key=lambda part: (part.stuff, part.material))}


def _rect(size: Size) -> Rect:
    return Rect(size.width.nm, size.height.nm)


def _flat_job(
    stuff: Stuff, material: str, parts: list[FlatPart], materials: shop.Materials
) -> tuple[_FlatJob | None, list[Unplanned]]:
    """Return the problem of one material without the pieces that nothing holds, and those pieces."""
    rules = materials.cutting
    of = _sheet_material(stuff, material, materials)
    stock = (*_sheets(of.sheets), *_rack(material, materials))
    cutter = Cutter(
        trim=rules.trim.nm if stuff is Stuff.BOARD else 0,
        least_held=rules.least_piece.nm,
        longest_cut=rules.longest_cut.nm if rules.longest_cut and stuff is Stuff.BOARD else None,
    )
    oriented = isinstance(of, shop.Board) and of.oriented
    empty = Problem(pieces=(_dummy(),), stock=stock, cutter=cutter, oriented=oriented)
    held, left = [], []
    for part in parts:
        if any(_holds(empty, each, part.size) for each in stock):
            held.append(part)
        else:
            left.append(Unplanned(part, f"no sheet of {material} holds it once its edges are trimmed"))
    if not held:
        return None, left
    keep = Rect(rules.keep_width.nm, rules.keep_height.nm)
    problem = Problem(
        pieces=tuple(_piece(part) for part in held),
        stock=stock,
        fallout_cost=rules.fallout_cost,
        oriented=oriented,
        cutter=cutter,
        keep=keep if stuff is Stuff.BOARD else None,
    )
    glass = isinstance(of, shop.Glazing) and of.kind is shop.Pane.GLASS
    problem = scored(problem, least_strip=rules.least_break.nm) if glass else problem
    return _FlatJob(stuff, material, {part.key: part for part in held}, problem), left


def _sheet_material(stuff: Stuff, name: str, materials: shop.Materials) -> shop.Board | shop.Glazing | shop.Backing:
    if stuff is Stuff.BOARD:
        return materials.board(name)
    return materials.glazing(name) if stuff is Stuff.GLAZING else materials.backing(name)


def _dummy() -> Piece:
    return Piece(key="", w=1, h=1)


def _holds(problem: Problem, stock: Stock, size: Size) -> bool:
    usable = problem.usable(stock)
    if usable is None:
        return False
    rect = _rect(size)
    return rect.fits(usable.size) or (not problem.oriented and rect.turned.fits(usable.size))


def _piece(part: FlatPart) -> Piece:
    return Piece(
        key=part.key,
        w=part.size.width.nm,
        h=part.size.height.nm,
        copies=part.copies,
        fallouts=tuple(_rect(size) for size in part.fallouts),
    )


def _sheets(offers: Iterable[shop.Offer]) -> Iterator[Stock]:
    for number, offer in enumerate(offers):
        yield Stock(
            key=f"sheet {number + 1}",
            w=offer.size.width.nm,
            h=offer.size.height.nm,
            cost=offer.cost.cents,
            copies=offer.copies,
        )


def _rack(material: str, materials: shop.Materials) -> Iterator[Stock]:
    for number, offcut in enumerate(materials.rack):
        if offcut.material == material:
            yield Stock(
                key=f"rack {number + 1}",
                w=offcut.size.width.nm,
                h=offcut.size.height.nm,
                cost=offcut.cost.cents,
                kind=Kind.RACK,
                copies=1,
            )


def stock_place(source: Source) -> int:
    """Return which of the sheets of its material, or of the pieces of the rack, a source is, counted from 0.

    >>> stock_place(Source(Kind.RACK, "rack 3"))
    2
    """
    return int(source.key.rpartition(" ")[2]) - 1


def _long_job(
    stuff: Stuff, material: str, parts: list[LongPart], materials: shop.Materials, wanted: Iterable[Wanted] = ()
) -> tuple[_LongJob | None, list[Unplanned]]:
    """Return the problem of one moulding or strip without the pieces that no stick holds, and those pieces.

    A frame that can be bought at a price is kept whatever its size, unless it is to be cut.
    """
    rules = materials.cutting
    of: shop.Moulding | shop.Spacer | shop.Fillet
    if stuff is Stuff.MOULDING:
        of = materials.moulding(material)
        kerf = from_mm(2 * math.sqrt(2) * of.kerf.as_mm)  # two cuts at 45 degrees between one rail and the next
    else:
        of = materials.spacer(material) if stuff is Stuff.SPACER else materials.fillet(material)
        kerf = Length(0)
    trim = rules.end_trim if stuff is Stuff.MOULDING else Length(0)
    longest = max((stick.length - trim for stick in of.sticks), default=Length(0))
    wanted = tuple(wanted)
    gone = {each.work for each in wanted if each.unpriced}
    parts = [part for part in parts if part.work not in gone]
    long = {part.work for part in parts if part.length > longest}
    frames = tuple(
        each
        for each in wanted
        if each.chop and not each.unpriced and not (each.service is Service.LENGTH and each.work in long)
    )
    kept = {each.work for each in frames}
    held = [part for part in parts if part.length <= longest or part.work in kept]
    left = [
        Unplanned(part, f"no stick of {material} is long enough once its end is trimmed")
        for part in parts
        if part.length > longest and part.work not in kept
    ]
    if not held:
        return None, left
    problem = StickProblem(
        rails=tuple(Rail(key=part.key, length=part.length.nm, copies=part.copies * part.count) for part in held),
        sticks=tuple(
            Stick(key=f"stick {number + 1}", length=stick.length.nm, cost=stick.cost.cents, copies=stick.copies)
            for number, stick in enumerate(of.sticks)
        ),
        kerf=kerf.nm,
        start_trim=trim.nm,
        keep=rules.keep_stick.nm,
    )
    labour = next((Labour.of(rules, each.chop.currency) for each in frames if each.chop), NO_LABOUR)
    return _LongJob(stuff, material, {part.key: part for part in held}, problem, frames, labour), left
