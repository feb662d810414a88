"""Long work in this process, one task after the other: for what is small, and what the other ways are held to."""

from __future__ import annotations

from collections.abc import Sequence

from fourply.app.ports import Function, Task, Watch
from fourply.errors import FourplyError


def here[T, R](function: Function[T, R], tasks: Sequence[Task[T]], watch: Watch) -> list[R | FourplyError]:
    """Return what the function makes of each task; see `Compute`."""
    results: list[R | FourplyError] = []
    for at, task in enumerate(tasks):

        def tell(cost: int, bound: int, at: int = at) -> bool:
            watch.standing(at, cost, bound)
            return True

        watch.waiting()
        try:
            results.append(function(task.given, tell))
        except FourplyError as error:
            results.append(error)
        watch.finished(at)
    return results
