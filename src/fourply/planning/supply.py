"""The stock that a greedy planner draws on: what there is of each kind, and which to open for a given piece."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from fourply.planning.bounds import fits, smallest
from fourply.planning.obstacles import open_board
from fourply.planning.plan import Source
from fourply.planning.problem import Box, Kind, Piece, Problem, Rect, Stock
from fourply.planning.slots import Slot


@dataclass(frozen=True, slots=True)
class Offer:
    """One kind of board that may be opened; `stock` is None for a fallout. `size` is what trimming leaves."""

    source: Source
    size: Rect
    cost: int
    stock: Stock | None = None
    whole: bool = True

    def open(self, problem: Problem) -> Slot:
        """Return the root slot of a fresh board, its damage cut off."""
        if self.stock is not None:
            root = open_board(problem, self.stock)
            if root is not None:
                return root
        return Slot(Box(0, 0, self.size.w, self.size.h))


def offers(problem: Problem) -> list[Offer]:
    """Return every kind of stock of which something can be cut."""
    sizes = smallest(problem, problem.pieces)
    found = []
    for stock in problem.stock:
        usable = problem.usable(stock)
        if usable is not None and any(fits(problem, p, usable.size) for p in sizes):
            found.append(Offer(Source(stock.kind, stock.key), usable.size, stock.cost, stock, not stock.zones))
    for parent in problem.pieces:
        for choice, rect in enumerate(parent.fallouts):
            if any(_may(problem, parent, p, rect) for p in sizes):
                found.append(Offer(Source(Kind.FALLOUT, parent.key, choice), rect, problem.fallout_cost))
    return found


def _may(problem: Problem, parent: Piece, piece: Piece, rect: Rect) -> bool:
    return fits(problem, piece, rect) and (problem.may_turn(piece) or not problem.may_turn(parent))


class Supply:
    """What is left of each offer while a plan is being made."""

    def __init__(self, problem: Problem, found: list[Offer]) -> None:
        self.problem = problem
        self.pieces = {p.key: p for p in problem.pieces}
        self.left: dict[tuple[bool, str], int | None] = {}
        for stock in problem.stock:
            self.left[False, stock.key] = stock.copies
        for piece in problem.pieces:
            self.left[True, piece.key] = piece.copies
        self.offers = sorted(found, key=lambda o: (o.size.w * o.size.h, o.cost))
        self.to_cut = sum(p.w * p.h * p.copies for p in problem.pieces)

    def take(self, source: Source) -> None:
        """Count one board of this source as used."""
        key = (source.kind is Kind.FALLOUT, source.key)
        left = self.left[key]
        self.left[key] = None if left is None else left - 1

    def candidates(self, piece: Piece) -> Iterator[Offer]:
        """Yield the offers of which there is one left that holds the piece."""
        for offer in self.offers:
            if self.left[offer.source.kind is Kind.FALLOUT, offer.source.key] == 0:
                continue
            if not fits(self.problem, piece, offer.size):
                continue
            parent = self.pieces.get(offer.source.key) if offer.source.kind is Kind.FALLOUT else None
            if parent is None or _may(self.problem, parent, piece, offer.size):
                yield offer

    def price(self, offer: Offer, piece: Piece) -> float:
        """Return the cost per area that is likely to be used: most of a sheet, of a scrap only this piece."""
        area, own = offer.size.w * offer.size.h, piece.w * piece.h
        likely = own if offer.source.kind is not Kind.SHEET else max(own, min(0.85 * area, self.to_cut))
        return offer.cost / likely
