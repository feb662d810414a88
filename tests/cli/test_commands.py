"""Whole commands on real files: what is made, what is said, the exit code."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from fourply.cli.main import run
from fourply.wiring import parts

type Run = Callable[..., tuple[int, str, str]]

LIST = "No.,Title,Width (in),Height (in)\nA-1,Low water,14 1/2,11 1/4\nA-2,High water,10,13\n"
SPOILT = LIST + "A-3,No size,nonsense,13\nA-4,A date,3-Mar,13\nA-1,Twice,9,9\n"


@pytest.fixture
def call(capsys: pytest.CaptureFixture[str]) -> Run:
    def called(*arguments: str | Path) -> tuple[int, str, str]:
        code = run([str(argument) for argument in arguments], parts())
        said = capsys.readouterr()
        return code, said.out, said.err

    return called


def written(folder: Path, text: str, name: str = "list.csv") -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def test_no_arguments_say_what_to_do_next(call: Run) -> None:
    code, out, _ = call()
    assert code == 0
    assert "./run demo" in out
    assert "./run make" in out


@pytest.mark.parametrize(
    "arguments", [("nope",), ("make",), ("make", "no-such-file.csv", "--out", "x"), ("one", "1x1", "--order", "up")]
)
def test_a_wrong_call_exits_with_64(call: Run, arguments: tuple[str, ...]) -> None:
    code, out, err = call(*arguments)
    assert code == 64
    assert "Error" in err
    assert not out


def test_make_writes_everything_that_the_bench_needs(call: Run, tmp_path: Path) -> None:
    code, out, err = call("make", written(tmp_path, LIST), "--out", tmp_path / "out", "--steps", "20")
    assert (code, err) == (0, "")
    names = {path.name for path in (tmp_path / "out").iterdir()}
    assert names == {
        "tickets.pdf",
        "cutting.pdf",
        "bench.pdf",
        "buy.csv",
        "chops.csv",
        "service.csv",
        "show.json",
        "plan.json",
        "steps.json",
        "drawings",
    }
    assert {path.name for path in (tmp_path / "out" / "drawings").iterdir()} == {"A-1-front.svg", "A-2-front.svg"}
    assert "2 works made, 0 with faults" in out
    assert (tmp_path / "out" / "tickets.pdf").read_bytes().startswith(b"%PDF")


def test_show_json_keeps_its_contract(call: Run, tmp_path: Path) -> None:
    call("make", written(tmp_path, SPOILT), "--out", tmp_path / "out", "--steps", "20")
    show = json.loads((tmp_path / "out" / "show.json").read_text(encoding="utf-8"))
    assert show["schema"] == 1
    first = show["works"][0]
    assert (first["id"], first["title"]) == ("A-1", "Low water")
    assert first["source"] == {"file": "list.csv", "row": 2}
    figures = first["package"]["figures"]
    width = figures["window.width"]
    assert width["value"] == (29 * 64 // 2 - 16) * 396_875  # 14 1/2 less two overlaps of 1/8, in 64ths of an inch
    assert width["operands"] == {"sheet": "art.width", "overlap": "treatment.overlap", "grid": "grid"}
    assert show["rules"][width["rule"]]["formula"] == "sheet - 2 * overlap"
    for figure in figures.values():
        assert set(figure.get("operands", {}).values()) <= figures.keys()
    assert {"file", "row", "column", "found", "expected"} == set(show["faults"][0])


def test_plan_json_holds_each_board_with_its_problem(call: Run, tmp_path: Path) -> None:
    call("make", written(tmp_path, LIST), "--out", tmp_path / "out", "--steps", "20")
    plan = json.loads((tmp_path / "out" / "plan.json").read_text(encoding="utf-8"))
    board = next(board for board in plan["boards"] if board["stuff"] == "board")
    assert set(board) == {"material", "pieces", "problem", "plan", "stuff"}
    assert set(board["pieces"]) == {"A-1/mat.1", "A-1/mount", "A-2/mat.1", "A-2/mount"}
    assert board["plan"]["lower_bound"] <= board["plan"]["cost"]
    assert plan["panes"][0]["stuff"] == "glazing"


def test_faults_are_told_by_row_and_good_rows_are_still_made(call: Run, tmp_path: Path) -> None:
    code, out, err = call("make", written(tmp_path, SPOILT), "--out", tmp_path / "out", "--steps", "20")
    assert code == 2
    assert "list.csv, row 4, Width (in): 'nonsense'" in err
    assert "list.csv, row 5" in err
    assert "spreadsheet" in err
    assert "list.csv, row 6, No.: 'A-1'" in err
    assert "2 works made, 3 with faults" in out


def test_a_show_of_which_nothing_can_be_cut_still_gets_its_papers(call: Run, tmp_path: Path) -> None:
    path = written(tmp_path, "title,width (in),height (in)\nA sail,900,1200\n")
    code, _, err = call("make", path, "--out", tmp_path / "out")
    assert code == 2
    assert "no sheet of white 4-ply holds it" in err
    assert (tmp_path / "out" / "cutting.pdf").read_bytes().startswith(b"%PDF")


def test_strict_makes_nothing_where_a_row_has_a_fault(call: Run, tmp_path: Path) -> None:
    code, _, err = call("make", written(tmp_path, SPOILT), "--out", tmp_path / "out", "--strict")
    assert code == 2
    assert "Nothing made" in err
    assert not (tmp_path / "out").exists()


def test_a_pair_without_an_order_names_the_option(call: Run, tmp_path: Path) -> None:
    path = written(tmp_path, "title,size\nOne,16 x 20 in\n")
    code, _, err = call("make", path, "--out", tmp_path / "out")
    assert code == 2
    assert "--order" in err
    code, _, err = call("make", path, "--out", tmp_path / "out", "--order", "width x height", "--steps", "5")
    assert (code, err) == (0, "")


def test_json_prints_totals_for_a_program(call: Run, tmp_path: Path) -> None:
    _, out, _ = call("make", written(tmp_path, LIST), "--out", tmp_path / "out", "--json", "--steps", "20")
    assert json.loads(out)["works"] == 2


def test_quiet_prints_nothing_that_is_no_fault(call: Run, tmp_path: Path) -> None:
    _, out, err = call("make", written(tmp_path, LIST), "--out", tmp_path / "out", "--quiet", "--steps", "20")
    assert (out, err) == ("", "")


def test_a_setting_holds_for_every_work_and_says_where_it_is_from(call: Run, tmp_path: Path) -> None:
    path = written(tmp_path, LIST)
    _, out, _ = call("why", path, "A-2", "mat.1.border.top", "--set", "border=4 in")
    assert "4 in" in out
    assert "command line" in out


@pytest.mark.parametrize(
    ("setting", "says"),
    [
        ("border=nonsense", "border = nonsense"),
        ("bordr=3", "border"),
        ("mats=gold leaf", "gold leaf"),
        ("border", "RULE=VALUE"),
    ],
)
def test_a_wrong_setting_says_what_would_be_right(call: Run, tmp_path: Path, setting: str, says: str) -> None:
    code, _, err = call("make", written(tmp_path, LIST), "--out", tmp_path / "out", "--set", setting)
    assert code in {1, 64}
    assert says in err


def test_why_explains_a_figure_down_to_what_was_measured(call: Run, tmp_path: Path) -> None:
    code, out, _ = call("why", written(tmp_path, LIST), "A-1", "outer.width")
    assert code == 0
    assert "art.width = 14 1/2 in (list.csv, row 2)" in out


def test_why_without_a_figure_lists_them_all(call: Run, tmp_path: Path) -> None:
    _, out, _ = call("why", written(tmp_path, LIST), "A-1")
    for path in ("window.width", "mat.1.opening.height", "cut.mat.1.top.guide"):
        assert f"{path} = " in out


@pytest.mark.parametrize("wrong", [("Z-9",), ("A-1", "mat.1.bordr.top")])
def test_why_names_the_nearest_where_there_is_no_such_thing(call: Run, tmp_path: Path, wrong: tuple[str, ...]) -> None:
    code, _, err = call("why", written(tmp_path, LIST), *wrong)
    assert code == 1
    assert "known:" in err
    assert len(err) < 600


def test_one_prints_every_size_of_a_typed_work(call: Run) -> None:
    code, out, _ = call("one", "10 3/4 x 13 1/2", "--order", "width x height", "--set", "moulding=ash 3/4")
    assert code == 0
    assert "10 1/2 x 13 1/4" in out
    assert "long point" in out


def test_one_makes_its_papers_too(call: Run, tmp_path: Path) -> None:
    code, _, _ = call("one", "300 w x 400 h", "--unit", "mm", "--out", tmp_path / "out")
    assert code == 0
    assert (tmp_path / "out" / "tickets.pdf").exists()


@pytest.mark.parametrize("size", ["nonsense", "10 x", "-3 x 4", "1e9 x 4", "1/0 x 4", "x" * 200_000, "10 x 12"])
def test_one_refuses_a_size_that_it_cannot_read(call: Run, size: str) -> None:
    code, out, err = call("one", size)
    assert code == 1
    assert not out
    assert len(err) < 600


def test_the_demo_is_made_and_says_where_it_is(call: Run, tmp_path: Path) -> None:
    code, out, err = call("demo", "--out", tmp_path / "demo", "--metric")
    assert (code, err) == (0, "")
    assert (tmp_path / "demo" / "show" / "metric.toml").exists()
    assert "tickets.pdf" in out
    assert "./run make" in out


def test_nest_plans_an_instance_and_says_what_is_proved(call: Run, tmp_path: Path) -> None:
    instance = {
        "sheets": [{"w": 100, "h": 80, "cost": 5, "copies": None}],
        "rack": [],
        "blanks": [{"w": 50, "h": 40, "copies": 4, "fallout": None}],
        "fallout_cost": 1,
        "oriented": False,
        "trim": 0,
    }
    path = written(tmp_path, json.dumps(instance), "a.json")
    code, out, _ = call("nest", path, "--steps", "5", "--out", tmp_path / "plan.json")
    assert code == 0
    assert "cost 5, proved" in out
    assert json.loads((tmp_path / "plan.json").read_text(encoding="utf-8"))["cost"] == 5


@pytest.mark.parametrize("text", ["", "{", "[]", '{"sheets": 3}', '{"blanks": [], "sheets": []}'])
def test_nest_refuses_what_is_no_instance(call: Run, tmp_path: Path, text: str) -> None:
    code, _, err = call("nest", written(tmp_path, text, "bad.json"))
    assert code == 1
    assert "bad.json" in err
