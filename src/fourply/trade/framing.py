"""The frame: rabbet, sight, outside, and each rail to its long and short point.

A frame has four sides of one moulding, four sides of two (top and bottom one, sides the other), or n equal sides. The
rabbet is larger than the package by the allowance in all; a rail's length depends on the width and lip of the rails
that it meets.
"""

from __future__ import annotations

from fourply.errors import BadTreatment
from fourply.measure.length import ZERO, Length
from fourply.measure.size import Edges, Size
from fourply.trade import rules
from fourply.trade.formulas import joint_gap, mitre_deg, polygon_side
from fourply.trade.materials import Materials, Moulding
from fourply.trade.package import Frame, Rail
from fourply.trade.service import offered
from fourply.trade.treatment import Treatment
from fourply.trade.window import enter_rule
from fourply.working.ledger import Ledger

SAW_ERROR_DEG = 0.25
"""What a mitre saw that nobody has checked is often out by (common practice)."""


def frame_mouldings(treatment: Treatment, materials: Materials) -> tuple[Moulding, Moulding] | None:
    """Return the mouldings of top and bottom and of the sides: the treatment's own, or those of a ready-made frame."""
    name = treatment.moulding or (materials.frame(treatment.frame).moulding if treatment.frame else "")
    if not name:
        return None
    moulding, two = materials.moulding(name), treatment.moulding_sides and treatment.frame_sides == 4
    return moulding, materials.moulding(treatment.moulding_sides) if two else moulding


def make_frame(ledger: Ledger, outer: Size, treatment: Treatment, materials: Materials) -> Frame | None:
    """Return the frame round a package, None where there is no moulding."""
    mouldings = frame_mouldings(treatment, materials)
    if mouldings is None:
        return None
    moulding, sides = mouldings
    enter_rule(ledger, treatment, "allowance")
    _enter_moulding(ledger, "moulding", moulding)
    if treatment.frame_sides != 4:
        return _polygon(ledger, outer, treatment, moulding)
    beside = "moulding"
    if sides is not moulding:
        beside = "moulding_sides"
        _enter_moulding(ledger, beside, sides)
    for side, length in (("width", outer.width), ("height", outer.height)):
        operands = {"outer": f"outer.{side}", "allowance": "treatment.allowance"}
        ledger.figure(f"frame.rabbet.{side}", length + treatment.allowance, rules.RABBET, **operands)
    rabbet = Size(outer.width + treatment.allowance, outer.height + treatment.allowance)
    sight = _extent(ledger, "sight", rabbet, {"width": (beside, sides), "height": ("moulding", moulding)})
    outside = _extent(ledger, "outside", rabbet, {"width": (beside, sides), "height": ("moulding", moulding)})
    rails = tuple(
        Rail(
            name,
            of,
            _point(ledger, f"frame.rail.{name}", "long", side, value=long),
            _point(ledger, f"frame.rail.{name}", "short", side, value=short),
            _mitre(ledger, f"frame.rail.{name}", (own, of), (side[1], meets)),
        )
        for name, own, of, meets, side, long, short in (
            ("top", "moulding", moulding, sides, ("width", beside), outside.width, sight.width),
            ("right", beside, sides, moulding, ("height", "moulding"), outside.height, sight.height),
            ("bottom", "moulding", moulding, sides, ("width", beside), outside.width, sight.width),
            ("left", beside, sides, moulding, ("height", "moulding"), outside.height, sight.height),
        )
    )
    _joint_gap(ledger, moulding, 4)
    return offered(ledger, outer, Frame(moulding, rabbet, sight, outside, rails), treatment)


def _mitre(ledger: Ledger, rail: str, own: tuple[str, Moulding], meets: tuple[str, Moulding]) -> float:
    """Enter and return the mitre of a rail of one moulding that meets another at a right angle."""
    angle = mitre_deg(own[1].width, meets[1].width)
    operands = {"width": f"{own[0]}.width", "meets": f"{meets[0]}.width"}
    return ledger.figure(f"{rail}.mitre_deg", angle, rules.MITRE_MEETS, **operands)


def _joint_gap(ledger: Ledger, moulding: Moulding, sides: int) -> None:
    """Enter what a saw that is a quarter of a degree out leaves open at the last joint."""
    error = ledger.given("frame.saw_error_deg", SAW_ERROR_DEG, "a saw this little out of true, for comparison")
    if "frame.half_angle_deg" not in ledger:
        ledger.given("frame.half_angle_deg", 180 / sides, "four sides")
        ledger.given("frame.sides", sides, "four sides")
    operands = {
        "width": "moulding.width",
        "half_angle": "frame.half_angle_deg",
        "sides": "frame.sides",
        "error": "frame.saw_error_deg",
    }
    ledger.figure("frame.joint_gap", joint_gap(moulding.width, sides, error), rules.JOINT_GAP, **operands)


