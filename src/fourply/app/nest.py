"""Plan one board instance: a problem in a file, a plan out."""

from __future__ import annotations

from pathlib import Path

from fourply.app.ports import Clock
from fourply.app.search import budget_for
from fourply.files.instances import read_instance, write_plan
from fourply.planning.boards import plan_boards
from fourply.planning.budget import Progress
from fourply.planning.plan import Plan


def nest(
    instance: Path, out: Path | None, *, steps: int | None, seconds: float | None, clock: Clock, told: Progress | None
) -> Plan:
    """Return the plan of an instance file, written to `out` where that is given.

    `steps` repeat exactly; `seconds` are a deadline counted from when the problem has been read. Raises BadFile,
    BadInput, CannotHonour.
    """
    problem = read_instance(instance)
    plan = plan_boards(problem, budget_for(steps, seconds, clock, began=clock()), told)
    if out is not None:
        write_plan(out, problem, plan)
    return plan
