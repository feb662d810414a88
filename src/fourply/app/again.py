"""After a measurement, or a slip of the blade: what is to be worked out, set and cut again, and what that costs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from fourply.app.bench_figures import all_figures
from fourply.app.cutting import Cutting, FlatCutting
from fourply.app.measuring import measured_anew
from fourply.app.resetting import Reset, resets
from fourply.app.shows import Opened
from fourply.app.solving import Flat, FlatSolved, solve
from fourply.bench.again import Again, Change, blocks_again, pieces_again, work_again
from fourply.bench.cutter import NOMINAL, Cutter
from fourply.bench.settings import settings
from fourply.bench.steps import Block, Handling, Steps, Use
from fourply.bench.straight_cuts import order_cuts
from fourply.bench.times import Times
from fourply.errors import BadInput, Unknown
from fourply.measure.length import Length
from fourply.measure.notation import parse_length
from fourply.measure.size import Size
from fourply.planning.budget import Budget
from fourply.planning.plan import Plan
from fourply.planning.problem import Kind, Problem, Rect, Stock
from fourply.trade.findings import Finding, Level
from fourply.trade.package import Package
from fourply.trade.parts import FlatPart, LongPart
from fourply.working.terms import Terms
from fourply.working.working import Figures

_STEPS = 40


@dataclass(frozen=True, slots=True)
class Measured:
    """What a measurement changes: figures, pieces that come out of another size, blocks of the order, findings.

    `resets` say how what is set in those blocks differs. `appear` are findings that were not there, `vanish` those that
    are there no longer. `looked` says whether they were looked for with all that was measured: they are not with a
    figure that follows from others.
    """

    again: Again
    pieces: tuple[FlatPart | LongPart, ...]
    blocks: tuple[Block, ...]
    appear: tuple[Finding, ...] = ()
    vanish: tuple[Finding, ...] = ()
    looked: bool = False
    resets: tuple[Reset, ...] = ()


def measured(
    opened: Opened,
    work: str,
    found: Mapping[str, str],
    cutting: Cutting,
    steps: Steps | None = None,
    *,
    cutter: Cutter = NOMINAL,
) -> Measured:
    """Return what rests on figures of a work that somebody has measured, and only that.

    `found` gives what was measured, as written, by the paths of figures, those of the bench on the cutter among them.
    What a work is given (a caliper, a border, its sheet) is put in and the work resolved anew, what follows from other
    figures is taken as it was measured and what rests on it worked out again. Raises Unknown for a work or a figure
    that there is not, BadLength for text that is no length, BadInput for a figure that is none.
    """
    package = opened.package(work)
    figures = all_figures(package, cutter)
    values = {path: _length(figures, path, text, opened) for path, text in found.items()}
    anew, put = measured_anew(package, opened.show.materials, values)
    rest = {path: value for path, value in values.items() if path not in put}
    now = all_figures(anew, cutter)
    again = _differ(figures, now, work_again(work, now, rest))
    before, after = _findings(package, cutter), _findings(anew, cutter)
    flats = pieces_again(again, (part for flat in cutting.flats for part in flat.parts.values()))
    longs = pieces_again(again, (part for long in cutting.longs for part in long.parts.values()))
    return Measured(
        again,
        (*flats, *longs),
        blocks_again(again, steps) if steps else (),
        _unlike(after, before),
        _unlike(before, after),
        not rest,
        tuple(resets(again, now, steps)) if steps else (),
    )


def _length(figures: Figures, path: str, text: str, opened: Opened) -> Length:
    if path not in figures:
        raise Unknown("figure", path, tuple(figures))
    if not isinstance(figures[path].value, Length):
        raise BadInput(path, "a figure that is a length, since lengths are what is measured")
    return parse_length(text, opened.show.unit)


def _differ(was: Figures, now: Figures, then: Again) -> Again:
    """Return how figures differ from those of the work resolved anew, and from what was worked out again after that.

    A figure that only one of the two has is another way to the same (borders one by one instead of one for all).
    """
    later = {change.figure: change.now for change in then.changed}
    both = ((path, working.value, later.get(path, now[path].value)) for path, working in was.items() if path in now)
    changed = tuple(Change(path, before, after) for path, before, after in both if before != after)
    return replace(then, changed=changed)


def _findings(package: Package, cutter: Cutter) -> tuple[Finding, ...]:
    found = (*package.findings, *settings(package, cutter).findings)
    return tuple(finding for finding in found if finding.level is not Level.HOLDS)


def _unlike(these: Iterable[Finding], those: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return the findings that have no like among others; one whose numbers alone are others is like itself."""
    known = {(each.rule, each.level, each.place) for each in those}
    return tuple(each for each in these if (each.rule, each.level, each.place) not in known)


