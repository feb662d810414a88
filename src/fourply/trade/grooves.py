"""What is done to the face of the top mat beside its openings: V-grooves, ruled lines and wash, an inlay.

Distances of grooves and inlays are between back lines, as guides are set; lines are ruled on the face, so theirs run
from where the coloured face ends.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from fourply.errors import BadTreatment
from fourply.measure.length import ZERO, Length
from fourply.measure.rounding import from_mm
from fourply.measure.size import Edges, Size
from fourply.trade import opening_rules, rules
from fourply.trade.accents import GrooveRule, Round
from fourply.trade.clearance import clearance
from fourply.trade.formulas import groove_depth
from fourply.trade.materials import Materials
from fourply.trade.package import Groove, Hole, Inlay, Line, Mat
from fourply.trade.shapes.rectangle import Rectangle
from fourply.trade.shapes.rule import ShapeRule
from fourply.trade.shapes.shape import Shape
from fourply.trade.treatment import Bevel, Treatment
from fourply.working.ledger import Ledger

HOLD = Length.inches(1)
"""What an insert's blank reaches past its band, to be held and guided by (common practice)."""


def cut_grooves(ledger: Ledger, treatment: Treatment, holes: Sequence[Hole], borders: Edges) -> tuple[Groove, ...]:
    """Return the grooves of the top mat round one opening, or round several together, the outermost first.

    Round the only opening of a mat run both kinds.
    """
    wanted = [rule for rule in treatment.grooves if _is_here(rule, holes)]
    wanted.sort(key=lambda rule: rule.distance, reverse=True)
    grooves = (
        _Grooving(ledger, treatment, rule, holes=holes, borders=borders, at=at)
        for at, rule in enumerate(wanted, start=1)
    )
    return tuple(groove.cut() for groove in grooves)


def _is_here(rule: GrooveRule, holes: Sequence[Hole]) -> bool:
    if len(holes) > 1:
        return rule.round is Round.ALL
    return not holes[0].title and (rule.round is Round.WINDOW or not holes[0].scope)


