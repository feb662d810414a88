"""Borders and outer size, to the back line of the top mat.

Either the borders are given and the outer size follows, or the outer size is given (a ready-made frame, a common size
for a group) and the borders follow. Each border that is not given is brought to the marking grid once, and the last
one is what remains, so that borders and opening add up to the outer size exactly.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from fourply.errors import BadTreatment
from fourply.measure.length import ZERO, Length
from fourply.measure.rounding import down, half_even, to_grid
from fourply.measure.size import Edges, Size
from fourply.trade import rules
from fourply.trade.formulas import GOLDEN_SHARE, optical_top_share
from fourply.trade.materials import Moulding
from fourply.trade.treatment import BorderMeans, Bottom, BottomRule, Treatment
from fourply.trade.window import enter_rule
from fourply.working.ledger import Ledger
from fourply.working.working import Rule

_TOP = "mat.1.border.top"
_RIGHT = "mat.1.border.right"
_BOTTOM = "mat.1.border.bottom"
_LEFT = "mat.1.border.left"
_WIDTH = "mat.1.back.width"
_HEIGHT = "mat.1.back.height"


@dataclass(frozen=True, slots=True)
class Bordered:
    """The borders of the top mat and the outer size that they make."""

    borders: Edges
    outer: Size


def settle_borders(
    ledger: Ledger,
    opening: Size,
    treatment: Treatment,
    *,
    outer: Size | None,
    mouldings: tuple[Moulding, Moulding] | None,
) -> Bordered:
    """Return borders and outer size round the top mat's back opening.

    `mouldings` are those of top and bottom and of the sides. `outer` fixes the package; without it the borders make it.
    Raises BadTreatment where nothing is left for a border.
    """
    if outer is not None:
        return _fitted(ledger, opening, treatment, outer)
    borders = _set(ledger, opening, treatment, mouldings)
    if borders.least <= ZERO:
        raise BadTreatment("mat.1.border", "a border of nothing is left", "a border of a step of the rule or more")
    return Bordered(
        borders,
        Size(
            ledger.figure(
                "outer.width",
                opening.width + borders.across,
                rules.OUTER_ACROSS,
                left=_LEFT,
                opening=_WIDTH,
                right=_RIGHT,
            ),
            ledger.figure(
                "outer.height",
                opening.height + borders.along,
                rules.OUTER_ALONG,
                top=_TOP,
                opening=_HEIGHT,
                bottom=_BOTTOM,
            ),
        ),
    )


def _set(ledger: Ledger, opening: Size, treatment: Treatment, mouldings: tuple[Moulding, Moulding] | None) -> Edges:
    """Return the borders as they are set; the outer size follows."""
    cut = _for_lip(ledger, treatment, mouldings)
    hidden = _hidden(ledger, treatment, mouldings)
    if treatment.borders is not None:
        for name, length in treatment.borders.named():
            ledger.given(f"treatment.borders.{name}", length, treatment.origin("borders"))
        return Edges(*(cut(f"mat.1.border.{n}", v, f"treatment.borders.{n}") for n, v in treatment.borders.named()))
    border = enter_rule(ledger, treatment, "border")
    top, right, left = (cut(path, border, "treatment.border") for path in (_TOP, _RIGHT, _LEFT))
    bottom = _enter_bottom(ledger, treatment)
    if bottom.rule is BottomRule.WIDTH:
        return Edges(top, right, cut(_BOTTOM, bottom.amount, "treatment.bottom"), left)
    if bottom.rule in (BottomRule.RATIO, BottomRule.GOLDEN) and hidden:
        ratio = bottom.ratio if bottom.rule is BottomRule.RATIO else (1 - GOLDEN_SHARE) / GOLDEN_SHARE
        return Edges(top, right, _visible_by_ratio(ledger, treatment, top, ratio, hidden), left)
    return Edges(top, right, _bottom_from_top(ledger, opening, treatment, top), left)


def _hidden(ledger: Ledger, treatment: Treatment, mouldings: tuple[Moulding, Moulding] | None) -> Length:
    """Return what the lip hides of the top and bottom border, where borders are given as they are seen."""
    if treatment.border_means is BorderMeans.CUT or mouldings is None:
        return ZERO
    value = mouldings[0].lip - treatment.allowance // 2
    return ledger.figure("border.hidden", value, rules.HIDDEN, lip="moulding.lip", allowance="treatment.allowance")


def _visible_by_ratio(ledger: Ledger, treatment: Treatment, top: Length, ratio: Fraction, hidden: Length) -> Length:
    exact = (top - hidden).nm * ratio + hidden.nm
    value = treatment.grid.step * half_even(exact / treatment.grid.step.nm)
    operands = {"top": _TOP, "ratio": "treatment.bottom", "hidden": "border.hidden", "grid": "grid"}
    return ledger.figure(_BOTTOM, value, rules.BOTTOM_RATIO_VISIBLE, **operands)


def _for_lip(
    ledger: Ledger, treatment: Treatment, mouldings: tuple[Moulding, Moulding] | None
) -> Callable[[str, Length, str], Length]:
    """Return how a border that somebody gave becomes the one that is cut."""
    grid = treatment.grid
    if treatment.border_means is BorderMeans.CUT or mouldings is None:
        return lambda path, length, given: ledger.figure(
            path, to_grid(length, grid, half_even), rules.BORDER, border=given, grid="grid"
        )
    half = Fraction(treatment.allowance.nm, 2)
    enter_rule(ledger, treatment, "allowance")
    names = ("moulding", "moulding" if mouldings[0] is mouldings[1] else "moulding_sides")
    lips = [
        (ledger.given(f"{name}.lip", moulding.lip, f"moulding {moulding.name}"), f"{name}.lip")
        for name, moulding in zip(names, mouldings, strict=True)
    ]

    def cut(path: str, length: Length, given: str) -> Length:
        lip, named = lips[1] if path in (_LEFT, _RIGHT) else lips[0]
        value = grid.step * half_even((length.nm + lip.nm - half) / grid.step.nm)
        operands = {"visible": given, "lip": named, "allowance": "treatment.allowance", "grid": "grid"}
        return ledger.figure(path, value, rules.BORDER_FOR_LIP, **operands)

    return cut


def _enter_bottom(ledger: Ledger, treatment: Treatment) -> Bottom:
    bottom, origin = treatment.bottom, treatment.origin("bottom")
    if bottom.rule in (BottomRule.AMOUNT, BottomRule.WIDTH):
        ledger.given("treatment.bottom", bottom.amount, origin)
    if bottom.rule is BottomRule.RATIO:
        ledger.given("treatment.bottom", bottom.ratio, origin)
    if bottom.rule is BottomRule.GOLDEN:
        ledger.given("treatment.bottom", (1 - GOLDEN_SHARE) / GOLDEN_SHARE, "golden section")
    return bottom


def _bottom_from_top(ledger: Ledger, opening: Size, treatment: Treatment, top: Length) -> Length:
    """Return the bottom border from a top border equal to the sides."""
    bottom, grid = treatment.bottom, treatment.grid
    given = "treatment.bottom"
    match bottom.rule:
        case BottomRule.EQUAL | BottomRule.WIDTH:
            return ledger.figure(_BOTTOM, top, rules.BOTTOM_EQUAL, top=_TOP)
        case BottomRule.AMOUNT:
            value = to_grid(top + bottom.amount, grid, half_even)
            return ledger.figure(_BOTTOM, value, rules.BOTTOM_AMOUNT, top=_TOP, amount=given, grid="grid")
        case BottomRule.RATIO:
            return _by_ratio(ledger, treatment, top, bottom.ratio, rules.BOTTOM_RATIO)
        case BottomRule.GOLDEN:
            ratio = (1 - GOLDEN_SHARE) / GOLDEN_SHARE
            return _by_ratio(ledger, treatment, top, ratio, rules.BOTTOM_GOLDEN)
        case BottomRule.OPTICAL | BottomRule.OPTICAL_CLAMPED:
            return _optical_bottom(ledger, opening, treatment, top)


def _by_ratio(ledger: Ledger, treatment: Treatment, top: Length, ratio: Fraction, rule: Rule) -> Length:
    value = treatment.grid.step * half_even(top.nm * ratio / treatment.grid.step.nm)
    return ledger.figure(_BOTTOM, value, rule, top=_TOP, ratio="treatment.bottom", grid="grid")


def _optical_bottom(ledger: Ledger, opening: Size, treatment: Treatment, top: Length) -> Length:
    """Return the bottom: the share that the construction gives to the top fixes the total."""
    outer = opening.width + ledger.length(_LEFT) + ledger.length(_RIGHT)
    ledger.figure("outer.width", outer, rules.OUTER_ACROSS, left=_LEFT, opening=_WIDTH, right=_RIGHT)
    share = optical_top_share(outer, opening.width)
    value = treatment.grid.step * half_even(top.nm * (1 - share) / share / treatment.grid.step.nm)
    operands = {"top": _TOP, "outer": "outer.width", "opening": _WIDTH, "grid": "grid"}
    return ledger.figure(_BOTTOM, value, rules.BOTTOM_OPTICAL, **operands)


def _fitted(ledger: Ledger, opening: Size, treatment: Treatment, outer: Size) -> Bordered:
    """Borders inside a given outer size."""
    origin = _outer_origin(treatment)
    ledger.given("outer.width", outer.width, origin)
    ledger.given("outer.height", outer.height, origin)
    across, along = outer.width - opening.width, outer.height - opening.height
    if min(across, along) < 2 * treatment.grid.step:
        found = "the given outer size leaves no border round the opening"
        raise BadTreatment("outer", found, "a larger outer size, or a smaller window")
    grid, step = treatment.grid, treatment.grid.step
    operands = {"outer": "outer.width", "opening": _WIDTH}
    left = ledger.figure(
        _LEFT, max(step, to_grid(across // 2, grid, down)), rules.BORDER_CENTRED, **operands, grid="grid"
    )
    right = ledger.figure(_RIGHT, across - left, rules.BORDER_REST, **operands, other=_LEFT)
    top = _top(ledger, treatment, outer, opening, left)
    operands = {"outer": "outer.height", "opening": _HEIGHT, "other": _TOP}
    bottom = ledger.figure(_BOTTOM, along - top, rules.BORDER_REST, **operands)
    if min(top, bottom) <= ZERO:
        found = "the rule for the bottom border leaves no top or no bottom"
        raise BadTreatment("outer", found, "a smaller bottom, or a larger outer size")
    return Bordered(Edges(top, right, bottom, left), outer)


def _outer_origin(treatment: Treatment) -> str:
    if treatment.outer is not None and treatment.origin("outer") != "shop default":
        return treatment.origin("outer")
    return f"ready-made frame {treatment.frame}" if treatment.frame else treatment.origin("outer")


def _top(ledger: Ledger, treatment: Treatment, outer: Size, opening: Size, side: Length) -> Length:
    bottom, grid = _enter_bottom(ledger, treatment), treatment.grid
    along = outer.height - opening.height
    wanted_nm, rule, names = _top_wanted(ledger, bottom, outer, opening, along)
    rounding = down if bottom.rule is BottomRule.EQUAL else half_even
    value = grid.step * rounding(wanted_nm / grid.step.nm)
    if bottom.rule is BottomRule.OPTICAL_CLAMPED and value < side < along - side:
        return ledger.figure(_TOP, side, rules.TOP_CLAMPED, side=_LEFT)
    return ledger.figure(_TOP, value, rule, outer="outer.height", opening=_HEIGHT, **names, grid="grid")


def _top_wanted(
    ledger: Ledger, bottom: Bottom, outer: Size, opening: Size, along: Length
) -> tuple[Fraction, Rule, dict[str, str]]:
    """Return the exact top border in nm, its rule, and the operands beside outer and opening."""
    given = "treatment.bottom"
    match bottom.rule:
        case BottomRule.EQUAL:
            return Fraction(along.nm, 2), rules.TOP_EQUAL, {}
        case BottomRule.AMOUNT:
            return Fraction((along - bottom.amount).nm, 2), rules.TOP_AMOUNT, {"amount": given}
        case BottomRule.WIDTH:
            return Fraction((along - bottom.amount).nm), rules.TOP_FROM_WIDTH, {"bottom": given}
        case BottomRule.RATIO:
            return along.nm / (1 + bottom.ratio), rules.TOP_RATIO, {"ratio": given}
        case BottomRule.GOLDEN:
            ledger.given("treatment.top_share", GOLDEN_SHARE, "golden section")
            return along.nm * GOLDEN_SHARE, rules.TOP_GOLDEN, {"share": "treatment.top_share"}
        case BottomRule.OPTICAL | BottomRule.OPTICAL_CLAMPED:
            share = optical_top_share(outer.width, opening.width)
            return along.nm * share, rules.TOP_OPTICAL, {"across": "outer.width", "wide": _WIDTH}
