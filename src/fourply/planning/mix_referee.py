"""Every choice between buying rails and cutting them is rechecked here, from the problem and the answer alone."""

from __future__ import annotations

from fourply.errors import BadPlan
from fourply.planning.mix_problem import Mix, MixProblem
from fourply.planning.stick_referee import check_sticks


def check_mix(asked: MixProblem, mix: Mix) -> None:
    """Raise BadPlan with the first rule that the choice breaks."""
    sets, most = {each.key: each for each in asked.sets}, asked.copies()
    left = {rail.key: rail.copies for rail in asked.sticks.rails}
    cost = 0
    for key, times in mix.bought.items():
        if key not in sets or not 0 < times <= most[key]:
            raise BadPlan(f"{times} of set {key} are bought")
        cost += sets[key].cost * times
        for rail in sets[key].rails:
            left[rail] -= times
    for each in asked.sets:
        if each.must and mix.bought.get(each.key, 0) != most[each.key]:
            raise BadPlan(f"set {each.key} must be bought")
    cut = {rail.key: rail.copies for rail in mix.problem.rails} if mix.problem else {}
    if cut != {key: copies for key, copies in left.items() if copies}:
        raise BadPlan("what is not bought is not what is cut")
    if mix.problem is not None:
        if mix.plan is None:
            raise BadPlan("what is to be cut has no plan")
        check_sticks(mix.problem, mix.plan)
        cost += mix.plan.cost
    if mix.cost != cost or mix.lower_bound > cost:
        raise BadPlan(f"the choice says cost {mix.cost} and bound {mix.lower_bound}, the cost is {cost}")
