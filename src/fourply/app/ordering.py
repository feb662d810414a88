"""The order of work of a show: what is set when, for which pieces, and how long it takes."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from fourply.app.cutting import Cutting, FlatCutting
from fourply.bench.blanks import Sheet
from fourply.bench.cutter import NOMINAL, Cutter
from fourply.bench.order_found import EFFORT
from fourply.bench.profile import Profile
from fourply.bench.settings import settings
from fourply.bench.shop_cutter import ShopCutter, shop_cutter
from fourply.bench.show import Work, order_show
from fourply.bench.steps import Steps, Use
from fourply.bench.times import Times
from fourply.bench.todo import Bench
from fourply.files.codec import save
from fourply.files.times import load_times
from fourply.planning.problem import Kind
from fourply.trade.package import Package

__all__ = ["EFFORT", "QUICK", "How", "load_times", "order_work", "steps_json"]

QUICK = 10_000
"""The effort of `make`, which does not wait for the last second of an order: a tenth of a second for a show."""


@dataclass(frozen=True, slots=True)
class How:
    """How a show is to be ordered: by which times, on which cutter, how long an order is looked for."""

    times: Times
    on: Profile | Cutter = NOMINAL
    effort: int = EFFORT

    @property
    def cutter(self) -> Cutter:
        """The cutter as settings ask it."""
        return self.on if isinstance(self.on, Cutter) else shop_cutter(self.on)


def order_work(title: str, packages: Iterable[Package], cutting: Cutting, how: How) -> Steps:
    """Return the order of work of packages and their plans. The same given, the same order."""
    packages, cutter = tuple(packages), how.cutter
    works = tuple((package, settings(package, cutter)) for package in packages)
    work = Work(
        show=title,
        cutter=cutter.name,
        bench=_bench(cutter),
        works=works,
        sheets=tuple(sheet for flat in cutting.flats for sheet in _sheets(flat)),
        parts={key: part for flat in cutting.flats for key, part in flat.parts.items()},
        after=_after(packages, cutting),
    )
    return order_show(work, how.times, how.effort)


def steps_json(steps: Steps) -> str:
    """Return the document of an order of work."""
    return json.dumps(save(steps), ensure_ascii=False, separators=(",", ":")) + "\n"


def _bench(cutter: Cutter) -> Bench:
    if not isinstance(cutter, ShopCutter):
        return Bench()
    stops, arm = cutter.profile.stops, cutter.profile.arm
    return Bench(stops=stops.far and stops.near, guide_off=arm is not None and arm.guide_off)


def _sheets(flat: FlatCutting) -> Iterator[Sheet]:
    stock = {each.key: each for each in flat.problem.stock}
    pieces = {each.key: each for each in flat.problem.pieces}
    for number, board in enumerate(flat.plan.boards, start=1):
        source = board.source
        if source.kind is Kind.FALLOUT:
            rect, part = pieces[source.key].fallouts[source.choice], flat.parts[source.key]
            name, size = f"fallout of {part.work} {part.name}", (rect.w, rect.h)
        else:
            of = stock[source.key]
            name, size = "offcut from the rack" if source.kind is Kind.RACK else "sheet", (of.w, of.h)
        feeder = source.key if source.kind is Kind.FALLOUT else ""
        yield Sheet(flat.material, flat.stuff, number, name, size, board.tree, board.copies, feeder)


def _after(packages: Iterable[Package], cutting: Cutting) -> Mapping[str, tuple[Use, ...]]:
    """Return what follows the mats: hinging, frames that are made here, panes, fitting."""
    hinges = joins = fits = panes = 0
    for package in packages:
        copies = package.work.copies
        hinges += copies * len(package.arts)
        panes += copies * (package.glazing is not None)
        joins += copies * (package.frame is not None)
        fits += copies * (package.frame is not None)
    bought = [each for framing in cutting.framings for each in framing.bought]
    chops = joins - sum(each.copies for each in bought)
    joins -= sum(each.copies for each in bought if each.service.value == "join")
    return {
        "hinging": (Use("hinge", hinges),) * bool(hinges),
        "frames": (*((Use("chop", chops),) * bool(chops)), *((Use("join", joins),) * bool(joins))),
        "panes": (Use("pane", panes),) * bool(panes),
        "fitting": (Use("fit", fits),) * bool(fits),
    }
