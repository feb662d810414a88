"""Checks on the mats: borders that read well, strips that hold, blanks that can be cut."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations, pairwise

from fourply.measure.length import ZERO, Length
from fourply.measure.size import Rect, Size
from fourply.trade.check_accents import check_accents
from fourply.trade.check_art import fits_sheet
from fourply.trade.findings import Finding, Level, Numbers
from fourply.trade.formulas import margin_mismatch, united_inches
from fourply.trade.materials import Backing, Board, Glazing
from fourply.trade.package import Hole, Mat, Package
from fourply.trade.treatment import BottomRule
from fourply.working.working import length_of

REPEATS = Length.inches(1, 2)
"""A border that differs from the moulding by less than this repeats its width (common practice)."""
LEAST_STRIP = Length.inches(1, 16)
"""A flat strip of colour narrower than this wavers visibly (common practice)."""
LEAST_GUTTER = Length.mm(10)
"""The least coloured face between two openings (common practice)."""
OVAL_LOSS = Length.inches(1, 64)
"""A reveal beside an oval that is narrower than asked by more than this is told (common practice)."""
STIFF_UNDER_MAT = Length.mm(25)
"""How far an under-mat should reach past its window, or the package bows (common practice)."""
USUAL_BORDERS = (
    (Fraction(11), Length.inches(1)),
    (Fraction(17), Length.inches(3, 2)),
    (Fraction(24), Length.inches(7, 4)),
    (Fraction(36), Length.inches(2)),
)
"""Up to so many united inches of opening, so wide a border is usual (common practice)."""


def usual_border(opening: Size) -> Length | None:
    """Return the border that is usual for an opening by its united inches, None beyond the table.

    >>> usual_border(Size(Length.inches(11), Length.inches(14))) == Length.inches(2)
    True
    """
    united = united_inches(opening.width, opening.height)
    return next((border for limit, border in USUAL_BORDERS if united <= limit), None)


def repeats(border: Length, moulding: Length) -> bool:
    """Tell whether a border is so near the moulding's width that the eye reads the two as alike.

    >>> repeats(Length.inches(2), Length.inches(3, 2)), repeats(Length.inches(7, 4), Length.inches(3, 2))
    (False, True)
    """
    return abs(border - moulding) < REPEATS


def check_mats(package: Package) -> Iterator[Finding]:
    """Yield what the checks on the mats find."""
    yield from _borders(package)
    yield from _ignored(package)
    yield from _proportion(package)
    for mat in package.mats:
        yield from _on_a_sheet(f"{mat.path}.blank.width", mat.blank, mat.board)
        if mat.number > 1:
            for hole in mat.holes if not mat.hidden else ():
                yield from _strip(mat, hole)
            yield from _under_mat(package, mat)
    yield from _shapes(package)
    yield from _gutters(package)
    yield from check_accents(package)
    mount = package.mount
    place = "outer.blank" if "outer.blank" in package.figures else "outer.width"
    yield from _on_a_sheet(place, package.mats[0].blank, mount)
    if package.backing and package.backing_size:
        yield from _on_a_sheet("backing.width", package.backing_size, package.backing)
    if package.glazing and package.glazing_size:
        yield from _on_a_sheet("glazing.width", package.glazing_size, package.glazing)


def _borders(package: Package) -> Iterator[Finding]:
    top = package.mats[0]
    numbers: Numbers
    usual = usual_border(top.opening.sight)
    if usual is not None and top.borders.least < usual:
        side, least = min(top.borders.named(), key=lambda each: each[1])
        place, numbers = f"mat.1.border.{side}", (("border", least), ("usual", usual))
        says = "A border of {border} is narrow for this opening; {usual} is usual."
        yield Finding("border.narrow", Level.NOTE, place, says, "Widen it, or mean it.", numbers)
    if package.frame is None:
        return
    widths = {rail.side: rail.moulding.width for rail in package.frame.rails}
    for side, border in top.borders.named():
        width = widths.get(side, package.frame.moulding.width)
        if repeats(border, width):
            place, numbers = f"mat.1.border.{side}", (("border", border), ("moulding", width), ("apart", REPEATS))
            says = "A border of {border} repeats the moulding's width of {moulding}."
            remedy = "Make them differ by {apart} or more."
            yield Finding("border.repeats_moulding", Level.CAUTION, place, says, remedy, numbers)
            return  # said of one border, it is said


def _ignored(package: Package) -> Iterator[Finding]:
    """Find borders that were given although the outer size already decides them."""
    treatment = package.treatment
    if treatment.borders is not None and (treatment.outer is not None or treatment.frame):
        says = "Four borders are given, but the outer size is given too and decides them."
        yield Finding("border.ignored", Level.CAUTION, "outer.width", says, "Give one of the two.")


def _proportion(package: Package) -> Iterator[Finding]:
    top, treatment = package.mats[0], package.treatment
    borders, opening, outer = top.borders, top.opening.back, package.outer
    place = "mat.1.border.bottom"
    numbers: Numbers
    mismatch = margin_mismatch((outer.width, outer.height), (opening.width, opening.height))
    fitted = (treatment.outer is not None or treatment.frame) and treatment.frame_sides == 4
    if fitted and treatment.bottom.rule is BottomRule.EQUAL and mismatch:
        numbers = (("sides", borders.left), ("top", borders.top), ("mismatch", abs(mismatch)))
        says = "Four equal borders are not possible in this outer size: sides {sides}, top {top}."
        remedy = "Change one side of the outer size by {mismatch}, or take it as it is."
        yield Finding("border.mismatch", Level.NOTE, place, says, remedy, numbers)
    numbers = (("top", borders.top), ("bottom", borders.bottom))
    if borders.bottom + package.treatment.grid.step < borders.top:
        says = "The bottom border ({bottom}) is narrower than the top ({top}): the opening will seem to sit low."
        yield Finding("border.bottom_light", Level.CAUTION, place, says, "Give the bottom more.", numbers)
    if borders.top < borders.left and borders.top < borders.bottom:
        says = "The top border ({top}) is narrower than the sides ({sides})."
        remedy = "Slide the opening down until they are equal, if it looks better."
        numbers = (("top", borders.top), ("sides", borders.left))
        yield Finding("border.top_narrow", Level.NOTE, "mat.1.border.top", says, remedy, numbers)


def _strip(mat: Mat, hole: Hole) -> Iterator[Finding]:
    numbers = (("strip", hole.strip), ("least", LEAST_STRIP), ("reveal", hole.reveal))
    place, name = f"{hole.scope}{mat.path}.strip", mat.name
    if hole.strip <= ZERO:
        says = f"Nothing shows of the {name}: its bevel takes all of the {{reveal}} reveal."
        yield Finding("strip.none", Level.FAULT, place, says, "Give it a wider reveal.", numbers)
    elif hole.strip < LEAST_STRIP:
        says = f"Only {{strip}} of the {name} shows flat; under {{least}} it wavers."
        yield Finding("strip.thin", Level.CAUTION, place, says, "Give it a wider reveal.", numbers)


def _shapes(package: Package) -> Iterator[Finding]:
    """Find where a mat of another shape comes nearer to the one under it than was asked, or covers it."""
    seen = [mat for mat in package.mats if not mat.hidden]
    for above, under in pairwise(seen):
        for over, hole in zip(above.holes, under.holes, strict=True):
            if type(over.opening.shape) is type(hole.opening.shape):
                yield from _ovals(under, hole)
            else:
                yield from _unlike(package, under, over, hole)


def _unlike(package: Package, under: Mat, over: Hole, hole: Hole) -> Iterator[Finding]:
    least = length_of(package.figures, f"{hole.scope}{under.path}.reveal_narrowest")
    numbers: Numbers = (("reveal", hole.reveal), ("least", least), ("short", -least))
    place = f"{hole.scope}{under.path}.reveal"
    outer, inner = over.opening.shape.words, hole.opening.shape.words
    if least < ZERO:
        says = f"The {outer} of the mat above covers {{short}} of the {inner} under it."
        yield Finding("shape.covers", Level.FAULT, place, says, "Give it a wider reveal, or other corners.", numbers)
    elif least < hole.reveal:
        says = f"Between the {outer} and the {inner} under it the reveal is {{least}} at its narrowest, not {{reveal}}."
        yield Finding("shape.near", Level.NOTE, place, says, "Give it a wider reveal.", numbers)


def _ovals(under: Mat, hole: Hole) -> Iterator[Finding]:
    path = f"{hole.scope}{under.path}.reveal"
    least = hole.opening.shape.narrowest(hole.reveal)
    if hole.reveal - least <= OVAL_LOSS:
        return
    numbers = (("reveal", hole.reveal), ("least", least))
    says = "An oval cutter makes this reveal {least} at its narrowest, {reveal} on the axes."
    yield Finding("oval.narrow", Level.NOTE, path, says, "Set the wider mat by hand, or take a rounder oval.", numbers)


def _gutters(package: Package) -> Iterator[Finding]:
    """Find gutters whose coloured face is too narrow to hold, and openings that meet."""
    run = package.mats[0].run
    for mat in package.mats:
        if mat.hidden:
            continue
        for one, two in combinations(mat.holes, 2):
            gap = _gap(one.place, two.place)
            if gap is None:
                continue
            reach = one.opening.towards_face + two.opening.towards_face
            face = gap - max(reach, ZERO)
            place = f"{two.scope}{mat.path}.border.left"
            between = f"between openings {one.number} and {two.number} of the {mat.name}"
            numbers: Numbers = (("face", face), ("least", LEAST_GUTTER), ("gutter", gap), ("run", run))
            if face <= ZERO:
                says, remedy = f"Nothing is left {between}: they meet.", "Move them apart."
                yield Finding("gutter.none", Level.FAULT, place, says, remedy, numbers)
            elif face < LEAST_GUTTER:
                says = f"Only {{face}} of face is left {between}; under {{least}} it bends and the overcuts meet."
                yield Finding("gutter.thin", Level.CAUTION, place, says, "Widen the gutter.", numbers)


def _gap(one: Rect, two: Rect) -> Length | None:
    """Return how far apart two openings stand, None where they are not beside one another."""
    across = max(two.left - one.right, one.left - two.right)
    along = max(two.top - one.bottom, one.top - two.bottom)
    if across >= ZERO and along >= ZERO:
        return None  # corner to corner: nothing narrow lies between them
    return max(across, along)


def _under_mat(package: Package, mat: Mat) -> Iterator[Finding]:
    numbers: Numbers
    reach = mat.borders.least - mat.inset
    place, name = f"{mat.path}.blank.width", mat.name
    if reach < STIFF_UNDER_MAT:
        numbers = (("reach", reach), ("least", STIFF_UNDER_MAT))
        says = f"The {name} reaches only {{reach}} past its window; under {{least}} the package bows."
        yield Finding("under_mat.small", Level.CAUTION, place, says, "Cut it larger, or widen the borders.", numbers)
    if package.frame is None:
        return
    lip, allowance = package.frame.least_lip, package.treatment.allowance
    numbers = (("inset", mat.inset), ("held", lip - allowance // 2), ("lip", lip))
    if mat.inset >= lip - allowance // 2:
        says = f"The {name} ends {{inset}} inside the package, where the lip ({{lip}}) does not hold it."
        yield Finding("under_mat.unheld", Level.CAUTION, place, says, "Cut it larger, or fill its edge.", numbers)
    elif mat.inset >= lip - allowance:
        says = f"The edge of the {name} is held by the lip only when the package lies centred."
        yield Finding("under_mat.just_held", Level.NOTE, place, says, "Centre the package when fitting.", numbers)


def _on_a_sheet(place: str, size: Size, material: Board | Backing | Glazing) -> Iterator[Finding]:
    """Find a piece that no full sheet of its material holds."""
    oriented = isinstance(material, Board) and material.oriented
    if any(fits_sheet(size, offer.size, oriented=oriented) for offer in material.sheets):
        return
    numbers: Numbers = (("width", size.width), ("height", size.height), ("name", material.name))
    if not material.sheets:
        says, remedy = "No sheet of {name} is listed to cut {width} × {height} from.", "List its sheets."
    else:
        largest = max(material.sheets, key=lambda offer: offer.size.width.nm * offer.size.height.nm).size
        numbers += (("sheet_width", largest.width), ("sheet_height", largest.height))
        says = "{width} × {height} does not fit the largest sheet of {name}, {sheet_width} × {sheet_height}."
        remedy = "Take a larger sheet, or narrower borders."
    yield Finding("blank.too_large", Level.FAULT, place, says, remedy, numbers)
