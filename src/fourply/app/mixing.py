"""The frames of one moulding planned in every way: all cut, all bought, and whichever is least for each."""

from __future__ import annotations

from dataclasses import dataclass, replace

from fourply.app.ports import Tell
from fourply.errors import BadInput
from fourply.planning.budget import Budget
from fourply.planning.mix import plan_mix
from fourply.planning.mix_problem import Mix, MixProblem, RailSet
from fourply.planning.stick_problem import StickPlan, StickProblem
from fourply.planning.sticks import plan_sticks


@dataclass(frozen=True, slots=True)
class Ways:
    """The sets of rails as they may be bought, and as they are to be bought; what is in neither is cut."""

    may: tuple[RailSet, ...]
    chosen: tuple[RailSet, ...]


@dataclass(frozen=True, slots=True)
class Mixed:
    """Plans for one moulding: everything cut, the rails cut that cannot be bought, the best mix, what is to be done.

    `length` is None where the sticks do not do, `why` says so; `rest` is None where every rail can be bought.
    """

    length: StickPlan | None
    rest: StickPlan | None
    best: Mix
    chosen: Mix
    why: str = ""


def mixed(problem: StickProblem, ways: Ways, budget: Budget, tell: Tell) -> Mixed:
    """Return the plans; raises BadInput where rails that must be cut cannot be. The budget holds for each plan."""
    length, why = _cut(problem, budget, tell)
    kept = {rail for each in ways.may for rail in each.rails}
    loose = tuple(rail for rail in problem.rails if rail.key not in kept)
    rest = plan_sticks(replace(problem, rails=loose), budget, tell) if loose else None
    known = [plan for plan in (length, rest) if plan is not None]
    best = plan_mix(MixProblem(problem, ways.may), budget, tell, known)
    if length is not None:  # cutting everything is one of the choices, so what none can cost less than holds for it too
        length = replace(length, lower_bound=max(length.lower_bound, best.lower_bound))
    if ways.chosen == ways.may:
        chosen = best
    elif length is not None and not ways.chosen:
        chosen = Mix({}, problem, length, length.cost, length.lower_bound, length.steps)
    else:
        chosen = plan_mix(MixProblem(problem, ways.chosen), budget, tell, known)
    return Mixed(length, rest, best, chosen, why)


def _cut(problem: StickProblem, budget: Budget, tell: Tell) -> tuple[StickPlan | None, str]:
    try:
        return plan_sticks(problem, budget, tell), ""
    except BadInput as bad:
        return None, str(bad)
