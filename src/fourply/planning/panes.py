"""Glazing and backing are boards that break instead of being sliced: the same planner, under the breaking rule.

A strip that is too narrow to be run cannot be broken off cleanly, whether it is wanted or waste. Acrylic and backing
boards that are sawn lose a kerf instead.
"""

from __future__ import annotations

from dataclasses import replace

from fourply.planning.problem import Problem

LEAST_BREAK = 25_400_000
"""Narrowest strip of glass that breaks cleanly, 1 in (trade.md 7.6, from a published guide to cutting glass)."""


def scored(problem: Problem, *, least_strip: int = LEAST_BREAK) -> Problem:
    """Return the problem for a sheet that is scored and broken: no strip narrower than can be run.

    >>> from fourply.planning.problem import Piece, Stock
    >>> plain = Problem(pieces=(Piece(key="p", w=5, h=4),), stock=(Stock(key="s", w=100, h=80, cost=5),))
    >>> scored(plain).cutter.least_strip
    25400000
    """
    return replace(problem, cutter=replace(problem.cutter, least_strip=least_strip, kerf=0))


def sawn(problem: Problem, kerf: int) -> Problem:
    """Return the problem for a sheet that is sawn: every cut loses the kerf."""
    return replace(problem, cutter=replace(problem.cutter, kerf=kerf, least_strip=0))
