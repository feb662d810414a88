"""Boards that are not wholly free: damaged zones and pieces that the user has fixed are cut free first.

Each obstacle is separated by edge-to-edge cuts; what is left are open slots that a planner fills like any other
stock. Of the possible cuts the one that leaves the largest clear part is taken.
"""

from __future__ import annotations

from dataclasses import dataclass

from fourply.errors import CannotHonour
from fourply.planning.plan import Way
from fourply.planning.problem import Box, Locked, Piece, Problem, Stock
from fourply.planning.slots import Slot, may_cut


@dataclass(frozen=True, slots=True)
class Obstacle:
    """A box that must come free: a fixed piece by key, or damage (None)."""

    box: Box
    piece: str | None = None
    turned: bool = False


def open_board(problem: Problem, stock: Stock, lock: Locked | None = None) -> Slot | None:
    """Return the root slot of one board with its damage and its fixed pieces cut free; None if trimming leaves none.

    Raises CannotHonour where the fixed pieces cannot be separated by the cuts that the cutter makes.
    """
    usable = problem.usable(stock)
    if usable is None:
        return None
    obstacles = [Obstacle(box) for zone in stock.zones if (box := _clip(zone, usable)) is not None]
    if lock is not None:
        pieces = {p.key: p for p in problem.pieces}
        obstacles += [
            _fixed(pieces[f.piece], (f.x, f.y), turned=f.turned, turnable=problem.may_turn(pieces[f.piece]))
            for f in lock.fixed
        ]
    root = Slot(usable)
    todo = [(root, obstacles)]
    while todo:
        slot, inside = todo.pop()
        todo.extend(_separate(problem, slot, inside))
    return root


def _clip(zone: Box, usable: Box) -> Box | None:
    x, y = max(zone.x, usable.x), max(zone.y, usable.y)
    right, top = min(zone.x + zone.w, usable.x + usable.w), min(zone.y + zone.h, usable.y + usable.h)
    return Box(x, y, right - x, top - y) if right > x and top > y else None


def _fixed(piece: Piece, at: tuple[int, int], *, turned: bool, turnable: bool) -> Obstacle:
    if turned and not turnable:
        wish = f"piece {piece.key} fixed across the direction of the board"
        raise CannotHonour("board", wish)
    size = piece.size.turned if turned else piece.size
    return Obstacle(Box(*at, size.w, size.h), piece.key, turned)


_Work = list[tuple[Slot, list[Obstacle]]]


def _separate(problem: Problem, slot: Slot, obstacles: list[Obstacle]) -> _Work:
    """Make one cut that separates; return the parts that still hold obstacles."""
    if not obstacles:
        return []
    only = obstacles[0]
    if len(obstacles) == 1 and only.box == slot.box:
        slot.piece, slot.turned, slot.spoilt = only.piece, only.turned, only.piece is None
        return []
    cuts = _cuts(problem, slot.box, obstacles)
    if not cuts:
        return _together(slot, obstacles)
    way, at = max(cuts, key=lambda cut: _clear(slot.box, cut, obstacles))
    parts = slot.divide(way, at, problem.cutter.kerf)
    return [(part, _inside(part.box, obstacles)) for part in parts]


def _together(slot: Slot, obstacles: list[Obstacle]) -> _Work:
    """Give up a part in which damage lies so that no cut separates it; pieces cannot be given up."""
    if any(o.piece is not None for o in obstacles):
        wish = "fixed pieces that no edge-to-edge cut separates"
        raise CannotHonour("board", wish)
    slot.spoilt = True
    return []


def _inside(box: Box, obstacles: list[Obstacle]) -> list[Obstacle]:
    kept = []
    for o in obstacles:
        if not o.box.overlaps(box):
            continue
        clipped = _clip(o.box, box)
        kept.append(Obstacle(clipped or o.box, o.piece, o.turned))
    return kept


def _cuts(problem: Problem, box: Box, obstacles: list[Obstacle]) -> list[tuple[Way, int]]:
    kerf = problem.cutter.kerf
    found = []
    for way in Way:
        low, side = (box.x, box.w) if way is Way.V else (box.y, box.h)
        spans = [((o.box.x, o.box.w) if way is Way.V else (o.box.y, o.box.h), o.piece) for o in obstacles]
        for (start, size), _ in spans:
            for at in (start - low - kerf, start + size - low):
                ok = 0 < at < side and may_cut(problem.cutter, box.size, way, at)
                if ok and all(_passes(low + at, kerf, span, piece) for span, piece in spans):
                    found.append((way, at))
    return found


def _passes(at: int, kerf: int, span: tuple[int, int], piece: str | None) -> bool:
    """Whether a cut from `at` to `at + kerf` leaves the obstacle whole; the saw may run into damage, not across it."""
    start, size = span
    clear = at + kerf <= start or start + size <= at
    return clear or (piece is None and at == start)


def _clear(box: Box, cut: tuple[Way, int], obstacles: list[Obstacle]) -> int:
    """Return the area of the larger of the two parts that holds no obstacle."""
    parts = Slot(box).divide(*cut, 0)
    return max((p.box.w * p.box.h for p in parts if not any(o.box.overlaps(p.box) for o in obstacles)), default=0)
