"""How long plans are looked for: what a caller says in steps and seconds, as the planners' budget."""

from __future__ import annotations

from fourply.app.ports import Clock
from fourply.planning.budget import Budget

STEPS = 2000
"""Steps for each plan where nothing is said: more than a small show needs."""
SECONDS = 1.0
"""Seconds for each plan where nothing is said, so that a person is not kept waiting for the last half per cent."""

ENOUGH = 0.005
"""The gap of a plan for which, where nothing is said, nobody waits longer than half of that."""


def budget_for(steps: int | None, seconds: float | None, clock: Clock, *, began: float | None = None) -> Budget:
    """Return the budget; without `began` the seconds are counted from when a planner has its problem.

    Steps alone repeat exactly. Where neither is said there is a limit of both.

    >>> from time import perf_counter
    >>> budget_for(40, None, perf_counter).seconds, budget_for(None, 5, perf_counter).steps
    (None, None)
    """
    if steps is None and seconds is None:
        return Budget(steps=STEPS, seconds=SECONDS, clock=clock, began=began)
    if seconds is None:
        return Budget(steps=steps)
    return Budget(steps=steps, seconds=seconds, clock=clock, began=began)
