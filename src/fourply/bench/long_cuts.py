"""Boards larger than the bar or the squaring arm: two passes and what they may be off, or the other edge first."""

from __future__ import annotations

import math
from dataclasses import dataclass

from fourply.bench import set_up_rules as rules
from fourply.bench.profile import Profile
from fourply.measure.length import Length
from fourply.measure.rounding import from_mm
from fourply.measure.size import Size
from fourply.working.ledger import Ledger
from fourply.working.working import Figures


@dataclass(frozen=True, slots=True)
class LongCut:
    """A cut in two passes: how much each takes, how far the edges part if the board is laid again turned by `turn_deg`.

    `other_first`: the cuts along the other edge can be made in one pass, and leave a board that fits; so they come
    first and no edge is cut twice.
    """

    first: Length
    second: Length
    parting: Length
    turn_deg: float
    other_first: bool
    figures: Figures


def long_cut(profile: Profile, edge: Length, other: Length, piece: Size, *, squared: bool = False) -> LongCut | None:
    """Return how to cut along an `edge` of a board whose `other` edge is so long; None where one pass does.

    `piece` is what is wanted of the board: its width lies along the edge. `squared`: the edge is squared on the arm.
    """
    limit = profile.bar
    if squared and profile.arm is not None:
        limit = min(limit, profile.arm.length)
    if edge <= limit:
        return None
    ledger = Ledger()
    ledger.given("board.edge", edge, "the board")
    ledger.given("bar", limit, "profile")
    ledger.given("pass.turn", profile.turn_deg, "profile")
    first = ledger.figure("pass.first", min(edge, limit), rules.FIRST_PASS, edge="board.edge", bar="bar")
    second = ledger.figure("pass.second", edge - first, rules.SECOND_PASS, edge="board.edge", first="pass.first")
    parting = from_mm(second.as_mm * math.tan(math.radians(profile.turn_deg)))
    ledger.figure("pass.parting", parting, rules.PARTING, second="pass.second", turn="pass.turn")
    other_first = other <= limit and piece.width <= limit
    return LongCut(first, second, parting, profile.turn_deg, other_first, ledger.figures)
