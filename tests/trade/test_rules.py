"""The formulas that tickets print, evaluated again from their operands: text and code can never part."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, assume, given, settings
from tests.trade.cases import FRAMED, PLAIN, SHEET, art, artworks, but, inch, made, mm, treatments
from tests.trade.evaluate import evaluate, fault, names_in

from fourply.errors import BadTreatment
from fourply.measure.size import Edges, Rect, Size
from fourply.trade import rules
from fourply.trade.accents import GrooveRule
from fourply.trade.package import Package
from fourply.trade.treatment import (
    METRIC,
    Bevel,
    BorderMeans,
    Bottom,
    BottomRule,
    MatRule,
    RevealMeans,
    Treatment,
    WindowFrom,
)
from fourply.trade.work import Artwork, Readings
from fourply.working.working import Rounding, Rule, Working

RULES = {name: value for name, value in vars(rules).items() if isinstance(value, Rule)}

PRINT = art(inch(14), inch(11), image=Rect.at(inch(5, 4), inch(1), inch(11), inch(8)))
UNEVEN = Artwork(Readings.of(mm(700), mm(702)), Readings.of(mm(401), mm(400)), skew_deg=0.3)
DOUBLE = (MatRule("white"), MatRule("grey", inch(1, 4)))
TREBLE = (MatRule("white"), MatRule("grey", inch(1, 8), RevealMeans.FLAT), MatRule("thick", inch(3, 16)))
OUTER = Size(inch(24), inch(28))
NORMAL, REVERSE = Bevel.NORMAL, Bevel.REVERSE


def flat(above: Bevel, under: Bevel) -> tuple[MatRule, ...]:
    """Return two mats whose strip is so narrow that a reverse bevel alone is wider."""
    return (MatRule("white", bevel=above), MatRule("thick", inch(1, 32), RevealMeans.FLAT, under))


def weighted(**more: Size) -> list[tuple[Treatment, Artwork]]:
    return [(but(PLAIN, bottom=Bottom(rule, inch(5, 4), Fraction(4, 3)), **more), SHEET) for rule in BottomRule]


CASES: list[tuple[Treatment, Artwork]] = [
    (PLAIN, UNEVEN),
    (but(PLAIN, overlap=mm(3), border=mm(65), grid=METRIC.grid, mats=DOUBLE), UNEVEN),
    (but(PLAIN, mats=DOUBLE, grooves=(GrooveRule(inch(1, 2)),)), SHEET),
    (but(FRAMED, mats=TREBLE, fillet="fillet", spacer="spacer"), SHEET),
    *((but(FRAMED, mats=flat(above, under)), SHEET) for above in Bevel for under in Bevel),
    (but(PLAIN, mats=(MatRule("white", bevel=REVERSE), *DOUBLE[1:])), SHEET),
    (but(PLAIN, mats=(*DOUBLE, MatRule("white", inch(1, 4), bevel=REVERSE)), fillet="fillet"), SHEET),
    (but(PLAIN, window=WindowFrom.IMAGE, paper_sides=inch(3, 64)), PRINT),
    (but(FRAMED, window=WindowFrom.FLOAT, spacer="spacer"), UNEVEN),
    (but(PLAIN, window=WindowFrom.FLOAT, mats=(MatRule("white", bevel=REVERSE),)), UNEVEN),
    (but(FRAMED, border_means=BorderMeans.VISIBLE, bottom=Bottom(BottomRule.RATIO, ratio=Fraction(4, 3))), SHEET),
    (but(FRAMED, border_means=BorderMeans.VISIBLE, bottom=Bottom(BottomRule.GOLDEN)), SHEET),
    (but(FRAMED, border_means=BorderMeans.VISIBLE, borders=Edges(inch(2), inch(3), inch(4), inch(3))), SHEET),
    (but(FRAMED, moulding_sides="narrow lip", frame="16x20"), SHEET),
    (but(FRAMED, frame_sides=6, outer=Size(inch(24), inch(24)), mats=DOUBLE), SHEET),
    (but(PLAIN, bottom=Bottom(BottomRule.OPTICAL_CLAMPED), outer=Size(inch(16), inch(20))), art(inch(8), inch(10))),
    *weighted(),
    *weighted(outer=OUTER),
]


def faults(package: Package) -> list[str]:
    return [said for path in package.figures if (said := fault(package.figures, path))]


@pytest.mark.parametrize(("treatment", "artwork"), CASES)
def test_every_formula_gives_its_value_again(treatment: Treatment, artwork: Artwork) -> None:
    assert faults(made(treatment, artwork)) == []


@settings(max_examples=250, deadline=None, suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow])
@given(treatments(), artworks())
def test_every_formula_gives_its_value_again_whatever_is_asked(treatment: Treatment, artwork: Artwork) -> None:
    try:
        package = made(treatment, artwork)
    except BadTreatment:
        assume(condition=False)
    assert faults(package) == []


def test_every_rule_is_reached_by_some_case() -> None:
    reached = {working.rule.id for case in CASES for working in made(*case).figures.values()}

    assert {rule.id for rule in RULES.values()} - reached == set()


def test_no_two_rules_share_an_id() -> None:
    counts = Counter(rule.id for rule in RULES.values())

    assert [rule for rule, count in counts.items() if count > 1] == []


@pytest.mark.parametrize("rule", RULES.values(), ids=RULES.keys())
def test_every_rule_has_a_reason_and_a_source(rule: Rule) -> None:
    assert rule.reason.endswith(".")
    assert rule.source


@pytest.mark.parametrize(
    "spoiled",
    [
        Working(inch(1), Rule("r", "a + b", "", ""), (("a", "art.width"),)),
        Working(inch(11), Rule("r", "a", "", ""), (("a", "art.width"),)),
        Working(inch(10), Rule("r", "a", "", "", Rounding.DOWN), (("a", "art.width"),)),
        Working(inch(10) + inch(1, 64), Rule("r", "a", "", "", Rounding.UP), (("a", "art.width"), ("grid", "grid"))),
        Working(inch(10) + inch(1, 32), Rule("r", "a", "", "", Rounding.UP), (("a", "art.width"), ("grid", "grid"))),
        Working(44.0, Rule("r", "180 / 4", "", "")),
        Working(inch(1), Rule("given", "", ""), (("a", "art.width"),)),
    ],
)
def test_the_evaluator_finds_a_formula_that_parted_from_its_value(spoiled: Working) -> None:
    figures = dict(made().figures) | {"spoiled": spoiled}

    assert fault(figures, "spoiled")


def test_the_evaluator_knows_functions_and_the_order_of_signs() -> None:
    assert evaluate("-a + 2 * max(a, b) / (b - a)", {"a": Fraction(1), "b": Fraction(3)}) == 2
    assert evaluate("tan(a) + cos(b)", {"a": 45.0, "b": 60.0}) == pytest.approx(1.5)
    assert names_in("a * tan(half_angle)") == {"a", "half_angle"}
