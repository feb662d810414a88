"""Length, chop and join service compared by cost, for each frame, each moulding and the whole show, with the workings.

All frames from length is the cost of the stick plan; the mix is planned together with the sticks, which frames share.
A frame that is offered in one way only counts in the others as it can be had, and that is said.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from fourply.app.cutting import Cutting, Framing
from fourply.app.framing import Wanted
from fourply.app.mixing import Mixed
from fourply.measure.length import Length
from fourply.planning.mix_problem import Mix
from fourply.planning.stick_problem import StickPlan
from fourply.trade import service as rules
from fourply.trade.service import whole_hundredths
from fourply.trade.treatment import Service
from fourply.working.arithmetic import evaluate
from fourply.working.ledger import Ledger
from fourply.working.working import Figures, Rule

WAYS = ("length", "chop", "join", "mix")
SHOW = "whole show"


@dataclass(frozen=True, slots=True)
class FrameCost:
    """One frame of a work in each way; None for what is not offered. `bought` is how many of its copies are bought."""

    work: str
    copies: int
    length: Decimal | None
    chop: Decimal | None
    join: Decimal | None
    chosen: Service
    bought: int


@dataclass(frozen=True, slots=True)
class Comparison:
    """One moulding, or the whole show in one currency: totals by way (None: cannot be had so), figures, what is said.

    `cheapest` is the way that costs least; `frames` stands empty for a show.
    """

    of: str
    currency: str
    count: int
    totals: dict[str, Decimal | None]
    cheapest: str
    why: str
    figures: Figures
    frames: tuple[FrameCost, ...] = ()


def compare(cutting: Cutting) -> tuple[Comparison, ...]:
    """Return a comparison for each moulding that has prices, and one for all of them in each currency."""
    mouldings = tuple(_moulding(framing, framing.mixed) for framing in cutting.framings if framing.mixed)
    currencies = dict.fromkeys(each.currency for each in mouldings)
    return (*mouldings, *(_show([m for m in mouldings if m.currency == each], each) for each in currencies))


@dataclass(frozen=True, slots=True)
class _Taken:
    """What one way takes: frames bought by work, all in one service (None: each in its cheapest), and sticks."""

    bought: Mapping[str, int]
    service: Service | None = None
    sticks: int = 0
    origin: str = "no sticks"


def _moulding(framing: Framing, mixed: Mixed) -> Comparison:
    ledger = Ledger()
    count = sum(each.copies for each in framing.wanted)
    totals: dict[str, Decimal | None] = dict.fromkeys(WAYS)
    if mixed.length is not None:
        sticks = sum(cut.copies for cut in mixed.length.sticks)
        origin = f"the plan of {sticks} sticks{_proof(proved=mixed.length.proved)}"
        totals["length"] = _total(ledger, "length", framing, _Taken({}, None, mixed.length.cost, origin))
    rest = (mixed.rest.cost, "rails of frames that are not offered cut to size") if mixed.rest else (0, "no sticks")
    for way in (Service.CHOP, Service.JOIN):
        if all(each.price(way) for each in framing.wanted):
            bought = {each.work: each.copies for each in framing.wanted}
            totals[way.value] = _total(ledger, way.value, framing, _Taken(bought, way, *rest))
    totals["mix"] = _mix(ledger, framing, mixed.best)
    _saved(ledger)
    frames = tuple(_frames(ledger, framing, mixed.length))
    cheapest = _cheapest(totals)
    currency = next(each.chop.currency for each in framing.wanted if each.chop)
    why = _why(totals, cheapest, currency, framing, mixed)
    return Comparison(framing.moulding, currency, count, totals, cheapest, why, ledger.figures, frames)


def _total(ledger: Ledger, way: str, framing: Framing, taken: _Taken) -> Decimal:
    """Enter and return what it costs to buy so many frames of each work and to cut the others from these sticks."""
    prices, work, labour = 0, 0, framing.labour
    for each in framing.wanted:
        times = taken.bought.get(each.work, 0)
        by = taken.service or each.bought(labour)
        price = each.price(by)
        prices += times * (price.cents if price else 0)
        work += times * (labour.join if by is Service.CHOP else 0)
        work += (each.copies - times) * (labour.chop + labour.join)
    count = sum(taken.bought.values())
    ledger.given(f"{way}.bought", _decimal(prices), f"{count} frames at what the supplier asks for each")
    ledger.given(f"{way}.sticks", _decimal(taken.sticks), taken.origin)
    ledger.given(f"{way}.labour", _decimal(work), _labour_origin(framing))
    names = {name: f"{way}.{name}" for name in ("bought", "sticks", "labour")}
    return ledger.figure(f"{way}.total", _decimal(prices + work + taken.sticks), rules.TOTAL, **names)


def _labour_origin(framing: Framing) -> str:
    labour = framing.labour
    if not (labour.chop or labour.join):
        return "no labour counts: the shop has no labour_rate"
    return f"{_decimal(labour.chop)} to cut a frame's rails, {_decimal(labour.join)} to join them"


def _mix(ledger: Ledger, framing: Framing, best: Mix) -> Decimal:
    taken = _Taken(best.bought)
    if best.plan:
        sticks = sum(cut.copies for cut in best.plan.sticks)
        taken = replace(taken, sticks=best.plan.cost, origin=f"{sticks} sticks{_proof(proved=best.proved)}")
    return _total(ledger, "mix", framing, taken)


def _proof(*, proved: bool) -> str:
    return ", proved to be the least" if proved else ""


def _cheapest(totals: dict[str, Decimal | None]) -> str:
    """Return the way that costs least; a way for all frames before a mix that costs as much."""
    found = {way: total for way, total in totals.items() if total is not None}
    return min(found, key=lambda way: (found[way], WAYS.index(way)))


def _why(totals: dict[str, Decimal | None], cheapest: str, currency: str, framing: Framing, mixed: Mixed) -> str:
    best = mixed.best
    said = [f"{_named(way)} {total} {currency}" for way, total in totals.items() if total is not None]
    if totals["length"] is None and mixed.why:
        said.append(f"length alone does not do: {mixed.why}")
    text = "; ".join(said) + f": {_named(cheapest)} costs least"
    if cheapest == "mix":
        by = [
            f"{each.work} as {each.bought(framing.labour).value}" for each in framing.wanted if each.work in best.bought
        ]
        text += f" ({', '.join(by[:12])}{', …' if len(by) > 12 else ''}; the others from length)"
    if not best.proved:
        gap = _decimal(best.cost - best.lower_bound)
        text += f"; no mix can cost more than {gap} {currency} less"
    return text


def _named(way: str) -> str:
    return "the best mix" if way == "mix" else f"all {way}"


def _frames(ledger: Ledger, framing: Framing, plan: StickPlan | None) -> Iterator[FrameCost]:
    """Yield each work's frame in every way; what it costs from length is its part of all the sticks."""
    labour = framing.labour
    if plan is not None:
        rails = sum(rail.length * cut.copies for cut in plan.sticks for rail in cut.rails)
        ledger.given("rails", Length(rails), "the rails that the sticks are cut into")
        ledger.given("labour", _decimal(labour.chop + labour.join), _labour_origin(framing))
    for each in framing.wanted:
        length = _share(ledger, each) if plan is not None else None
        chop, join = (_offered(each, way, framing) for way in (Service.CHOP, Service.JOIN))
        bought = next((b for b in framing.bought if b.wanted.work == each.work), None)
        chosen = bought.service if bought else Service.LENGTH
        yield FrameCost(each.work, each.copies, length, chop, join, chosen, bought.copies if bought else 0)


