"""What a measurement changes: the figures that rest on it, the pieces and the steps that rest on those, nothing else.

Every figure knows its rule and the figures that it was worked out from. When something is measured (a blank came out
small, a rabbet is tight, a caliper is another) what rests on it is worked out again by the same rules, in the order in
which it was first found; a figure that comes out as before passes nothing on.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from fourply.bench.steps import Block, Steps
from fourply.errors import Unknown
from fourply.measure.length import Length
from fourply.measure.rounding import down, half_even, up
from fourply.trade.parts import FlatPart, LongPart
from fourply.working.arithmetic import Number, evaluate
from fourply.working.working import Figures, Rounding, Value, Working

_ODD = Length(1)
_FEW = 64
"""Nanometres by which a figure may part here from that of the work resolved anew."""
_RULES = {Rounding.DOWN: down, Rounding.UP: up, Rounding.NEAREST: half_even}


@dataclass(frozen=True, slots=True)
class Change:
    """A figure that is not what it was."""

    figure: str
    was: Value
    now: Value


@dataclass(frozen=True, slots=True)
class Again:
    """What measurements of one work change.

    `changed` are figures with their values before and after, what was measured among them; `same` were worked out again
    and came out as before; `open` rest on what changed but follow from no formula (a shape, a name): they are to be
    looked at by a person, or found by resolving the work anew.
    """

    work: str
    changed: tuple[Change, ...]
    same: tuple[str, ...] = ()
    open: tuple[str, ...] = ()

    @property
    def figures(self) -> frozenset[str]:
        """The paths of all figures that are not what they were, or may not be."""
        return frozenset(change.figure for change in self.changed) | frozenset(self.open)

    def touches(self, figure: str) -> bool:
        """Tell whether any figure that begins with a path is not what it was."""
        return any(each == figure or each.startswith(f"{figure}.") for each in self.figures)


def work_again(work: str, figures: Figures, measured: Mapping[str, Value]) -> Again:
    """Return what measurements change; raises Unknown for a figure that there is not.

    >>> from fourply.working.ledger import Ledger
    >>> from fourply.working.working import Rule
    >>> ledger = Ledger()
    >>> _ = ledger.given("rabbet", Length(100), "a list"), ledger.given("allowance", Length(3), "a rule")
    >>> outer = Rule("outer", "rabbet - allowance", "")
    >>> _ = ledger.figure("outer", Length(97), outer, rabbet="rabbet", allowance="allowance")
    >>> [(each.figure, each.now.nm) for each in work_again("05", ledger.figures, {"rabbet": Length(99)}).changed]
    [('rabbet', 99), ('outer', 96)]
    """
    for path in measured:
        if path not in figures:
            raise Unknown("figure", path, tuple(figures))
    anew = _Anew(figures)
    for path, working in figures.items():
        if path not in measured:
            anew.work_out(path, working)
        elif measured[path] != working.value:
            anew.now[path] = measured[path]
    changed = tuple(Change(path, figures[path].value, value) for path, value in anew.now.items())
    return Again(work, changed, tuple(anew.same), tuple(anew.open))


class _Anew:
    """Figures while they are worked out again, one after the other, as they were first found.

    `now` are those that are not what they were, `open` those that nobody can tell here. `near` are those that may be a
    few nanometres off, for the odd ones that are carried along.
    """

    def __init__(self, figures: Figures) -> None:
        self._figures = figures
        self._near: set[str] = set()
        self.now: dict[str, Value] = {}
        self.same: list[str] = []
        self.open: dict[str, None] = {}

    def work_out(self, path: str, working: Working) -> None:
        """Work a figure out again, where it rests on one that is not what it was."""
        rests = [figure for _, figure in working.operands]
        if self.now.keys().isdisjoint(rests) and self.open.keys().isdisjoint(rests):
            return
        value = self._value(path, working) if self.open.keys().isdisjoint(rests) else None
        if value is None:
            self.open[path] = None
        elif value == working.value:
            self.same.append(path)
        else:
            self.now[path] = value

    def _value(self, path: str, working: Working) -> Value | None:
        """Return a figure worked out from what is known now, None where its rule does not give what it was before.

        None too where it is brought to a grid from so near a division that those nanometres decide which one it gets.
        """
        if not working.rule.formula:
            return None
        was = {name: self._figures[figure].value for name, figure in working.operands}
        now = {name: self.now.get(figure, was[name]) for name, figure in working.operands}
        before, after = _by_rule(working, was), _by_rule(working, now)
        rests_near = not self._near.isdisjoint(figure for _, figure in working.operands)
        if working.rule.rounding is not Rounding.NONE and rests_near and _on_edge(working, now):
            return None
        if before == working.value:
            if working.rule.rounding is Rounding.NONE and rests_near:
                self._near.add(path)
            return after
        if isinstance(before, Length) and isinstance(after, Length) and isinstance(working.value, Length):
            # Half of an odd length goes up or down, as the halves have to add up: that nanometre is carried along.
            odd = working.value - before
            self._near.add(path)
            return after + odd if abs(odd) <= _ODD else None
        return None


def _on_edge(working: Working, operands: Mapping[str, Value]) -> bool:
    """Tell whether a few nanometres decide to which division of its grid a figure is brought."""
    step = operands.get("grid")
    if not isinstance(step, Length):
        return False
    divisions = Fraction(evaluate(working.rule.formula, operands)) / step.nm
    if working.rule.rounding is Rounding.NEAREST:
        divisions += Fraction(1, 2)
    return abs(divisions - half_even(divisions)) * step.nm <= _FEW


def _by_rule(working: Working, operands: Mapping[str, Value]) -> Value | None:
    try:
        number = evaluate(working.rule.formula, operands)
    except (ValueError, ArithmeticError, KeyError, TypeError):
        return None
    if not isinstance(working.value, Length):
        return _as(working.value, number)
    if working.rule.rounding is Rounding.NONE:
        return Length(half_even(Fraction(number)))
    step = operands.get("grid")
    if not isinstance(step, Length):
        return None
    # In one go: a half brought to whole nanometres first falls to one side of the middle between two divisions.
    return step * _RULES[working.rule.rounding](Fraction(number) / step.nm)


def _as(like: Value, number: Number) -> Value | None:
    """Return a number as the kind of value that it was before; None for one that is no number."""
    if isinstance(like, bool | str):
        return None
    if isinstance(like, int):
        return int(number) if Fraction(number).denominator == 1 else None
    if isinstance(like, float):
        return float(number)
    return Fraction(number) if isinstance(like, Fraction) else None


def pieces_again[P: (FlatPart, LongPart)](again: Again, parts: Iterable[P]) -> tuple[P, ...]:
    """Return the pieces of the work whose sizes are not what they were: they are to be cut again, or trimmed."""
    return tuple(part for part in parts if part.work == again.work and again.touches(part.figure))


def blocks_again(again: Again, steps: Steps) -> tuple[Block, ...]:
    """Return the blocks of an order of work in which a cut of the work is not what it was."""
    return tuple(block for block in steps.blocks if any(_touched(again, block)))


def _touched(again: Again, block: Block) -> Iterator[bool]:
    for handling in block.handlings:
        if handling.work == again.work:
            yield from (again.touches(strike.figure) for strike in handling.strikes if strike.figure)
