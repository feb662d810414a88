"""After a measurement, or a slip of the blade: what is to be worked out, set and cut again, and what that costs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace

from fourply.app.bench_figures import all_figures
from fourply.app.cutting import Cutting, FlatCutting
from fourply.app.shows import Opened
from fourply.app.solving import Flat, FlatSolved, solve
from fourply.bench.again import Again, blocks_again, pieces_again, work_again
from fourply.bench.steps import Block, Steps, Use
from fourply.bench.straight_cuts import order_cuts
from fourply.bench.times import Times
from fourply.errors import BadInput, Unknown
from fourply.measure.length import Length
from fourply.measure.notation import parse_length
from fourply.measure.size import Size
from fourply.planning.budget import Budget
from fourply.planning.plan import Plan
from fourply.planning.problem import Kind, Problem, Rect, Stock
from fourply.trade.parts import FlatPart

_STEPS = 40


@dataclass(frozen=True, slots=True)
class Measured:
    """What a measurement changes: the figures, the flat pieces that come out of size, the blocks to set otherwise."""

    again: Again
    pieces: tuple[FlatPart, ...]
    blocks: tuple[Block, ...]


def measured(
    opened: Opened, work: str, found: dict[str, str], cutting: Cutting, steps: Steps | None = None
) -> Measured:
    """Return what rests on figures of a work that somebody has measured, and only that.

    `found` gives what was measured, as written, by the paths of figures, those of the bench among them. Raises Unknown
    for a work or a figure that there is not, BadLength for text that is no length.
    """
    figures = all_figures(opened.package(work))
    values = {path: parse_length(text, opened.show.unit) for path, text in found.items()}
    again = work_again(work, figures, values)
    parts = [part for flat in cutting.flats for part in flat.parts.values()]
    return Measured(again, pieces_again(again, parts), blocks_again(again, steps) if steps else ())


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
    board = part.key.partition("/")[2]
    own: list[Use] = []
    for block in steps.blocks:
        for handling in block.handlings:
            if (handling.work, handling.board) == (part.work, board):
                changed = [name for name in ("guide", "far", "near") if name in block.changed]
                own.append(Use("lay", not handling.held))
                own += [Use("guide" if name == "guide" else "stop", 1) for name in changed]
                own += [Use("cut", 1) for strike in handling.strikes if strike.side]
    return times.seconds(own)
