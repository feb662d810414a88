"""Where the art lies on its mount board, how it is hinged, what lifts a float, which strips are cut.

Offsets are from the left and top edge of the mount board, which is as large as the package.
"""

from __future__ import annotations

from fractions import Fraction

from fourply.measure.length import ZERO, Length
from fourply.measure.rounding import coarser, down, half_even, to_grid
from fourply.measure.size import Edges, Rect, Size
from fourply.trade import rules
from fourply.trade.materials import Board, Fillet, Spacer
from fourply.trade.package import ArtPlace, Hinging, Lift, Mat, Strips
from fourply.trade.treatment import HingeKind, Treatment, WindowFrom
from fourply.trade.window import enter_rule
from fourply.trade.work import Artwork
from fourply.working.ledger import Ledger

WIDE_SHEET = Length.mm(600)
"""Above this a third hinge goes in the middle (common practice)."""


def place_art(
    ledger: Ledger, art: Artwork, treatment: Treatment, window: Size, inner: Edges, *, scope: str = ""
) -> ArtPlace:
    """Return where the sheet lies; `inner` is the borders from the package's edge to the sight of the window."""
    covered = _covered(ledger, art, treatment, window)
    left = ledger.figure(
        "art.offset.left", inner.left - covered.left, rules.ART_AT, border="window.at.left", covered="art.covered.left"
    )
    top = ledger.figure(
        "art.offset.top", inner.top - covered.top, rules.ART_AT, border="window.at.top", covered="art.covered.top"
    )
    image = None
    if art.image is not None:
        image = Rect(left + art.image.left, top + art.image.top, art.image.size)
    return ArtPlace(art, Rect(left, top, art.least), image, Rect(inner.left, inner.top, window), covered, scope)


def _covered(ledger: Ledger, art: Artwork, treatment: Treatment, window: Size) -> Edges:
    """Return how far each edge of the least sheet lies behind the mat."""
    sheet = art.least
    if treatment.window is WindowFrom.IMAGE and art.image is not None:
        left = art.image.left - (window.width - art.image.size.width) // 2
        top = art.image.top - treatment.paper_top
        names = {"image": "image.left", "window": "window.width", "wide": "image.width"}
        ledger.figure("art.covered.left", left, rules.COVER_IMAGE_ACROSS, **names)
        ledger.figure("art.covered.top", top, rules.COVER_IMAGE, image="image.top", paper="treatment.paper_top")
    else:
        left, top = (sheet.width - window.width) // 2, (sheet.height - window.height) // 2
        for side, along, value in (("left", "width", left), ("top", "height", top)):
            names = {"sheet": f"art.{along}", "window": f"window.{along}"}
            ledger.figure(f"art.covered.{side}", value, rules.COVER_CENTRED, **names)
    right = sheet.width - window.width - left
    bottom = sheet.height - window.height - top
    for side, along, other, value in (("right", "width", "left", right), ("bottom", "height", "top", bottom)):
        names = {"sheet": f"art.{along}", "window": f"window.{along}", "other": f"art.covered.{other}"}
        ledger.figure(f"art.covered.{side}", value, rules.COVER, **names)
    return Edges(top, right, bottom, left)


