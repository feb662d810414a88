"""Figures in the words of their reader: unit, grid, fractions, decimal sign."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from fourply.measure.length import Length
from fourply.measure.notation import Decimal, Marks, Sign, Style, Unit, format_length
from fourply.measure.rounding import SIXTY_FOURTH, TENTH_MILLIMETRE, Grid
from fourply.working.working import Value


@dataclass(frozen=True, slots=True)
class Words:
    """How one reader wants figures: `fine` is the grid for what is shown but not marked (bevel runs, depths)."""

    unit: Unit
    fine: Grid
    marks: Marks = Marks.PLAIN
    decimal: Decimal = Decimal.POINT

    @classmethod
    def of(cls, unit: Unit, *, marks: Marks = Marks.PLAIN, decimal: Decimal = Decimal.POINT) -> Words:
        """Return the words of a reader who thinks in inches or in millimetres."""
        if unit in (Unit.INCH, Unit.FOOT):
            return cls(Unit.INCH, SIXTY_FOURTH, marks, decimal)
        return cls(Unit.MM, TENTH_MILLIMETRE, marks, decimal)

    @property
    def style(self) -> Style:
        """The style of a bare figure, without its unit."""
        return Style(self.unit, self.fine, marks=self.marks, sign=Sign.NONE, decimal=self.decimal)

    def write(self, value: Value) -> str:
        """Return a figure as text: lengths on the fine grid, ratios and numbers short, names as they are."""
        if isinstance(value, Length):
            return format_length(value, self.style)
        if isinstance(value, Fraction):
            return str(value) if value.denominator < 1000 else f"{float(value):.4g}"
        if isinstance(value, float):
            return f"{value:.4g}"
        return str(value)

    def with_unit(self, value: Value) -> str:
        """Return a figure as text with its unit, where it has one."""
        text = self.write(value)
        return f"{text} {self.unit.value}" if isinstance(value, Length) else text
