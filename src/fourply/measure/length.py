"""The exact length on which every figure stands.

A wrong sixteenth spoils a board, so a length is a whole number of nanometres: 1/64 in is 396 875 nm and 0.1 mm is
100 000 nm, both whole, and adding never drifts. What is not whole (a third of an inch, a bevel run) is rounded once,
by name, in `rounding`. Division of a length by a length or into fractions is left out on purpose: use `//`, `divmod`
and `split`, whose parts add up to the whole.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Self, overload

NM_PER_MM = 1_000_000
NM_PER_INCH = 25_400_000


@dataclass(frozen=True, slots=True, order=True)
class Length:
    """An exact length, positive or negative, in whole nanometres.

    >>> Length.inches(3, 8) + Length.mm(1) == Length(10_525_000)
    True
    >>> Length.inches(16) - 2 * Length.inches(1, 8)
    Length(nm=400050000)
    """

    nm: int

    def __post_init__(self) -> None:
        if type(self.nm) is not int:
            msg = f"a Length is a whole number of nanometres, not {self.nm!r}"
            raise TypeError(msg)

    @classmethod
    def inches(cls, count: int, over: int = 1) -> Self:
        """Return count/over inches; raises ValueError where that is no whole nanometre.

        >>> Length.inches(1, 64)
        Length(nm=396875)
        """
        return cls(_whole(Fraction(count * NM_PER_INCH, over)))

    @classmethod
    def mm(cls, count: int, over: int = 1) -> Self:
        """Return count/over millimetres; raises ValueError where that is no whole nanometre.

        >>> Length.mm(3, 2)
        Length(nm=1500000)
        """
        return cls(_whole(Fraction(count * NM_PER_MM, over)))

    @property
    def as_mm(self) -> float:
        """The length in millimetres as a float, for drawing and physics only."""
        return self.nm / NM_PER_MM

    @property
    def as_inches(self) -> Fraction:
        """The length in inches, exact."""
        return Fraction(self.nm, NM_PER_INCH)

    def split(self, parts: int) -> tuple[Self, ...]:
        """Return `parts` lengths that add up to this one and differ by at most 1 nm; of two, the larger is the last.

        >>> sum((part.nm for part in Length(10).split(3)))
        10
        """
        if parts < 1:
            msg = f"a length splits into one part or more, not {parts}"
            raise ValueError(msg)
        return tuple(type(self)(self.nm * (i + 1) // parts - self.nm * i // parts) for i in range(parts))

    def __add__(self, other: Length) -> Self:
        return type(self)(self.nm + other.nm) if isinstance(other, Length) else NotImplemented

    def __sub__(self, other: Length) -> Self:
        return type(self)(self.nm - other.nm) if isinstance(other, Length) else NotImplemented

    def __neg__(self) -> Self:
        return type(self)(-self.nm)

    def __abs__(self) -> Self:
        return type(self)(abs(self.nm))

    def __bool__(self) -> bool:
        return self.nm != 0

    def __mul__(self, times: int) -> Self:
        return type(self)(self.nm * times) if type(times) is int else NotImplemented

    __rmul__ = __mul__

    @overload
    def __floordiv__(self, other: Length) -> int: ...
    @overload
    def __floordiv__(self, other: int) -> Self: ...
    def __floordiv__(self, other: Length | int) -> int | Self:
        if isinstance(other, Length):
            return self.nm // other.nm
        return type(self)(self.nm // other) if type(other) is int else NotImplemented

    def __mod__(self, other: Length) -> Self:
        return type(self)(self.nm % other.nm) if isinstance(other, Length) else NotImplemented

    def __divmod__(self, other: Length) -> tuple[int, Self]:
        count, rest = divmod(self.nm, other.nm)
        return count, type(self)(rest)


ZERO = Length(0)


def total(lengths: tuple[Length, ...] | list[Length]) -> Length:
    """Return the sum, zero for none.

    >>> total([Length(1), Length(2)])
    Length(nm=3)
    """
    return Length(sum(length.nm for length in lengths))


def _whole(nm: Fraction) -> int:
    if nm.denominator != 1:
        msg = f"{nm} nm is no whole number of nanometres: name a rounding"
        raise ValueError(msg)
    return nm.numerator
