"""What makes a guide parallel and proves a blank square."""

from __future__ import annotations

import math
from dataclasses import dataclass

from fourply.bench import set_up_rules as rules
from fourply.measure.length import Length
from fourply.measure.rounding import from_mm
from fourply.measure.size import Size
from fourply.working.ledger import Ledger
from fourply.working.working import Figures


@dataclass(frozen=True, slots=True)
class Worked:
    """A length with the figures that it stands on."""

    length: Length
    figures: Figures


def guide_move(skew_deg: float, length: Length) -> Worked:
    """Return how far the near end of a guide of this length moves out, in where below nothing, to make it parallel.

    >>> guide_move(-0.0859, Length.mm(400)).length.as_mm
    -0.599696
    """
    ledger = Ledger()
    ledger.given("guide.skew", skew_deg, "test cuts")
    ledger.given("guide.length", length, "length between the ends that were read")
    move = from_mm(length.as_mm * math.tan(math.radians(skew_deg)))
    ledger.figure("guide.move", move, rules.MOVE, length="guide.length", skew="guide.skew")
    return Worked(move, ledger.figures)


def diagonal(blank: Size) -> Worked:
    """Return both diagonals of a blank that is square.

    >>> diagonal(Size(Length.mm(300), Length.mm(400))).length.as_mm
    500.0
    """
    ledger = Ledger()
    ledger.given("blank.width", blank.width, "the blank")
    ledger.given("blank.height", blank.height, "the blank")
    across = from_mm(math.hypot(blank.width.as_mm, blank.height.as_mm))
    ledger.figure("blank.diagonal", across, rules.DIAGONAL, width="blank.width", height="blank.height")
    return Worked(across, ledger.figures)
