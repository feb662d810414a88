"""What the use cases need from outside: a clock, and somebody to tell how far they are."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol

type Clock = Callable[[], float]
"""Seconds that only go up."""


class Progress(Protocol):
    """Told how far a piece of work is; raises to stop it."""

    def __call__(self, stage: str, done: int, total: int) -> None:
        """Take note that `done` of `total` in this stage are finished."""


def silent(stage: str, done: int, total: int) -> None:
    """Tell nobody."""
