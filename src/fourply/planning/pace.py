"""Keeping within a budget: steps counted, the clock looked at, the person who waits told and obeyed."""

from __future__ import annotations

from fourply.planning.budget import Budget, Progress

_POLL = 0.02
"""How often the person who waits is asked, in seconds, where there is a clock."""


class Spent(Exception):
    """The budget ended amid a computation, whose result is then of no use."""


class Pace:
    """Counts steps and says when to stop. Once it has said so it says so for good."""

    def __init__(self, budget: Budget, progress: Progress | None = None) -> None:
        self.budget = budget
        self.progress = progress
        self.steps = 0
        self.stopped = False
        self._told: tuple[int, int] | None = None
        self._asked = -_POLL
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

    @property
    def steps_left(self) -> int | None:
        """Steps left, None where they are not limited."""
        return None if self.budget.steps is None else max(0, self.budget.steps - self.steps)

    def spend(self, steps: int = 1) -> bool:
        """Count steps; return whether there is budget left and nobody wants an end."""
        self.steps += steps
        if self.budget.steps is not None and self.steps >= self.budget.steps:
            self.stopped = True
        now = self._now() - self._began
        if self.budget.seconds is not None and now >= self.budget.seconds:
            self.stopped = True
        if self._told is not None and (self.budget.clock is None or now >= self._asked + _POLL):
            self._asked = now
            self.tell(*self._told)
        return not self.stopped

    def work(self, steps: int = 1) -> None:
        """Count steps amid a computation; raises Spent where it is to be broken off."""
        if not self.spend(steps):
            raise Spent

    def tell(self, cost: int, bound: int) -> bool:
        """Report the best cost and bound; return whether to go on."""
        self._told = cost, bound
        if self.progress is not None and not self.progress(cost, bound):
            self.stopped = True
        return not self.stopped
