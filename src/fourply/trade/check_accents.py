"""What should be looked at before anything is cut or ruled beside a window: what meets what, what is left between.

Whatever runs round a window takes a band of the face; bands are held against one another by their outlines.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

from fourply.measure.length import ZERO, Length
from fourply.measure.rounding import from_mm
from fourply.measure.size import Edges, Size
from fourply.trade.clearance import Relation, relate, relate_boxes
from fourply.trade.findings import Finding, Level, Numbers
from fourply.trade.package import Groove, Hole, Package
from fourply.trade.shapes.rectangle import Rectangle
from fourply.trade.shapes.shape import Shape
from fourply.working.working import length_of

LEAST_GROOVE_STRIP = Length.inches(3, 16)
"""Enough face between groove and window (common practice)."""
type _Ring = tuple[Shape, Edges, Length]
"""A shape, the borders of its box, and how far outside it the ring runs parallel to it."""


@dataclass(frozen=True, slots=True)
class _Band:
    """What takes part of the face: its kind and name, the figure it is told at, the scope of the window it belongs to.

    It lies round a shape from `low` to `high` outside it; an opening takes all from there inwards and has no `low`.
    """

    kind: str
    name: str
    place: str
    scope: str | None
    round: tuple[Shape, Edges]
    low: Length | None
    high: Length

    @property
    def outer(self) -> _Ring:
        """Its outer edge."""
        return (*self.round, self.high)

    @property
    def inner(self) -> _Ring | None:
        """Its inner edge, None of an opening."""
        return None if self.low is None else (*self.round, self.low)


def check_accents(package: Package) -> Iterator[Finding]:
    """Yield what the checks on grooves, lines and inlays find."""
    top = package.mats[0]
    for groove in top.grooves:
        yield from _groove(groove, "")
    for hole in top.holes:
        for groove in hole.grooves:
            yield from _groove(groove, hole.scope)
        yield from _lines(hole)
    yield from _inlay(package)
    for one, two in combinations(_bands(package), 2):
        yield from _between(one, two, package.outer)


def _groove(groove: Groove, scope: str) -> Iterator[Finding]:
    numbers: Numbers = (("strip", groove.strip), ("least", LEAST_GROOVE_STRIP), ("border", groove.borders.least))
    place = f"{scope}{groove.path}.strip"
    if groove.borders.least <= groove.run or groove.strip <= ZERO:
        says = "There is no room for the groove: {strip} beside the window, {border} to the edge."
        yield Finding("groove.no_room", Level.FAULT, place, says, "Move the groove, or leave it out.", numbers)
    elif groove.strip < LEAST_GROOVE_STRIP:
        says = "Only {strip} is left between groove and window; under {least} it bends."
        yield Finding("groove.strip", Level.CAUTION, place, says, "Move the groove out.", numbers)
    else:
        yield Finding("groove.strip", Level.HOLDS, place, "Strip inside the groove {strip}.", numbers=numbers)


def _lines(hole: Hole) -> Iterator[Finding]:
    for line in hole.lines:
        if line.borders.least <= line.rule.width:
            numbers: Numbers = (("border", line.borders.least), ("width", line.rule.width))
            says, remedy = "The line runs off the mat: {border} is left for its {width}.", "Bring it nearer in."
            yield Finding("line.off", Level.FAULT, f"{hole.scope}{line.path}.border.top", says, remedy, numbers)


def _inlay(package: Package) -> Iterator[Finding]:
    inlay, top = package.inlay, package.mats[0]
    if inlay is None:
        return
    least = inlay.outer.least
    strip = length_of(package.figures, "treatment.inlay.distance") - 2 * top.run
    numbers: Numbers = (("border", least), ("strip", strip), ("least", LEAST_GROOVE_STRIP))
    if least <= top.run or strip < LEAST_GROOVE_STRIP:
        says = "The inlay has {strip} of face beside the window and {border} to the edge; {least} is the least."
        yield Finding("inlay.no_room", Level.FAULT, "inlay.outer.top", says, "Move it, or make it narrower.", numbers)


def _bands(package: Package) -> Iterator[_Band]:
    top, inlay, several = package.mats[0], package.inlay, len(package.arts) > 1
    if not (top.all_grooves or inlay or any(hole.lines for hole in top.holes)):
        return  # openings alone are looked at as gutters
    for groove in top.grooves:
        yield _groove_band(groove, "the groove round all openings", "", None)
    if inlay is not None:
        around, scope = (inlay.shape, inlay.inner), None if several else ""
        yield _Band("inlay", "the inlay", "inlay.outer.top", scope, around, ZERO, inlay.width + inlay.run)
    for hole in top.holes:
        around, scope = (hole.opening.shape, hole.borders), hole.scope
        named = f"opening {hole.number}" if several and not hole.title else "the window"
        name = "the title's opening" if hole.title else named
        high = max(hole.opening.towards_face, ZERO)
        yield _Band("opening", name, f"{scope}mat.1.border.top", scope, around, None, high)
        for groove in hole.grooves:
            yield _groove_band(groove, f"the groove round {named}", scope, scope)
        for line in hole.lines:
            place, high = f"{scope}{line.path}.border.top", line.away + line.rule.width
            yield _Band("line", f"the line round {named}", place, scope, around, line.away, high)


def _groove_band(groove: Groove, name: str, scope: str, own: str | None) -> _Band:
    low, around = -groove.run - groove.shave, (groove.shape, groove.borders)
    return _Band("groove", name, f"{scope}{groove.path}.strip", own, around, low, groove.run)


def _between(one: _Band, two: _Band, outer: Size) -> Iterator[Finding]:
    """Find two bands that meet, or leave too little between them to be cut."""
    kinds = {one.kind, two.kind}
    of_one_window = one.scope is not None and one.scope == two.scope
    if kinds in ({"opening"}, {"line"}) or ("opening" in kinds and of_one_window):
        return  # gutters and strips are looked at by themselves; lines may lie on a band of wash
    gap = _gap(one, two, outer)
    if gap >= LEAST_GROOVE_STRIP or ("line" in kinds and gap > ZERO):
        return
    numbers: Numbers = (("gap", gap), ("least", LEAST_GROOVE_STRIP))
    first, second = sorted((one, two), key=lambda band: _ORDER.index(band.kind))
    if gap <= ZERO:
        level = Level.CAUTION if first.kind == "line" else Level.FAULT
        says = f"{first.name[0].upper()}{first.name[1:]} meets {second.name}."
        yield Finding(f"{first.kind}.meets", level, first.place, says, "Move one of them, or leave it out.", numbers)
    else:
        says = f"Only {{gap}} of face is left between {first.name} and {second.name}; under {{least}} it bends."
        yield Finding(f"{first.kind}.near", Level.CAUTION, first.place, says, "Move them apart.", numbers)


_ORDER = ("line", "groove", "inlay", "opening")
"""Of two that meet the one that is told first: what is easier moved."""


def _gap(one: _Band, two: _Band, outer: Size) -> Length:
    """Return how much face is left between two bands, nothing where they meet."""
    if one.scope is not None and one.scope == two.scope and (along := _along(one, two)) is not None:
        return max(along, ZERO)
    relation, apart = _relate(one.outer, two.outer, outer)
    if relation in (Relation.INSIDE, Relation.AROUND):
        within, around = (one, two) if relation is Relation.INSIDE else (two, one)
        if around.inner is None:
            return ZERO
        relation, apart = _relate(within.outer, around.inner, outer)
        if relation is not Relation.INSIDE:
            return ZERO
    return from_mm(apart) if relation is not Relation.CROSSING else ZERO


def _along(one: _Band, two: _Band) -> Length | None:
    """Return the same of two bands round one window whose shapes are grown from one another, None of others."""
    within, around = sorted((one, two), key=lambda band: (band.round[0].size.width, band.high))
    if within.low is None or around.low is None:
        return None
    by = (around.round[0].size.width - within.round[0].size.width) // 2
    if by and within.round[0].grown(by) != around.round[0]:
        return None
    if by == ZERO and within.round[0] != around.round[0]:
        return None
    between = within.round[0].narrowest(by)
    return max(between + around.low - within.high, within.low - around.high - between)


def _relate(one: _Ring, two: _Ring, outer: Size) -> tuple[Relation, float]:
    """Return how two rings lie to one another and how far apart, in millimetres."""
    boxes = [_box(ring, outer) for ring in (one, two)]
    plain = [isinstance(ring[0], Rectangle) for ring in (one, two)]
    relation, apart = relate_boxes(*boxes)
    outside = {Relation.INSIDE: plain[1], Relation.AROUND: plain[0], Relation.BESIDE: True}.get(relation, False)
    if all(plain) or (outside and apart > LEAST_GROOVE_STRIP.as_mm):
        return relation, apart  # what lies in a box is no nearer to a rectangle than its box
    (x, y), (to_x, to_y) = (_middle(ring, outer) for ring in (one, two))
    first, second = (shape.parallel(away) for shape, _, away in (one, two))
    return relate(first, second, (to_x - x, to_y - y))


def _middle(ring: _Ring, outer: Size) -> tuple[float, float]:
    _, borders, _ = ring
    return (
        (borders.left.as_mm + outer.width.as_mm - borders.right.as_mm) / 2,
        (borders.top.as_mm + outer.height.as_mm - borders.bottom.as_mm) / 2,
    )


def _box(ring: _Ring, outer: Size) -> tuple[float, float, float, float]:
    shape, _, away = ring
    x, y = _middle(ring, outer)
    left, top, right, bottom = shape.parallel(away).bounds()
    return left + x, top + y, right + x, bottom + y
