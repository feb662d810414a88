"""The one way in to planning sticks: rails, strips and fillets from lengths, at least cost.

A plan filled stick by stick is there at once; patterns priced by exact knapsacks then prove what must be paid, and find
what can be saved.
"""

from __future__ import annotations

from fourply.planning.budget import Budget, Progress
from fourply.planning.pace import Pace
from fourply.planning.stick_filling import fill_in_turn
from fourply.planning.stick_problem import StickPlan, StickProblem
from fourply.planning.stick_referee import check_sticks
from fourply.planning.stick_units import cost_of, laid_out, material_bound, ready

LONGEST = 500_000
"""Grid lengths of the longest stick up to which patterns are searched: an exact knapsack runs over them all."""


def plan_sticks(problem: StickProblem, budget: Budget, progress: Progress | None = None) -> StickPlan:
    """Return the best plan found within the budget, passed by the referee.

    Raises BadInput where a rail fits no stick or the sticks do not suffice.

    >>> from fourply.planning.stick_problem import Rail, Stick
    >>> rails = (Rail(key="a", length=60, copies=2), Rail(key="b", length=40, copies=2))
    >>> wanted = StickProblem(rails=rails, sticks=(Stick(key="s", length=100, cost=7),))
    >>> plan_sticks(wanted, Budget(steps=10)).cost
    14
    """
    pace = Pace(budget, progress)
    job = ready(problem)
    cuts = fill_in_turn(job)
    bound = material_bound(job)
    on = pace.tell(cost_of(job, cuts), bound)
    if on and bound < cost_of(job, cuts) and max(max(b.spans, default=0) for b in job.bins) <= LONGEST:
        from fourply.planning.stick_columns import StickSearch  # noqa: PLC0415 — NumPy and HiGHS

        search = StickSearch(job, cuts, bound, pace)
        search.run()
        cuts, bound = search.best, search.bound
    cost = cost_of(job, cuts)
    plan = StickPlan(laid_out(job, cuts), cost, min(bound, cost), "sticks", pace.steps, pace.seconds)
    check_sticks(problem, plan)
    return plan