def distance_to_wood(ledger: Ledger, place: ArtPlace, inner: Edges, treatment: Treatment) -> Edges:
    """Return how far each edge of the art is from the wall of the rabbet.

    The package rests on the bottom rail and lies centred sideways.
    """
    play = {"top": treatment.allowance, "bottom": ZERO}
    rule = {"top": rules.TO_WOOD_TOP, "bottom": rules.TO_WOOD_BOTTOM}
    gaps = []
    for (side, border), (_, covered) in zip(inner.named(), place.covered.named(), strict=True):
        operands = {"border": f"window.at.{side}", "covered": f"art.covered.{side}"}
        if side != "bottom":
            operands |= {"allowance": "treatment.allowance"}
        value = border - covered + play.get(side, treatment.allowance // 2)
        gaps.append(ledger.figure(f"art.to_wood.{side}", value, rule.get(side, rules.TO_WOOD), **operands))
    return Edges(*gaps)


def hinge(ledger: Ledger, treatment: Treatment, sheet: Size, outer: Size) -> Hinging:
    """Return the hinges along the top of the sheet, and the side on which window and mount board are joined."""
    board_edge = "left" if outer.height >= outer.width else "top"
    kind = treatment.hinge
    if treatment.window is WindowFrom.FLOAT and kind is HingeKind.TEE:
        kind = HingeKind.THROUGH
    if kind is HingeKind.CORNERS:
        return Hinging(kind, (), board_edge)
    grid, width = coarser(treatment.grid, 4), sheet.width
    ledger.given("hinge.grid", grid.step, "nothing here needs a finer mark")
    first = ledger.figure(
        "hinge.1.at",
        grid.step * half_even(Fraction(width.nm, 6 * grid.step.nm)),
        rules.HINGE_END,
        sheet="art.width",
        grid="hinge.grid",
    )
    at = [first]
    if width > WIDE_SHEET:
        middle = grid.step * half_even(Fraction(width.nm, 2 * grid.step.nm))
        at.append(ledger.figure("hinge.2.at", middle, rules.HINGE_MIDDLE, sheet="art.width", grid="hinge.grid"))
    last = f"hinge.{len(at) + 1}.at"
    at.append(ledger.figure(last, width - first, rules.HINGE_OTHER, sheet="art.width", other="hinge.1.at"))
    return Hinging(kind, tuple(at), board_edge)


def lift_board(ledger: Ledger, art: Artwork, treatment: Treatment, mount: Board, *, scope: str = "") -> Lift | None:
    """Return the boards that raise a floated sheet, None where nothing floats or nothing is left of them."""
    if treatment.window is not WindowFrom.FLOAT or not treatment.float_lift:
        return None
    setback = enter_rule(ledger, treatment, "float_setback")
    sides = [to_grid(side - 2 * setback, treatment.grid, down) for side in (art.width.least, art.height.least)]
    if min(sides) <= ZERO:
        return None
    for name, side in zip(("width", "height"), sides, strict=True):
        operands = {"sheet": f"art.{name}", "setback": "treatment.float_setback", "grid": "grid"}
        ledger.figure(f"lift.{name}", side, rules.LIFT, **operands)
    lift = enter_rule(ledger, treatment, "float_lift")
    ledger.given("lift.caliper", mount.caliper, f"board {mount.name}")
    operands = {"lift": "treatment.float_lift", "caliper": "lift.caliper"}
    layers = ledger.figure("lift.layers", -(-lift.nm // mount.caliper.nm), rules.LIFT_LAYERS, **operands)
    height = ledger.figure(
        "lift.rise", layers * mount.caliper, rules.LIFT_RISE, layers="lift.layers", caliper="lift.caliper"
    )
    return Lift(scope, Size(*sides), layers, height)


def cut_strips(
    ledger: Ledger, outer: Size, innermost: Mat, spacer: Spacer | None, fillet: Fillet | None
) -> tuple[Strips, ...]:
    """Return the strips that are cut to length: spacers laid pinwheel fashion, fillet rails to the mat opening."""
    strips = []
    if spacer is not None:
        strips.append(_spacers(ledger, outer, spacer))
    if fillet is not None:
        strips.append(_fillets(ledger, innermost, fillet))
    return tuple(strips)


def _spacers(ledger: Ledger, outer: Size, spacer: Spacer) -> Strips:
    ledger.given("spacer.width", spacer.width, f"spacer {spacer.name}")
    lengths = []
    for name, side in (("top", "width"), ("right", "height"), ("bottom", "width"), ("left", "height")):
        value = (outer.width if side == "width" else outer.height) - spacer.width
        operands = {"outer": f"outer.{side}", "width": "spacer.width"}
        lengths.append((name, ledger.figure(f"spacer.{name}", value, rules.SPACER, **operands)))
    return Strips("spacer", spacer, tuple(lengths))


def _fillets(ledger: Ledger, innermost: Mat, fillet: Fillet) -> Strips:
    ledger.given("fillet.lip", fillet.lip, f"fillet {fillet.name}")
    sight, mat = innermost.opening.sight, innermost.path
    lengths = []
    for name, side in (("top", "width"), ("right", "height"), ("bottom", "width"), ("left", "height")):
        value = (sight.width if side == "width" else sight.height) + 2 * fillet.lip
        operands = {"opening": f"{mat}.opening.{side}", "lip": "fillet.lip"}
        path = f"fillet.rail.{name}.long_point"
        lengths.append((name, ledger.figure(path, value, rules.FILLET_LONG, **operands)))
    return Strips("fillet", fillet, tuple(lengths))
