"""The formulas of rules, evaluated: what a figure would be before it was rounded.

Only an explanation needs this; figures are worked out by the code of the trade. Lengths are exact ratios of nanometres,
angles in degrees bring in floats.
"""

from __future__ import annotations

import ast
import math
import operator
from collections.abc import Callable, Mapping
from fractions import Fraction
from functools import cache

from fourply.measure.length import Length
from fourply.working.working import Value

type Number = Fraction | float

_OPERATORS: Mapping[type[ast.operator], Callable[[Number, Number], Number]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
}
_FUNCTIONS: Mapping[str, Callable[..., Number]] = {
    "min": min,
    "max": max,
    "ceil": lambda ratio: Fraction(math.ceil(ratio)),
    "sqrt": math.sqrt,
    "tan": lambda degrees: math.tan(math.radians(degrees)),
    "sin": lambda degrees: math.sin(math.radians(degrees)),
    "cos": lambda degrees: math.cos(math.radians(degrees)),
    "atan": lambda ratio: math.degrees(math.atan(ratio)),
}
FUNCTIONS = frozenset(_FUNCTIONS)
"""What a formula may call."""


def evaluate(formula: str, operands: Mapping[str, Value]) -> Number:
    """Return what a rule's formula says of its operands, lengths in nanometres; raises ValueError for no formula.

    >>> evaluate("sheet - 2 * overlap", {"sheet": Length(10), "overlap": Length(3)})
    Fraction(4, 1)
    """
    return _value(_parsed(formula), operands)


@cache
def _parsed(formula: str) -> ast.expr:
    return ast.parse(formula, mode="eval").body


def _value(node: ast.expr, operands: Mapping[str, Value]) -> Number:
    match node:
        case ast.BinOp(left, operation, right):
            return _OPERATORS[type(operation)](_value(left, operands), _value(right, operands))
        case ast.Call(ast.Name(name), arguments):
            return _FUNCTIONS[name](*(_value(argument, operands) for argument in arguments))
        case ast.Name(name):
            return _number(operands[name])
        case ast.Constant(int(number)):
            return Fraction(number)
    raise ValueError(ast.dump(node))


def _number(value: Value) -> Number:
    if isinstance(value, Length):
        return Fraction(value.nm)
    return value if isinstance(value, float) else Fraction(value)
