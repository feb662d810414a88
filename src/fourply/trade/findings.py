"""What is worth saying about a work that can be made but should be looked at.

A finding names its rule, how serious it is, the figure it stands at, the numbers it rests on, and what would put it
right. Its sentences are templates over the numbers, so they can be written in anybody's units. A check that holds is
kept too (`Level.HOLDS`): the ticket ticks off the ones that matter.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from fourply.working.explain import Write
from fourply.working.working import Value

type Numbers = tuple[tuple[str, Value], ...]
"""What a finding rests on: (name in the sentence, value)."""


class Level(Enum):
    """How serious a finding is, the worst first."""

    FAULT = "fault"
    CAUTION = "caution"
    TIGHT = "tight"
    NOTE = "note"
    HOLDS = "holds"


@dataclass(frozen=True, slots=True)
class Finding:
    """One result of a check.

    `place` is the path of the figure it concerns; `says` and `remedy` are templates over the names in `numbers`.
    """

    rule: str
    level: Level
    place: str
    says: str
    remedy: str = ""
    numbers: Numbers = ()

    def sentence(self, write: Write) -> str:
        """Return what was found, its numbers written by `write`."""
        return self.says.format(**self._written(write))

    def advice(self, write: Write) -> str:
        """Return what would put it right; empty where nothing need be done."""
        return self.remedy.format(**self._written(write))

    def _written(self, write: Write) -> dict[str, str]:
        return {name: write(value) for name, value in self.numbers}
