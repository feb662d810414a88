"""How long plans are looked for: what a caller says in steps and seconds, as the planners' budget."""

from __future__ import annotations

from fourply.app.ports import Clock
from fourply.planning.budget import Budget

STEPS = 2000
"""Steps for each plan where nothing is said: all that a small show needs, and some seconds for a large one."""


def budget_for(steps: int | None, seconds: float | None, clock: Clock, *, began: float | None = None) -> Budget:
    """Return the budget; without `began` the seconds are counted from when a planner has its problem.

    >>> from time import perf_counter
    >>> budget_for(None, None, perf_counter).steps, budget_for(None, 5, perf_counter).steps
    (2000, None)
    """
    if seconds is None:
        return Budget(steps=steps or STEPS)
    return Budget(steps=steps, seconds=seconds, clock=clock, began=began)
