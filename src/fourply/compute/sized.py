"""The choice between this process and worker processes, by how much there is to do.

A worker is ready some 0.5 s after the program has started (solver and compiled code): what takes no longer is done
here. What may take longer goes to a worker even if there is one such task alone, since only a worker can be ended at
any moment.
"""

from __future__ import annotations

import os
from collections.abc import Sequence

from fourply.app.ports import Function, Task, Watch
from fourply.compute.here import here
from fourply.errors import FourplyError

LARGE = 12
"""Size from which a task is worth a worker: up to 12 blanks are planned to the end within a tenth of a second."""


def sized[T, R](
    function: Function[T, R], tasks: Sequence[Task[T]], watch: Watch, *, loads: tuple[str, ...] = ()
) -> list[R | FourplyError]:
    """Return what the function makes of each task, done here or in a worker for each large one; see `Compute`."""
    large = sum(task.size > LARGE for task in tasks)
    if not large:
        return here(function, tasks, watch)
    from fourply.compute.pool import Pool  # noqa: PLC0415 (small work does without multiprocessing)

    return Pool(min(large, os.cpu_count() or 1), loads)(function, tasks, watch)