def visible_borders(ledger: Ledger, borders: Edges, treatment: Treatment, frame: Frame) -> Edges:
    """Return what is seen of the top mat's borders: the package rests on the bottom rail and is centred sideways.

    Half an allowance is rounded down to whole nanometres, on both sides alike.
    """
    allowance, lips = treatment.allowance, {rail.side: rail.moulding.lip for rail in frame.rails}
    rested = {"top": rules.VISIBLE_TOP, "bottom": rules.VISIBLE_BOTTOM}
    gains = {"top": allowance, "bottom": ZERO}
    seen = []
    for name, border in borders.named():
        beside = "moulding_sides" if name in ("left", "right") and "moulding_sides.lip" in ledger else "moulding"
        operands = {"border": f"mat.1.border.{name}", "lip": f"{beside}.lip"}
        if name != "bottom":
            operands |= {"allowance": "treatment.allowance"}
        value = border - lips.get(name, frame.moulding.lip) + gains.get(name, allowance // 2)
        seen.append(ledger.figure(f"frame.visible.{name}", value, rested.get(name, rules.VISIBLE), **operands))
    return Edges(*seen)


def _enter_moulding(ledger: Ledger, path: str, moulding: Moulding) -> None:
    origin = f"moulding {moulding.name}"
    ledger.given(f"{path}.width", moulding.width, origin)
    ledger.given(f"{path}.lip", moulding.lip, origin)
    ledger.given(f"{path}.rabbet_depth", moulding.rabbet_depth, origin)


def _extent(ledger: Ledger, what: str, rabbet: Size, mouldings: dict[str, tuple[str, Moulding]]) -> Size:
    """Enter and return the sight or the outside size."""
    lengths = []
    for side, length in (("width", rabbet.width), ("height", rabbet.height)):
        path, moulding = mouldings[side]
        operands = {"rabbet": f"frame.rabbet.{side}", "lip": f"{path}.lip"}
        if what == "sight":
            value = length - 2 * moulding.lip
            if value.nm <= 0:
                raise BadTreatment(f"frame.sight.{side}", "the lips meet over the package", "a narrower lip")
            lengths.append(ledger.figure(f"frame.sight.{side}", value, rules.SIGHT, **operands))
        else:
            value = length + 2 * (moulding.width - moulding.lip)
            operands |= {"width": f"{path}.width"}
            lengths.append(ledger.figure(f"frame.outside.{side}", value, rules.OUTSIDE, **operands))
    return Size(*lengths)


def _point(ledger: Ledger, rail: str, end: str, side: tuple[str, str], *, value: Length) -> Length:
    """Enter and return the long or short point of one rail along `side`, which meets rails of the named moulding."""
    along, meets = side
    operands = {"rabbet": f"frame.rabbet.{along}", "lip": f"{meets}.lip"}
    if end == "long":
        operands |= {"width": f"{meets}.width"}
    rule = rules.LONG_POINT if end == "long" else rules.SHORT_POINT
    return ledger.figure(f"{rail}.{end}_point", value, rule, **operands)


def _polygon(ledger: Ledger, outer: Size, treatment: Treatment, moulding: Moulding) -> Frame:
    """Return a frame of n equal sides; the outer size is its width across flats."""
    sides = treatment.frame_sides
    if outer.width != outer.height:
        found = f"a frame of {sides} equal sides round a package that is not as wide as high"
        raise BadTreatment("frame", found, "give one outer size for both, or take four sides")
    rabbet = outer.width + treatment.allowance
    beyond = rabbet + 2 * (moulding.width - moulding.lip)
    seen = rabbet - 2 * moulding.lip
    given = {"outer": "outer.width", "allowance": "treatment.allowance"}
    ledger.figure("frame.rabbet.width", rabbet, rules.RABBET, **given)
    common = {"rabbet": "frame.rabbet.width", "lip": "moulding.lip"}
    ledger.figure("frame.sight.width", seen, rules.SIGHT, **common)
    ledger.figure("frame.outside.width", beyond, rules.OUTSIDE, **common, width="moulding.width")
    half = {"half_angle": "frame.half_angle_deg"}
    long = ledger.figure(
        "frame.rail.each.long_point",
        polygon_side(beyond, sides),
        rules.POLYGON_LONG,
        **common,
        width="moulding.width",
        **half,
    )
    short = ledger.figure(
        "frame.rail.each.short_point", polygon_side(seen, sides), rules.POLYGON_SHORT, **common, **half
    )
    ledger.given("frame.sides", sides, treatment.origin("frame_sides"))
    mitre = ledger.figure("frame.rail.each.mitre_deg", 180 / sides, rules.MITRE, sides="frame.sides")
    _joint_gap(ledger, moulding, sides)
    rail = Rail("each", moulding, long, short, mitre, count=sides)
    frame = Frame(moulding, Size(rabbet, rabbet), Size(seen, seen), Size(beyond, beyond), (rail,), sides=sides)
    return offered(ledger, outer, frame, treatment)
