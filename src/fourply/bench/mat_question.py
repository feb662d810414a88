"""From the tasks of a show to the bare question in what order they go, and back to all tasks in that order."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from fourply.bench.order import ANY, LOST, Item, Prices, Question
from fourply.bench.steps import Head, Kind
from fourply.bench.times import Times
from fourply.bench.todo import Bench, Todo
from fourply.measure.length import Length

PARTS = ("head", "board", "guide", "far", "near", "oval", "arm")
_PRICES = ("head", "board", "guide", "stop", "stop", "oval", "guide_off")
_ARM, _GUIDE_IN = 1, 0
_BY_HAND = (Kind.HAND, Kind.STACK)


@dataclass(frozen=True, slots=True)
class Asked:
    """The question, and which task each of its items is; what is done by hand is no item, it costs the same always."""

    question: Question
    tasks: tuple[int, ...]


def ask(tasks: Sequence[Todo], times: Times, bench: Bench) -> Asked:
    """Return the question in which order the tasks at the cutter go."""
    number = {value: at for at, value in enumerate(_values(tasks))}
    at_cutter = [at for at, task in enumerate(tasks) if task.kind not in _BY_HAND]
    item_of = {at: item for item, at in enumerate(at_cutter)}
    through = _through_hands(tasks)
    items = [
        Item(
            tasks[at].lying,
            tasks[at].turn,
            _state(tasks[at], bench, number),
            tuple(sorted({item_of[each] for each in through[at]})),
        )
        for at in at_cutter
    ]
    prices = Prices(tuple(times.ticks(entry) for entry in _PRICES), times.ticks("lay"), times.ticks("turn"))
    return Asked(Question(tuple(items), prices), tuple(at_cutter))


def _values(tasks: Sequence[Todo]) -> list[tuple[str, object]]:
    """Return every value of every part of the settings, in the order in which a person would count them up."""

    def rank(value: tuple[str, object]) -> tuple[str, int, str]:
        part, what = value
        if isinstance(what, Head):
            return part, list(Head).index(what), ""
        if isinstance(what, Length):
            return part, what.nm, ""
        return part, 0, what if isinstance(what, str) else "/".join(f"{each.nm:012}" for each in _pair(what))

    found = {(part, getattr(task.setting, part)) for task in tasks for part in PARTS[:-1]}
    return sorted(((part, value) for part, value in found if value is not None), key=rank)


def _pair(value: object) -> tuple[Length, ...]:
    return tuple(each for each in value if isinstance(each, Length)) if isinstance(value, tuple) else ()


def _state(task: Todo, bench: Bench, number: dict[tuple[str, object], int]) -> tuple[int, ...]:
    setting, squares = task.setting, task.kind is Kind.BLANK
    state = []
    for part in PARTS[:-1]:
        value = getattr(setting, part)
        if value is None or (part == "head" and task.kind is Kind.MARK) or (part == "board" and squares):
            state.append(LOST if part == "guide" and squares and bench.guide_off else ANY)
        else:
            state.append(number[part, value])
    arm = ANY if not bench.guide_off or task.kind is Kind.OVAL else _ARM if squares else _GUIDE_IN
    return (*state, arm)


def _through_hands(tasks: Sequence[Todo]) -> list[set[int]]:
    """Return, by task, the tasks at the cutter that it waits for, also by way of what is done by hand between."""
    found: list[set[int] | None] = [None] * len(tasks)

    def of(at: int) -> set[int]:
        known = found[at]
        if known is None:
            known = set()
            for each in tasks[at].after:
                known |= of(each) if tasks[each].kind in _BY_HAND else {each}
            found[at] = known
        return known

    return [of(at) for at in range(len(tasks))]


def with_hand_work(tasks: Sequence[Todo], order: Sequence[int]) -> Iterator[int]:
    """Yield all tasks: those at the cutter in their order, what is done by hand when it is needed, as much as then can.

    Stacks are taped for all that lie ready together, and the same kind of hand work is done in one go.
    """
    done: set[int] = set()
    hands = [at for at, task in enumerate(tasks) if task.kind in _BY_HAND]

    def go(at: int) -> Iterator[int]:
        for each in tasks[at].after:
            if each not in done:
                yield from go(each)
        if at in done:
            return
        yield at
        done.add(at)
        if tasks[at].kind in _BY_HAND:
            for other in hands:
                if other not in done and _alike(tasks[other], tasks[at]) and done.issuperset(tasks[other].after):
                    yield other
                    done.add(other)

    for at in order:
        yield from go(at)
    for at in hands:
        yield from go(at)


def _alike(one: Todo, other: Todo) -> bool:
    return one.kind is other.kind and one.uses[0].entry == other.uses[0].entry
