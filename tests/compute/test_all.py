"""What holds wherever long work is done: here, in a pool, on a cluster."""

from __future__ import annotations

from pathlib import Path
from time import perf_counter

import pytest
from tests.compute.work import Enough, Impatient, Notes, break_down, break_down_badly, double, refuse_odd, tasks

from fourply.app.cutting import Cutting, Means, plan_cutting
from fourply.app.demo import copy_demo
from fourply.app.ports import Compute
from fourply.app.reading import asked_for
from fourply.app.shows import open_show
from fourply.app.solving import Flat, FlatSolved, solve
from fourply.compute.here import here
from fourply.errors import BadInput
from fourply.planning.budget import Budget
from fourply.planning.problem import Piece, Problem, Stock

SHEET = Stock(key="a", w=100, h=80, cost=5)


def test_results_stand_in_the_order_of_the_tasks(compute: Compute) -> None:
    assert compute(double, tasks(range(9)), Notes()) == [2 * given for given in range(9)]


def test_no_tasks_are_no_work(compute: Compute) -> None:
    assert compute(double, [], Notes()) == []


def test_each_task_is_told_to_be_finished_once(compute: Compute) -> None:
    notes = Notes()
    compute(double, tasks(range(5)), notes)
    assert sorted(notes.done) == [0, 1, 2, 3, 4]


def test_how_each_task_stands_is_told(compute: Compute) -> None:
    notes = Notes()
    compute(double, tasks([10, 20]), notes)
    assert set(notes.stood) == {(0, 12, 10), (0, 11, 10), (1, 22, 20), (1, 21, 20)}


def test_an_error_on_purpose_stands_in_place_of_its_task_alone(compute: Compute) -> None:
    first, second, third = compute(refuse_odd, tasks([2, 3, 4]), Notes())
    assert (first, third) == (2, 4)
    assert isinstance(second, BadInput)
    assert str(second) == "'3' cannot be used: an even number"


def test_any_other_error_ends_the_work(compute: Compute) -> None:
    with pytest.raises(ZeroDivisionError):
        compute(break_down, tasks([1, 2, 3]), Notes())


def test_an_error_that_cannot_travel_ends_the_work_too(compute: Compute) -> None:
    with pytest.raises(Exception, match="unheard of"):
        compute(break_down_badly, tasks([1]), Notes())


def test_whoever_watches_can_stop_the_work(compute: Compute) -> None:
    with pytest.raises(Enough):
        compute(double, tasks(range(100)), Impatient())


def test_the_plans_of_a_show_do_not_depend_on_where_they_are_made(compute: Compute, tmp_path: Path) -> None:
    def planned(somewhere: Compute) -> Cutting:
        opened = open_show(copy_demo(tmp_path, metric=False), asked_for(None, None))
        return plan_cutting(opened.packages, opened.show.materials, Means(Budget(steps=20), somewhere))

    assert planned(compute) == planned(here)


def test_seconds_are_counted_by_the_clock_that_is_named_where_the_plan_is_made(compute: Compute) -> None:
    problem = Problem(pieces=(Piece(key="p", w=50, h=40, copies=4),), stock=(SHEET,))
    asked = Flat(problem, Budget(seconds=60.0, clock=perf_counter))
    (solved,) = compute(solve, tasks([asked]), Notes())
    assert isinstance(solved, FlatSolved)
    assert solved.plan.cost == 5
    assert solved.plan.seconds is not None
    assert 0 <= solved.plan.seconds <= 60
