"""Keeping within a budget: steps counted, the clock looked at, the person who waits told and obeyed."""

from __future__ import annotations

from fourply.planning.budget import Budget, Progress


class Pace:
    """Counts steps and says when to stop. Once it has said so it says so for good."""

    def __init__(self, budget: Budget, progress: Progress | None = None) -> None:
        self.budget = budget
        self.progress = progress
        self.steps = 0
        self.stopped = False
        self._began = budget.began if budget.began is not None else self._now()

    def _now(self) -> float:
        return 0.0 if self.budget.clock is None else self.budget.clock()

    @property
    def seconds(self) -> float | None:
        """Seconds since the budget began, None without a clock."""
        return None if self.budget.clock is None else self._now() - self._began

    @property
    def left(self) -> float | None:
        """Seconds left, None where only steps count."""
        if self.budget.seconds is None:
            return None
        return max(0.0, self.budget.seconds - (self._now() - self._began))

    def spend(self, steps: int = 1) -> bool:
        """Count steps; return whether there is budget left."""
        self.steps += steps
        if self.budget.steps is not None and self.steps >= self.budget.steps:
            self.stopped = True
        if self.left == 0.0:
            self.stopped = True
        return not self.stopped

    def tell(self, cost: int, bound: int) -> bool:
        """Report the best cost and bound; return whether to go on."""
        if self.progress is not None and not self.progress(cost, bound):
            self.stopped = True
        return not self.stopped
