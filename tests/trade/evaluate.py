"""A formula of the trade as text, evaluated from its operands: what the code beside it is held against.

Shares nothing with the code that resolves a work: lengths are exact ratios of nanometres here, and an angle brings
in floats.
"""

from __future__ import annotations

import ast
import math
from collections.abc import Callable, Mapping
from fractions import Fraction

from fourply.measure.length import Length
from fourply.working.working import SHAPED, Figures, Rounding, Value, Working

type Number = Fraction | float

_OPERATIONS: dict[type[ast.operator], Callable[[Number, Number], Number]] = {
    ast.Add: lambda a, b: a + b,
    ast.Sub: lambda a, b: a - b,
    ast.Mult: lambda a, b: a * b,
    ast.Div: lambda a, b: a / b,
}
_FUNCTIONS: dict[str, Callable[..., Number]] = {
    "min": min,
    "max": max,
    "ceil": lambda ratio: Fraction(math.ceil(ratio)),
    "sqrt": math.sqrt,
    "tan": lambda degrees: math.tan(math.radians(degrees)),
    "sin": lambda degrees: math.sin(math.radians(degrees)),
    "cos": lambda degrees: math.cos(math.radians(degrees)),
    "atan": lambda ratio: math.degrees(math.atan(ratio)),
}


def number(value: Value) -> Number:
    """Return a figure's value as a number: nanometres for a length."""
    assert not isinstance(value, str)
    if isinstance(value, Length):
        return Fraction(value.nm)
    return value if isinstance(value, float) else Fraction(value)


def evaluate(formula: str, operands: Mapping[str, Number]) -> Number:
    """Return what the formula says of its operands; raises KeyError for a name that is no operand."""

    def of(node: ast.expr) -> Number:
        match node:
            case ast.BinOp(left, operator, right):
                return _OPERATIONS[type(operator)](of(left), of(right))
            case ast.UnaryOp(ast.USub(), inner):
                return -of(inner)
            case ast.Call(ast.Name(name), arguments, []):
                return _FUNCTIONS[name](*(of(argument) for argument in arguments))
            case ast.Name(name):
                return operands[name]
            case ast.Constant(int(value)):
                return Fraction(value)
        raise AssertionError(ast.dump(node))

    return of(ast.parse(formula, mode="eval").body)


def names_in(formula: str) -> set[str]:
    """Return the operands that the formula names."""
    found = {node.id for node in ast.walk(ast.parse(formula, mode="eval")) if isinstance(node, ast.Name)}
    return found - _FUNCTIONS.keys()


def fault(figures: Figures, path: str) -> str:
    """Return what parts a figure's value from its formula, nothing where the two agree."""
    working = figures[path]
    rule = working.rule
    operands = {name: number(figures[of].value) for name, of in working.operands}
    if rule == SHAPED:
        return "" if operands else f"{path}: drawn from nothing"
    if not rule.formula:
        return f"{path}: a given figure has operands" if operands else ""
    wanted = names_in(rule.formula) | ({"grid"} if rule.rounding is not Rounding.NONE else set())
    if wanted != operands.keys():
        return f"{path}: operands {sorted(operands)}, formula {rule.formula}"
    said, value = evaluate(rule.formula, operands), number(working.value)
    if _agree(working, said, value, operands.get("grid")):
        return ""
    return f"{path} = {float(value)} but {rule.formula} = {float(said)} from {operands}"


def _agree(working: Working, said: Number, value: Number, grid: Number | None) -> bool:
    if not isinstance(working.value, Length):
        return math.isclose(said, value, rel_tol=1e-12)
    slack = 0 if isinstance(said, Fraction) else 1
    if grid is None:
        if isinstance(said, float):
            return abs(said - value) <= 2  # operands that geometry rounded are half a nanometre off each
        # A whole nanometre is the least there is: half of an odd number of them goes to one side or the other.
        return -1 < said - value < 1 if said % 1 else said == value
    assert isinstance(grid, Fraction)
    steps = value / grid
    possible = {_rounded(working.rule.rounding, (said + nm) / grid) for nm in (-slack, 0, slack)}
    return steps in possible


def _rounded(rounding: Rounding, steps: Number) -> int:
    match rounding:
        case Rounding.DOWN:
            return math.floor(steps)
        case Rounding.UP:
            return math.ceil(steps)
        case _:
            return round(steps)
