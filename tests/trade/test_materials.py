"""Materials that cannot be do not exist, and one that is not there is named."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from tests.trade.cases import MATERIALS, MOULDING, PRICE, WHITE, inch

from fourply.errors import Unknown
from fourply.measure.length import ZERO, Length
from fourply.trade.materials import Materials, Stick


@pytest.mark.parametrize(
    ("thing", "field"),
    [
        (WHITE, "caliper"),
        (MATERIALS.glazing("glass"), "thickness"),
        (MATERIALS.backing("foam"), "thickness"),
        (MOULDING, "width"),
        (MOULDING, "rabbet_depth"),
        (MOULDING, "height"),
        (MATERIALS.spacer("spacer"), "depth"),
        (MATERIALS.spacer("spacer"), "width"),
        (MATERIALS.fillet("fillet"), "shown"),
        (MATERIALS.fillet("fillet"), "lip"),
        (MATERIALS.fillet("fillet"), "thickness"),
        (Stick(inch(120), PRICE), "length"),
    ],
)
def test_a_measure_of_a_material_is_above_nothing(thing: Any, field: str) -> None:
    with pytest.raises(ValueError, match="above nothing"):
        replace(thing, **{field: ZERO})


@pytest.mark.parametrize(
    ("wrong", "word"),
    [
        ({"lip": inch(1)}, "lip is within the width"),
        ({"lip": Length(-1)}, "lip is within the width"),
        ({"rabbet_depth": inch(7, 8)}, "not deeper than the moulding is high"),
        ({"kerf": Length(-1)}, "kerf"),
    ],
)
def test_a_profile_that_cannot_be_milled_does_not_exist(wrong: dict[str, Any], word: str) -> None:
    with pytest.raises(ValueError, match=word):
        replace(MOULDING, **wrong)


def test_a_moulding_may_have_no_lip_and_a_rabbet_as_deep_as_it_is_high() -> None:
    edge = replace(MOULDING, lip=ZERO, rabbet_depth=MOULDING.height)

    assert edge.lip == ZERO


@pytest.mark.parametrize(
    ("find", "name"),
    [
        (Materials.board, "white"),
        (Materials.moulding, "oak"),
        (Materials.glazing, "glass"),
        (Materials.backing, "foam"),
        (Materials.spacer, "spacer"),
        (Materials.fillet, "fillet"),
        (Materials.frame, "16x20"),
    ],
)
def test_a_material_is_found_by_its_name(find: Callable[[Materials, str], Any], name: str) -> None:
    assert find(MATERIALS, name).name == name
    with pytest.raises(Unknown, match=r"there is no .* at all"):
        find(Materials(), name)
