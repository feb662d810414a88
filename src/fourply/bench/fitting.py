"""Putting the package into its frame: what to do in which order, with the figures it takes.

Points go round the rabbet at even distances; the edge of the package is sealed all round; the dust cover is cut a
little smaller than the frame's back.
"""

from __future__ import annotations

from dataclasses import dataclass

from fourply.measure.length import Length
from fourply.measure.rounding import Grid, coarser, down, half_even, to_grid, up
from fourply.measure.size import Size
from fourply.trade.package import Package
from fourply.working.ledger import Ledger
from fourply.working.working import Figures, Rounding, Rule

POINT_SPACING = Length.mm(120)
"""At most this between points (common practice: a hand's breadth)."""
POINT_END = Length.mm(40)
"""The first point from the corner (common practice)."""
COVER_INSET = Length.mm(3)
"""The dust cover stays inside the back of the frame by this on each side (common practice)."""

_PRACTICE = "common practice"
FIRST_POINT = Rule("fit.first_point", "min(end, side / 4)", "Clear of the corner.", _PRACTICE, Rounding.NEAREST)
POINTS = Rule(
    "fit.points",
    "ceil((side - 2 * first) / spacing) + 1",
    "Points at most a hand's breadth apart hold the backing flat; the first is clear of the corner.",
    _PRACTICE,
)
EDGE_SEAL = Rule(
    "fit.edge_seal",
    "2 * (width + height)",
    "Tape round the edges of glazing, mats and backing together.",
    rounding=Rounding.UP,
)
COVER = Rule(
    "fit.dust_cover",
    "outside - 2 * inset",
    "Paper that stays inside the frame's edge cannot be seen or torn.",
    _PRACTICE,
    Rounding.DOWN,
)


@dataclass(frozen=True, slots=True)
class Points:
    """Points along one pair of rails: how many on each, from the corner to the first, between one and the next."""

    count: int
    first: Length
    spacing: Length


@dataclass(frozen=True, slots=True)
class Fitting:
    """What the fitting takes: edge seal, points across and up, dust cover; the figures behind them."""

    edge_seal: Length
    across: Points
    up: Points
    dust_cover: Size
    figures: Figures


def fitting(package: Package) -> Fitting | None:
    """Return how the package is fitted, None where there is no frame."""
    frame = package.frame
    if frame is None:
        return None
    ledger = Ledger(package.figures)
    ledger.given("fit.end", POINT_END, _PRACTICE)
    ledger.given("fit.spacing", POINT_SPACING, _PRACTICE)
    ledger.given("fit.inset", COVER_INSET, _PRACTICE)
    ledger.given("fit.grid", _grid(package).step, "nothing here needs a finer mark")
    outer = package.outer
    tape = coarser(package.treatment.grid, 32)
    ledger.given("fit.tape_grid", tape.step, "tape is torn, not measured")
    seal = ledger.figure(
        "fit.edge_seal",
        to_grid(2 * (outer.width + outer.height), tape, up),
        EDGE_SEAL,
        width="outer.width",
        height="outer.height",
        grid="fit.tape_grid",
    )
    across = _points(ledger, "width", outer.width, package)
    upright = _points(ledger, "height", outer.height, package)
    sides = []
    for side in ("width", "height"):
        outside = f"frame.outside.{side if frame.sides == 4 else 'width'}"
        length = to_grid(ledger.length(outside) - 2 * COVER_INSET, package.treatment.grid, down)
        sides.append(
            ledger.figure(f"fit.dust_cover.{side}", length, COVER, outside=outside, inset="fit.inset", grid="grid")
        )
    return Fitting(seal, across, upright, Size(*sides), ledger.figures)


def _grid(package: Package) -> Grid:
    return coarser(package.treatment.grid, 4)


def _points(ledger: Ledger, side: str, length: Length, package: Package) -> Points:
    """Return even points along one rail: at least two, at most POINT_SPACING apart."""
    grid, path = _grid(package), f"fit.points.{side}"
    first = to_grid(min(POINT_END, length // 4), grid, half_even)
    operands = {"side": f"outer.{side}"}
    ledger.figure(f"{path}.first", first, FIRST_POINT, **operands, end="fit.end", grid="fit.grid")
    run = length - 2 * first
    gaps = max(1, -(-run.nm // POINT_SPACING.nm))
    ledger.figure(f"{path}.count", gaps + 1, POINTS, **operands, first=f"{path}.first", spacing="fit.spacing")
    return Points(gaps + 1, first, to_grid(run // gaps, grid, half_even))
