"""The one way in to board planning: a problem and a budget in, the best plan found in it out.

Which engine answers is decided here and nowhere else.
"""

from __future__ import annotations

from fourply.planning.budget import Budget, Progress
from fourply.planning.guillotine import plan_greedily
from fourply.planning.plan import Plan
from fourply.planning.problem import Problem
from fourply.planning.referee import check


def plan_boards(problem: Problem, budget: Budget, progress: Progress | None = None) -> Plan:
    """Return the best plan found within the budget, passed by the referee.

    `progress` is told (best cost, proved bound) now and then and ends the search by returning False. Raises BadInput
    where a piece fits no stock, CannotHonour where a rule of the problem cannot be kept.

    >>> from fourply.planning.problem import Piece, Stock
    >>> sheet = Stock(key="a", w=100, h=80, cost=5)
    >>> wanted = Problem(pieces=(Piece(key="p", w=50, h=40, copies=4),), stock=(sheet,))
    >>> plan_boards(wanted, Budget(steps=10)).cost
    5
    """
    plan = plan_greedily(problem, budget, progress)
    check(problem, plan)
    return plan
