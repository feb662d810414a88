"""Instances and plans survive the way into a file and back; rubbish gives BadFile and never a traceback."""

from __future__ import annotations

import copy
import json
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fourply.errors import BadFile
from fourply.files.instances import (
    plan_from_data,
    plan_to_data,
    problem_from_data,
    problem_to_data,
    read_instance,
    read_plan,
    write_plan,
)
from fourply.planning.boards import plan_boards
from fourply.planning.budget import Budget
from fourply.planning.problem import Box, Cutter, Fixed, Kind, Locked, Piece, Problem, Rect, Stock, Wish

BENCH = Path(__file__).resolve().parents[3] / "shared" / "bench"

PLAIN: dict[str, object] = {
    "unit": "nm",
    "oriented": False,
    "sheets": [{"w": 100, "h": 80, "cost": 50, "copies": None}],
    "rack": [{"w": 40, "h": 30, "cost": 5, "copies": 1}],
    "blanks": [{"w": 60, "h": 50, "copies": 2, "fallout": [40, 30]}, {"w": 30, "h": 20, "copies": 1, "fallout": None}],
    "fallout_cost": 2,
    "trim": 0,
}

RICH = Problem(
    pieces=(
        Piece(key="a", w=60, h=50, copies=2, fallouts=(Rect(40, 30), Rect(20, 45))),
        Piece(key="b", w=30, h=20, lot="x", most=Rect(31, 22), turnable=False),
    ),
    stock=(
        Stock(key="s", w=130, h=60, cost=100, zones=(Box(120, 0, 5, 5),)),
        Stock(key="r", w=31, h=21, cost=7, kind=Kind.RACK, copies=1, factory_edges=True),
    ),
    fallout_cost=2,
    cutter=Cutter(kerf=1, trim=2, least_held=3, least_strip=1, longest_cut=500),
    keep=Rect(10, 4),
    locked=(Locked("s", (Fixed("a", 2, 2),)),),
    wishes=(Wish.CUTS, Wish.REMNANT),
)


def test_the_plain_form_is_read() -> None:
    problem = problem_from_data(PLAIN, "x.json")
    assert [(p.w, p.h, p.copies, p.fallouts) for p in problem.pieces] == [(60, 50, 2, (Rect(40, 30),)), (30, 20, 1, ())]
    assert [(s.kind, s.cost, s.copies) for s in problem.stock] == [(Kind.SHEET, 50, None), (Kind.RACK, 5, 1)]
    assert (problem.fallout_cost, problem.oriented, problem.cutter) == (2, False, Cutter())


def test_a_problem_with_every_rule_comes_back_equal() -> None:
    assert problem_from_data(json.loads(json.dumps(problem_to_data(RICH))), "x.json") == RICH


def test_a_plan_comes_back_equal(tmp_path: Path) -> None:
    plan = plan_boards(RICH, Budget(steps=4))
    write_plan(tmp_path / "plan.json", RICH, plan)
    assert read_plan(tmp_path / "plan.json", RICH) == plan


def _with(path: list[str | int], value: object) -> object:
    data = copy.deepcopy(PLAIN)
    at: object = data
    for step in path[:-1]:
        at = at[step]  # type: ignore[index]
    at[path[-1]] = value  # type: ignore[index]
    return data


FAULTS: dict[str, tuple[list[str | int], object, str]] = {
    "another unit": (["unit"], "mm", "unit"),
    "a size that is text": (["blanks", 0, "w"], "60", "blanks[0].w"),
    "a size that is a fraction": (["blanks", 0, "w"], 60.5, "blanks[0].w"),
    "a size that is true": (["blanks", 0, "w"], True, "blanks[0].w"),
    "a size of zero": (["blanks", 1, "h"], 0, "blanks[1].h"),
    "a size beyond exact numbers": (["blanks", 1, "h"], 2**60, "blanks[1].h"),
    "a negative cost": (["rack", 0, "cost"], -1, "rack[0].cost"),
    "copies of nothing": (["blanks", 0, "copies"], 0, "blanks[0].copies"),
    "half a fallout": (["blanks", 0, "fallout"], [40], "blanks[0].fallout"),
    "a fallout too large": (["blanks", 0, "fallout"], [60, 50], "blanks[0]"),
    "blanks that are no list": (["blanks"], {}, "blanks"),
    "no blank": (["blanks"], [], "no piece"),
    "a blank that is no object": (["blanks", 0], 5, "blanks[0]"),
    "a sheet without a size": (["sheets", 0], {"h": 5, "cost": 1}, "sheets[0] has no w"),
    "a misspelt key": (["kref"], 2, "kerf"),
    "two blanks of one key": (["blanks", 0, "key"], "1", "twice"),
    "more blanks than anyone can cut": (["blanks", 0, "copies"], 10**9, "too many"),
    "a longest cut of nothing": (["longest_cut"], 0, "longest_cut"),
    "a locked board that is not there": (["locked"], [{"from": {"kind": "rack", "index": 7}, "fixed": []}], "index"),
    "a locked board of no kind": (["locked"], [{"from": {"kind": "door", "index": 0}, "fixed": []}], "kind"),
    "a locked board without pieces": (["locked"], [{"from": {"kind": "rack", "index": 0}, "fixed": []}], "locked[0]"),
    "damage without a size": (["sheets", 0, "damaged"], [[0, 0, 0, 5]], "damaged[0]"),
    "damage off the sheet": (["sheets", 0, "damaged"], [[99, 0, 2, 5]], "sheets[0]"),
    "a flag that is a number": (["oriented"], 1, "oriented"),
    "a wish that nobody grants": (["wishes"], ["speed"], "wishes[0]"),
    "a lot that is a number": (["blanks", 0, "lot"], 3, "lot"),
}


