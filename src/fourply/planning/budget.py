"""How long a planner may take: by steps, which repeat exactly, or by a clock that is passed in.

A step is a fixed amount of a planner's own work (one pricing, one linear programme, one branch), never of time: the
same problem and the same steps give the same plan on any machine. Seconds are a deadline and nothing else.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from fourply.errors import BadInput

Clock = Callable[[], float]

Progress = Callable[[int, int], bool]
"""Told (best cost so far, proved bound) now and then; returns whether to go on. False ends the search at once."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Budget:
    """A number of steps, or seconds with the clock that counts them (and when it began), or both.

    >>> Budget(steps=100).seconds is None
    True
    """

    steps: int | None = None
    seconds: float | None = None
    clock: Clock | None = None
    began: float | None = None

    def __post_init__(self) -> None:
        if self.steps is None and self.seconds is None:
            found = "a budget without end"
            raise BadInput(found, "steps, seconds, or both")
        if self.seconds is not None and self.clock is None:
            found = "seconds without a clock"
            raise BadInput(found, "the clock that counts them, such as time.perf_counter")
        if (self.steps or 0) < 0 or (self.seconds or 0) < 0:
            found = "a negative budget"
            raise BadInput(found, "steps and seconds of at least 0")