class _Grooving:
    """One groove while it is worked out."""

    def __init__(
        self,
        ledger: Ledger,
        treatment: Treatment,
        rule: GrooveRule,
        *,
        holes: Sequence[Hole],
        borders: Edges,
        at: int,
    ) -> None:
        self.ledger, self.rule, self.borders = ledger, rule, borders
        self.run = holes[0].opening.run
        self.path = "mat.1.groove" if at == 1 else f"mat.1.groove.{at}"
        self.inner = holes[0].opening.shape if len(holes) == 1 else None
        self.box = holes[0].opening.back if len(holes) == 1 else box_round(ledger)
        self.given = {"distance": f"treatment.groove.{at}.distance", "shave": f"treatment.groove.{at}.shave"}
        origin = treatment.origin("grooves")
        ledger.given(self.given["distance"], rule.distance, origin)
        if rule.shave:
            ledger.given(self.given["shave"], rule.shave, origin)
        self.shape = self._shape()

    def _shape(self) -> Shape:
        if self.rule.shape is None and self.inner is not None:
            return self.inner.grown(self.rule.distance)
        return (self.rule.shape or ShapeRule()).fit(self.box.grown(self.rule.distance))

    def cut(self) -> Groove:
        """Return the groove."""
        borders, back = self._borders(), self.shape.size
        run, shave, path = self.run, self.rule.shave, self.path
        _follow(self.shape, (run, -run - shave), "grooves")
        if 2 * run + shave <= ZERO:
            raise BadTreatment("grooves", "the shave leaves nothing of the groove", "a shave nearer to the arris")
        names = {"run": "mat.1.run"}
        if shave:
            names["shave"] = self.given["shave"]
            depth = groove_depth(self.ledger.length("mat.1.caliper"), run, shave)
            operands = {"caliper": "mat.1.caliper", "angle": "bevel.angle_deg", "shave": names["shave"]}
            self.ledger.figure(f"{path}.depth", depth, opening_rules.GROOVE_DEPTH, **operands)
        rule = opening_rules.GROOVE_WIDTH_SHAVED if shave else rules.GROOVE_WIDTH
        width = self.ledger.figure(f"{path}.width", 2 * run + shave, rule, **names)
        for side, length in (("width", back.width), ("height", back.height)):
            at = f"{path}.back.{side}"
            self.ledger.figure(f"{path}.face_cut.{side}", length + 2 * run, rules.GROOVE_CUT, back=at, run="mat.1.run")
            rule = opening_rules.GROOVE_SHAVED_SHORT if shave else rules.GROOVE_SHAVED
            self.ledger.figure(f"{path}.face_shaved.{side}", length - 2 * (run + shave), rule, back=at, **names)
        strip = self._strip(names)
        cut, shaved = back.grown(run), back.grown(-run - shave)
        return Groove(path, borders, width, strip, back, cut, shaved, self.shape, shave, run)

    def _borders(self) -> Edges:
        """Enter the back line's box and return its borders, whose sides lie out by the distance where they are flat."""
        distance, back = self.rule.distance, self.shape.size
        plain = back == self.box.grown(distance)
        edges = []
        for side, length in (("width", back.width), ("height", back.height)):
            at, box = f"{self.path}.back.{side}", f"mat.1.back.{side}"
            if plain:
                self.ledger.figure(at, length, rules.GROOVE_BACK, opening=box, distance=self.given["distance"])
            else:
                origin = f"shape {self.shape.words} round the window at this distance"
                self.ledger.shaped(at, length, origin, opening=box, distance=self.given["distance"])
        drift = self.inner.drift(distance) if self.inner and self.rule.shape is None else (ZERO, ZERO)
        for name, border in self.borders.named():
            path, operands = f"{self.path}.border.{name}", {"border": f"mat.1.border.{name}"}
            if plain:
                operands["distance"] = self.given["distance"]
                edges.append(self.ledger.figure(path, border - distance, rules.GROOVE_BORDER, **operands))
                continue
            axis, side = (0, "width") if name in ("left", "right") else (1, "height")
            signed = drift[axis] if name in ("left", "top") else -drift[axis]
            operands |= {"groove": f"{self.path}.back.{side}", "opening": f"mat.1.back.{side}"}
            operands["drift"] = f"{self.path}.drift.{name}"
            self.ledger.shaped(operands["drift"], signed, f"shape {self.shape.words}", distance=self.given["distance"])
            more = (back.width - self.box.width, back.height - self.box.height)[axis]
            value = border - more // 2 + signed
            edges.append(self.ledger.figure(path, value, opening_rules.GROOVE_BORDER_BOX, **operands))
        return Edges(*edges)

    def _strip(self, names: dict[str, str]) -> Length:
        """Return the least face between groove and window."""
        distance, given = self.rule.distance, self.given["distance"]
        inner = self.inner or Rectangle(self.box)
        if self.rule.shape is None:
            least = inner.narrowest(distance)
        else:
            least = from_mm(clearance(self.shape.outline(), inner.outline()), math.floor)
        if least < distance:
            distance, given = least, f"{self.path}.least"
            self.ledger.given(given, least, f"narrowest beside the {inner.words}")
        rule = opening_rules.GROOVE_STRIP_SHAVED if self.rule.shave else rules.GROOVE_STRIP
        value = distance - 2 * self.run - self.rule.shave
        return self.ledger.figure(f"{self.path}.strip", value, rule, distance=given, **names)


def box_round(ledger: Ledger) -> Size:
    """Return the box round all openings of the top mat."""
    return Size(ledger.length("mat.1.back.width"), ledger.length("mat.1.back.height"))


