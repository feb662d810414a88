"""Figures into lines that people read.

    window.width = art.width – 2 · overlap = 10 3/4 – 2 · 1/8 = 10 1/2

How a value is written (unit, fractions, decimal sign) is the reader's: it is passed in as a function.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from fourply.errors import Unknown
from fourply.measure.length import Length
from fourply.working.arithmetic import FUNCTIONS, evaluate
from fourply.working.working import Figures, Rounding, Value, Working

type Write = Callable[[Value], str]

_NAME = re.compile(r"[a-z_][a-z_0-9]*")
_SIGNS = {" - ": " – ", " * ": " · ", " / ": " ÷ "}
_ROUNDED = {Rounding.DOWN: "down to", Rounding.UP: "up to", Rounding.NEAREST: "to the nearest"}


@dataclass(frozen=True, slots=True)
class Line:
    """One figure explained: its path and value, the arithmetic in values and in names, why, and on whose word."""

    figure: str
    value: str
    arithmetic: str
    formula: str
    reason: str
    source: str
    depth: int = 0


def explain(figures: Figures, path: str, write: Write) -> tuple[Line, ...]:
    """Return the lines for one figure and, deeper, for every figure it stands on, each once.

    Raises Unknown where there is no such figure.
    """
    if path not in figures:
        raise Unknown("figure", path, tuple(figures))
    lines: list[Line] = []
    seen: set[str] = set()
    waiting = [(path, 0)]
    while waiting:
        at, depth = waiting.pop()
        if at in seen:
            continue
        seen.add(at)
        lines.append(line(figures, at, write, depth=depth))
        waiting.extend((operand, depth + 1) for _, operand in reversed(figures[at].operands))
    return tuple(lines)


def line(figures: Figures, path: str, write: Write, *, depth: int = 0) -> Line:
    """Return the line of one figure alone."""
    working = figures[path]
    if not working.rule.formula:
        return Line(path, write(working.value), "", "", working.origin or working.rule.reason, "", depth)
    values = {name: write(figures[operand].value) for name, operand in working.operands}
    names = dict(working.operands)
    return Line(
        path,
        write(working.value),
        _fill(working.rule.formula, values) + _rounded(figures, working, write),
        _fill(working.rule.formula, names),
        working.rule.reason,
        working.rule.source,
        depth,
    )


def _fill(formula: str, words: dict[str, str]) -> str:
    text = _NAME.sub(lambda m: m[0] if m[0] in FUNCTIONS else words.get(m[0], m[0]), formula)
    for sign, shown in _SIGNS.items():
        text = text.replace(sign, shown)
    return text


def _rounded(figures: Figures, working: Working, write: Write) -> str:
    """Return what the sum is before it is rounded and how it is, nothing where rounding changes nothing."""
    way = _ROUNDED.get(working.rule.rounding)
    operands = {name: figures[operand].value for name, operand in working.operands}
    grid = operands.pop("grid", None)
    if way is None or grid is None or not isinstance(working.value, Length):
        return ""
    exact = Length(round(evaluate(working.rule.formula, operands)))
    return f" = {write(exact)}, {way} {write(grid)}" if exact != working.value else ""
