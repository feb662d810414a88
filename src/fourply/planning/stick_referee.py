"""Every plan for sticks is rechecked here, from the problem and the plan alone."""

from __future__ import annotations

from collections import Counter

from fourply.errors import BadPlan
from fourply.planning.stick_problem import CutStick, StickPlan, StickProblem


def check_sticks(problem: StickProblem, plan: StickPlan) -> None:
    """Raise BadPlan with the first rule that the plan breaks."""
    sticks = {s.key: s for s in problem.sticks}
    made: Counter[str] = Counter()
    used: Counter[str] = Counter()
    cost = 0
    for at, cut in enumerate(plan.sticks):
        name = f"stick {at}"
        stick = sticks.get(cut.stick)
        if stick is None or cut.copies < 1 or not cut.rails:
            raise BadPlan(f"{name}: {cut.copies} of {cut.stick} with {len(cut.rails)} rails")
        used[stick.key] += cut.copies
        if stick.copies is not None and used[stick.key] > stick.copies:
            raise BadPlan(f"{used[stick.key]} used of stick {stick.key}, there are {stick.copies}")
        cost += stick.cost * cut.copies
        _check_places(problem, cut, name)
        _check_left(problem, cut, name)
        for place in cut.rails:
            made[place.rail] += cut.copies
    for rail in problem.rails:
        if made.pop(rail.key, 0) != rail.copies:
            raise BadPlan(f"rail {rail.key} is not cut {rail.copies} times")
    if made:
        raise BadPlan(f"there is no rail {min(made)}")
    _check_groups(problem, plan)
    if plan.cost != cost or plan.lower_bound > cost:
        raise BadPlan(f"the plan says cost {plan.cost} and bound {plan.lower_bound}, the cost is {cost}")


def _check_places(problem: StickProblem, cut: CutStick, name: str) -> None:
    lengths = {r.key: r.length for r in problem.rails}
    stick = next(s for s in problem.sticks if s.key == cut.stick)
    begin = 0 if stick.leftover else problem.start_trim
    at = begin
    for place in cut.rails:
        if place.length != lengths.get(place.rail):
            raise BadPlan(f"{name}: rail {place.rail} is not {place.length} long")
        # A rail at the very start needs no cut before it; every other lies a kerf behind the one before.
        if place.start < at:
            raise BadPlan(f"{name}: rail {place.rail} begins at {place.start}, not before {at} is free")
        end = place.start + place.length
        if end > stick.length or any(s < end and place.start < s + n for s, n in stick.defects):
            raise BadPlan(f"{name}: rail {place.rail} lies on damage or beyond the end")
        at = end + problem.kerf


def _check_left(problem: StickProblem, cut: CutStick, name: str) -> None:
    stick = next(s for s in problem.sticks if s.key == cut.stick)
    if cut.left is None:
        return
    taken = [(p.start - problem.kerf, p.start + p.length + problem.kerf) for p in cut.rails]
    taken += [(s, s + n) for s, n in stick.defects]
    at, longest = 0 if stick.leftover else problem.start_trim, 0
    for start, end in sorted((*taken, (stick.length, stick.length))):
        longest = max(longest, start - at)
        at = max(at, end)
    if problem.keep is None or cut.left < problem.keep or cut.left > longest:
        raise BadPlan(f"{name}: a leftover of {cut.left} is not there or not worth keeping")


def _check_groups(problem: StickProblem, plan: StickPlan) -> None:
    for group in problem.groups():
        members = sorted(r.key for r in problem.rails if r.group == group)
        for cut in plan.sticks:
            there = Counter(p.rail for p in cut.rails if p.rail in members)
            if there and (sorted(there) != members or len(set(there.values())) > 1):
                raise BadPlan(f"the rails of group {group} do not come from one stick")
