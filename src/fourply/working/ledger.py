"""Figures while a work is being resolved.

The functions that resolve a work write each figure here as they find it and read the figures they stand on, so a
working can never name an operand that does not exist.
"""

from __future__ import annotations

from fourply.errors import Unknown
from fourply.measure.length import Length
from fourply.working.working import GIVEN, SHAPED, Figures, Rule, Value, Working, length_of


class Ledger:
    """The figures of one work, in the order in which they are found; it may go on from figures already found."""

    def __init__(self, found: Figures | None = None) -> None:
        self._figures: dict[str, Working] = dict(found or {})
        self._scope = ""

    def scoped(self, scope: str) -> Ledger:
        """Return a ledger on the same figures that puts `scope` before every path it enters.

        An operand is looked for in the scope first and outside it then, so the same code resolves the only window of
        a work and each of several.

        >>> whole = Ledger()
        >>> _ = whole.given("grid", 1, "set"), whole.scoped("opening.2.").given("window", 5, "set")
        >>> sorted(whole.figures)
        ['grid', 'opening.2.window']
        """
        inner = Ledger()
        inner._figures, inner._scope = self._figures, scope
        return inner

    def path(self, path: str) -> str:
        """Return where a figure named in this scope stands; raises Unknown where none does."""
        for known in (self._scope + path, path):
            if known in self._figures:
                return known
        raise Unknown("figure", path, tuple(self._figures))

    def given[V: Value](self, path: str, value: V, origin: str) -> V:
        """Enter a figure that somebody gave; returns the value."""
        self._figures[self._scope + path] = Working(value, GIVEN, origin=origin)
        return value

    def shaped[V: Value](self, path: str, value: V, origin: str, **operands: str) -> V:
        """Enter a figure that a shape was drawn for, with the paths of what it was drawn from; returns the value.

        It follows from no sum: where one of its operands changes it has to be drawn anew. Raises Unknown as `figure`.
        """
        found = tuple((name, self.path(operand)) for name, operand in operands.items())
        self._figures[self._scope + path] = Working(value, SHAPED, found, origin)
        return value

    def figure[V: Value](self, path: str, value: V, rule: Rule, **operands: str) -> V:
        """Enter a figure with the paths of its operands; returns the value.

        Raises Unknown where an operand has not been entered.
        """
        found = tuple((name, self.path(operand)) for name, operand in operands.items())
        self._figures[self._scope + path] = Working(value, rule, found)
        return value

    def length(self, path: str) -> Length:
        """Return the length entered at path."""
        return length_of(self._figures, self.path(path))

    def __contains__(self, path: str) -> bool:
        return self._scope + path in self._figures or path in self._figures

    @property
    def figures(self) -> Figures:
        """All figures so far."""
        return self._figures
