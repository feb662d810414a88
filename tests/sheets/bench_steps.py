"""Orders of work made by hand: every cut of a few packages, one guide setting after the other, blanks before them.

It is no order that a bench should keep, only one in which everything occurs.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from tests.sheets.samples import INCHES, inch

from fourply.bench.cuts import Cut, Operation, Oval, Ruled, Shave, Task
from fourply.bench.cutter import Cutter
from fourply.bench.settings import settings
from fourply.bench.steps import Block, Fall, Handling, Head, Kind, Person, Setting, Stage, Steps, Strike, Tally, Use
from fourply.measure.size import Size
from fourply.sheets.bench_job import BenchJob
from fourply.sheets.bench_picture import Bench
from fourply.trade.package import Package
from fourply.working.words import Words

type Done = tuple[int, Package, Operation, Task]

STAGES = (Stage("blanks", 1500, 1200, 2100), Stage("windows", 4140, 3300, 5400))
TIMES = "the seeds, nothing measured yet"


def benches(packages: Iterable[Package], cutter: Cutter) -> dict[str, Bench]:
    return {package.work.id: Bench(package, settings(package, cutter)) for package in packages}


def job(packages: Sequence[Package], cutter: Cutter, words: Words = INCHES, *, pencil: bool = False) -> BenchJob:
    """Return the bench list of a show of these packages; where `pencil`, guide lines are drawn before each cut."""
    found = benches(packages, cutter)
    return BenchJob(steps(found, cutter, pencil=pencil), found, cutter, words)


def steps(found: dict[str, Bench], cutter: Cutter, *, pencil: bool = False) -> Steps:
    blocks = [*_blanks(found), *_windows(found, pencil=pencil)]
    numbered = tuple(
        replace(block, number=at, ends=60.0 * at, changed=_changed(blocks[at - 2] if at > 1 else None, block))
        for at, block in enumerate(blocks, start=1)
    )
    window = Tally("this order", 12, 30, 3, 4, 60, 20, 4140)
    return Steps(
        show="A Year of Tides",
        cutter=cutter.name,
        times=TIMES,
        blocks=numbered,
        window=window,
        obvious=(replace(window, name="mat by mat", guides=44), replace(window, name="side by side", guides=21)),
        bound=4140,
        stages=STAGES,
        people=(Person("one", (1, 3), (0, 600), 1200), Person("the other", (2,), (60,), 900)),
    )


def _changed(before: Block | None, block: Block) -> tuple[str, ...]:
    names = ("head", "board", "guide", "far", "near", "stop", "oval")
    then = before.setting if before else Setting()
    return tuple(
        name
        for name in names
        if getattr(block.setting, name) is not None and getattr(block.setting, name) != getattr(then, name)
    )


def _block(kind: Kind, stage: str, setting: Setting, handlings: Sequence[Handling], *cautions: str) -> Block:
    return Block(0, kind, stage, setting, (), tuple(handlings), cautions, 60.0, 0.0, (Use("set the guide", 1),))


def _blanks(found: dict[str, Bench]) -> Iterator[Block]:
    sheet = Size(inch(32), inch(40))
    trimmed = Handling("", "", "board 1", "white 4-ply, sheet", sheet, (Strike("trim the long edge", number=1),))
    yield _block(Kind.BLANK, "blanks", Setting(Head.SQUARE), (trimmed,), "Take the guide off for the squaring arm.")
    for at, bench in enumerate(found.values(), start=2):
        blank = bench.package.mats[0].blank
        strikes = (Strike("cut", number=at), Strike("turn, cut", number=at + 1))
        falls = (Fall("blank", "to the pile", f"{bench.package.work.id} top", blank),)
        handling = Handling("", "", "board 1", f"piece {at}", sheet, strikes, held=at > 2, falls=falls)
        yield _block(Kind.BLANK, "blanks", Setting(Head.SQUARE, stop=blank.width), (handling,))


def _windows(found: dict[str, Bench], *, pencil: bool) -> Iterator[Block]:
    done = [
        (at, bench.package, operation, task)
        for bench in found.values()
        for at, operation in enumerate(bench.settings.operations)
        for task in operation.tasks
    ]
    done.sort(key=_order)
    for _, run in itertools.groupby(done, key=lambda each: (each[0], _state(each[3]))):
        together = tuple(run)
        kind, setting = _setting(together[0][3])
        handlings = [
            _handling(package, operation, [task for *_, task in tasks], guided=setting.guide is not None)
            for (package, operation), tasks in _pieces(together)
        ]
        if pencil and kind is Kind.CUT:
            yield _block(Kind.MARK, "windows", Setting(Head.PENCIL, guide=setting.guide), handlings)
            kind, setting = Kind.CUT, replace(setting, far=None, near=None)
        cautions = {Kind.HAND: "Fingers clear: the piece is small.", Kind.CUT: "Cut a test corner first."}
        yield _block(kind, "windows", setting, handlings, cautions.get(kind, "Mind the edge."))


def _pieces(done: Iterable[Done]) -> Iterator[tuple[tuple[Package, Operation], tuple[Done, ...]]]:
    for _, run in itertools.groupby(done, key=lambda each: (each[1].work.id, id(each[2]))):
        tasks = tuple(run)
        yield tasks[0][1:3], tasks


def _order(done: Done) -> tuple[int, tuple[int, ...]]:
    return done[0], _state(done[3])


def _state(task: Task) -> tuple[int, ...]:
    match task:
        case Cut():
            return 1, task.guide.nm, task.far.stop.nm, task.near.stop.nm
        case Oval():
            return 0, task.difference.nm, task.semi[0].nm
        case Ruled():
            return (3,)
        case _:
            return (2,)


def _setting(task: Task) -> tuple[Kind, Setting]:
    board = "white 4-ply"
    match task:
        case Cut():
            return Kind.CUT, Setting(Head.BEVEL, board, task.guide, task.far.stop, task.near.stop)
        case Oval():
            return Kind.OVAL, Setting(Head.OVAL, board, oval=(task.difference, task.semi[0]))
        case Ruled():
            return Kind.STACK, Setting()
        case _:
            return Kind.HAND, Setting()


def _handling(package: Package, operation: Operation, tasks: Sequence[Task], *, guided: bool) -> Handling:
    strikes = tuple(_strike(operation, task) for task in tasks)
    falls: tuple[Fall, ...] = ()
    if guided:
        falls = (Fall("fallout", "keep it, same way round", f"{package.work.id} {operation.name}"),)
    name = operation.name.removesuffix(" window")
    return Handling(
        package.work.id,
        operation.board,
        name,
        "",
        operation.size,
        strikes,
        package.work.title,
        operation.copies,
        held=False,
        turns=len(strikes) - 1,
        falls=falls,
    )


def _strike(operation: Operation, task: Task) -> Strike:
    if isinstance(task, Cut):
        far, near = task.far.towards, task.near.towards
        return Strike(operation.name, task.side, task.figure, operation.hole, 0, far, near, task.length)
    name = "shave the drop-out" if isinstance(task, Shave) else operation.name
    return Strike(name, "", task.figure, operation.hole)
