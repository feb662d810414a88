"""Figures while a work is being resolved.

The functions that resolve a work write each figure here as they find it and read the figures they stand on, so a
working can never name an operand that does not exist.
"""

from __future__ import annotations

from fourply.errors import Unknown
from fourply.measure.length import Length
from fourply.working.working import GIVEN, Figures, Rule, Value, Working, length_of


class Ledger:
    """The figures of one work, in the order in which they are found; it may go on from figures already found."""

    def __init__(self, found: Figures | None = None) -> None:
        self._figures: dict[str, Working] = dict(found or {})

    def given[V: Value](self, path: str, value: V, origin: str) -> V:
        """Enter a figure that somebody gave; returns the value."""
        self._figures[path] = Working(value, GIVEN, origin=origin)
        return value

    def figure[V: Value](self, path: str, value: V, rule: Rule, **operands: str) -> V:
        """Enter a figure with the paths of its operands; returns the value.

        Raises Unknown where an operand has not been entered.
        """
        for operand in operands.values():
            if operand not in self._figures:
                raise Unknown("figure", operand, tuple(self._figures))
        self._figures[path] = Working(value, rule, tuple(operands.items()))
        return value

    def length(self, path: str) -> Length:
        """Return the length entered at path."""
        return length_of(self._figures, path)

    def __contains__(self, path: str) -> bool:
        return path in self._figures

    @property
    def figures(self) -> Figures:
        """All figures so far."""
        return self._figures
