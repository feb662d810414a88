"""The finished mats: borders, blanks, accents, and what falls out of each window.

A fallout is board that has been paid for: its usable rectangle is stock to cut smaller pieces from. Where mats are cut
in a taped stack the cut of the mat below scores the back of the fallout above, so what stays clean is smaller.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from fourply.errors import BadTreatment
from fourply.measure.length import ZERO, Length
from fourply.measure.rounding import down, from_mm, to_grid, up
from fourply.measure.size import Edges, Size
from fourply.trade import opening_rules, rules
from fourply.trade.borders import Bordered
from fourply.trade.grooves import cut_grooves, rule_lines
from fourply.trade.openings import Opened, Sheet
from fourply.trade.package import Hole, Mat
from fourply.trade.shapes.rectangle import Rectangle
from fourply.trade.treatment import Bevel, Treatment
from fourply.trade.window import enter_rule
from fourply.working.ledger import Ledger

_SEEN = ("top mat", "under-mat", "second under-mat", "third under-mat")
_SPACERS = ("spacer mat", "second spacer mat")


@dataclass(frozen=True, slots=True)
class Placed:
    """One opening through all mats in its place: its own ledger, and the borders of the top mat's opening."""

    ledger: Ledger
    scope: str
    opened: tuple[Opened, ...]
    borders: Edges
    title: bool = False


def finish_mats(
    ledger: Ledger, sheets: Sequence[Sheet], placed: Sequence[Placed], bordered: Bordered, treatment: Treatment
) -> tuple[Mat, ...]:
    """Return every mat with its blank, its openings and their accents, the top mat first.

    `bordered` is the top mat: borders to its only opening, or to the box round all of them.
    """
    return _Finishing(ledger, sheets, placed, bordered.outer, treatment).finish(bordered.borders)


