"""A block of the order of work as strips of the bench list: what is set up and minded, the pieces, what falls."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from fourply.bench.cuts import Cut, Shave
from fourply.bench.steps import Block, Fall, Handling, Head, Kind, Setting, Strike
from fourply.sheets.bench_job import BenchJob
from fourply.sheets.bench_view import (
    Alone,
    Caution,
    Figure,
    Heading,
    Line,
    Picture,
    Row,
    Strip,
    Tile,
    Tiles,
)
from fourply.sheets.cutter_words import scale_words
from fourply.sheets.settings_view import off_guide_lines
from fourply.working.words import Words

_ACROSS = 3
"""Pieces side by side."""
_FOLLOWING = 3
"""Lines about what falls out that stay with the pieces above them."""
_ON_THE_BAR = frozenset((Head.BEVEL, Head.REVERSE, Head.UPRIGHT, Head.SQUARE))


def strips(job: BenchJob, block: Block, before: Setting, said: Sequence[str]) -> Iterator[Strip]:
    """Yield what stays together: what is set up and minded with the first pieces, then further pieces.

    Of what was set `before` only head and board count; cautions that were `said` just before are not said again.
    """
    cautions = (Caution(text) for text in block.cautions if text not in said)
    rows: list[Row] = [*_set_up(block, before), *cautions]
    stops = tuple(_stops(block, scale_words(job.cutter, job.words)))
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
