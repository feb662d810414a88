"""Rounding that has a name.

A figure is rounded once, where it is marked or shown, in a direction that someone chose: an opening that must cover
the edge of a sheet goes down, one that must clear it goes up, a bevel run goes to the nearest nanometre. Each rule
takes an exact ratio and gives a whole number, so rules can be passed as arguments. The parts of a sum are rounded
together (`round_parts`), since parts rounded one by one seldom add up.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from fourply.measure.length import ZERO, Length

type Rule = Callable[[Fraction], int]
"""A rounding rule: an exact ratio in, a whole number out."""


def down(ratio: Fraction) -> int:
    """Return the largest whole number not above ratio.

    >>> down(Fraction(-3, 2))
    -2
    """
    return math.floor(ratio)


def up(ratio: Fraction) -> int:
    """Return the smallest whole number not below ratio.

    >>> up(Fraction(3, 2))
    2
    """
    return math.ceil(ratio)


def half_even(ratio: Fraction) -> int:
    """Return the nearest whole number, of two equally near ones the even.

    >>> half_even(Fraction(5, 2)), half_even(Fraction(7, 2))
    (2, 4)
    """
    return round(ratio)


def half_up(ratio: Fraction) -> int:
    """Return the nearest whole number, of two equally near ones the larger.

    >>> half_up(Fraction(5, 2))
    3
    """
    return math.floor(ratio + Fraction(1, 2))


@dataclass(frozen=True, slots=True)
class Grid:
    """The divisions of a rule or scale: everything marked is a whole number of steps.

    `name` is how people call the step (`1/16 in`, `0.5 mm`).
    """

    name: str
    step: Length

    def __post_init__(self) -> None:
        if self.step <= ZERO:
            msg = f"the step of a grid is above nothing, not {self.step}"
            raise ValueError(msg)


def coarser(grid: Grid, by: int) -> Grid:
    """Return the grid of every `by`-th division, for what needs no care.

    >>> coarser(Grid("1/32 in", Length.inches(1, 32)), 4).step == Length.inches(1, 8)
    True
    """
    return Grid(f"{by} × {grid.name}", by * grid.step)


EIGHTH = Grid("1/8 in", Length.inches(1, 8))
SIXTEENTH = Grid("1/16 in", Length.inches(1, 16))
THIRTY_SECOND = Grid("1/32 in", Length.inches(1, 32))
SIXTY_FOURTH = Grid("1/64 in", Length.inches(1, 64))
MILLIMETRE = Grid("1 mm", Length.mm(1))
HALF_MILLIMETRE = Grid("0.5 mm", Length.mm(1, 2))
TENTH_MILLIMETRE = Grid("0.1 mm", Length.mm(1, 10))
NANOMETRE = Grid("1 nm", Length(1))

GRIDS = {
    grid.name: grid
    for grid in (EIGHTH, SIXTEENTH, THIRTY_SECOND, SIXTY_FOURTH, MILLIMETRE, HALF_MILLIMETRE, TENTH_MILLIMETRE)
}


def to_grid(length: Length, grid: Grid, rule: Rule) -> Length:
    """Return length as a whole number of the grid's steps.

    >>> to_grid(Length.mm(445), SIXTEENTH, down) == Length.inches(17 * 16 + 8, 16)
    True
    """
    return grid.step * rule(Fraction(length.nm, grid.step.nm))


def times(length: Length, ratio: Fraction, rule: Rule = half_even) -> Length:
    """Return length times an exact ratio, in whole nanometres.

    >>> times(Length(10), Fraction(1, 3))
    Length(nm=3)
    """
    return Length(rule(length.nm * ratio))


def from_mm(mm: float, rule: Rule = half_even) -> Length:
    """Return a length from millimetres as physics and trigonometry give them, in whole nanometres.

    >>> from_mm(1.4)
    Length(nm=1400000)
    """
    return Length(rule(Fraction(mm) * 1_000_000))


def round_parts(parts: Sequence[Length], grid: Grid, rule: Rule = half_up) -> tuple[Length, ...]:
    """Return the parts on the grid, adding up to the rounded whole.

    Each boundary between parts is rounded once, as a mark on a rule would be, and the last part is what remains; so no
    part is off by a whole step and the sum is the sum.

    >>> third = Length.inches(1).split(3)
    >>> [part.nm // SIXTEENTH.step.nm for part in round_parts(third, SIXTEENTH)]
    [5, 6, 5]
    """
    marks = [ZERO]
    at = ZERO
    for part in parts:
        at += part
        marks.append(to_grid(at, grid, rule))
    return tuple(after - before for before, after in itertools.pairwise(marks))