class _Finishing:
    """The mats of one package while they are finished, from the top one down."""

    def __init__(
        self, ledger: Ledger, sheets: Sequence[Sheet], placed: Sequence[Placed], outer: Size, treatment: Treatment
    ) -> None:
        self.ledger, self.sheets, self.placed = ledger, sheets, placed
        self.outer, self.treatment = outer, treatment

    def finish(self, borders: Edges) -> tuple[Mat, ...]:
        """Return the mats."""
        base = _polygon_blank(self.ledger, self.outer, self.treatment)
        enter_rule(self.ledger, self.treatment, "fallout_trim")
        if len(self.sheets) > 1:
            enter_rule(self.ledger, self.treatment, "inset")
        mats: list[Mat] = []
        at = [place.borders for place in self.placed]
        above = 0  # the last mat that is seen, whose openings those below lie in
        for number in range(1, len(self.sheets) + 1):
            hidden = bool(self.treatment.mats[number - 1].setback)
            own = at
            if number > 1:
                own = [self._under(i, number, above + 1, at[i]) for i in range(len(self.placed))]
                borders = self._block(number, own)
            mats.append(self._mat(number, base, borders, own))
            if not hidden:
                at, above = own, number - 1
        return tuple(mats)

    def _mat(self, number: int, base: Size, borders: Edges, own: Sequence[Edges]) -> Mat:
        inset = self.treatment.inset if number > 1 else ZERO
        if inset >= borders.least:
            raise BadTreatment(f"mat.{number}.blank", "the inset leaves nothing of the under-mat", "a smaller inset")
        blank = _blank(self.ledger, number, base, inset)
        pairs = zip(self.placed, own, strict=True)
        holes = tuple(self._hole(place, number, i, edges) for i, (place, edges) in enumerate(pairs))
        sheet, hidden = self.sheets[number - 1], bool(self.treatment.mats[number - 1].setback)
        windows = tuple(hole for hole in holes if not hole.title)
        around = cut_grooves(self.ledger, self.treatment, windows, borders) if number == 1 and len(windows) > 1 else ()
        return Mat(number, self._name(number), sheet.board, sheet.run, blank, inset, borders, holes, around, hidden)

    def _name(self, number: int) -> str:
        """Return what the bench calls the mat: the first that is seen is on top, the others under it."""
        mats = self.treatment.mats
        like = [n for n, mat in enumerate(mats, start=1) if bool(mat.setback) == bool(mats[number - 1].setback)]
        names = _SPACERS if mats[number - 1].setback else _SEEN
        return names[like.index(number)]

    def _hole(self, place: Placed, number: int, index: int, borders: Edges) -> Hole:
        opened = place.opened[number - 1]
        seen_under = (each for each in place.opened[number:] if each.reveal >= ZERO)
        score = next(seen_under, None) if self.treatment.stack_cut else None
        hole = Hole(
            number=index + 1,
            scope=place.scope,
            opening=opened.opening,
            borders=borders,
            reveal=opened.reveal,
            strip=opened.strip,
            fallouts=self._fallouts(place.ledger, opened, score),
            title=place.title,
        )
        if number > 1:
            return hole
        grooves = cut_grooves(place.ledger, self.treatment, (hole,), borders)
        return replace(hole, grooves=grooves, lines=rule_lines(place.ledger, self.treatment, hole))

    def _under(self, index: int, number: int, above: int, borders: Edges) -> Edges:
        """Return the borders of an under-mat's opening, which lies in the middle of the one above."""
        place = self.placed[index]
        opened, over = place.opened[number - 1], place.opened[above - 1]
        drift = _drift(opened, over)
        plain = not any(drift) and all(
            a == b + 2 * opened.reveal
            for a, b in zip(_sides(over.opening.back), _sides(opened.opening.back), strict=True)
        )
        edges = []
        for name, border in borders.named():
            if plain:
                operands = {"border": f"mat.{above}.border.{name}", "reveal": f"mat.{number}.reveal"}
                path = f"mat.{number}.border.{name}"
                edges.append(place.ledger.figure(path, border + opened.reveal, rules.BORDER_UNDER, **operands))
            else:
                edges.append(_middle(place.ledger, (opened, over), name, border, drift))
        return Edges(*edges)

    def _block(self, number: int, own: Sequence[Edges]) -> Edges:
        """Return the borders of an under-mat to the box round all its windows."""
        own = [edges for place, edges in zip(self.placed, own, strict=True) if not place.title]
        if len(own) == 1:
            return own[0]
        least = []
        for at, name in enumerate(("top", "right", "bottom", "left")):
            lengths = [edges.named()[at][1] for edges in own]
            nearest = lengths.index(min(lengths))
            operands = {"border": f"{self.placed[nearest].scope}mat.{number}.border.{name}"}
            least.append(
                self.ledger.figure(
                    f"mat.{number}.border.{name}", lengths[nearest], opening_rules.BORDER_BLOCK, **operands
                )
            )
        return Edges(*least)

    def _fallouts(self, ledger: Ledger, mat: Opened, score: Opened | None) -> tuple[Size, ...]:
        """Return the usable rectangles of what falls out, none where too little is left."""
        number, sight, grid = mat.number, mat.opening.sight, self.treatment.grid
        leans_in = score is not None and score.rule.bevel is Bevel.REVERSE
        scored = score.reveal + (score.run if leans_in else -score.run) if score else ZERO
        trim = max(self.treatment.fallout_trim, scored)
        if not isinstance(mat.opening.shape, Rectangle):
            return self._shaped_fallouts(ledger, mat, trim, score)
        width, height = (to_grid(side - 2 * trim, grid, down) for side in (sight.width, sight.height))
        if min(width, height) <= ZERO:
            return ()
        for side, value in (("width", width), ("height", height)):
            names = {"opening": f"mat.{number}.opening.{side}", "trim": "treatment.fallout_trim", "grid": "grid"}
            rule = rules.FALLOUT
            if score:
                under = f"mat.{score.number}"
                rule = rules.FALLOUT_SCORED_REVERSE if leans_in else rules.FALLOUT_SCORED
                names |= {"reveal": f"{under}.reveal", "run": f"{under}.run"}
            ledger.figure(f"mat.{number}.fallout.{side}", value, rule, **names)
        return (Size(width, height),)

    def _shaped_fallouts(self, ledger: Ledger, mat: Opened, trim: Length, score: Opened | None) -> tuple[Size, ...]:
        """Return rectangles inside a shape's sight, brought down to the grid, one of which can be used."""
        opening, grid = mat.opening, self.treatment.grid
        inside = opening.shape.fallouts(trim - min(ZERO, opening.towards_face))
        sides = (tuple(to_grid(side, grid, down) for side in _sides(size)) for size in inside)
        kept = tuple(Size(*both) for both in sides if min(both) > ZERO)
        drawn_from = {side: f"mat.{mat.number}.opening.{side}" for side in ("width", "height")}
        drawn_from["trim"] = "treatment.fallout_trim"
        if opening.towards_face < ZERO:
            drawn_from["run"] = f"mat.{mat.number}.run"
        if score:
            drawn_from |= {"reveal": f"mat.{score.number}.reveal", "score": f"mat.{score.number}.run"}
        for at, size in enumerate(kept, start=1):
            path = f"mat.{mat.number}.fallout" if at == 1 else f"mat.{mat.number}.fallout.{at}"
            origin = f"rectangle inside the {opening.shape.words}, {float(trim.as_mm):g} mm trimmed all round"
            for name, side in zip(("width", "height"), _sides(size), strict=True):
                ledger.shaped(f"{path}.{name}", side, origin, **drawn_from)
        return kept


