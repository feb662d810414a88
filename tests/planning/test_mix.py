"""Rails bought cut to size or cut from sticks: never dearer than one way alone, never below what is proved."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.planning.test_sticks import cheapest

from fourply.errors import BadInput, BadPlan
from fourply.planning.budget import Budget
from fourply.planning.mix import plan_mix
from fourply.planning.mix_problem import Mix, MixProblem, RailSet
from fourply.planning.mix_referee import check_mix
from fourply.planning.stick_problem import Rail, Stick, StickProblem
from fourply.planning.sticks import plan_sticks

STICK = Stick(key="s", length=100, cost=10)
BUDGET = Budget(steps=300)


def two_frames(*, long: int = 30, short: int = 20, costs: tuple[int, int] = (7, 7), copies: int = 1) -> MixProblem:
    """Return two frames of two long and two short rails, each a set."""
    lengths = {"top": long, "right": short, "bottom": long, "left": short}
    rails = tuple(
        Rail(key=f"{frame} {side}", length=length, copies=copies)
        for frame in ("a", "b")
        for side, length in lengths.items()
    )
    sets = tuple(
        RailSet(key=frame, rails=tuple(f"{frame} {side}" for side in lengths), cost=cost)
        for frame, cost in zip(("a", "b"), costs, strict=True)
    )
    return MixProblem(StickProblem(rails=rails, sticks=(STICK,), keep=20), sets)


def mix(asked: MixProblem) -> tuple[int, dict[str, int], bool]:
    found = plan_mix(asked, BUDGET)
    return found.cost, dict(found.bought), found.proved


def test_frames_that_fill_their_sticks_are_cut() -> None:
    # derived: 2 x 30 + 2 x 20 = 100 fills a stick of 10, dearer than nothing that a set at 11 offers
    assert mix(two_frames(costs=(11, 11))) == (20, {}, True)


def test_sets_cheaper_than_their_sticks_are_bought() -> None:
    assert mix(two_frames(costs=(7, 9))) == (16, {"a": 1, "b": 1}, True)


def test_one_frame_is_bought_where_two_leave_a_stick_nearly_empty() -> None:
    # derived: 110 each, 220 together: three sticks at 30; one frame alone takes two; so one bought at 9 and two
    # sticks are 29, both bought at 9 and 21 are 30
    assert mix(two_frames(long=35, costs=(9, 21))) == (29, {"a": 1}, True)


def test_a_set_whose_rail_no_stick_holds_is_bought_whatever_it_costs() -> None:
    asked = two_frames(long=120, costs=(90, 90))
    assert mix(asked) == (180, {"a": 1, "b": 1}, True)
    with pytest.raises(BadInput):
        plan_mix(replace(asked, sets=asked.sets[:1]), BUDGET)


def test_a_set_that_costs_less_than_nothing_more_is_bought() -> None:
    assert mix(two_frames(costs=(-3, 11))) == (7, {"a": 1}, True)


def test_a_set_that_must_be_bought_is() -> None:
    asked = two_frames(costs=(50, 11))
    must = replace(asked, sets=(replace(asked.sets[0], must=True), asked.sets[1]))
    assert mix(must) == (60, {"a": 1}, True)


def test_sets_help_out_where_sticks_run_short() -> None:
    asked = two_frames(costs=(40, 50))
    scarce = replace(asked, sticks=replace(asked.sticks, sticks=(replace(STICK, copies=1),)))
    assert mix(scarce) == (50, {"a": 1}, True)


def test_some_copies_are_bought_and_the_others_cut() -> None:
    # derived: each copy takes 110; two sticks hold 200, which is one copy and no second, so three copies (330) take
    # four sticks at 40; two copies take three at 30, so one copy bought at 9 makes 39
    frames = two_frames(long=35, copies=3)
    rails = frames.sticks.rails[:4]
    asked = MixProblem(replace(frames.sticks, rails=rails), (replace(frames.sets[0], cost=9),))
    cost, bought, proved = mix(asked)
    every = [times * 9 + (plan_sticks(copied(asked, 3 - times), BUDGET).cost if times < 3 else 0) for times in range(4)]
    assert (cost, proved) == (min(every), True)
    assert cost == every[bought.get("a", 0)]


def copied(asked: MixProblem, copies: int) -> StickProblem:
    return replace(asked.sticks, rails=tuple(replace(rail, copies=copies) for rail in asked.sticks.rails))


def test_the_plan_of_what_is_cut_stands_by_itself() -> None:
    found = plan_mix(two_frames(long=35, costs=(9, 21)), BUDGET)
    assert found.problem is not None
    assert found.plan is not None
    assert {rail.key for rail in found.problem.rails} == {"b top", "b right", "b bottom", "b left"}
    assert found.plan.cost == plan_sticks(found.problem, BUDGET).cost == 20
    assert found.plan.proved


def test_the_same_steps_give_the_same_choice() -> None:
    asked = two_frames(long=35, costs=(9, 21))
    assert plan_mix(asked, Budget(steps=20)) == plan_mix(asked, Budget(steps=20))


@pytest.mark.parametrize(
    "sets",
    [
        (RailSet(key="x", rails=("nowhere",), cost=1),),
        (RailSet(key="x", rails=(), cost=1),),
        (RailSet(key="x", rails=("a top", "a top"), cost=1),),
        (RailSet(key="x", rails=("a top",), cost=1), RailSet(key="y", rails=("a top",), cost=1)),
    ],
)
def test_a_set_is_of_rails_that_there_are_each_in_one_set(sets: tuple[RailSet, ...]) -> None:
    with pytest.raises(BadInput):
        MixProblem(two_frames().sticks, sets)


@pytest.mark.parametrize(
    "wrong",
    [
        {"cost": 28},
        {"lower_bound": 30},
        {"bought": {}},
        {"bought": {"b": 1}},
        {"bought": {"a": 2}},
        {"bought": {"c": 1}},
        {"plan": None},
        {"problem": None, "plan": None},
    ],
)
def test_the_referee_refuses_a_choice_that_does_not_add_up(wrong: dict[str, object]) -> None:
    asked = two_frames(long=35, costs=(9, 21))
    found = plan_mix(asked, BUDGET)
    check_mix(asked, found)
    with pytest.raises(BadPlan):
        check_mix(asked, replace(found, **wrong))  # type: ignore[arg-type]


@st.composite
def mixes(draw: st.DrawFn) -> MixProblem:
    """Draw a few small frames of two rails, most of them sets, on sticks of one or two kinds."""
    rails: list[Rail] = []
    sets: list[RailSet] = []
    for frame in range(draw(st.integers(1, 4))):
        copies = draw(st.integers(1, 2))
        own = [Rail(key=f"{frame}{side}", length=draw(st.integers(5, 60)), copies=copies) for side in "ab"]
        rails += own
        if draw(st.integers(0, 3)):
            keys = tuple(rail.key for rail in own)
            sets.append(RailSet(key=str(frame), rails=keys, cost=draw(st.integers(-2, 25))))
    sticks = [Stick(key="s", length=draw(st.integers(60, 120)), cost=draw(st.integers(1, 20)))]
    if draw(st.booleans()):
        sticks.append(Stick(key="t", length=40, cost=draw(st.integers(1, 8)), copies=draw(st.integers(0, 2))))
    kerf = draw(st.integers(0, 4))
    return MixProblem(StickProblem(rails=tuple(rails), sticks=tuple(sticks), kerf=kerf), tuple(sets))


@settings(deadline=None, max_examples=150)
@given(mixes(), st.sampled_from([1, 3, 300]))
def test_a_choice_is_never_dearer_than_one_way_for_all(asked: MixProblem, steps: int) -> None:
    budget = Budget(steps=steps)
    length = plan_sticks(asked.sticks, budget)
    found = plan_mix(asked, budget, known=(length,))
    assert found.lower_bound <= found.cost <= length.cost
    kept = {rail for each in asked.sets for rail in each.rails}
    loose = tuple(rail for rail in asked.sticks.rails if rail.key not in kept)
    rest = plan_sticks(replace(asked.sticks, rails=loose), budget) if loose else None
    copies = asked.copies()
    bought = sum(each.cost * copies[each.key] for each in asked.sets) + (rest.cost if rest else 0)
    assert plan_mix(asked, budget, known=(length, rest) if rest else (length,)).cost <= bought


@settings(deadline=None, max_examples=60)
@given(mixes())
def test_a_choice_is_held_against_every_choice_there_is(asked: MixProblem) -> None:
    copies = asked.copies()
    if sum(rail.copies for rail in asked.sticks.rails) > 8:
        return
    best = min(exactly(asked, times) for times in product(*(range(copies[each.key] + 1) for each in asked.sets)))
    found = plan_mix(asked, Budget(steps=500))
    assert found.lower_bound <= best <= found.cost
    if found.proved:
        assert found.cost == best


def exactly(asked: MixProblem, times: tuple[int, ...]) -> int:
    """Return the least cost with these sets bought, by exhaustive search of the rest."""
    less = {rail: n for each, n in zip(asked.sets, times, strict=True) for rail in each.rails}
    left = [(rail, rail.copies - less.get(rail.key, 0)) for rail in asked.sticks.rails]
    rails = tuple(replace(rail, copies=copies) for rail, copies in left if copies)
    spent = sum(each.cost * n for each, n in zip(asked.sets, times, strict=True))
    return spent + (cheapest(replace(asked.sticks, rails=rails)) if rails else 0)


def test_a_mix_knows_when_it_is_proved() -> None:
    assert Mix({}, None, None, 5, 5).proved
    assert not Mix({}, None, None, 5, 4).proved
