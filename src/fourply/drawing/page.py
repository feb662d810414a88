"""Paper sizes and drawing scales.

A drawing is made at a scale from a short series, so that a rule laid on it can be read; the series keeps the steps
that both inch and metric drawings use. Nothing is fitted to a page at an odd ratio.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet for the printer, upright, and the margin that printers can reach, in millimetres."""

    name: str
    width: float
    height: float
    margin: float = 15.0


A4 = Paper("A4", 210.0, 297.0)
LETTER = Paper("Letter", 215.9, 279.4)
PAPERS = {paper.name: paper for paper in (A4, LETTER)}


@dataclass(frozen=True, slots=True)
class Scale:
    """A drawing scale, `paper` to `real`.

    >>> Scale(1, 6).of(150)
    25.0
    >>> str(Scale(5, 2))
    '5:2'
    """

    paper: int
    real: int

    def of(self, mm: float) -> float:
        """Return how long so many real millimetres are drawn."""
        return mm * self.paper / self.real

    def __str__(self) -> str:
        return f"{self.paper}:{self.real}"


REDUCED = tuple(Scale(1, real) for real in (1, 2, 3, 4, 5, 6, 8, 10, 12, 16, 20, 24, 30, 40, 50, 60, 80, 100))
ENLARGED = tuple(Scale(paper, real) for paper, real in ((5, 1), (4, 1), (3, 1), (5, 2), (2, 1), (3, 2)))


def largest(size: tuple[float, float], room: tuple[float, float], scales: Sequence[Scale] = REDUCED) -> Scale:
    """Return the first scale of a series, large to small, at which a real size fits; the last where none does.

    >>> str(largest((400.0, 500.0), (90.0, 90.0)))
    '1:6'
    """
    for scale in scales:
        if scale.of(size[0]) <= room[0] and scale.of(size[1]) <= room[1]:
            return scale
    return scales[-1]
