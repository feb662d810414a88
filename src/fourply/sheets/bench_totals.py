"""What an order of work comes to, beside other orders and the time that none can beat."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fourply.bench.steps import Person, Steps, Tally
from fourply.sheets.bench_view import Table


def minutes(seconds: float) -> str:
    """Return a time in whole minutes, the nearest.

    >>> minutes(20), minutes(540), minutes(4140)
    ('under 1 min', '9 min', '1 h 09 min')
    """
    whole = _whole(seconds)
    if whole == 0:
        return "under 1 min" if seconds > 0 else "0 min"
    hours, rest = divmod(whole, 60)
    return f"{hours} h {rest:02} min" if hours else f"{rest} min"


def _whole(seconds: float) -> int:
    return int(seconds / 60 + 0.5)


def totals(steps: Steps) -> tuple[Table, ...]:
    """Return the tables at the end of the list: orders compared, stages, what each of two people does."""
    return tuple(_tables(steps))


_RUNS_A_ROW = 20
_COLUMNS = ("order", "guide", "stops", "heads", "boards", "handled", "turned", "time")


def _tables(steps: Steps) -> Iterator[Table]:
    rows = tuple(_row(tally) for tally in (steps.window, *steps.obvious))
    yield Table("Orders of the windows, compared", _COLUMNS, rows, _bound(steps), bold=0)
    if steps.stages:
        stages = tuple(
            (each.name, minutes(each.seconds), minutes(each.low), minutes(each.high)) for each in steps.stages
        )
        sums = (minutes(sum(getattr(each, name) for each in steps.stages)) for name in ("seconds", "low", "high"))
        note = f"Times: {steps.times}."
        columns = ("stage", "about", "from", "to")
        yield Table("Time", columns, (*stages, ("all", *sums)), note, bold=len(stages))
    if len(steps.people) > 1:
        rows = tuple(row for each in steps.people for row in _person_rows(each))
        yield Table("Shared between two", ("who", "blocks, and when each may begin", "ready after"), rows)


def numbered(numbers: Sequence[int]) -> str:
    """Return block numbers that follow one another as words.

    >>> numbered([3]), numbered([3, 4, 5])
    ('block 3', 'blocks 3–5')
    """
    return f"block {numbers[0]}" if len(numbers) == 1 else f"blocks {numbers[0]}–{numbers[-1]}"


def _person_rows(person: Person) -> Iterator[tuple[str, str, str]]:
    """Yield a person's blocks, in several rows where there are many: a row goes on no other page."""
    runs = _runs(person)
    for at in range(0, len(runs), _RUNS_A_ROW):
        name, ready = ("", "") if at else (person.name, minutes(person.seconds))
        yield name, ", ".join(runs[at : at + _RUNS_A_ROW]), ready


def _runs(person: Person) -> Sequence[str]:
    """Return a person's blocks in order, those that follow one another together, with when the first may begin."""
    runs: list[tuple[float, list[int]]] = []
    for number, begins in zip(person.blocks, person.begins, strict=True):
        if runs and runs[-1][1][-1] == number - 1:
            runs[-1][1].append(number)
        else:
            runs.append((begins, [number]))
    return [f"{numbered(run)} {f'after {minutes(begins)}' if begins else 'at once'}" for begins, run in runs]


def _row(tally: Tally) -> tuple[str, ...]:
    counts = (tally.guides, tally.stops, tally.heads, tally.boards, tally.handled, tally.turned)
    return (tally.name, *map(str, counts), minutes(tally.seconds))


def _bound(steps: Steps) -> str:
    if steps.proved:
        return "No order of the windows takes less time by this table: proved."
    spare = 60.0 * (_whole(steps.window.seconds) - _whole(steps.bound))
    return f"No order takes less than {minutes(steps.bound)}: at most {minutes(spare)} could be won yet."
