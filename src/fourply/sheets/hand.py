"""How figures are written on a sheet: one unit, real fractions, the unit named once at the head and nowhere else."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from fourply.measure.length import Length
from fourply.measure.notation import Decimal, Marks, Sign, Style, Unit, format_length, format_size
from fourply.measure.rounding import SIXTY_FOURTH, TENTH_MILLIMETRE, Grid
from fourply.measure.size import Size
from fourply.working.working import Value


@dataclass(frozen=True, slots=True)
class Hand:
    """A reader's way of writing: the unit, the finest step shown, the decimal sign."""

    unit: Unit = Unit.INCH
    grid: Grid = SIXTY_FOURTH
    decimal: Decimal = Decimal.POINT

    @property
    def style(self) -> Style:
        """The style of a bare figure."""
        return Style(self.unit, self.grid, marks=Marks.TYPOGRAPHIC, sign=Sign.NONE, decimal=self.decimal)

    @property
    def unit_word(self) -> str:
        """The unit, as the head of a sheet names it."""
        return {Unit.INCH: "inches", Unit.MM: "millimetres", Unit.CM: "centimetres"}.get(self.unit, self.unit.value)

    def length(self, length: Length) -> str:
        """Return a length without its unit.

        >>> Hand().length(Length.inches(131, 8))
        '16 3⁄8'
        """
        return format_length(length, self.style)

    def size(self, size: Size) -> str:
        """Return width by height without their unit."""
        return format_size(size, self.style)

    def value(self, value: Value) -> str:
        """Return any value of a working as it is printed."""
        if isinstance(value, Length):
            return self.length(value)
        if isinstance(value, Fraction):
            return str(value).replace("/", "⁄")
        return f"{value:.4g}" if isinstance(value, float) else str(value)


INCHES = Hand()
MILLIMETRES = Hand(Unit.MM, TENTH_MILLIMETRE)
