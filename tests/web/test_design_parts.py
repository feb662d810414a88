"""Rules made of parts on the design page: each part said, added and taken away by itself."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from fourply.app.design_parts import MADE, shape_picks
from fourply.files.convertors import Reading
from fourply.files.shapes import SHAPE
from fourply.measure.notation import Unit
from fourply.trade.shapes.rule import ShapeKind

from .design_shop import Caller, caller_at

WORK = "TM-06"


@pytest.fixture
def caller(tmp_path: Path) -> Iterator[Caller]:
    """Somebody who asks a shop of their own."""
    with caller_at(tmp_path) as found:
        yield found


def rule(design: dict[str, Any], key: str) -> dict[str, Any]:
    """Return a rule of a design's form."""
    found: dict[str, Any] = next(
        each for group in design["rules"]["groups"] for each in group["rules"] if each["key"] == key
    )
    return found


def said(design: dict[str, Any], key: str) -> list[dict[str, str]]:
    """Return what is said of each part of a rule."""
    return [{each["key"]: each["text"] for each in part["members"]} for part in rule(design, key)["parts"]["each"]]


def change(caller: Caller, design: dict[str, Any], **part: object) -> dict[str, Any]:
    """Keep a change of one part; returns the design after it."""
    kept = caller.keep(WORK, design["version"], part=part)
    assert kept["status"] == 200, kept
    return caller.design(WORK)


@pytest.mark.parametrize("key", MADE)
def test_part_is_added_changed_and_taken_away(caller: Caller, key: str) -> None:
    """One more stands in the form, takes what is said of it, and is gone again, each in one entry."""
    design = caller.design(WORK)
    before = said(design, key)
    for each in rule(design, key)["parts"]["more"]:
        name = each["name"]
        more = change(caller, design, rule=key, act="more", name=name)
        assert len(said(more, key)) == len(before) + 1
        member = "width" if key in {"lines", "inlay"} else next(iter(said(more, key)[-1]))
        if key == "mats":
            member = "reveal"
        text = {"board": "black 4-ply", "size": "2 in w x 3/4 in h"}.get(member, "5/16")
        changed = change(caller, more, rule=key, act="set", at=len(before), name=member, text=text)
        assert said(changed, key)[-1][member].removesuffix(" in") == text.removesuffix(" in")
        design = change(caller, changed, rule=key, act="less", at=len(before))
        assert said(design, key) == before


def test_entry_says_what_was_done(caller: Caller) -> None:
    """The label of the history names the part and its member, not the text of the rule."""
    design = change(caller, caller.design(WORK), rule="grooves", act="more", name="a groove")
    kept = caller.keep(WORK, design["version"], part={"rule": "grooves", "act": "set", "name": "distance", "text": "1"})
    assert f"{WORK}: groove 1, from the window 1" in kept["strip"]


def test_member_left_empty_is_as_usual(caller: Caller) -> None:
    """An empty text takes a member back to what is usual."""
    design = change(caller, caller.design(WORK), rule="grooves", act="more", name="a groove")
    oval = change(caller, design, rule="grooves", act="set", at=0, name="shape", text="oval")
    assert said(oval, "grooves")[0]["shape"] == "oval"
    assert (
        said(change(caller, oval, rule="grooves", act="set", at=0, name="shape", text=""), "grooves")[0]["shape"] == ""
    )


@pytest.mark.parametrize(
    ("part", "expected"),
    [
        ({"rule": "grooves", "act": "set", "at": 3, "name": "distance", "text": "1"}, "groove 4"),
        ({"rule": "grooves", "act": "more", "name": "a hole"}, "a hole"),
        ({"rule": "border", "act": "more", "name": "a border"}, "border"),
        ({"rule": "mats", "act": "set", "at": 0, "name": "board", "text": "no such board"}, "no such board"),
        ({"rule": "mats", "act": "set", "at": 0, "name": "colour", "text": "red"}, "colour"),
        ({"rule": "mats", "act": "set", "at": 0, "name": "shape", "text": "heart"}, "heart"),
    ],
)
def test_what_is_not_there_is_refused_and_named(caller: Caller, part: dict[str, object], expected: str) -> None:
    """What cannot be done is told with what was asked; nothing is kept."""
    design = caller.design(WORK)
    kept = caller.keep(WORK, design["version"], part=part)
    assert 400 <= kept["status"] < 500
    assert expected in str(kept)
    assert caller.design(WORK)["version"] == design["version"]


@pytest.mark.parametrize("unit", [Unit.INCH, Unit.MM])
def test_every_shape_can_be_picked(unit: Unit) -> None:
    """Each kind but the drawn path has a pick that is read as that kind, and a closed outline to know it by."""
    reading = Reading(unit)
    picks = {each["name"]: each for each in shape_picks(reading)}
    assert set(picks) == {kind.value for kind in ShapeKind} - {"free"}
    for name, pick in picks.items():
        assert SHAPE.parse(pick["text"], reading).kind.value == name
        assert pick["outline"][0][0] == "M"
        assert pick["outline"][-1][0] == "Z"
    assert (
        all("mm" in pick["text"] for pick in picks.values() if any(map(str.isdigit, pick["text"])))
        or not unit.is_metric
    )