@pytest.mark.parametrize(("path", "value", "place"), FAULTS.values(), ids=FAULTS.keys())
def test_a_fault_names_its_file_and_place(path: list[str | int], value: object, place: str) -> None:
    with pytest.raises(BadFile) as fault:
        problem_from_data(_with(path, value), "x.json")
    assert "x.json" in str(fault.value)
    assert place in str(fault.value)


def test_an_unknown_key_that_is_no_slip_is_left_alone() -> None:
    assert problem_from_data(_with(["note"], "made up"), "x.json") == problem_from_data(PLAIN, "x.json")


CONTENT = {
    "no JSON": b"{",
    "no text": b"\xff\xfe\x00",
    "nested too deep": b"[" * 200_000,
    "another thing": b"[1, 2]",
    "nothing": b"",
}


@pytest.mark.parametrize("content", CONTENT.values(), ids=CONTENT.keys())
def test_rubbish_is_a_bad_file(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "x.json").write_bytes(content)
    with pytest.raises(BadFile, match=r"x\.json"):
        read_instance(tmp_path / "x.json")


def test_a_file_that_is_not_there_is_a_bad_file(tmp_path: Path) -> None:
    with pytest.raises(BadFile, match=r"x\.json"):
        read_instance(tmp_path / "x.json")


JSON = st.recursive(
    st.none() | st.booleans() | st.integers(-5, 200) | st.floats() | st.text(max_size=5),
    lambda inner: (
        st.lists(inner, max_size=4)
        | st.dictionaries(
            st.sampled_from(["w", "h", "cost", "copies", "blanks", "sheets", "rack", "kind"]), inner, max_size=5
        )
    ),
    max_leaves=20,
)


@given(JSON)
def test_any_json_is_a_problem_or_a_bad_file(data: object) -> None:
    try:
        problem_from_data(data, "x.json")
    except BadFile as fault:
        assert str(fault)  # noqa: PT017 — the sentence itself must not fail


@given(st.sampled_from(["cost", "lower_bound", "stock"]), JSON)
def test_any_plan_is_read_or_a_bad_file(key: str, value: object) -> None:
    data = plan_to_data(RICH, plan_boards(RICH, Budget(steps=1)))
    try:
        plan_from_data(RICH, data | {key: value}, "x.json")
    except BadFile as fault:
        assert str(fault)  # noqa: PT017


def test_a_plan_nested_too_deep_is_a_bad_file() -> None:
    data = plan_to_data(RICH, plan_boards(RICH, Budget(steps=1)))
    tree: object = {"x": 0, "y": 0, "w": 1, "h": 1, "waste": True}
    for _ in range(300):
        tree = {"x": 0, "y": 0, "w": 1, "h": 1, "cut": "v", "children": [tree]}
    data["stock"] = [{"from": {"kind": "sheet", "index": 0}, "tree": tree}]
    with pytest.raises(BadFile):
        plan_from_data(RICH, data, "x.json")


@pytest.mark.skipif(not BENCH.exists(), reason="the board benchmark is not beside the project")
@pytest.mark.parametrize("name", ["metric_012_1008", "mixed_045_1019", "photo_120_1021", "show_030_1013"])
def test_an_outside_checker_accepts_our_plans(tmp_path: Path, name: str) -> None:
    source = BENCH / "shop" / f"{name}.json"
    problem = read_instance(source)
    write_plan(tmp_path / "plan.json", problem, plan_boards(problem, Budget(steps=4)))
    call = [sys.executable, str(BENCH / "check_plan.py"), str(source), str(tmp_path / "plan.json")]
    result = subprocess.run(call, capture_output=True, text=True, check=False)
    assert result.returncode == 0, result.stderr
