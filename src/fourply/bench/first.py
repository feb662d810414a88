"""What spoils a work if it is forgotten: up to three things, said before anything is cut."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from fourply.trade.findings import Finding, Level
from fourply.trade.package import Package
from fourply.trade.treatment import BottomRule, WindowFrom
from fourply.working.explain import Write

MOST = 3


@dataclass(frozen=True, slots=True)
class First:
    """One thing not to forget: what to do, and a few words more."""

    do: str
    more: str


def first_things(package: Package, write: Write, more: Sequence[Finding] = ()) -> tuple[First, ...]:
    """Return at most three things to do first, the most ruinous first; `more` are findings of the cutter."""
    return tuple(thing for _, thing in zip(range(MOST), _things(package, write, more), strict=False))


def _things(package: Package, write: Write, more: Sequence[Finding]) -> Iterator[First]:
    faults = [finding for finding in (*package.findings, *more) if finding.level is Level.FAULT]
    if faults:
        yield First("Do not cut yet.", faults[0].sentence(write))
    top = package.mats[0]
    if top.all_grooves:
        yield First("Groove before window.", "Shave the drop-out, put it back, tape it.")
    if package.work.art.sheet_is_image:
        yield First("Measure the sheet.", "Only the image's size was known.")
    if package.treatment.stack_cut and len(package.mats) > 1:
        yield First("Mark the fallout before cutting.", "It goes back the same way round for the stack.")
    if any(finding.level is Level.TIGHT for finding in package.findings) and package.stack.spare is not None:
        yield First("Measure the rabbet.", f"{write(package.stack.spare)} is left for points.")
    if package.treatment.window is WindowFrom.FLOAT:
        yield First("Keep the art clear of the glazing.", "Fit lift and spacer before the glass.")
    if top.borders.bottom != top.borders.top or package.treatment.bottom.rule is not BottomRule.EQUAL:
        yield First("Mark which side is up.", f"The bottom border is {write(top.borders.bottom)}.")
    if not any(mat.board.measured for mat in package.mats):
        yield First("Measure the board.", f"Caliper {write(top.board.caliper)} is nominal.")
    yield First("Cut a test corner.", "In scrap of the same board, after every change of blade.")
