"""`./run bench`: the list as it is printed, its totals, the file for programs, what is refused."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from fourply.bench.steps import Steps
from fourply.cli.main import run
from fourply.files.codec import load
from fourply.wiring import parts

type Run = Callable[..., tuple[int, str, str]]

LIST = "No.,Width (in),Height (in),Copies\nA-1,12,15,3\nA-2,bad,15,1\n"
RULES = ("--set", "border=2 in", "--set", "bottom=+1/4 in", "--set", "moulding=none", "--steps", "16")


@pytest.fixture
def call(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Run:
    monkeypatch.setenv("FOURPLY_DATA", str(tmp_path / "shop"))

    def called(*arguments: str | Path) -> tuple[int, str, str]:
        code = run([str(argument) for argument in arguments], parts())
        said = capsys.readouterr()
        return code, said.out, said.err

    return called


@pytest.fixture
def show(tmp_path: Path) -> Path:
    path = tmp_path / "list.csv"
    path.write_text(LIST, encoding="utf-8")
    return path


def test_the_list_says_what_to_set_and_what_other_orders_would_take(call: Run, show: Path, tmp_path: Path) -> None:
    code, out, err = call("bench", show, *RULES, "--json", tmp_path / "steps.json")
    assert code == 2  # a row has a fault; what is good is ordered
    assert "A-2" in err or "row 3" in err
    assert "guide 2, far 2, near 2" in out
    assert "guide 2 1/4, far 2, near 2" in out
    assert "3 times A-1 top mat" in out
    totals = {line.split("  ")[0]: line.split() for line in out.splitlines() if line.startswith(("this", "mat by"))}
    assert (totals["this order"][2], totals["mat by mat"][3]) == ("2", "7")  # 2 N + 1 one by one; derived
    assert "no order takes less" in out
    assert "blanks" in out
    steps = load(Steps, json.loads((tmp_path / "steps.json").read_text(encoding="utf-8")), "steps.json")
    assert steps.window.guides == 2


def test_times_of_ones_own_change_the_time_and_are_named(call: Run, show: Path, tmp_path: Path) -> None:
    times = tmp_path / "times.toml"
    times.write_text('schema = 1\nname = "our bench"\n[times]\nguide = 4000\n', encoding="utf-8")
    _, out, _ = call("bench", show, *RULES, "--times", times)
    assert "times: our bench, " in out
    assert "2 h" in out
    times.write_text("schema = 1\n[times]\nguide = -4\n", encoding="utf-8")
    code, _, err = call("bench", show, "--times", times)
    assert code == 1
    assert "row 3, times.guide" in err


def test_a_cutter_that_the_shop_has_not_is_refused_by_name(call: Run, show: Path) -> None:
    code, _, err = call("bench", show, "--cutter", "no such cutter")
    assert code == 1
    assert "no such cutter" in err


def test_a_cutter_of_the_shop_sets_its_own_scale(call: Run, show: Path) -> None:
    code, out, _ = call("bench", show, *RULES, "--cutter", "inch cutter")
    assert code == 2
    assert "on the inch cutter" in out
    assert "guide 2, far" in out


def test_a_show_without_a_work_that_can_be_made_says_so(call: Run, tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_text("No.,Width (in),Height (in)\nA-1,bad,15\n", encoding="utf-8")
    code, _, err = call("bench", path)
    assert code == 2
    assert "No work can be made" in err
