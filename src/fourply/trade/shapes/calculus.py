"""The few numerical methods that outlines need: quadrature, a root between two points, the length of an ellipse.

Floats throughout. The ellipse's arc is the elliptic integral of the second kind by Carlson's duplication (B. C.
Carlson, "Computing elliptic integrals by duplication", 1979), good to about 1e-14 relative.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cache

type Function = Callable[[float], float]

_ENOUGH = 1e-3
"""Duplication stops where its arguments agree so well: the series left out is of the sixth power."""


@cache
def gauss_nodes(count: int) -> tuple[tuple[float, float], ...]:
    """Return the nodes and weights of Gauss and Legendre on 0 to 1: exact for polynomials of degree 2 count - 1.

    >>> round(sum(weight * node**5 for node, weight in gauss_nodes(3)), 12) == round(1 / 6, 12)
    True
    """
    return tuple(_node(count, at) for at in range(count))


def _node(count: int, at: int) -> tuple[float, float]:
    x = math.cos(math.pi * (at + 0.75) / (count + 0.5))
    for _ in range(50):
        value, slope = _legendre(count, x)
        x -= value / slope
        if abs(value) < 1e-15:
            break
    slope = _legendre(count, x)[1]
    return (1 + x) / 2, 1 / ((1 - x * x) * slope * slope)


def _legendre(count: int, x: float) -> tuple[float, float]:
    """Return the Legendre polynomial of degree count at x and its slope."""
    before, value = 1.0, x
    for n in range(2, count + 1):
        before, value = value, ((2 * n - 1) * x * value - (n - 1) * before) / n
    return value, count * (x * value - before) / (x * x - 1)


def integral(of: Function, low: float, high: float, *, tolerance: float = 1e-12, depth: int = 16) -> float:
    """Return the integral of a smooth function, halving where two rules disagree by more than the tolerance.

    >>> round(integral(math.sin, 0, math.pi), 12)
    2.0
    """
    middle = (low + high) / 2
    whole, first, second = _gauss(of, low, high), _gauss(of, low, middle), _gauss(of, middle, high)
    if depth == 0 or abs(whole - first - second) <= tolerance * max(1.0, abs(whole)):
        return first + second
    halves = ((low, middle), (middle, high))
    return sum(integral(of, start, end, tolerance=tolerance, depth=depth - 1) for start, end in halves)


def _gauss(of: Function, low: float, high: float) -> float:
    return (high - low) * sum(weight * of(low + (high - low) * node) for node, weight in gauss_nodes(10))


def root(of: Function, low: float, high: float) -> float:
    """Return where a function that has opposite signs at low and high is nothing, as near as floats tell.

    Chandrupatla's method: a parabola through the last three points where that is safe, else halving.

    >>> round(root(lambda x: x * x - 2, 0, 2), 12) == round(math.sqrt(2), 12)
    True
    """
    a, b, c = high, low, low
    at_a, at_b = of(a), of(b)
    at_c, step = at_b, 0.5
    for _ in range(100):
        x = a + step * (b - a)
        at_x = of(x)
        if (at_x > 0) == (at_a > 0):
            c, at_c = a, at_a
        else:
            c, b, at_c, at_b = b, a, at_b, at_a
        a, at_a = x, at_x
        best = a if abs(at_a) < abs(at_b) else b
        least_step = 4e-16 * max(abs(best), 1e-3) / abs(b - a) if b != a else 1.0
        if least_step > 0.5 or 0 in (at_a, at_b):
            return best
        step = min(1 - least_step, max(least_step, _parabola((a, at_a), (b, at_b), (c, at_c))))
    return best


def _parabola(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> float:
    """Return which part of the way from a to b the inverse parabola meets nothing, a half where it is not safe."""
    if a[1] in (b[1], c[1]) or b[1] == c[1]:
        return 0.5
    xi, phi = (a[0] - b[0]) / (c[0] - b[0]), (a[1] - b[1]) / (c[1] - b[1])
    if not (phi * phi < xi and (1 - phi) ** 2 < 1 - xi):
        return 0.5
    first = a[1] / (b[1] - a[1]) * c[1] / (b[1] - c[1])
    return first + (c[0] - a[0]) / (b[0] - a[0]) * a[1] / (c[1] - a[1]) * b[1] / (c[1] - b[1])


def least(of: Function, low: float, high: float, *, scan: int = 24) -> float:
    """Return where a smooth function is least: the best of a scan, then narrowed by the golden section.

    Near a smooth minimum floats do not tell better than the square root of their precision, so neither does this.

    >>> round(least(lambda x: (x - 1) ** 2, 0, 3), 6)
    1.0
    """
    step = (high - low) / scan
    best = min(range(scan + 1), key=lambda at: of(low + at * step))
    left, right = max(low, low + (best - 1) * step), min(high, low + (best + 1) * step)
    ratio = (math.sqrt(5) - 1) / 2
    one, two = right - ratio * (right - left), left + ratio * (right - left)
    at_one, at_two = of(one), of(two)
    while right - left > 1e-9 * max(abs(low), abs(high)):
        if at_one < at_two:
            right, two, at_two = two, one, at_one
            one = right - ratio * (right - left)
            at_one = of(one)
        else:
            left, one, at_one = one, two, at_two
            two = left + ratio * (right - left)
            at_two = of(two)
    return (left + right) / 2


def ellipse_arc(rx: float, ry: float, angle: float) -> float:
    """Return the length of an ellipse from parameter 0 to `angle` (radians, below nothing the other way).

    >>> round(ellipse_arc(5, 5, math.pi), 12) == round(5 * math.pi, 12)
    True
    """
    quarters = round(angle / (math.pi / 2))
    rest = angle - quarters * math.pi / 2
    here, other = (rx, ry) if quarters % 2 == 0 else (ry, rx)
    return quarters * _from_x(rx, ry, math.pi / 2) + _from_x(here, other, rest)


def _from_x(rx: float, ry: float, angle: float) -> float:
    """Return the length from the x axis, at most a quarter turn."""
    if rx > ry:  # counted from the longer axis the other way, so that the modulus stays between 0 and 1
        return _second_kind(rx, ry, math.pi / 2) - _second_kind(rx, ry, math.pi / 2 - angle)
    return _second_kind(ry, rx, angle)


def _second_kind(long: float, short: float, angle: float) -> float:
    """Return the integral of sqrt(long² cos² + short² sin²) from 0 to angle: long times E(angle, m)."""
    if abs(angle) > math.pi / 2:
        turn = math.copysign(math.pi, angle)
        whole = 2 * _second_kind(long, short, math.pi / 2)
        return math.copysign(whole, angle) + _second_kind(long, short, angle - turn)
    modulus = 1 - (short / long) ** 2
    sine, cosine = math.sin(angle), math.cos(angle)
    first, second = _carlson(cosine * cosine, 1 - modulus * sine * sine)
    return long * (sine * first - modulus * sine**3 * second / 3)


def _carlson(x: float, y: float) -> tuple[float, float]:
    """Return Carlson's R_F(x, y, 1) and R_D(x, y, 1)."""
    z, total, power = 1.0, 0.0, 1.0
    while max(abs(1 - x / z), abs(1 - y / z)) > _ENOUGH:
        lam = math.sqrt(x * y) + math.sqrt(y * z) + math.sqrt(z * x)
        total += power / (math.sqrt(z) * (z + lam))
        power /= 4
        x, y, z = (x + lam) / 4, (y + lam) / 4, (z + lam) / 4
    mean = (x + y + z) / 3
    dx, dy = 1 - x / mean, 1 - y / mean
    e2, e3 = dx * dy - (dx + dy) ** 2, -dx * dy * (dx + dy)
    first = (1 - e2 / 10 + e3 / 14 + e2 * e2 / 24 - 3 * e2 * e3 / 44) / math.sqrt(mean)
    mean = (x + y + 3 * z) / 5
    dx, dy = 1 - x / mean, 1 - y / mean
    dz = -(dx + dy) / 3
    product = dx * dy
    e2, e3 = product - 6 * dz * dz, (3 * product - 8 * dz * dz) * dz
    e4, e5 = 3 * (product - dz * dz) * dz * dz, product * dz**3
    series = 1 - 3 * e2 / 14 + e3 / 6 + 9 * e2 * e2 / 88 - 3 * e4 / 22 - 9 * e2 * e3 / 52 + 3 * e5 / 26
    return first, 3 * total + power * series / (mean * math.sqrt(mean))
