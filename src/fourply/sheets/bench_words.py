"""The order of work of a show as its bench list: blocks with one large figure under it, in the words of the bench."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from fourply.bench.cuts import Cut, Shave
from fourply.bench.cutter import Cutter, Side
from fourply.bench.steps import Block, Fall, Handling, Head, Kind, Setting, Steps, Strike
from fourply.sheets.bench_picture import Bench
from fourply.sheets.bench_totals import minutes, numbered, totals
from fourply.sheets.bench_view import (
    Alone,
    BenchView,
    Caution,
    Figure,
    Group,
    Heading,
    Line,
    Part,
    Picture,
    Row,
    Strip,
    Tile,
    Tiles,
)
from fourply.sheets.settings_view import off_guide_lines
from fourply.working.words import Words

_ACROSS = 3
"""Pieces side by side."""
_ON_THE_BAR = frozenset((Head.BEVEL, Head.REVERSE, Head.UPRIGHT, Head.SQUARE))
_FOLLOWING = 3
"""Lines about what falls out that stay with the pieces above them."""
_GUIDED = frozenset((Kind.CUT, Kind.MARK))
_ALONE = {Kind.HAND: "By hand", Kind.STACK: "Off the bar", Kind.BLANK: "Blanks", Kind.OVAL: "Ovals"}
_FOOT = "Large: guide or stop. Bold: set it anew. Light: leave it. Small boards: the back, as it lies; heavy: this cut."


@dataclass(frozen=True, slots=True)
class BenchJob:
    """All that the bench list of a show rests on; `benches` hold its works' packages and settings by their numbers."""

    steps: Steps
    benches: Mapping[str, Bench]
    cutter: Cutter
    words: Words


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
    yield f"Figures in {'millimetres' if job.words.metric else 'inches'}. Times: {steps.times}."


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
    big = tuple(_big(first, job.words))
    made = [
        (strip, _said(around[block.number].after))
        for block in run
        for strip in _strips(job, block, around[block.number])
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


def _big(block: Block, words: Words) -> Iterator[Figure]:
    setting = block.setting
    if block.kind in _GUIDED and setting.guide is not None:
        yield Figure("guide", words.mark(setting.guide), "guide" in block.changed)
    elif block.kind is Kind.BLANK:
        if setting.stop is None:
            yield Figure("clean edge", "trim")
        else:
            yield Figure("stop", words.mark(setting.stop), "stop" in block.changed)
    elif block.kind is Kind.OVAL and setting.oval:
        for name, length in zip(("half the axes’ difference", "half the longer axis"), setting.oval, strict=True):
            yield Figure(name, words.mark(length), "oval" in block.changed)


# ── strips ───────────────────────────────────────────────────────────────────────────────────────────────────────


def _strips(job: BenchJob, block: Block, around: _Around) -> Iterator[Strip]:
    """Yield what stays together: what is set up and minded with the first pieces, then further pieces."""
    cautions = (Caution(text) for text in block.cautions if text not in around.said)
    rows: list[Row] = [*_set_up(block, around.before), *cautions]
    stops = tuple(_stops(block, job.words))
    if block.kind is Kind.BLANK:
        for handling in block.handlings:
            yield (*rows, *_blanking(handling, job.words))
            rows = []
        if rows:
            yield tuple(rows)
        return
    for handlings in _together(job, block.handlings):
        names = _operations(handlings[0])
        heading = Heading(_title(block, names), stops, f"from the {job.cutter.stops.value}" if stops else "")
        pieces, after = [*_pieces(job, heading, handlings)], _falls(job, handlings)
        head = 1 if len(pieces) == 1 else 2  # a heading stays with the first pieces below it
        parts = [[*rows, *pieces[:head]], *([row] for row in pieces[head:])]
        parts[-1].extend(after[:_FOLLOWING])  # and what comes off with the last
        yield from (tuple(part) for part in (*parts, *([row] for row in after[_FOLLOWING:])))
        rows, stops = [], tuple(replace(stop, reset=False) for stop in stops)
    if rows:
        yield tuple(rows)


def _together(job: BenchJob, handlings: Iterable[Handling]) -> Iterator[tuple[Handling, ...]]:
    """Yield pieces to which the same is done, side by side; each by itself where there is something to set out."""
    for _, run in itertools.groupby(handlings, key=_operations):
        alike = tuple(run)
        if any(_set_out(job, handling) for handling in alike):
            yield from ((handling,) for handling in alike)
        else:
            yield alike


def _pieces(job: BenchJob, heading: Heading, handlings: Sequence[Handling]) -> Iterator[Row]:
    ends = {_ends(handling.strikes) for handling in handlings}
    alike = len(ends) == 1 and bool(heading.stops)
    if alike:
        names = zip(heading.stops, next(iter(ends)), strict=False)
        stops = (replace(stop, name=f"{stop.name}, {end}") if end else stop for stop, end in names)
        heading = replace(heading, stops=tuple(stops))
    if len(handlings) == 1:
        yield Alone(heading, _tile(job, handlings[0], ends=False), _set_out(job, handlings[0]))
        return
    tiles = [_tile(job, handling, ends=bool(heading.stops) and not alike) for handling in handlings]
    yield heading
    across = 2 if len(tiles) == 2 else _ACROSS
    for few in itertools.batched(tiles, across):
        yield Tiles(few, across)


def _set_up(block: Block, before: Setting) -> Iterator[Row]:
    """Yield the head where it is another than before, and what is cut into blanks where that is."""
    setting = block.setting
    if setting.head is not None and setting.head is not before.head and "head" in block.changed:
        if setting.head is Head.PENCIL:
            yield Line("Pencil along the guide,", "no blade.")
        else:
            name = setting.head.value
            on = " head on the bar." if setting.head in _ON_THE_BAR else "."
            yield Line(f"{name[:1].upper()}{name[1:]}{on}")
    if setting.board and setting.board != before.board and block.kind is Kind.BLANK:
        yield Line(f"{setting.board[:1].upper()}{setting.board[1:]}", box=False)


def _stops(block: Block, words: Words) -> Iterator[Figure]:
    for name, length in (("far", block.setting.far), ("near", block.setting.near)):
        if length is not None:
            yield Figure(f"{name} end", words.mark(length), name in block.changed)


def _operations(handling: Handling) -> tuple[str, ...]:
    return tuple(dict.fromkeys(strike.operation for strike in handling.strikes))


def _title(block: Block, names: Sequence[str]) -> str:
    text = ", ".join(names)
    text = text[:1].upper() + text[1:]
    return f"Pencil: {text}" if block.kind is Kind.MARK else text


# ── pieces ───────────────────────────────────────────────────────────────────────────────────────────────────────


def _tile(job: BenchJob, handling: Handling, *, ends: bool) -> Tile:
    """Return a piece; `ends` where it is to say which sides the ends of its cut lie towards."""
    bench = job.benches.get(handling.work)
    if bench:
        figures = [strike.figure for strike in handling.strikes]
        picture = bench.picture(handling.board, handling.size, figures)
    else:
        picture = Picture((handling.size.width.as_mm, handling.size.height.as_mm))
    lines = tuple(line for line in _tile_lines(job, handling, ends=ends) if line)
    return Tile(handling.work or handling.name, _sides(handling.strikes), lines, picture, handling.title)


def _tile_lines(job: BenchJob, handling: Handling, *, ends: bool) -> Iterator[str]:
    far, near = _ends(handling.strikes)
    if ends and far and near:
        yield f"far {far}"
        yield f"near {near}"
    if not _is_shaved(job, handling):
        yield job.words.size(handling.size)
    said = any(handling.name.lower() in name.lower() for name in _operations(handling))
    yield handling.name if handling.work and not said else ""
    yield f"{handling.copies} alike" if handling.copies > 1 else ""
    yield "still on the cutter" if handling.held else ""


def _is_shaved(job: BenchJob, handling: Handling) -> bool:
    """Tell whether it is not the board that lies on the cutter but what dropped out of it."""
    bench = job.benches.get(handling.work)
    found = [bench.find(strike.figure) for strike in handling.strikes] if bench else []
    return any(entry is not None and isinstance(entry[1], Shave) for entry in found)


def _ends(strikes: Sequence[Strike]) -> tuple[str, str]:
    """Return the sides that the far and the near end of the only cut lie towards, nothing where there are several."""
    return (strikes[0].far, strikes[0].near) if len(strikes) == 1 else ("", "")


def _sides(strikes: Iterable[Strike]) -> str:
    """Return the sides in order, by opening where there are several: `top, left`, or `opening 2: top; 3: top`."""
    said = []
    for hole, run in itertools.groupby(strikes, key=lambda strike: strike.hole):
        sides = ", ".join(strike.side for strike in run if strike.side)
        number = f"opening {hole}" if hole else ""
        said.append(": ".join(each for each in (number, sides) if each))
    return "; ".join(each for each in said if each)


def _set_out(job: BenchJob, handling: Handling) -> tuple[str, ...]:
    """Return the figures of arcs, slants, ovals and shaves."""
    bench = job.benches.get(handling.work)
    if bench is None:
        return ()
    found = [entry for strike in handling.strikes if strike.figure and (entry := bench.find(strike.figure))]
    lines: list[str] = []
    for operation, entries in itertools.groupby(found, key=lambda entry: entry[0]):
        tasks = tuple(task for _, task in entries if not isinstance(task, Cut))
        if tasks:
            lines += off_guide_lines(replace(operation, tasks=tasks), job.words)
    return tuple(lines)


def _falls(job: BenchJob, handlings: Sequence[Handling]) -> list[Row]:
    return [_fall(handling, fall, job.words) for handling in handlings for fall in handling.falls]


def _fall(handling: Handling, fall: Fall, words: Words) -> Line:
    """Return what comes off behind its work; behind its size where it belongs to none yet."""
    label = f" Write “{fall.label}”." if fall.label else ""
    size = words.size(fall.size) if fall.size else ""
    what = f"{fall.what} {size}" if size and handling.work else fall.what
    return Line(handling.work or size, f"{what[:1].upper()}{what[1:]}: {fall.goes}.{label}", box=False)


def _blanking(handling: Handling, words: Words) -> Iterator[Row]:
    """Yield a piece that is cut along the bar: what it is, its cuts by their rings, what comes off."""
    rings = tuple(str(strike.number) for strike in handling.strikes if strike.number)
    text = ", ".join(part for part in (handling.label, words.size(handling.size)) if part)
    done = ", ".join(_operations(handling))
    if handling.held:
        text += "; still on the cutter"
    if handling.copies > 1:
        text += f"; {handling.copies} alike"
    name = " ".join(part for part in (handling.work, handling.name) if part)
    yield Line(name, f"{text}: {done}." if done else f"{text}.", rings=rings)
    for fall in handling.falls:
        yield _fall(handling, fall, words)
