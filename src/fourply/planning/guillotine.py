"""A plan at once, for any problem that can be planned: pieces in order of size, each into the slot that suits best.

Several orders, fits and splits are tried and the cheapest plan is kept. It knows every rule that a problem can state,
proves nothing beyond the area bound, and is where the stronger planners start.
"""

from __future__ import annotations

import copy
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import groupby, product

from fourply.errors import BadInput, CannotHonour
from fourply.planning.bounds import area_bound
from fourply.planning.budget import Budget, Progress
from fourply.planning.obstacles import open_board
from fourply.planning.plan import Board, Plan, Source, Way
from fourply.planning.problem import Kind, Piece, Problem
from fourply.planning.slots import Slot, cost_of, gather, place
from fourply.planning.supply import Offer, Supply, offers

ENGINE = "guillotine"

_Order = Callable[[Piece], tuple[int, ...]]
_ORDERS: tuple[_Order, ...] = (
    lambda p: (-p.w * p.h, -max(p.w, p.h)),
    lambda p: (-max(p.w, p.h), -min(p.w, p.h)),
    lambda p: (-min(p.w, p.h), -max(p.w, p.h)),
    lambda p: (-p.w, -p.h),
)
_Fit = Callable[[Slot, int, int], int]
_FITS: tuple[_Fit, ...] = (
    lambda slot, w, h: slot.box.w * slot.box.h - w * h,
    lambda slot, w, h: min(slot.box.w - w, slot.box.h - h),
)
_WAYS = ((Way.V, Way.H), (Way.H, Way.V))


@dataclass(frozen=True, slots=True)
class _Variant:
    order: _Order
    fit: _Fit
    wide_rest: bool


def plan_greedily(problem: Problem, budget: Budget, progress: Progress | None = None) -> Plan:
    """Return the cheapest of several greedy plans; a step is one of them, and at least one is made.

    Raises BadInput where a piece fits no stock or the stock does not suffice.
    """
    bound, found = area_bound(problem), offers(problem)
    best: tuple[int, tuple[Board, ...]] | None = None
    fault: BadInput | None = None
    began = _now(budget)
    steps = 0
    for variant in _variants():
        try:
            boards = _Bench(problem, found, variant).fill()
        except BadInput as short:
            fault = short
        else:
            cost = cost_of(problem, boards)
            best = min(best or (cost, boards), (cost, boards), key=lambda plan: plan[0])
        steps += 1
        told = best is None or progress is None or progress(best[0], bound)
        if not told or _spent(budget, steps, began) or (best is not None and best[0] <= bound):
            break
    if best is None:
        raise fault or CannotHonour(ENGINE, "a problem without stock")
    seconds = None if budget.clock is None else _now(budget) - began
    return Plan(best[1], best[0], min(bound, best[0]), ENGINE, steps, seconds)


def _variants() -> Iterator[_Variant]:
    for order, fit, wide in product(_ORDERS, _FITS, (False, True)):
        yield _Variant(order, fit, wide)


def _now(budget: Budget) -> float:
    return 0.0 if budget.clock is None else budget.clock()


def _spent(budget: Budget, steps: int, began: float) -> bool:
    if budget.steps is not None and steps >= budget.steps:
        return True
    start = began if budget.began is None else budget.began
    return budget.seconds is not None and _now(budget) - start >= budget.seconds


