"""The record behind every figure.

A figure is asked "why?" long after it was worked out, so its record must be small and complete: the rule (shared by
all works), the operands as paths of other figures, the value. The sentence is made only when somebody asks. A given
figure has no operands; its origin says who gave it (a row of a list, a layer of a treatment, a material).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import Enum
from fractions import Fraction

from fourply.errors import Unknown
from fourply.measure.length import Length

type Value = Length | Fraction | Decimal | float | int | str
"""What a figure may be: a length, an exact ratio, an amount of money, a physical number, a count, a name."""


class Rounding(Enum):
    """In which direction a figure is brought to the marking grid."""

    NONE = ""
    DOWN = "down"
    UP = "up"
    NEAREST = "nearest"


@dataclass(frozen=True, slots=True)
class Rule:
    """One formula of the trade: arithmetic over named operands, its reason, its source.

    `formula` uses + - * / ( ) min max tan over the operands' names; an empty one marks a figure that is given.
    With a `rounding`, the value is the formula brought to the grid that the operand `grid` names.
    """

    id: str
    formula: str
    reason: str
    source: str = "derived"
    rounding: Rounding = Rounding.NONE


GIVEN = Rule("given", "", "Measured, chosen or set.", "")
SHAPED = Rule("shaped", "", "Follows from a shape as it is drawn, not by a sum.")


@dataclass(frozen=True, slots=True)
class Working:
    """A value with its rule and its operands, each a (name in the formula, figure path)."""

    value: Value
    rule: Rule
    operands: tuple[tuple[str, str], ...] = ()
    origin: str = ""


type Figures = Mapping[str, Working]
"""Every figure of one work by its path, in the order in which they were worked out."""


def length_of(figures: Figures, path: str) -> Length:
    """Return the length at path; raises Unknown where no length stands there."""
    working = figures.get(path)
    if working is None or not isinstance(working.value, Length):
        raise Unknown("length", path, tuple(figures))
    return working.value
