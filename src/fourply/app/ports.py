"""What the use cases need from outside: a clock, somebody to tell how far they are, somewhere to do long work."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Protocol

from fourply.errors import FourplyError

type Clock = Callable[[], float]
"""Seconds that only go up."""


@dataclass(frozen=True, slots=True)
class Standing:
    """How a plan stands while it is looked for: its cost in the material's currency, and its gap as of `Plan`."""

    material: str
    cost: Decimal
    gap: float


class Progress(Protocol):
    """Told how far a piece of work is; raises to stop it."""

    def __call__(self, stage: str, done: int, total: int, standing: Standing | None = None) -> None:
        """Take note that `done` of `total` in this stage are finished, and how one of the others stands."""


def silent(stage: str, done: int, total: int, standing: Standing | None = None) -> None:
    """Tell nobody."""


@dataclass(frozen=True, slots=True)
class Task[T]:
    """A part of a long work that needs no other part: its name, what the function is given, how large it is.

    The size is a rough count of things to be placed; it decides where and when the part is done, never how.
    """

    name: str
    given: T
    size: int


type Tell = Callable[[int, int], bool]
"""Told (best cost so far, proved bound) by the function; returns whether to go on."""

type Function[T, R] = Callable[[T, Tell], R]
"""Pure, and found by its name in another process: a function of a module, never one within another."""


class Watch(Protocol):
    """Told how long work goes. Whatever one of its methods raises ends all of the work and comes out of it."""

    def standing(self, task: int, cost: int, bound: int) -> None:
        """Take note of the best cost and the proved bound of a task, by its place in the sequence."""

    def finished(self, task: int) -> None:
        """Take note that a task is done, or has failed for good."""

    def waiting(self) -> None:
        """Do what is to be done now and then: called ten times a second while others work."""


class Compute(Protocol):
    """Does long work somewhere: in this process, in others, on other machines. The results are the same."""

    def __call__[T, R](
        self, function: Function[T, R], tasks: Sequence[Task[T]], watch: Watch
    ) -> list[R | FourplyError]:
        """Return what the function makes of each task, in their order; the error of a task stands in its place.

        An error that fourply does not raise on purpose ends all of the work and is raised. When this returns or raises,
        nobody works on any task any more, or will stop at the next word it tells.
        """
