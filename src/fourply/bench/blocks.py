"""Tasks in their order as blocks: what is set, which pieces are done with it set, how long that takes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby, pairwise

from fourply.bench.blanks import Draft
from fourply.bench.steps import Block, Fall, Handling, Head, Kind, Setting, Use
from fourply.bench.times import Times
from fourply.bench.todo import Bench, Todo

_PARTS = ("head", "board", "guide", "far", "near", "stop", "oval")
_ENTRIES = {"head": "head", "board": "board", "guide": "guide", "far": "stop", "near": "stop", "oval": "oval"}
_STAGES = {Kind.BLANK: "blanks", Kind.HAND: "by hand", Kind.STACK: "by hand"}


@dataclass(frozen=True, slots=True)
class Goes:
    """Where fallouts go: by key of piece and copy, the words and the label of the blanks that are cut from it."""

    places: Mapping[tuple[str, int], Sequence[Fall]]


def task_drafts(tasks: Sequence[Todo], order: Iterable[int], ends: frozenset[int], goes: Goes) -> Iterator[Draft]:
    """Yield the blocks of tasks, all but the cutting up of fallouts, which the caller puts in their places.

    `ends` are the tasks after which something falls out.
    """
    lies: tuple[int, int] | None = None
    for (kind, setting, _), run in groupby(
        order, key=lambda at: (tasks[at].kind, tasks[at].setting, _entry(tasks[at]))
    ):
        together = list(run)
        handlings, uses = [], [use for at in together for use in tasks[at].uses]
        for (lying, _), each in groupby(together, key=lambda at: (tasks[at].lying, tasks[at].strike.operation)):
            own = list(each)
            held = lies is not None and lies[0] == lying
            turns = [*([lies[1]] if held and lies else []), *(tasks[at].turn for at in own)]
            turned = sum(one != other for one, other in pairwise(turns))
            falls = tuple(fall for at in own if at in ends for fall in _falls(tasks[at], goes))
            handlings.append(_handling(tasks, own, held, turned, falls))
            if kind not in (Kind.HAND, Kind.STACK):
                uses += [Use("turn", turned)] if held else [Use("lay", 1), Use("turn", turned)]
                lies = (lying, tasks[own[-1]].turn)
        yield Draft(
            kind,
            _STAGES.get(kind, "windows"),
            setting,
            tuple(_copies_together(handlings)),
            tuple(uses),
            tuple(_cautions(kind, setting, [tasks[at] for at in together])),
            needs=frozenset((tasks[at].piece.key, tasks[at].piece.copy) for at in together) | _before(tasks, together),
            gives=frozenset(together),
        )


def _before(tasks: Sequence[Todo], together: Sequence[int]) -> frozenset[object]:
    return frozenset(each for at in together for each in tasks[at].after)


def _entry(task: Todo) -> str:
    """Return what keeps hand work of different kinds in blocks of their own."""
    return task.uses[0].entry if task.kind in (Kind.HAND, Kind.STACK) else ""


def ends_of(tasks: Sequence[Todo], order: Iterable[int]) -> frozenset[int]:
    """Return the tasks that are the last of their operation on their piece: then something falls out."""
    last = {(tasks[at].piece, tasks[at].strike.operation, tasks[at].strike.hole): at for at in order}
    return frozenset(at for at in last.values() if tasks[at].then)


def _falls(task: Todo, goes: Goes) -> Iterator[Fall]:
    piece, what = task.piece, task.strike.operation
    if task.kind in (Kind.HAND, Kind.STACK) and "shave" in task.then:
        return
    label = f"{piece.work} {piece.name}" + (f" {task.strike.hole}" if task.strike.hole else "")
    feeds = goes.places.get((piece.key, piece.copy), ())
    if task.then in ("keep the fallout", "through the stack", "blade upright") and feeds:
        yield from (replace(fall, what=f"fallout of {what}") for fall in feeds)
    else:
        then = "to the rack, or waste" if task.then in ("keep the fallout", "through the stack") else task.then
        yield Fall(f"fallout of {what}", then, label)


def _handling(tasks: Sequence[Todo], own: Sequence[int], held: bool, turned: int, falls: tuple[Fall, ...]) -> Handling:  # noqa: FBT001
    piece = tasks[own[0]].piece
    return Handling(
        piece.work,
        piece.board,
        piece.name,
        "",
        piece.size,
        tuple(tasks[at].strike for at in own),
        piece.title,
        1,
        held,
        turned,
        falls,
    )


def _copies_together(handlings: Sequence[Handling]) -> Iterator[Handling]:
    """Yield copies that are done alike one after the other as one, with their number."""
    for _, run in groupby(handlings, key=lambda each: replace(each, falls=(), held=False)):
        alike = list(run)
        falls = tuple(dict.fromkeys(fall for each in alike for fall in each.falls))
        yield replace(alike[0], copies=len(alike), falls=falls)


def _cautions(kind: Kind, setting: Setting, tasks: Sequence[Todo]) -> Iterator[str]:
    if kind is Kind.STACK:
        yield "Tape stays outside the opening. Slip sheet out: the fallout serves as one."
    if any(use.entry == "shave" for task in tasks for use in task.uses):
        yield "Small pieces: fingers well clear of the blade."
    if setting.strip is not None:
        yield "A strip lies between guide and board: its width is in the reading."
    if kind is Kind.MARK:
        yield "Pencil on the back only."
    if setting.head is Head.REVERSE:
        yield "The blade leans the other way: check on a scrap."


def number_blocks(drafts: Iterable[Draft], times: Times, bench: Bench) -> Iterator[Block]:
    """Yield blocks with what changes from one to the next, their numbers and times."""
    now: dict[str, object] = {}
    ends, guide_in = 0.0, None
    for number, draft in enumerate(drafts, start=1):
        changed = [
            part for part in _PARTS if (value := getattr(draft.setting, part)) is not None and value != now.get(part)
        ]
        uses = list(draft.uses)
        cautions = list(draft.cautions)
        blade = draft.kind in (Kind.CUT, Kind.OVAL)
        for part in changed:
            if part == "head" and draft.setting.head in (Head.PENCIL, Head.GLASS):
                continue
            if part in _ENTRIES and (part != "board" or blade):
                uses.append(Use(_ENTRIES[part], 1))
        if "board" in changed and blade:
            cautions.insert(0, f"Blade set for {draft.setting.board}: cut a test corner first.")
        now |= {part: getattr(draft.setting, part) for part in changed if _stays(part, draft)}
        if (
            bench.guide_off
            and draft.kind in (Kind.BLANK, Kind.CUT, Kind.MARK)
            and guide_in is not (wants := draft.kind is not Kind.BLANK)
        ):
            guide_in = wants
            uses.append(Use("guide_off", 1))
            if not wants:
                now.pop("guide", None)
                cautions.insert(0, "Take the guide off for the squaring arm; it is set again after.")
        seconds = times.seconds(uses)
        ends += seconds
        yield Block(
            number,
            draft.kind,
            draft.stage,
            draft.setting,
            tuple(changed),
            draft.handlings,
            tuple(dict.fromkeys(cautions)),
            seconds,
            ends,
            _summed(uses),
        )


def _stays(part: str, draft: Draft) -> bool:
    """Tell whether what a block sets is what the next one finds; a pencil is no head, a sheet no board of a blade."""
    if part == "head":
        return draft.setting.head not in (Head.PENCIL, Head.GLASS)
    return part != "board" or draft.kind in (Kind.CUT, Kind.OVAL)


def _summed(uses: Iterable[Use]) -> tuple[Use, ...]:
    counts: dict[str, float] = {}
    for use in uses:
        counts[use.entry] = counts.get(use.entry, 0.0) + use.count
    return tuple(Use(entry, count) for entry, count in counts.items() if count)
