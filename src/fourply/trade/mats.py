"""The finished mats: borders, blanks, grooves, and what falls out of each window.

A fallout is board that has been paid for: its usable rectangle is stock to cut smaller pieces from. Where mats are cut
in a taped stack the cut of the mat below scores the back of the fallout above, so what stays clean is smaller.
"""

from __future__ import annotations

import math

from fourply.errors import BadTreatment
from fourply.measure.length import ZERO, Length
from fourply.measure.rounding import down, from_mm, to_grid, up
from fourply.measure.size import Edges, Size
from fourply.trade import rules
from fourply.trade.openings import Opened
from fourply.trade.package import Groove, Mat
from fourply.trade.treatment import Bevel, Treatment
from fourply.trade.window import enter_rule
from fourply.working.ledger import Ledger


def finish_mats(
    ledger: Ledger, opened: tuple[Opened, ...], borders: Edges, outer: Size, treatment: Treatment
) -> tuple[Mat, ...]:
    """Return every mat with its blank, borders, groove and fallouts, the top mat first."""
    base = _polygon_blank(ledger, outer, treatment)
    enter_rule(ledger, treatment, "fallout_trim")
    if len(opened) > 1:
        enter_rule(ledger, treatment, "inset")
    mats: list[Mat] = []
    for number, each in enumerate(opened, start=1):
        inset = treatment.inset if number > 1 else ZERO
        if number > 1:
            borders = _under(ledger, number, borders, each.reveal)
        if inset >= borders.least:
            raise BadTreatment(f"mat.{number}.blank", "the inset leaves nothing of the under-mat", "a smaller inset")
        blank = _blank(ledger, number, base, inset)
        score = opened[number] if treatment.stack_cut and number < len(opened) else None
        mats.append(
            Mat(
                number=number,
                board=each.board,
                run=each.run,
                blank=blank,
                inset=inset,
                borders=borders,
                opening=each.opening,
                reveal=each.reveal,
                strip=each.strip,
                fallouts=_fallouts(ledger, number, each, score, treatment),
                groove=_groove(ledger, each, borders, treatment) if number == 1 and treatment.groove else None,
            )
        )
    return tuple(mats)


def _polygon_blank(ledger: Ledger, outer: Size, treatment: Treatment) -> Size:
    """Return the size that blanks are cut to: the package, or the square that holds a polygon."""
    if treatment.frame_sides == 4:
        return outer
    half = ledger.given("frame.half_angle_deg", 180 / treatment.frame_sides, treatment.origin("frame_sides"))
    around = from_mm(outer.width.as_mm / math.cos(math.radians(half)), math.ceil)
    operands = {"outer": "outer.width", "half_angle": "frame.half_angle_deg", "grid": "grid"}
    side = ledger.figure("outer.blank", to_grid(around, treatment.grid, up), rules.POLYGON_BLANK, **operands)
    return Size(side, side)


def _under(ledger: Ledger, number: int, above: Edges, reveal: Length) -> Edges:
    for name, border in above.named():
        operands = {"border": f"mat.{number - 1}.border.{name}", "reveal": f"mat.{number}.reveal"}
        ledger.figure(f"mat.{number}.border.{name}", border + reveal, rules.BORDER_UNDER, **operands)
    return above.plus(reveal)


def _blank(ledger: Ledger, number: int, base: Size, inset: Length) -> Size:
    paths = ("outer.blank", "outer.blank") if "outer.blank" in ledger else ("outer.width", "outer.height")
    for side, path, length in zip(("width", "height"), paths, (base.width, base.height), strict=True):
        at = f"mat.{number}.blank.{side}"
        if inset:
            ledger.figure(at, length - 2 * inset, rules.BLANK_INSET, outer=path, inset="treatment.inset")
        else:
            ledger.figure(at, length, rules.BLANK, outer=path)
    return base.grown(-inset)


def _fallouts(ledger: Ledger, number: int, mat: Opened, score: Opened | None, treatment: Treatment) -> tuple[Size, ...]:
    """Return the usable rectangle of what falls out, none where too little is left."""
    sight = mat.opening.sight
    leans_in = score is not None and score.rule.bevel is Bevel.REVERSE
    scored = score.reveal + (score.run if leans_in else -score.run) if score else ZERO
    trim = max(treatment.fallout_trim, scored)
    width, height = (to_grid(side - 2 * trim, treatment.grid, down) for side in (sight.width, sight.height))
    if min(width, height) <= ZERO:
        return ()
    for side, value in (("width", width), ("height", height)):
        names = {"opening": f"mat.{number}.opening.{side}", "trim": "treatment.fallout_trim", "grid": "grid"}
        rule = rules.FALLOUT
        if score:
            under = f"mat.{number + 1}"
            rule = rules.FALLOUT_SCORED_REVERSE if leans_in else rules.FALLOUT_SCORED
            names |= {"reveal": f"{under}.reveal", "run": f"{under}.run"}
        ledger.figure(f"mat.{number}.fallout.{side}", value, rule, **names)
    return (Size(width, height),)


def _groove(ledger: Ledger, mat: Opened, borders: Edges, treatment: Treatment) -> Groove:
    """Return the full-depth groove round the top mat's window."""
    distance, run = enter_rule(ledger, treatment, "groove"), mat.run
    given = {"distance": "treatment.groove"}
    for name, border in borders.named():
        path = f"mat.1.groove.border.{name}"
        ledger.figure(path, border - distance, rules.GROOVE_BORDER, border=f"mat.1.border.{name}", **given)
    width = ledger.figure("mat.1.groove.width", 2 * run, rules.GROOVE_WIDTH, run="mat.1.run")
    strip = ledger.figure("mat.1.groove.strip", distance - 2 * run, rules.GROOVE_STRIP, **given, run="mat.1.run")
    back = mat.opening.back.grown(distance)
    for side, length in (("width", back.width), ("height", back.height)):
        path = f"mat.1.groove.back.{side}"
        ledger.figure(path, length, rules.GROOVE_BACK, opening=f"mat.1.back.{side}", **given)
        names = {"back": path, "run": "mat.1.run"}
        ledger.figure(f"mat.1.groove.face_cut.{side}", length + 2 * run, rules.GROOVE_CUT, **names)
        ledger.figure(f"mat.1.groove.face_shaved.{side}", length - 2 * run, rules.GROOVE_SHAVED, **names)
    return Groove(borders.plus(-distance), width, strip, back, back.grown(run), back.grown(-run))
