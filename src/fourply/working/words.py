"""Figures in the words of their reader: unit, fractions, decimal sign.

A length that lies on the reader's rule is written as a fraction; one that does not (a caliper of 0.055 in, a bevel run)
as a decimal, since a fraction near it would look exact and sums would not add up. What a hand must set is written by
`mark`, always on the rule.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from fourply.measure.length import Length
from fourply.measure.notation import Decimal, Marks, Sign, Style, Unit, format_length
from fourply.measure.rounding import SIXTY_FOURTH, TENTH_MILLIMETRE, Grid, half_even
from fourply.measure.size import Size
from fourply.working.working import Value

_THOUSANDTH_INCH = Grid("0.001 in", Length.inches(1, 1000))
_HUNDREDTH_MM = Grid("0.01 mm", Length.mm(1, 100))


@dataclass(frozen=True, slots=True)
class Words:
    """How one reader wants figures: inches or millimetres, plain or typographic fractions, point or comma.

    >>> words = Words(metric=False)
    >>> words.write(Length.inches(21, 2)), words.write(Length.inches(55, 1000))
    ('10 1/2', '0.055')
    """

    metric: bool
    marks: Marks = Marks.PLAIN
    decimal: Decimal = Decimal.POINT

    @property
    def unit(self) -> Unit:
        """The unit that bare figures are in."""
        return Unit.MM if self.metric else Unit.INCH

    @property
    def rule(self) -> Grid:
        """The finest division of the reader's rule."""
        return TENTH_MILLIMETRE if self.metric else SIXTY_FOURTH

    def mark(self, length: Length) -> str:
        """Return a length as a hand sets it: on the rule, the nearest division."""
        return _printed(length, self, on_rule=True)

    def write(self, value: Value) -> str:
        """Return a figure as text: fractions on the rule, decimals off it, names as they are."""
        if isinstance(value, Length):
            return _printed(value, self, on_rule=value.nm % self.rule.step.nm == 0)
        if isinstance(value, Fraction):
            return str(value) if value.denominator < 1000 else f"{float(value):.4g}"
        return f"{value:.4g}" if isinstance(value, float) else str(value)

    def with_unit(self, value: Value) -> str:
        """Return a figure as text with its unit, where it has one."""
        return f"{self.write(value)} {self.unit.value}" if isinstance(value, Length) else self.write(value)

    def size(self, size: Size) -> str:
        """Return width by height as a hand sets them."""
        by = " × " if self.marks is Marks.TYPOGRAPHIC else " x "
        return self.mark(size.width) + by + self.mark(size.height)


@lru_cache(maxsize=16384)
def _printed(length: Length, words: Words, *, on_rule: bool) -> str:
    """Return the figure on the reader's rule or finer; a show says the same lengths again and again."""
    grid = words.rule if on_rule else _HUNDREDTH_MM if words.metric else _THOUSANDTH_INCH
    return format_length(length, Style(words.unit, grid, half_even, words.marks, Sign.NONE, words.decimal))
