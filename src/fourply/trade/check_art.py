"""Checks on the art itself: its edges covered, nothing cut off, nothing near it that harms it."""

from __future__ import annotations

from collections.abc import Iterator

from fourply.measure.length import ZERO, Length
from fourply.measure.size import Rect, Size
from fourply.trade.findings import Finding, Level
from fourply.trade.package import ArtPlace, Hole, Package
from fourply.trade.shapes.rectangle import Rectangle
from fourply.trade.treatment import Treatment, WindowFrom, for_opening
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
    for number, place in enumerate(package.arts, start=1):
        treatment = for_opening(package.treatment, number)
        if place.art.sheet_is_image:
            yield Finding(
                "art.image_only",
                Level.CAUTION,
                f"{place.scope}art.width",
                "Only the image's size is known; it was taken for the sheet.",
                "Measure the sheet.",
            )
        yield from _edges(place, treatment)
        yield from _on_board(package, place)
        for zone in place.art.zones:
            yield _zone(package, place, number, zone)
        yield from _shaped(package, place, number, treatment)
        yield from _to_glazing(package, place)
        yield from _to_wood(package, place)


def _edges(art: ArtPlace, treatment: Treatment) -> Iterator[Finding]:
    if treatment.window is WindowFrom.FLOAT:
        return
    side, covered = min(art.covered.named(), key=lambda edge: edge[1])
    place = f"{art.scope}art.covered.{side}"
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


def _on_board(package: Package, art: ArtPlace) -> Iterator[Finding]:
    outer, most = package.outer, art.art.most
    whole = Rect(ZERO, ZERO, outer)
    if not Rect(art.sheet.left, art.sheet.top, most).inside(whole):
        yield Finding(
            "art.off_board",
            Level.FAULT,
            f"{art.scope}art.offset.left",
            "The sheet is larger than its mount board ({width} × {height}).",
            "Take wider borders.",
            (("width", outer.width), ("height", outer.height)),
        )
    for other in package.arts:
        if (
            other is not art
            and other.scope > art.scope
            and Rect(art.sheet.left, art.sheet.top, most).meets(other.sheet)
        ):
            yield Finding(
                "art.meets",
                Level.FAULT,
                f"{art.scope}art.offset.left",
                "Two sheets lie over one another behind the mat.",
                "Widen the gutter between their windows.",
            )


def _shaped(package: Package, art: ArtPlace, number: int, treatment: Treatment) -> Iterator[Finding]:
    """Find corners of the image, or of a floated sheet, that a window which is no rectangle covers."""
    hole = package.mats[-1].holes[number - 1]
    shown, what = art.image, "image"
    if treatment.window is WindowFrom.FLOAT:
        shown, what = Rect(art.sheet.left, art.sheet.top, art.art.most), "sheet"
    if shown is None or isinstance(hole.opening.shape, Rectangle) or not shown.inside(art.window):
        return
    if not _sees(hole, shown):
        level = Level.FAULT if what == "sheet" else Level.NOTE
        says = f"The {hole.opening.shape.words} covers the corners of the {what}."
        remedy = "Make the window larger, or take another shape."
        yield Finding("shape.corners", level, f"{art.scope}window.width", says, remedy)


def _sees(hole: Hole, rect: Rect) -> bool:
    """Tell whether a rectangle on the package lies in the opening."""
    place = hole.place
    middle = ((place.left + place.right).as_mm / 2, (place.top + place.bottom).as_mm / 2)
    edges = (rect.left.as_mm, rect.top.as_mm, rect.right.as_mm, rect.bottom.as_mm)
    left, top, right, bottom = (edge - middle[at % 2] for at, edge in enumerate(edges))
    return hole.opening.sight_outline().holds(left, top, right, bottom)


def _zone(package: Package, art: ArtPlace, number: int, zone: Zone) -> Finding:
    """Return whether the window keeps its promise to one protected zone of the sheet."""
    sheet, window = art.sheet, art.window
    place = Rect(sheet.left + zone.place.left, sheet.top + zone.place.top, zone.place.size)
    hole = package.mats[-1].holes[number - 1]
    shaped = not isinstance(hole.opening.shape, Rectangle)
    inside, meets = place.inside(window) and not (shaped and not _sees(hole, place)), place.meets(window)
    rule, figure = f"zone.{zone.keep.value}", f"{art.scope}window.width"
    what = ("zone", zone.name)
    if zone.keep is Keep.SHOW and not inside:
        across = max(window.left - place.left, place.right - window.right)
        short = max(across, window.top - place.top, place.bottom - window.bottom)
        if short <= ZERO:
            says, remedy = f"The {hole.opening.shape.words} covers part of the {{zone}}.", "Open the window there."
            return Finding(rule, Level.FAULT, figure, says, remedy, (what,))
        says, remedy = "The window cuts {short} off the {zone}.", "Open the window that far."
        return Finding(rule, Level.FAULT, figure, says, remedy, (what, ("short", short)))
    if zone.keep is Keep.COVER and meets:
        says, remedy = "The window shows the {zone}, which must be covered.", "Make the window smaller there."
        return Finding(rule, Level.FAULT, figure, says, remedy, (what,))
    says = "The {zone} shows." if zone.keep is Keep.SHOW else "The {zone} is covered."
    return Finding(rule, Level.HOLDS, figure, says, numbers=(what,))


def _to_glazing(package: Package, art: ArtPlace) -> Iterator[Finding]:
    if package.glazing is None:
        return
    place = f"{art.scope}art.to_glazing"
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


def _to_wood(package: Package, art: ArtPlace) -> Iterator[Finding]:
    if package.frame is None:
        return
    to_wood = f"{art.scope}art.to_wood"
    gaps = {side: length_of(package.figures, f"{to_wood}.{side}") for side in ("top", "right", "bottom", "left")}
    side = min(gaps, key=lambda name: gaps[name])
    place, numbers = f"{to_wood}.{side}", (("gap", gaps[side]), ("least", FROM_WOOD))
    if gaps[side] < FROM_WOOD:
        says = f"The art is {{gap}} from the wood of the rabbet at the {side}; {{least}} is the least for keeping it."
        remedy = "Seal the rabbet with a barrier tape, or take wider borders."
        yield Finding("wood.near", Level.CAUTION, place, says, remedy, numbers)
    else:
        yield Finding("wood", Level.HOLDS, place, "Art to wood {gap}.", numbers=numbers)


def fits_sheet(size: Size, sheet: Size, *, oriented: bool) -> bool:
    """Tell whether a blank can be cut from a sheet, turned only where the board allows it."""
    return sheet.holds(size) or (not oriented and sheet.holds(size.turned()))
