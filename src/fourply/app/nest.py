"""Plan one board instance: a problem in a file, a plan out."""

from __future__ import annotations

from pathlib import Path

from fourply.app.ports import Clock
from fourply.files.instances import read_instance, write_plan
from fourply.planning.boards import plan_boards
from fourply.planning.budget import Budget, Progress
from fourply.planning.plan import Plan


def nest(
    instance: Path, out: Path | None, *, steps: int | None, seconds: float | None, clock: Clock, told: Progress | None
) -> Plan:
    """Return the plan of an instance file, written to `out` where that is given.

    `steps` repeat exactly; `seconds` are a deadline counted from when the problem has been read. Raises BadFile,
    BadInput, CannotHonour.
    """
    problem = read_instance(instance)
    limit = 2000 if steps is None and seconds is None else steps
    timed = seconds is not None
    budget = Budget(steps=limit, seconds=seconds, clock=clock if timed else None, began=clock() if timed else None)
    plan = plan_boards(problem, budget, told)
    if out is not None:
        write_plan(out, problem, plan)
    return plan