def _middle(
    ledger: Ledger, pair: tuple[Opened, Opened], name: str, border: Length, drift: tuple[Length, Length]
) -> Length:
    """Return one border of an opening that lies in the middle of the one above, but for the drift of its box."""
    opened, over = pair
    across, first = name in ("left", "right"), name in ("left", "top")
    side = "width" if across else "height"
    room, size = (_sides(each.opening.back)[0 if across else 1] for each in (over, opened))
    path = f"mat.{opened.number}.border.{name}"
    operands = {"border": f"mat.{over.number}.border.{name}", "drift": f"mat.{opened.number}.drift.{name}"}
    signed = drift[0 if across else 1] if not first else -drift[0 if across else 1]
    reveal = f"mat.{opened.number}.reveal"
    ledger.shaped(operands["drift"], signed, f"shape {opened.opening.shape.words}", reveal=reveal)
    operands |= {"above": f"mat.{over.number}.back.{side}", "under": f"mat.{opened.number}.back.{side}"}
    half = (room - size) // 2
    value = border + signed + (half if first else room - size - half)
    return ledger.figure(path, value, opening_rules.BORDER_MIDDLE, **operands)


def _drift(opened: Opened, over: Opened) -> tuple[Length, Length]:
    """Return how far the middle of the box above lies from the middle of this one: only of shapes grown alike."""
    if type(opened.opening.shape) is not type(over.opening.shape):
        return ZERO, ZERO
    if opened.reveal < ZERO:
        right, low = over.opening.shape.drift(-opened.reveal)
        return -right, -low
    return opened.opening.shape.drift(opened.reveal)


def _polygon_blank(ledger: Ledger, outer: Size, treatment: Treatment) -> Size:
    """Return the size that blanks are cut to: the package, or the square that holds a polygon."""
    if treatment.frame_sides == 4:
        return outer
    half = ledger.given("frame.half_angle_deg", 180 / treatment.frame_sides, treatment.origin("frame_sides"))
    around = from_mm(outer.width.as_mm / math.cos(math.radians(half)), math.ceil)
    operands = {"outer": "outer.width", "half_angle": "frame.half_angle_deg", "grid": "grid"}
    side = ledger.figure("outer.blank", to_grid(around, treatment.grid, up), rules.POLYGON_BLANK, **operands)
    return Size(side, side)


def _blank(ledger: Ledger, number: int, base: Size, inset: Length) -> Size:
    paths = ("outer.blank", "outer.blank") if "outer.blank" in ledger else ("outer.width", "outer.height")
    for side, path, length in zip(("width", "height"), paths, _sides(base), strict=True):
        at = f"mat.{number}.blank.{side}"
        if inset:
            ledger.figure(at, length - 2 * inset, rules.BLANK_INSET, outer=path, inset="treatment.inset")
        else:
            ledger.figure(at, length, rules.BLANK, outer=path)
    return base.grown(-inset)


def _sides(size: Size) -> tuple[Length, Length]:
    return size.width, size.height