def rule_lines(ledger: Ledger, treatment: Treatment, hole: Hole) -> tuple[Line, ...]:
    """Return the ruled lines and bands of wash round an opening of the top mat, the innermost first."""
    if hole.title:
        return ()
    reverse = hole.opening.bevel is Bevel.REVERSE
    rule = opening_rules.LINE_AT_REVERSE if reverse else opening_rules.LINE_AT
    lines = []
    for at, line in enumerate(sorted(treatment.lines, key=lambda line: line.distance), start=1):
        path, given = f"mat.1.line.{at}", f"treatment.line.{at}.distance"
        ledger.given(given, line.distance, treatment.origin("lines"))
        ledger.given(f"{path}.width", line.width, treatment.origin("lines"))
        away = hole.opening.towards_face + line.distance
        for name, border in hole.borders.named():
            operands = {"border": f"mat.1.border.{name}", "run": "mat.1.run", "distance": given}
            ledger.figure(f"{path}.border.{name}", border - away, rule, **operands)
        _follow(hole.opening.shape, (away, away + line.width), "lines")
        lines.append(Line(path, line, hole.borders.plus(-away), away))
    return tuple(lines)


def let_in(ledger: Ledger, treatment: Treatment, materials: Materials, top: Mat) -> Inlay | None:
    """Return the inlay of the top mat, None where there is none.

    Both boards are cut with the same two settings from their own edges, so that the band fits the gap whatever the
    cutter's error; the insert's blank is only as large as it must be.
    """
    rule = treatment.inlay
    if rule is None:
        return None
    board, alone = materials.board(rule.board), not top.holes[0].scope
    origin = treatment.origin("inlay")
    names = {name: f"treatment.inlay.{name}" for name in ("distance", "width")}
    ledger.given(names["distance"], rule.distance, origin)
    ledger.given(names["width"], rule.width, origin)
    ledger.given("inlay.hold", HOLD, "held while it is cut")
    box = box_round(ledger)
    inner, outer = top.borders.plus(-rule.distance), top.borders.plus(-rule.distance - rule.width)
    for (name, near), (_, far) in zip(inner.named(), outer.named(), strict=True):
        border = {"border": f"mat.1.border.{name}", "distance": names["distance"]}
        ledger.figure(f"inlay.inner.{name}", near, opening_rules.INLAY_INNER, **border)
        ledger.figure(f"inlay.outer.{name}", far, opening_rules.INLAY_OUTER, **border, width=names["width"])
    blank = box.grown(rule.distance + rule.width + HOLD)
    for side, length in (("width", blank.width), ("height", blank.height)):
        operands = names | {"opening": f"mat.1.back.{side}", "hold": "inlay.hold"}
        ledger.figure(f"inlay.blank.{side}", length, opening_rules.INLAY_BLANK, **operands)
    ledger.figure("inlay.guide", HOLD, opening_rules.INLAY_GUIDE, hold="inlay.hold")
    operands = {"hold": "inlay.hold", "width": names["width"]}
    ledger.figure("inlay.guide_inner", HOLD + rule.width, opening_rules.INLAY_GUIDE_INNER, **operands)
    shape = (top.opening.shape if alone else ShapeRule().fit(box)).grown(rule.distance)
    _follow(shape, (ZERO, top.run, rule.width, rule.width + top.run), "inlay")
    shape.grown(rule.width)  # its outer edge is cut too: what cannot grow so far is refused before anything is set
    return Inlay(board, outer, inner, blank, HOLD, rule.width, shape, top.run)


def _follow(shape: Shape, distances: Iterable[Length], rule: str) -> None:
    """Raise BadTreatment where a shape has no parallel at one of the distances, so that it cannot be ruled or cut."""
    for distance in distances:
        try:
            shape.parallel(distance)
        except BadTreatment as bad:
            found = f"no line runs beside the {shape.words} there: {bad.found}"
            raise BadTreatment(rule, found, "another distance, or a shape of its own") from bad
