"""Checks on the art itself: its edges covered, nothing cut off, nothing near it that harms it."""

from __future__ import annotations

from collections.abc import Iterator

from fourply.measure.length import ZERO, Length
from fourply.measure.size import Rect, Size
from fourply.trade.findings import Finding, Level
from fourply.trade.package import Package
from fourply.trade.treatment import WindowFrom
from fourply.trade.work import Keep, Zone
from fourply.working.working import length_of

LARGE_OVERLAP = Length.inches(1, 4)
"""Above this a window cut from the sheet may hide a signature or plate mark (common practice: 1/4 in or 6 mm)."""
FROM_GLAZING = Length.inches(45, 1000)
"""Least distance of art from glazing: one 4-ply board (FACTS, clause 10)."""
FROM_WOOD = Length.inches(1)
"""Least distance of art from raw wood (FACTS, clause 10)."""


def check_art(package: Package) -> Iterator[Finding]:
    """Yield what the checks on the art find."""
    if package.work.art.sheet_is_image:
        yield Finding(
            "art.image_only",
            Level.CAUTION,
            "art.width",
            "Only the image's size is known; it was taken for the sheet.",
            "Measure the sheet.",
        )
    yield from _edges(package)
    yield from _on_board(package)
    for zone in package.work.art.zones:
        yield _zone(package, zone)
    yield from _to_glazing(package)
    yield from _to_wood(package)


def _edges(package: Package) -> Iterator[Finding]:
    treatment = package.treatment
    if treatment.window is WindowFrom.FLOAT:
        return
    side, covered = min(package.art.covered.named(), key=lambda edge: edge[1])
    place = f"art.covered.{side}"
    numbers = (("covered", covered), ("least", treatment.overlap_least), ("short", -covered))
    if covered < ZERO:
        says = f"The window reaches {{short}} past the sheet at the {side}: its edge shows."
        yield Finding("overlap.none", Level.FAULT, place, says, "Show less paper, or float the sheet.", numbers)
    elif covered < treatment.overlap_least:
        says = f"The mat covers only {{covered}} of the sheet at the {side}; {{least}} is the least that holds."
        yield Finding("overlap.small", Level.CAUTION, place, says, "Make the window smaller.", numbers)
    elif treatment.window is WindowFrom.SHEET and covered > LARGE_OVERLAP:
        says = f"The mat covers {{covered}} of the sheet at the {side}: a signature or plate mark may be hidden."
        yield Finding("overlap.large", Level.CAUTION, place, says, "Look at the edges before cutting.", numbers)
    else:
        says = f"The mat covers {{covered}} of the sheet at the {side} or more."
        yield Finding("overlap", Level.HOLDS, place, says, numbers=numbers)


def _on_board(package: Package) -> Iterator[Finding]:
    art, outer = package.art, package.outer
    most = package.work.art.most
    whole = Rect(ZERO, ZERO, outer)
    if not Rect(art.sheet.left, art.sheet.top, most).inside(whole):
        yield Finding(
            "art.off_board",
            Level.FAULT,
            "art.offset.left",
            "The sheet is larger than its mount board ({width} × {height}).",
            "Take wider borders.",
            (("width", outer.width), ("height", outer.height)),
        )


def _zone(package: Package, zone: Zone) -> Finding:
    """Return whether the window keeps its promise to one protected zone of the sheet."""
    sheet, window = package.art.sheet, package.art.window
    place = Rect(sheet.left + zone.place.left, sheet.top + zone.place.top, zone.place.size)
    inside, meets = place.inside(window), place.meets(window)
    rule, figure = f"zone.{zone.keep.value}", "window.width"
    what = ("zone", zone.name)
    if zone.keep is Keep.SHOW and not inside:
        across = max(window.left - place.left, place.right - window.right)
        short = max(across, window.top - place.top, place.bottom - window.bottom)
        says, remedy = "The window cuts {short} off the {zone}.", "Open the window that far."
        return Finding(rule, Level.FAULT, figure, says, remedy, (what, ("short", short)))
    if zone.keep is Keep.COVER and meets:
        says, remedy = "The window shows the {zone}, which must be covered.", "Make the window smaller there."
        return Finding(rule, Level.FAULT, figure, says, remedy, (what,))
    says = "The {zone} shows." if zone.keep is Keep.SHOW else "The {zone} is covered."
    return Finding(rule, Level.HOLDS, figure, says, numbers=(what,))


def _to_glazing(package: Package) -> Iterator[Finding]:
    if package.glazing is None:
        return
    place = "art.to_glazing"
    gap = length_of(package.figures, place)
    numbers = (("gap", gap), ("least", FROM_GLAZING), ("needed", FROM_GLAZING - gap))
    if gap <= ZERO:
        says, remedy = "The art touches the glazing.", "Hold the glazing {needed} further off, or lift the art less."
        yield Finding("glazing.touches", Level.FAULT, place, says, remedy, numbers)
    elif gap < FROM_GLAZING:
        says = "The art is {gap} from the glazing; {least} is the least."
        remedy = "Take mats or a spacer thicker by {needed}."
        yield Finding("glazing.near", Level.CAUTION, place, says, remedy, numbers)
    else:
        yield Finding("glazing", Level.HOLDS, place, "Art to glazing {gap}.", numbers=numbers)


def _to_wood(package: Package) -> Iterator[Finding]:
    if package.frame is None:
        return
    gaps = {side: length_of(package.figures, f"art.to_wood.{side}") for side in ("top", "right", "bottom", "left")}
    side = min(gaps, key=lambda name: gaps[name])
    place, numbers = f"art.to_wood.{side}", (("gap", gaps[side]), ("least", FROM_WOOD))
    if gaps[side] < FROM_WOOD:
        says = f"The art is {{gap}} from the wood of the rabbet at the {side}; {{least}} is the least for keeping it."
        remedy = "Seal the rabbet with a barrier tape, or take wider borders."
        yield Finding("wood.near", Level.CAUTION, place, says, remedy, numbers)
    else:
        yield Finding("wood", Level.HOLDS, place, "Art to wood {gap}.", numbers=numbers)


def fits_sheet(size: Size, sheet: Size, *, oriented: bool) -> bool:
    """Tell whether a blank can be cut from a sheet, turned only where the board allows it."""
    return sheet.holds(size) or (not oriented and sheet.holds(size.turned()))
