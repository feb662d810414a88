"""The work of packages with every shape and accent: each cut once, what must come first first, times that add up."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.bench.drawn import Case, shaped

from fourply.bench.cuts import Operation
from fourply.bench.cutter import NOMINAL
from fourply.bench.settings import settings as settings_of
from fourply.bench.show import Work, order_show
from fourply.bench.steps import Kind, Steps
from fourply.bench.times import ENTRIES, Time, Times
from fourply.bench.todo import Bench

TIMES = Times("ten seconds each", {entry: Time(10) for entry in ENTRIES})


def ordered(case: Case, bench: Bench) -> tuple[Steps, tuple[Operation, ...]]:
    found = settings_of(case.package, NOMINAL)
    work = Work("", "nominal", bench, [(case.package, found)])
    return order_show(work, TIMES, effort=300), tuple(each for each in found.operations if each.tasks)


@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])
@given(shaped(), st.booleans(), st.booleans())
def test_every_task_of_every_shape_is_done_once_and_in_its_turn(case: Case, stops: bool, guide_off: bool) -> None:  # noqa: FBT001 (drawn)
    steps, operations = ordered(case, Bench(stops, guide_off))
    done: dict[str, list[int]] = {}
    for block in steps.blocks:
        for handling in block.handlings:
            for strike in handling.strikes:
                if strike.figure and block.kind is not Kind.MARK:
                    done.setdefault(strike.figure, []).extend([block.number] * handling.copies)
    wanted = {task.figure: each.copies for each in operations for task in each.tasks}
    assert {figure: len(blocks) for figure, blocks in done.items()} == wanted
    first_windows = [each for each in operations if each.mat == 1 and "window" in each.name]
    for groove in (each for each in operations if each.name.startswith(("V-groove", "inlay", "insert"))):
        ends = max(done[task.figure][-1] for task in groove.tasks)
        assert all(ends <= done[task.figure][0] for window in first_windows for task in window.tasks)
    assert steps.bound <= steps.window.seconds <= min(tally.seconds for tally in steps.obvious)
    assert steps.blocks[-1].ends == pytest.approx(TIMES.seconds(use for block in steps.blocks for use in block.uses))


@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])
@given(shaped())
def test_pencil_lines_stand_before_the_cuts_that_end_at_them(case: Case) -> None:
    steps, operations = ordered(case, Bench(stops=False))
    marked: set[str] = set()
    for block in steps.blocks:
        for handling in block.handlings:
            for strike in handling.strikes:
                if block.kind is Kind.MARK:
                    assert strike.figure not in marked
                    marked.add(strike.figure)
                elif block.kind is Kind.CUT:
                    own = next(each for each in operations if any(task.figure == strike.figure for task in each.tasks))
                    sides = {(cut.side, cut.guided.reading): cut.figure for cut in own.cuts}
                    assert own.copies > 1 or marked.issuperset(sides.values())
