"""How a frame's rails can be bought: as sticks cut in the shop, as a chop, or joined; what the supplier asks for each.

A chop is the four rails of one frame, mitred and cut to the size that is ordered. The size ordered is that of the
package: the supplier adds the allowance, unless the order says otherwise. It is billed by the length of its perimeter
and what the mitres take, and money is brought up to whole hundredths, so that no comparison promises too much.
"""

from __future__ import annotations

import math
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from fourply.errors import BadTreatment
from fourply.measure.length import Length
from fourply.measure.size import Size
from fourply.trade.materials import ChopTerms
from fourply.trade.money import Money
from fourply.trade.package import Frame
from fourply.trade.treatment import Service, Treatment
from fourply.working.ledger import Ledger
from fourply.working.working import Rule

_PRACTICE = "common practice"

MITRES = Rule(
    "service.mitres",
    "8 * moulding",
    "Each end of each rail is billed a width of the moulding for its mitre.",
    _PRACTICE,
)
BILLED = Rule(
    "service.billed",
    "2 * (width + height) + mitres",
    "A chop is billed by the perimeter of the size ordered and what the mitres take.",
    _PRACTICE,
)
BILLED_STEPS = Rule(
    "service.billed_steps",
    "ceil((2 * (width + height) + mitres) / step) * step",
    "A chop is billed by the perimeter of the size ordered and what the mitres take, up to a whole step.",
    _PRACTICE,
)
CHOP = Rule(
    "service.chop",
    "ceil(100 * max(billed / per * rate + charge, least)) / 100",
    "The billed length at its price, and the charge for each frame; at least the least charge; up to whole hundredths.",
    _PRACTICE,
)
JOIN = Rule("service.join", "chop + join", "A joined frame is a chop and the charge for joining it.", _PRACTICE)
SHARE = Rule(
    "service.share",
    "ceil(100 * sticks * own / rails) / 100 + labour",
    "Frames share their sticks, so each bears its part of what the sticks cost by the length of its rails.",
)
TOTAL = Rule("service.total", "bought + sticks + labour", "All that this way of getting the frames costs.")
SAVED = Rule("service.saved", "length - mix", "What the best mix saves beside cutting every frame in the shop.")


def offered(ledger: Ledger, outer: Size, frame: Frame, treatment: Treatment) -> Frame:
    """Return the frame with what the supplier asks for it, each price with its working; unchanged where none is given.

    Raises BadTreatment where the treatment wants a chop or a joined frame of more than four rails of one moulding.
    """
    plain = frame.sides == 4 and all(rail.moulding == frame.moulding for rail in frame.rails)
    if not plain and treatment.service in {Service.CHOP, Service.JOIN}:
        found = f"{treatment.service.value} for a frame of two mouldings or of other than four sides"
        raise BadTreatment("treatment.service", found, "write length: chops are four rails of one moulding")
    terms, join = frame.moulding.chop, frame.moulding.join
    if not plain or terms is None or treatment.frame:
        return frame
    chop = _chop(ledger, outer, frame, terms)
    if join is None:
        return replace(frame, chop=chop)
    ledger.given("frame.join.charge", join.amount, f"moulding {frame.moulding.name}")
    joined = chop + join
    ledger.figure("frame.join.price", joined.amount, JOIN, chop="frame.chop.price", join="frame.join.charge")
    return replace(frame, chop=chop, join=joined)


def _chop(ledger: Ledger, outer: Size, frame: Frame, terms: ChopTerms) -> Money:
    """Enter and return what the chop of a frame costs."""
    origin = f"moulding {frame.moulding.name}"
    if terms.mitres is None:
        mitres = ledger.figure("frame.chop.mitres", 8 * frame.moulding.width, MITRES, moulding="moulding.width")
    else:
        mitres = ledger.given("frame.chop.mitres", terms.mitres, origin)
    billed = 2 * (outer.width + outer.height) + mitres
    sides = {"width": "outer.width", "height": "outer.height", "mitres": "frame.chop.mitres"}
    if terms.step is None:
        ledger.figure("frame.chop.billed", billed, BILLED, **sides)
    else:
        ledger.given("frame.chop.step", terms.step, origin)
        billed = Length(-(-billed.nm // terms.step.nm) * terms.step.nm)
        ledger.figure("frame.chop.billed", billed, BILLED_STEPS, **sides, step="frame.chop.step")
    currency, nothing = terms.rate.price.currency, Decimal(0)
    ledger.given("frame.chop.rate", terms.rate.price.amount, f"{origin}, in {currency}")
    ledger.given("frame.chop.per", terms.rate.per, origin)
    charge = ledger.given("frame.chop.charge", terms.charge.amount if terms.charge else nothing, origin)
    least = ledger.given("frame.chop.least", terms.least.amount if terms.least else nothing, origin)
    price = whole_hundredths(max(terms.rate.of(billed) + Fraction(charge), Fraction(least)))
    names = ("billed", "per", "rate", "charge", "least")
    ledger.figure("frame.chop.price", price, CHOP, **{name: f"frame.chop.{name}" for name in names})
    return Money(price, currency)


def whole_hundredths(amount: Fraction) -> Decimal:
    """Return an amount brought up to whole hundredths.

    >>> whole_hundredths(Fraction(88, 5)), whole_hundredths(Fraction(10, 3))
    (Decimal('17.60'), Decimal('3.34'))
    """
    return Decimal(math.ceil(amount * 100)).scaleb(-2)
