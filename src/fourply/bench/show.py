"""The order of work of a whole show: sheets into blanks, then the mats, held against the orders that come to mind.

Sheets and offcuts are cut up first. Fallouts are cut up when they are there, together where that pays; the mats cut
from them wait for that. All that happens at the mat cutter is one question of order: settings, pieces laid and turned,
heads and boards changed, weighed in seconds by the table of times.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import groupby
from types import MappingProxyType

from fourply.bench.blanks import Draft, Sheet, blank_drafts
from fourply.bench.blocks import Goes, ends_of, number_blocks, task_drafts
from fourply.bench.mat_question import PARTS, ask, with_hand_work
from fourply.bench.order import Counted
from fourply.bench.order_found import EFFORT, find_order
from fourply.bench.pair import two_people
from fourply.bench.settings import Settings
from fourply.bench.steps import Block, Fall, Head, Kind, Setting, Stage, Steps, Strike, Tally, Use
from fourply.bench.times import Times
from fourply.bench.todo import Bench, Piece, Todo, Todos, todos
from fourply.measure.length import Length
from fourply.measure.size import Size
from fourply.trade.package import Package
from fourply.trade.parts import FlatPart, Stuff

_QUICK = 8
"""Sheets are ordered with an eighth of the effort: each material is a small question of its own."""
_NO_USES: Mapping[str, tuple[Use, ...]] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Work:
    """What a show asks of the bench; `after` are the stages after the mats, with what they are made of."""

    show: str
    cutter: str
    bench: Bench
    works: Sequence[tuple[Package, Settings]]
    sheets: Sequence[Sheet] = ()
    parts: Mapping[str, FlatPart] = field(default_factory=dict)
    after: Mapping[str, tuple[Use, ...]] = _NO_USES


def order_show(work: Work, times: Times, effort: int = EFFORT) -> Steps:
    """Return the order of work of a show. The same work, times and effort give the same order."""
    found = todos(work.works, work.bench)
    goes = _enter_fallouts(found, work)
    tasks = found.tasks
    asked = ask(tasks, times, work.bench)
    best = find_order(asked.question, effort)
    order = list(with_hand_work(tasks, [asked.tasks[item] for item in best.order]))
    drafts = [*_first_blanks(work, times, effort), *_drafts(tasks, order, goes, (work, times, effort))]
    blocks = tuple(number_blocks(drafts, times, work.bench))
    fixed = times.seconds(use for task in tasks if task.kind in (Kind.CUT, Kind.OVAL, Kind.MARK) for use in task.uses)
    return Steps(
        work.show,
        work.cutter,
        times.name,
        blocks,
        _tally("this order", best.counted, fixed),
        tuple(_tally(name, counted, fixed) for name, counted in best.obvious.items()),
        best.bound / 1000 + fixed,
        tuple(_stages(blocks, work.after, times)),
        two_people(drafts, blocks),
    )


def _tally(name: str, counted: Counted, fixed: float) -> Tally:
    parts = dict(zip(PARTS, counted.parts, strict=True))
    return Tally(
        name,
        guides=parts["guide"],
        stops=parts["far"] + parts["near"],
        heads=parts["head"],
        boards=parts["board"],
        handled=counted.laid,
        turned=counted.turned,
        seconds=counted.cost / 1000 + fixed,
    )


def _first_blanks(work: Work, times: Times, effort: int) -> Iterator[Draft]:
    """Yield the cutting up of what is there from the first: sheets and offcuts, one material after the other."""
    whole = sorted(
        (sheet for sheet in work.sheets if not sheet.feeder), key=lambda sheet: list(Stuff).index(sheet.stuff)
    )
    for _, sheets in groupby(whole, key=lambda sheet: (sheet.stuff, sheet.material)):
        yield from blank_drafts(list(sheets), work.parts, times, effort // _QUICK)


def _enter_fallouts(found: Todos, work: Work) -> Goes:
    """Enter a task for each fallout that is cut up, between the tasks that free it and those that need its pieces."""
    places: dict[tuple[str, int], list[Fall]] = {}
    used: dict[str, int] = {}
    cut: dict[str, int] = {}
    for at, sheet in enumerate(work.sheets):
        frees: list[int] = []
        feeders = []
        if sheet.feeder:
            for _ in range(sheet.copies):
                feeder = (sheet.feeder, used.get(sheet.feeder, 0))
                used[sheet.feeder] = feeder[1] + 1
                frees += found.frees.get(feeder, [])
                feeders.append(feeder)
            task = _fallout_task(found, work, at, frees)
            found.tasks.append(task)
        pieces = [node.piece or "" for node in sheet.pieces]
        for key in [key for key in pieces for _ in range(sheet.copies)]:
            piece = (key, cut.get(key, 0))
            cut[key] = piece[1] + 1
            if sheet.feeder:
                for each in found.starts.get(piece, ()):
                    waits = found.tasks[each]
                    found.tasks[each] = replace(waits, after=(*waits.after, len(found.tasks) - 1))
        names = ", ".join(f"{work.parts[key].work} {work.parts[key].name}" for key in dict.fromkeys(pieces))
        for feeder in feeders:
            size = Size(Length(sheet.size[0]), Length(sheet.size[1]))
            fall = Fall("fallout", f"stock for {names}", f"board {sheet.number}, {sheet.material}", size)
            places.setdefault(feeder, []).append(fall)
    return Goes(places)


def _fallout_task(found: Todos, work: Work, at: int, frees: Sequence[int]) -> Todo:
    sheet = work.sheets[at]
    size = Size(Length(sheet.size[0]), Length(sheet.size[1]))
    part = work.parts[sheet.feeder]
    piece = Piece(part.work, "", part.key.partition("/")[2], sheet.name, 0, size)
    setting = Setting(Head.SQUARE)
    return Todo(piece, Kind.BLANK, setting, Strike(str(at)), tuple(frees), found.lying(), 0, ())


def _drafts(tasks: Sequence[Todo], order: Iterable[int], goes: Goes, how: tuple[Work, Times, int]) -> Iterator[Draft]:
    """Yield the blocks of the mats, with the fallouts that are cut up in one go between them."""
    work, times, effort = how
    ends = ends_of(tasks, order)
    for squares, run in groupby(order, key=lambda at: tasks[at].kind is Kind.BLANK):
        together = list(run)
        if not squares:
            yield from task_drafts(tasks, together, ends, goes)
            continue
        sheets = [work.sheets[int(tasks[at].strike.operation)] for at in together]
        sheets.sort(key=lambda sheet: (list(Stuff).index(sheet.stuff), sheet.material, sheet.number))
        needs = frozenset(each for at in together for each in tasks[at].after)
        for _, same in groupby(sheets, key=lambda sheet: (sheet.stuff, sheet.material)):
            for draft in blank_drafts(list(same), work.parts, times, effort // _QUICK):
                yield replace(draft, needs=needs, gives=draft.gives | frozenset(together))


def _stages(blocks: Sequence[Block], after: Mapping[str, tuple[Use, ...]], times: Times) -> Iterator[Stage]:
    uses: dict[str, list[Use]] = {}
    for block in blocks:
        uses.setdefault(block.stage, []).extend(block.uses)
    for name, each in [*uses.items(), *after.items()]:
        if each:
            yield Stage(name, *times.within(each))
