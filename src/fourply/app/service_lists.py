"""How frames are bought, as lists: chop orders, and the comparison of length, chop and join."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import Decimal

from fourply.app.buying import chops
from fourply.app.comparing import WAYS, Comparison, FrameCost
from fourply.app.cutting import Cutting
from fourply.files.results import figures_data, list_csv
from fourply.measure.notation import Sign, Style, format_length
from fourply.trade.money import Money
from fourply.trade.package import Package
from fourply.trade.treatment import Service
from fourply.working.explain import line
from fourply.working.words import Words
from fourply.working.working import Rule

_CHOPS = (
    *("work", "frames", "moulding", "service", "size given", "width", "height", "orientation"),
    *("net length", "trade estimate", "chop", "join", "currency"),
)
_SERVICE = ("what", "of", "frames", *WAYS, "currency", "cheapest", "chosen", "why")


def chops_csv(packages: Iterable[Package], cutting: Cutting, words: Words) -> str:
    """Return every frame as a chop order by each of its sizes, with how it is bought and what it costs."""
    style = Style(words.unit, words.rule, sign=Sign.WORD, decimal=words.decimal)
    bought = {each.wanted.work: each.service for framing in cutting.framings for each in framing.bought}

    def rows() -> Iterator[tuple[object, ...]]:
        for chop in chops(packages):
            way = bought.get(chop.work, Service.LENGTH).value
            prices = (_amount(chop.price), _amount(chop.joined), chop.price.currency if chop.price else "")
            lengths = (format_length(length, style) for length in (chop.net, chop.estimate))
            end = (*lengths, *prices)
            for given, size in chop.sizes:
                sides = (format_length(length, style) for length in (size.width, size.height))
                yield chop.work, chop.copies, chop.moulding, way, given.value, *sides, chop.orientation, *end

    return list_csv(_CHOPS, rows())


def _amount(money: Money | None) -> str:
    return f"{money.amount:f}" if money else ""


def service_csv(compared: Iterable[Comparison], words: Words) -> str:
    """Return the comparison: a row a show and currency, a row a moulding, a row a frame; each says why."""

    def rows() -> Iterator[tuple[object, ...]]:
        for each in sorted(compared, key=lambda one: bool(one.frames)):
            what = "moulding" if each.frames else "show"
            totals = (_cell(each.totals[way]) for way in WAYS)
            yield what, each.of, each.count, *totals, each.currency, each.cheapest, "", each.why
            for frame in each.frames:
                yield _frame_row(frame, each, words)

    return list_csv(_SERVICE, rows())


def _frame_row(frame: FrameCost, each: Comparison, words: Words) -> tuple[object, ...]:
    costs = {"length": frame.length, "chop": frame.chop, "join": frame.join}
    cheapest = min((cost, way) for way, cost in costs.items() if cost is not None)[1]
    if frame.bought not in {0, frame.copies}:
        chosen = f"{frame.bought} {frame.chosen.value}, {frame.copies - frame.bought} length"
    else:
        chosen = frame.chosen.value
    path = f"frame.{frame.work}.length"
    why = ""
    if path in each.figures:
        told = line(each.figures, path, words.with_unit)
        why = f"length, as its part of all sticks: {told.arithmetic} = {told.value}"
    return "frame", frame.work, frame.copies, *map(_cell, costs.values()), "", each.currency, cheapest, chosen, why


def _cell(amount: Decimal | None) -> str:
    return "" if amount is None else f"{amount:f}"


def comparison_data(cutting: Cutting, compared: Iterable[Comparison]) -> dict[str, object]:
    """Return what is bought cut to size and how the ways compare, as data with every figure's working."""
    rules: dict[str, Rule] = {}
    comparisons = [
        {
            "of": each.of,
            "currency": each.currency,
            "frames": each.count,
            "totals": {way: None if total is None else f"{total:f}" for way, total in each.totals.items()},
            "cheapest": each.cheapest,
            "why": each.why,
            "figures": figures_data(each.figures, rules),
        }
        for each in compared
    ]
    bought = [
        {
            "work": each.wanted.work,
            "copies": each.copies,
            "moulding": framing.moulding,
            "service": each.service.value,
            "each": f"{each.price.amount:f} {each.price.currency}" if each.price else None,
        }
        for framing in cutting.framings
        for each in framing.bought
    ]
    rule_data = {rule.id: {"formula": rule.formula, "reason": rule.reason} for rule in rules.values()}
    return {"bought": bought, "compared": comparisons, "rules": rule_data}
