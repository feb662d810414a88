"""The order of work of a show as its bench list: blocks with one large figure under it, in the words of the bench."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from fourply.bench.cutter import Side
from fourply.bench.steps import Block, Kind, Setting
from fourply.sheets.bench_job import BenchJob
from fourply.sheets.bench_strips import strips
from fourply.sheets.bench_totals import minutes, numbered, totals
from fourply.sheets.bench_view import (
    BenchView,
    Figure,
    Group,
    Part,
)
from fourply.sheets.cutter_words import on_scale, scales_note

_GUIDED = frozenset((Kind.CUT, Kind.MARK))
_ALONE = {Kind.HAND: "By hand", Kind.STACK: "Off the bar", Kind.BLANK: "Blanks", Kind.OVAL: "Ovals"}
_FOOT = "Large: guide or stop. Bold: set it anew. Light: leave it. Small boards: the back, as it lies; heavy: this cut."


def bench_view(job: BenchJob) -> BenchView:
    """Return the bench list of a show."""
    steps = job.steps
    return BenchView(
        title=f"Bench list: {steps.show}" if steps.show else "Bench list",
        lines=tuple(_head(job)),
        corner=tuple(_extent(steps.blocks)),
        parts=tuple(_parts(job)),
        totals=totals(steps),
        foot=_FOOT,
    )


def _head(job: BenchJob) -> Iterator[str]:
    steps = job.steps
    guides, handled = _counts(steps.blocks)
    here = {block.stage for block in steps.blocks}
    stages = [stage for stage in steps.stages if stage.name in here]  # others follow when the mats are cut
    time = f"about {minutes(sum(stage.seconds for stage in stages))}"
    low, high = (minutes(sum(getattr(stage, name) for stage in stages)) for name in ("low", "high"))
    yield f"{_many(guides, 'guide setting')}, {_many(handled, 'piece')} handled, {time} ({low} to {high})"
    hand = "left-hand" if job.cutter.guide is Side.LEFT else "right-hand"
    tested = "" if job.cutter.tested else " No test cut on file: nothing is corrected."
    stopped = any(block.setting.far or block.setting.near for block in steps.blocks)
    ends = f"stops read from the {job.cutter.stops.value}" if stopped else "cuts end at pencil lines"
    yield f"{steps.cutter}: {hand} guide, {ends}; face down.{tested}"
    scales = scales_note(job.cutter, job.words)
    unit = "millimetres" if job.words.metric else "inches"
    yield f"Figures in {unit}. {scales}{' ' if scales else ''}Times: {steps.times}."


def _counts(blocks: Iterable[Block]) -> tuple[int, int]:
    """Return how often a guide is set, and how often a piece is laid on the cutter or the bench."""
    blocks = tuple(blocks)
    guides = sum("guide" in block.changed for block in blocks)
    return guides, sum(not handling.held for block in blocks for handling in block.handlings)


def _extent(blocks: Iterable[Block]) -> Iterator[str]:
    boards = {(handling.work, handling.board) for block in blocks for handling in block.handlings if handling.work}
    yield _many(len({work for work, _ in boards}), "work")
    yield _many(len(boards), "board")


def _many(count: int, name: str) -> str:
    return f"{count} {name}" if count == 1 else f"{count} {name}s"


# ── parts and groups ─────────────────────────────────────────────────────────────────────────────────────────────


def _parts(job: BenchJob) -> Iterator[Part]:
    times = {stage.name: stage for stage in job.steps.stages}
    around = _around(job.steps.blocks)
    for name, blocks in itertools.groupby(job.steps.blocks, key=lambda block: around[block.number].stage):
        stage = times.pop(name, None)
        note = ""
        if stage:
            note = f"about {minutes(stage.seconds)} ({minutes(stage.low)} to {minutes(stage.high)})"
        groups = tuple(_group(job, run, around) for run in _runs(list(blocks)))
        yield Part(name[:1].upper() + name[1:], note, groups)


@dataclass(frozen=True, slots=True)
class _Around:
    """What a block stands among: its stage, which setting of the guide it is for, what was set and said before it.

    What is done by hand between others is of their stage. Of `before` and `after` only head and board count.
    """

    stage: str
    guide: str
    before: Setting
    after: Setting
    said: tuple[str, ...]


def _around(blocks: Sequence[Block]) -> dict[int, _Around]:
    """Return what each block stands among, by its number."""
    guides = max(sum("guide" in block.changed for block in blocks), 1)
    at, stage, now, found = 0, "", Setting(), {}
    said: tuple[str, ...] = ()
    for block in blocks:
        at += "guide" in block.changed
        if not stage or block.kind not in (Kind.HAND, Kind.STACK):
            stage = block.stage
        before, here = now, block.setting
        head = here.head or before.head  # another head is not set for the board of the one before
        now = Setting(head=head, board=here.board or (before.board if head is before.head else None))
        found[block.number] = _Around(stage, f"guide {max(at, 1)} of {guides}", before, now, said)
        said = block.cautions
    return found


def _runs(blocks: Sequence[Block]) -> Iterator[list[Block]]:
    """Yield blocks by the figure that they stand under, those by hand under that of the block before them."""
    run: list[Block] = []
    for block in blocks:
        if run and not _joins(run, block):
            yield run
            run = []
        run.append(block)
    if run:
        yield run


def _joins(run: Sequence[Block], block: Block) -> bool:
    first = run[0]
    if block.kind is Kind.HAND:
        return first.kind in _GUIDED or first.kind is Kind.HAND
    if block.kind is not first.kind:
        return False
    if block.kind in _GUIDED:
        same = block.setting.guide in {first.setting.guide, None} and block.setting.strip == first.setting.strip
        return same and "guide" not in block.changed
    if block.kind is Kind.BLANK:
        return block.setting.stop == first.setting.stop
    return block.setting.oval == first.setting.oval


def _group(job: BenchJob, run: Sequence[Block], around: Mapping[int, _Around]) -> Group:
    first = run[0]
    big = tuple(_big(first, job))
    made = [
        (strip, _said(around[block.number].after))
        for block in run
        for strip in strips(job, block, around[block.number].before, around[block.number].said)
    ]
    return Group(
        big,
        "" if big else _ALONE.get(first.kind, ""),
        tuple(_notes(job, run, around[first.number].guide)),
        tuple(strip for strip, _ in made),
        tuple(state for _, state in made),
        small=first.kind is Kind.BLANK,
    )


def _notes(job: BenchJob, run: Sequence[Block], guide: str) -> Iterator[str]:
    """Yield what stands below the large figures of a group."""
    first = run[0]
    if first.kind is Kind.MARK:
        yield "pencil, no cut"
    if first.kind in _GUIDED:
        yield guide
        if first.setting.strip:
            yield f"with a strip of {job.words.write(first.setting.strip)}"
        if "guide" not in first.changed:
            yield "as it stands"
    yield f"after {minutes(run[-1].ends)}"
    if job.steps.people:
        yield numbered([block.number for block in run])


def _said(setting: Setting) -> str:
    return ", ".join(part for part in (setting.head.value if setting.head else "", setting.board or "") if part)


def _big(block: Block, job: BenchJob) -> Iterator[Figure]:
    setting, words = block.setting, job.words
    if block.kind in _GUIDED and setting.guide is not None:
        yield Figure("guide", on_scale(setting.guide, job.cutter, words), "guide" in block.changed)
    elif block.kind is Kind.BLANK:
        if setting.stop is None:
            yield Figure("clean edge", "trim")
        else:
            yield Figure("stop", words.mark(setting.stop), "stop" in block.changed)
    elif block.kind is Kind.OVAL and setting.oval:
        for name, length in zip(("half the axes’ difference", "half the longer axis"), setting.oval, strict=True):
            yield Figure(name, words.mark(length), "oval" in block.changed)