@dataclass(frozen=True, slots=True)
class Origin:
    """What a piece is cut from by the plans: a board or stick by its number in the plan of its material."""

    material: str
    number: int
    source: str
    copies: int


def origins(cutting: Cutting, part: FlatPart | LongPart) -> tuple[Origin, ...]:
    """Return the boards or sticks that a piece is cut from, in the order of their plan; none where no plan holds it."""
    found = []
    for flat in cutting.flats:
        for placed in flat.plan.placed():
            if placed.piece == part.key:
                source = flat.plan.boards[placed.board].source
                name = f"fallout of {source.key}" if source.kind is Kind.FALLOUT else source.key
                found.append(Origin(flat.material, placed.board + 1, name, placed.copies))
    for long in cutting.longs:
        for number, stick in enumerate(long.plan.sticks, start=1):
            if any(rail.rail == part.key for rail in stick.rails):
                found.append(Origin(long.material, number, stick.stick, stick.copies))
    return tuple(dict.fromkeys(found))


# ── a spoilt piece ───────────────────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class Recut:
    """How a spoilt piece is cut again: from what, by which plan, at what cost in cents, in how many seconds.

    `source` names what it is cut from; `bought` is false where it comes out of what is left over. `seconds` are those
    of its straight cuts; `windows` those of what had been cut in it and must be cut again, where an order is given.
    """

    part: FlatPart
    source: str
    size: Size
    bought: bool
    plan: Plan
    cost: int
    seconds: float
    windows: float