def _share(ledger: Ledger, each: Wanted) -> Decimal:
    """Enter and return what one frame costs from length: its part of the sticks, and the work on it."""
    path = f"frame.{each.work}"
    ledger.given(f"{path}.rails", each.net, f"the long points of work {each.work}")
    values = {name: ledger.figures[at].value for name, at in _SHARED.items()} | {"own": each.net}
    share = whole_hundredths(Fraction(evaluate("sticks * own / rails", values))) + Decimal(str(values["labour"]))
    return ledger.figure(f"{path}.length", share, rules.SHARE, **_SHARED, own=f"{path}.rails")


_SHARED = {"sticks": "length.sticks", "rails": "rails", "labour": "labour"}


def _offered(each: Wanted, way: Service, framing: Framing) -> Decimal | None:
    cost = each.hundredths(way, framing.labour)
    return None if cost is None else _decimal(cost)


def _show(mouldings: Iterable[Comparison], currency: str) -> Comparison:
    """Return all mouldings of a currency together; one that cannot be had in a way counts as its best mix in it."""
    mouldings, ledger = tuple(mouldings), Ledger()
    totals: dict[str, Decimal | None] = {}
    for way in WAYS:
        names = {}
        for number, each in enumerate(mouldings, start=1):
            value = each.totals[way]
            origin = f"{each.of}, {_named(way)}" if value is not None else f"{each.of} cannot: its best mix"
            cost = value if value is not None else each.totals["mix"]
            names[f"moulding_{number}"] = f"{way}.moulding_{number}"
            ledger.given(f"{way}.moulding_{number}", cost or Decimal(0), origin)
        rule = Rule("service.all", " + ".join(names), "What all mouldings cost in this way.")
        total = sum(
            (each.totals[way] if each.totals[way] is not None else each.totals["mix"]) or 0 for each in mouldings
        )
        totals[way] = ledger.figure(f"{way}.total", Decimal(total), rule, **names)
        if all(each.totals[way] is None for each in mouldings):
            totals[way] = None
    _saved(ledger)
    cheapest = _cheapest(totals)
    said = "; ".join(f"{_named(way)} {total} {currency}" for way, total in totals.items() if total is not None)
    why = f"{said}: {_named(cheapest)} costs least"
    return Comparison(SHOW, currency, sum(m.count for m in mouldings), totals, cheapest, why, ledger.figures)


def _saved(ledger: Ledger) -> None:
    """Enter what the mix saves beside length alone, where that can be had."""
    length, mix = (ledger.figures[path].value if path in ledger else None for path in ("length.total", "mix.total"))
    if isinstance(length, Decimal) and isinstance(mix, Decimal):
        ledger.figure("saved", length - mix, rules.SAVED, length="length.total", mix="mix.total")


def _decimal(hundredths: int) -> Decimal:
    return Decimal(hundredths).scaleb(-2)
