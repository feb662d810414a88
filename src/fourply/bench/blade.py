"""How far the blade stands out for a board, which position gives that, and when it is worn."""

from __future__ import annotations

import math
from dataclasses import dataclass

from fourply.bench import set_up_rules as rules
from fourply.bench.profile import Blade, Head, HeadKind, Position, Profile
from fourply.errors import BadInput
from fourply.measure.length import ZERO, Length
from fourply.measure.rounding import from_mm
from fourply.working.ledger import Ledger
from fourply.working.working import Figures


@dataclass(frozen=True, slots=True)
class BladeSetting:
    """How far the blade stands out along its slant, and the position that gives at least that, None where none does."""

    extension: Length
    position: Position | None
    figures: Figures


def blade_for(profile: Profile, caliper: Length, head: Head | None = None, *, board: str = "") -> BladeSetting:
    """Return how the blade of a head (None: the bevel head) is set for board of this caliper.

    The position is the one that the profile names for a `board`, else the one that stands out least but enough. The
    bevel angle is that of the last test cut where there is one. Raises BadInput for board the cutter does not take.
    """
    head = profile.bevel if head is None else head
    if not ZERO < caliper <= profile.deepest:
        raise BadInput(f"{caliper.as_mm:g} mm", f"a board of at most {profile.deepest.as_mm:g} mm for {profile.name}")
    tested = head.kind is HeadKind.BEVEL and profile.calibration is not None
    ledger = Ledger()
    angle = profile.known.angle.value if tested else head.angle_deg
    ledger.given("blade.angle", angle, "test cut" if tested else "profile")
    ledger.given("board.caliper", caliper, "measured")
    ledger.given("slip.caliper", profile.slip, "profile")
    bite = ledger.figure("blade.bite", profile.slip.split(3)[1], rules.BITE, slip="slip.caliper")
    extension = from_mm((caliper + bite).as_mm / math.sin(math.radians(angle)))
    operands = {"caliper": "board.caliper", "bite": "blade.bite", "angle": "blade.angle"}
    ledger.figure("blade.extension", extension, rules.EXTENSION, **operands)
    named = next((cuts.position for cuts in head.cuts if cuts.board == board), None)
    stated = next((position for position in head.blade.positions if position.mark == named), None)
    return BladeSetting(extension, stated or head.blade.position(extension), ledger.figures)


def change_due(blade: Blade, cut: Length) -> bool:
    """Tell whether a blade that has cut so much should be changed.

    >>> change_due(Blade(life=Length.mm(20_000)), Length.mm(25_000))
    True
    """
    return blade.life is not None and cut >= blade.life
