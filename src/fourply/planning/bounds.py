"""What no plan can beat, found without any plan: the area that must be covered, from the cheapest stock.

Weak where fallouts are many, since it fills each to its edge; it stands where nothing better has been proved yet. All
arithmetic is exact.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from fourply.planning.problem import Piece, Problem, Rect


def area_bound(problem: Problem) -> int:
    """Return a cost that every plan reaches: locked boards, and the rest of the area at the least cost per area.

    >>> from fourply.planning.problem import Stock
    >>> sheet = Stock(key="a", w=100, h=100, cost=5)
    >>> area_bound(Problem(pieces=(Piece(key="p", w=80, h=80, copies=3),), stock=(sheet,)))
    10
    """
    offers = _locked_offers(problem) + _stock_offers(problem) + _fallout_offers(problem)
    need = Fraction(sum(p.w * p.h * p.copies for p in problem.pieces))
    cost = Fraction(sum(_cost_of(problem, lock.stock) for lock in problem.locked))
    for price, area, copies in sorted(offers, key=lambda offer: Fraction(offer[0], offer[1])):
        used = need / area if copies is None else min(need / area, Fraction(copies))
        cost += used * price
        need -= used * area
        if need <= 0:
            break
    return -int(-cost // 1)


_Offer = tuple[int, int, int | None]


def _cost_of(problem: Problem, key: str) -> int:
    return next(s.cost for s in problem.stock if s.key == key)


def _locked_offers(problem: Problem) -> list[_Offer]:
    sizes = {s.key: s.w * s.h for s in problem.stock}
    return [(0, sizes[lock.stock], 1) for lock in problem.locked]


def _stock_offers(problem: Problem) -> list[_Offer]:
    usable = [(s, problem.usable(s)) for s in problem.stock]
    return [(s.cost, box.w * box.h, s.copies) for s, box in usable if box is not None]


def _fallout_offers(problem: Problem) -> list[_Offer]:
    offers: list[_Offer] = []
    small = smallest(problem, problem.pieces)
    for parent in problem.pieces:
        areas = [f.w * f.h for f in parent.fallouts if any(fits(problem, p, f) for p in small)]
        if areas:
            offers.append((problem.fallout_cost, max(areas), parent.copies))
    return offers


def smallest(problem: Problem, pieces: Iterable[Piece]) -> list[Piece]:
    """Return the pieces inside which no other fits: what holds none of them holds nothing.

    >>> from fourply.planning.problem import Stock
    >>> pair = (Piece(key="large", w=90, h=60), Piece(key="small", w=50, h=80))
    >>> [p.key for p in smallest(Problem(pieces=pair, stock=(Stock(key="a", w=100, h=90, cost=5),)), pair)]
    ['small']
    """
    kept: list[Piece] = []
    for piece in sorted(pieces, key=lambda p: p.w * p.h):
        turns = problem.may_turn(piece)
        if not any(problem.may_turn(other) == turns and fits(problem, other, piece.size) for other in kept):
            kept.append(piece)
    return kept


def fits(problem: Problem, piece: Piece, rect: Rect) -> bool:
    """Whether the piece may be cut from a rectangle of that size."""
    w, h = rect.w, rect.h
    return (piece.w <= w and piece.h <= h) or (piece.h <= w and piece.w <= h and problem.may_turn(piece))