def recut(cutting: Cutting, key: str, times: Times, steps: Steps | None = None) -> Recut:
    """Return how one spoilt piece is cut again from what all plans leave over, a new sheet only where nothing holds it.

    The other pieces stay where they are. Raises Unknown for a piece that no plan holds, BadInput where nothing that
    is left or on sale holds it.
    """
    flat = _holding(cutting, key)
    part, of = flat.parts[key], next(piece for piece in flat.problem.pieces if piece.key == key)
    stock = (*_left(flat), *_sheets(flat))
    problem = replace(flat.problem, pieces=(replace(of, copies=1, fallouts=()),), stock=stock)
    if not any(_holds(problem, each) for each in stock):
        raise BadInput(f"{part.work} {part.name}", "a sheet, an offcut or a fallout that holds it")
    made = solve(Flat(problem, Budget(steps=_STEPS)), lambda *_: True)
    if not isinstance(made, FlatSolved):
        raise BadInput(f"{part.work} {part.name}", "a piece that can be planned")
    board = made.plan.boards[0]
    source = next(each for each in stock if each.key == board.source.key)
    cuts = order_cuts(board.tree, (source.w, source.h))
    stops = len({cut.stop for cut in cuts if cut.stop})
    uses = (Use("sheet", 1), Use("straight", len(cuts)), Use("square_stop", stops), Use("part_turn", len(cuts) // 2))
    return Recut(
        part,
        source.key,
        Size(Length(source.w), Length(source.h)),
        source.kind is Kind.SHEET,
        made.plan,
        made.plan.cost,
        times.seconds(uses),
        _windows(part, steps, times),
    )


def piece_named(cutting: Cutting, named: str) -> str:
    """Return the key of a board, pane or backing by its key (`TM-05/mat.1`) or as tickets name it (`TM-05 top mat`).

    Raises Unknown for one that there is not, BadInput for a rail or strip, which is sawn and not replanned.
    """
    wanted = " ".join(named.replace("/", " ").split()).casefold()
    for cut in cutting.flats:
        for key, part in cut.parts.items():
            if wanted in _names(part):
                return key
    if any(wanted in _names(part) for long in cutting.longs for part in long.parts.values()):
        raise BadInput(named, "a board, pane or backing; a rail or strip is sawn again from the stick that is left")
    names = [f"{part.work} {part.name}" for flat in cutting.flats for part in flat.parts.values()]
    raise Unknown("piece", named, names)


def _names(part: FlatPart | LongPart) -> tuple[str, ...]:
    """Return what a piece may be called: its key, and its name in the terms of any region."""
    named = part.key.replace("/", " "), *(f"{part.work} {terms.say(part.name)}" for terms in Terms)
    return tuple(name.casefold() for name in named)


def still_to_do(recut: Recut, steps: Steps) -> tuple[tuple[Block, Handling], ...]:
    """Return the blocks in which something is cut in a piece, with what: done in the old one, so again in the new."""
    return tuple((block, each) for block in steps.blocks for each in block.handlings if _is_in(each, recut.part))


def _is_in(handling: Handling, part: FlatPart) -> bool:
    return (handling.work, handling.board) == (part.work, part.key.partition("/")[2])


def _holding(cutting: Cutting, key: str) -> FlatCutting:
    for flat in cutting.flats:
        if key in flat.parts:
            return flat
    raise Unknown("piece", key, tuple(key for flat in cutting.flats for key in flat.parts))


def _left(flat: FlatCutting) -> Iterator[Stock]:
    """Yield what the plan leaves over: offcuts worth keeping, fallouts without a use, offcuts of the rack not taken."""
    plan, uses = flat.plan, flat.plan.uses()
    for number, (board, box) in enumerate(plan.remnants(), start=1):
        copies = plan.boards[board].copies
        name = f"offcut {number} of board {board + 1}"
        yield Stock(key=name, w=box.w, h=box.h, cost=0, kind=Kind.RACK, copies=copies)
    used = Counter[str]()
    for source, copies in uses.items():
        used[source.key] += copies if source.kind is Kind.FALLOUT else 0
    for piece in flat.problem.pieces:
        free = piece.copies - used[piece.key]
        if piece.fallouts and free > 0:
            best = max(piece.fallouts, key=lambda rect: rect.w * rect.h)
            yield Stock(
                key=f"fallout of {flat.parts[piece.key].work} {flat.parts[piece.key].name}",
                w=best.w,
                h=best.h,
                cost=flat.problem.fallout_cost,
                kind=Kind.RACK,
                copies=free,
            )
    taken = {source.key: copies for source, copies in uses.items() if source.kind is Kind.RACK}
    for each in flat.problem.stock:
        if each.kind is Kind.RACK and (each.copies or 0) > taken.get(each.key, 0):
            yield replace(each, copies=(each.copies or 0) - taken.get(each.key, 0))


def _sheets(flat: FlatCutting) -> Iterator[Stock]:
    bought = flat.plan.to_buy()
    for each in flat.problem.stock:
        if each.kind is Kind.SHEET and (each.copies is None or each.copies > bought[each.key]):
            yield each if each.copies is None else replace(each, copies=each.copies - bought[each.key])


def _holds(problem: Problem, stock: Stock) -> bool:
    usable, piece = problem.usable(stock), problem.pieces[0]
    if usable is None:
        return False
    size = Rect(piece.w, piece.h)
    return size.fits(usable.size) or (not problem.oriented and piece.turnable and size.turned.fits(usable.size))


def _windows(part: FlatPart, steps: Steps | None, times: Times) -> float:
    """Return how long the cuts of a mat take by itself, where an order of the show is given."""
    if steps is None:
        return 0.0
    own: list[Use] = []
    for block in steps.blocks:
        for handling in block.handlings:
            if _is_in(handling, part):
                changed = [name for name in ("guide", "far", "near") if name in block.changed]
                own.append(Use("lay", not handling.held))
                own += [Use("guide" if name == "guide" else "stop", 1) for name in changed]
                own += [Use("cut", 1) for strike in handling.strikes if strike.side]
    return times.seconds(own)
