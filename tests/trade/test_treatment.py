"""Treatments: what they refuse, and how layers make one of many."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from tests.trade.cases import but, inch, made

from fourply.errors import Unknown
from fourply.measure.length import ZERO, Length
from fourply.measure.rounding import SIXTEENTH
from fourply.measure.size import Edges
from fourply.trade.treatment import FIELDS, INCH, METRIC, Bottom, BottomRule, Layer, MatRule, Treatment, settle
from fourply.trade.window import enter_rule
from fourply.working.ledger import Ledger

BELOW = Length(-1)


@pytest.mark.parametrize(
    ("wrong", "word"),
    [
        ({"mats": ()}, "one to four mats"),
        ({"mats": (MatRule("white"),) * 5}, "one to four mats"),
        ({"bevel_deg": 19.9}, "20 to 90 degrees"),
        ({"bevel_deg": 90.1}, "20 to 90 degrees"),
        ({"frame_sides": 2}, "3 to 24 sides"),
        ({"frame_sides": 25}, "3 to 24 sides"),
        ({"borders": Edges(inch(1), inch(1), BELOW, inch(1))}, "borders is not below nothing"),
    ],
)
def test_a_treatment_that_nobody_could_follow_does_not_exist(wrong: dict[str, Any], word: str) -> None:
    with pytest.raises(ValueError, match=word):
        Treatment(**wrong)


@pytest.mark.parametrize("name", [name for name in FIELDS if isinstance(getattr(INCH, name), Length)])
def test_no_length_of_a_treatment_is_below_nothing(name: str) -> None:
    with pytest.raises(ValueError, match=name.replace("_", " ")):
        Treatment(**{name: BELOW})  # type: ignore[arg-type]


@pytest.mark.parametrize("deg", [20.0, 90.0])
def test_the_ends_of_the_bevel_s_range_are_allowed(deg: float) -> None:
    assert but(bevel_deg=deg).bevel_deg == deg


@pytest.mark.parametrize(
    "wrong", [{"ratio": Fraction(0)}, {"ratio": Fraction(101, 10)}, {"rule": BottomRule.AMOUNT, "amount": BELOW}]
)
def test_a_bottom_rule_that_leaves_no_border_does_not_exist(wrong: dict[str, Any]) -> None:
    with pytest.raises(ValueError, match="bottom border"):
        Bottom(**wrong)


def test_a_reveal_is_not_below_nothing() -> None:
    with pytest.raises(ValueError, match="reveal"):
        MatRule("white", BELOW)


# ── layers ───────────────────────────────────────────────────────────────────────────────────────────────────────

SHOW = Layer("show Quay", {"border": inch(3), "overlap": inch(1, 4)})
NAMED = Layer("treatment deep", {"border": inch(4), "grid": SIXTEENTH})
OWN = Layer("work 7", {"overlap": ZERO})


def test_the_last_layer_wins_field_by_field() -> None:
    settled = settle(INCH, [SHOW, NAMED, OWN])

    assert (settled.border, settled.overlap, settled.grid) == (inch(4), ZERO, SIXTEENTH)
    assert settled.allowance == INCH.allowance


@pytest.mark.parametrize(
    ("field", "origin"),
    [("border", "treatment deep"), ("overlap", "work 7"), ("grid", "treatment deep"), ("allowance", "shop default")],
)
def test_every_field_knows_the_layer_it_came_from(field: str, origin: str) -> None:
    assert settle(INCH, [SHOW, NAMED, OWN]).origin(field) == origin


def test_the_way_back_is_to_leave_a_layer_out() -> None:
    back = settle(INCH, [SHOW, NAMED])

    assert (back.overlap, back.origin("overlap")) == (inch(1, 4), "show Quay")


def test_settling_again_keeps_what_earlier_layers_said() -> None:
    twice = settle(settle(INCH, [SHOW]), [OWN])

    assert twice == settle(INCH, [SHOW, OWN])
    assert (twice.origin("border"), twice.origin("overlap")) == ("show Quay", "work 7")


def test_a_layer_names_only_rules_that_there_are() -> None:
    with pytest.raises(Unknown, match="bordr"):
        Layer("show", {"bordr": inch(3)})
    with pytest.raises(Unknown, match="origins"):
        Layer("show", {"origins": {}})


def test_settled_layers_are_checked_together() -> None:
    with pytest.raises(ValueError, match="one to four mats"):
        settle(INCH, [Layer("show", {"mats": ()})])


def test_a_figure_tells_the_layer_of_its_rule() -> None:
    package = made(settle(but(), [Layer("show Quay", {"border": inch(3)})]))

    assert package.figures["treatment.border"].origin == "show Quay"
    assert package.figures["treatment.overlap"].origin == "shop default"


@pytest.mark.parametrize("shop", [INCH, METRIC])
def test_the_shop_s_lengths_lie_on_its_own_grid(shop: Treatment) -> None:
    off = [
        name
        for name in FIELDS
        if isinstance(value := getattr(shop, name), Length) and name != "overlap_least" and value % shop.grid.step
    ]

    assert off == []


def test_only_a_length_is_entered_as_a_length() -> None:
    with pytest.raises(TypeError, match="window"):
        enter_rule(Ledger(), INCH, "window")