class _Bench:
    """One greedy plan while it is being made."""

    def __init__(self, problem: Problem, found: list[Offer], variant: _Variant) -> None:
        self.problem = problem
        self.variant = variant
        self.supply = Supply(problem, found)
        self.boards: list[tuple[Source, Slot]] = []
        self.free: list[tuple[Slot, bool]] = []

    def fill(self) -> tuple[Board, ...]:
        wanted = {p.key: p.copies for p in self.problem.pieces}
        self._open_locked(wanted)
        lots = sorted((p for p in self.problem.pieces if p.lot is not None), key=lambda p: p.lot or "")
        for _, group in groupby(lots, key=lambda p: p.lot):
            self._place_lot([p for p in sorted(group, key=self.variant.order) for _ in range(wanted[p.key])])
        for piece in sorted(self.problem.pieces, key=self.variant.order):
            for _ in range(wanted[piece.key] if piece.lot is None else 0):
                self._place(piece)
        return gather(self.problem, self.boards)

    def _open_locked(self, wanted: dict[str, int]) -> None:
        stock = {s.key: s for s in self.problem.stock}
        for lock in self.problem.locked:
            root = open_board(self.problem, stock[lock.stock], lock)
            if root is None or self.supply.left[False, lock.stock] == 0:
                found = f"locked board {lock.stock}"
                raise BadInput(found, "a board that is there")
            source = Source(stock[lock.stock].kind, lock.stock)
            self.supply.take(source)
            self._add(source, root)
            for fixed in lock.fixed:
                wanted[fixed.piece] -= 1

    def _add(self, source: Source, root: Slot) -> None:
        self.boards.append((source, root))
        steady = source.kind is not Kind.FALLOUT or not self.problem.may_turn(self.supply.pieces[source.key])
        self.free.extend((leaf, steady) for leaf in root.open_leaves())

    def _place(self, piece: Piece) -> None:
        self.supply.to_cut -= piece.w * piece.h
        spot = self._best(piece, self.free)
        if spot is not None:
            at, left = spot
            steady = self.free[at][1]
            self.free[at] = self.free[-1]
            self.free.pop()
            self.free.extend((slot, steady) for slot in left)
            return
        for offer in sorted(self.supply.candidates(piece), key=lambda o: self.supply.price(o, piece)):
            root = offer.open(self.problem)
            free = [(leaf, True) for leaf in root.open_leaves()]
            if self._best(piece, free) is not None:
                self.supply.take(offer.source)
                self._add(offer.source, root)
                return
        found = f"piece {piece.key}, {piece.w} × {piece.h}"
        raise BadInput(found, "stock that it fits, and enough of it")

    def _best(self, piece: Piece, free: list[tuple[Slot, bool]]) -> tuple[int, list[Slot]] | None:
        """Cut the piece from the slot that suits best; return the slot's place and the slots that are left of it."""
        sizes = [(piece.w, piece.h, False)]
        if self.problem.may_turn(piece) and piece.w != piece.h:
            sizes.append((piece.h, piece.w, True))
        fixed = not self.problem.may_turn(piece)
        least = min(piece.w, piece.h)
        spots = [
            (self.variant.fit(slot, w, h), at, turned)
            for at, (slot, steady) in enumerate(free)
            if slot.box.w >= least and slot.box.h >= least
            for w, h, turned in sizes
            if w <= slot.box.w and h <= slot.box.h and (steady or not fixed)
        ]
        if self.problem.cutter.free:
            spots = [min(spots)] if spots else []
        for _, at, turned in sorted(spots):
            left = self._cut(free[at][0], piece, turned=turned)
            if left is not None:
                return at, left
        return None

    def _cut(self, slot: Slot, piece: Piece, *, turned: bool) -> list[Slot] | None:
        w, h = (piece.h, piece.w) if turned else (piece.w, piece.h)
        over_w, over_h = slot.box.w - w, slot.box.h - h
        first = over_w * slot.box.h >= over_h * slot.box.w if self.variant.wide_rest else over_w >= over_h
        for ways in _WAYS if first else reversed(_WAYS):
            left = place(slot, piece, ways, turned=turned, cutter=self.problem.cutter)
            if left is not None:
                return left
        return None

    def _place_lot(self, pieces: list[Piece]) -> None:
        """Cut all of a lot from one board: one that is open already, or the cheapest that holds them."""
        for at, (source, root) in enumerate(self.boards):
            trial = copy.deepcopy(root)
            if self._holds(trial, pieces):
                old = {id(leaf) for leaf in root.open_leaves()}
                self.free = [(slot, steady) for slot, steady in self.free if id(slot) not in old]
                self.boards.pop(at)
                self._add(source, trial)
                return
        if not pieces:
            return
        for offer in sorted(self.supply.candidates(pieces[0]), key=lambda o: o.cost):
            root = offer.open(self.problem)
            if self._holds(root, pieces):
                self.supply.take(offer.source)
                self._add(offer.source, root)
                return
        wish = f"lot {pieces[0].lot} on one board"
        raise CannotHonour(ENGINE, wish)

    def _holds(self, root: Slot, pieces: list[Piece]) -> bool:
        free = [(leaf, True) for leaf in root.open_leaves()]
        for piece in pieces:
            spot = self._best(piece, free)
            if spot is None:
                return False
            at, left = spot
            free[at] = free[-1]
            free.pop()
            free.extend((slot, True) for slot in left)
        self.supply.to_cut -= sum(p.w * p.h for p in pieces)
        return True
