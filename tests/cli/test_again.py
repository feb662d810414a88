"""`./run again`: what a measurement changes, how a spoilt piece is cut again, what is refused."""

from __future__ import annotations

import json
import re
import shlex
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from fourply.cli.main import run
from fourply.wiring import parts

type Run = Callable[..., tuple[int, str, str]]

LIST = "No.,Width (in),Height (in)\nA-1,12,15\nA-2,9,12\n"
RULES = ("--set", "border=2 in", "--set", "moulding=none", "--set", "mount=cream 4-ply", "--steps", "16")
FRAMED = ("--set", "border=2 in", "--set", "moulding=ash 3/4", "--steps", "16")
DOCS = (Path(__file__).parents[2] / "docs" / "bench.md").read_text(encoding="utf-8")
SIDES = ("top", "left", "bottom", "right")


@pytest.fixture
def call(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Run:
    monkeypatch.setenv("FOURPLY_DATA", str(tmp_path / "shop"))
    monkeypatch.chdir(tmp_path)

    def called(*arguments: str) -> tuple[int, str, str]:
        code = run(["again", *arguments], parts())
        said = capsys.readouterr()
        return code, said.out, said.err

    return called


@pytest.fixture
def show(tmp_path: Path) -> str:
    path = tmp_path / "list.csv"
    path.write_text(LIST, encoding="utf-8")
    return str(path)


def document(path: Path) -> dict[str, Any]:
    read = json.loads(path.read_text(encoding="utf-8"))
    assert isinstance(read, dict)
    return read


def test_a_caliper_changes_the_run_the_face_the_ends_of_the_cuts_and_nothing_else(
    call: Run, show: str, tmp_path: Path
) -> None:
    code, out, _ = call(show, "A-1", "mat.1.caliper=0.070", *RULES, "--json", str(tmp_path / "a.json"))
    assert code == 0
    assert "mat.1.run: 0.055 in → 0.07 in" in out  # at 45 degrees the run is the caliper; derived
    assert "mat.1.face.width: 11.86 in → 11.89 in" in out  # 11 3/4 + 2 · 0.055, 11 3/4 + 2 · 0.07; derived
    assert "top, left, bottom, right: blade at the far end 1.945 in → 1.93 in" in out  # 2 - 0.055, 2 - 0.07; derived
    read = document(tmp_path / "a.json")
    assert read["schema"] == "fourply/measured/1"
    changed = {each["figure"] for each in read["value"]["changed"]}
    cuts = {f"cut.mat.1.{side}.{what}" for side in SIDES for what in ("far.blade", "near.blade", "length")}
    mat = {"mat.1.caliper", "mat.1.slant", "mat.1.run", "mat.1.face.width", "mat.1.face.height"}
    depth = {"stack.top_mat", "stack.depth", "art.to_glazing"}
    assert changed == mat | cuts | depth | {"cut.mat.1.straight", "cut.length.mat.1.straight"}  # derived
    assert (read["value"]["pieces"], read["value"]["open"]) == ([], [])
    resets = [each["what"] for each in read["value"]["resets"]]
    assert resets == ["board under the blade", "blade at the far end", "blade at the near end"]  # no guide, no stop


def test_a_tight_rabbet_is_a_fault_that_appears_and_a_deep_one_makes_it_vanish(call: Run, show: str) -> None:
    # 3/32 + 0.055 + 0.3 mm + 0.055 + 3/16 = 0.403; 3/8 - 0.403 = -0.028; derived
    _, out, _ = call(show, "A-1", "moulding.rabbet_depth=3/8", *FRAMED)
    assert "stack.spare: 0.222 in → -0.028 in" in out
    assert "appears: fault: The stack of 0.403 is deeper than the rabbet of 3/8." in out
    _, out, _ = call(show, "A-1", "stack.backing=1/2", *FRAMED)
    assert "appears: fault" in out
    _, out, _ = call(show, "A-1", "moulding.rabbet_depth=1", "--set", "points=3/8 in", *FRAMED)
    assert "vanishes: caution: Only 0.222 is left for points; 3/8 is wanted." in out


def test_a_wider_border_sets_the_guide_otherwise_and_makes_another_blank(call: Run, show: str) -> None:
    _, out, _ = call(show, "A-1", "mat.1.border.top=2 1/8", *RULES)
    assert "mat.1.blank.height: 18 3/4 in → 18 7/8 in" in out  # 2 + 14 3/4 + 2, 1/8 more; derived
    assert "A-1 top mat: height 18 3/4 in → 18 7/8 in; to be cut from white 4-ply 1 (sheet 1)" in out
    assert "A-1 top mat: top: guide 2 in → 2 1/8 in; left: near 2 in → 2 1/8 in; " in out


def test_a_blank_that_came_out_small_names_the_board_that_it_was_cut_from(call: Run, show: str) -> None:
    _, out, _ = call(show, "A-1", "mat.1.blank.width=15 5/8", *RULES)
    assert "A-1 top mat: width 15 3/4 in → 15 5/8 in; to be cut from white 4-ply 1 (sheet 1)" in out
    assert "cut.mat.1.top.length: 11.86 in → 11.735 in" in out  # 1/8 less; derived
    assert "not looked for with a figure that follows from others" in out


def test_what_was_put_in_and_what_follows_are_measured_together(call: Run, show: str) -> None:
    _, out, _ = call(show, "A-1", "mat.1.blank.width=15 5/8", "mat.1.caliper=0.070", *RULES)
    assert "cut.mat.1.top.length: 11.86 in → 11.765 in" in out  # 15 5/8 - 2 - 2 + 2 · 0.07; derived
    assert "stack.top_mat: 0.055 in → 0.07 in" in out


def test_a_rail_of_another_size_is_named_with_its_stick(call: Run, show: str) -> None:
    _, out, _ = call(show, "A-1", "frame.rabbet.width=15 7/8", "mat.1.caliper=0.055", *FRAMED)
    assert "Nothing changes" in out  # 15 3/4 + 1/8: as it is; derived
    _, out, _ = call(show, "A-1", "frame.rabbet.width=15 15/16", *FRAMED)
    assert re.search(r"A-1 top rail: long point 16 7/8 in → 16 15/16 in, .*to be cut from ash 3/4 \d", out)


def test_what_was_expected_changes_nothing_and_says_so(call: Run, show: str) -> None:
    code, out, _ = call(show, "A-1", "mat.1.caliper=0.055", *RULES)
    assert (code, out) == (0, "Nothing changes in A-1: this is what was expected.\n")


def test_a_spoilt_mat_comes_out_of_what_is_left_by_its_key_or_its_name(call: Run, show: str, tmp_path: Path) -> None:
    _, by_key, _ = call(show, "--spoilt", "A-2/mat.1", *RULES)
    _, by_name, _ = call(show, "--spoilt", "a-2 top mat", *RULES, "--json", str(tmp_path / "s.json"))
    assert by_name.startswith(by_key)
    assert "A-2 top mat, 12 3/4 x 15 3/4 in of white 4-ply" in by_key  # 9 - 2 · 1/8 + 2 · 2 by 12 - ...; derived
    assert "left over" in by_key
    assert "costs nothing" in by_key
    assert "guide 2, far 2, near 2: top mat window top, top mat window left" in by_key
    read = document(tmp_path / "s.json")
    assert read["schema"] == "fourply/recut/1"
    assert (read["value"]["bought"], read["value"]["cost_cents"]) == (False, 0)
    assert [len(each["strikes"]) for each in read["value"]["again"]] == [4]


def test_a_spoilt_pane_has_nothing_more_to_be_cut_in_it(call: Run, show: str) -> None:
    _, out, _ = call(show, "A-1", "--spoilt", "mount board", *RULES)
    assert "nothing: it is cut to size only" in out


@pytest.mark.parametrize(
    ("arguments", "code", "says"),
    [
        (("A-1", "mat.1.calipr=0.07"), 1, "known: mat.1.caliper"),
        (("A-1", "mat.1.caliper=thick"), 1, "'thick' is not a length"),
        (("A-1", "bevel.angle_deg=50"), 1, "a figure that is a length"),
        (("A-1", "moulding.rabbet_depth=0"), 1, "no figure is called"),
        (("A-1", "art.width=0"), 1, "art.width"),
        (("A-9", "mat.1.caliper=0.07"), 1, "no work is called 'A-9'"),
        (("--spoilt", "A-1 tip mat"), 1, "known: A-1 top mat"),
        (("A-1", "mat.1.caliper"), 64, "FIGURE=MEASURED"),
        (("A-1",), 64, "one of the two"),
        (("A-1", "mat.1.caliper=0.07", "--spoilt", "A-1/mat.1"), 64, "one of the two"),
        (("A-1", "mat.1.caliper=0.07", "--cutter", "no such cutter"), 1, "no such cutter"),
    ],
)
def test_what_cannot_be_is_refused_with_what_would_be_right(
    call: Run, show: str, arguments: tuple[str, ...], code: int, says: str
) -> None:
    found, _, err = call(show, *arguments, *RULES)
    assert (found, says in err) == (code, True), err


def test_a_spoilt_rail_is_refused_with_what_to_do(call: Run, show: str) -> None:
    code, _, err = call(show, "--spoilt", "A-1 top rail", *FRAMED)
    assert code == 1
    assert "sawn again" in err


def test_a_cutter_of_the_shop_sets_its_own_reading(call: Run, show: str) -> None:
    _, out, _ = call(show, "A-1", "mat.1.border.top=2 1/8", *RULES, "--cutter", "inch cutter")
    assert "on the inch cutter" in out
    assert "top: guide 2 in → 2 1/8 in; left: near 2 in → 2 1/8 in" in out  # its scale shows eighths; derived
    assert "set 2 in" not in out


def test_a_show_without_a_work_that_can_be_made_says_so(call: Run, tmp_path: Path) -> None:
    (tmp_path / "bad.csv").write_text("No.,Width (in),Height (in)\nA-1,bad,15\n", encoding="utf-8")
    code, _, err = call("bad.csv", "A-1", "mat.1.caliper=0.07")
    assert code == 2
    assert "No work can be made" in err


def test_the_examples_of_the_documentation_come_out_as_it_says(call: Run, tmp_path: Path) -> None:
    section = DOCS.partition("## After a measurement")[2]
    (listed,) = re.findall(r"^```text\n(No\..*?)^```$", section, re.MULTILINE | re.DOTALL)
    (tmp_path / "list.csv").write_text(listed, encoding="utf-8")
    examples = re.findall(r"^```text\n\./run again (.*?)\n(?:\n(.*?))?^```$", section, re.MULTILINE | re.DOTALL)
    assert len(examples) == 2
    for line, shown in examples:
        code, out, err = call(*shlex.split(line), "--steps", "16")
        assert (code, err) == (0, "")
        assert not shown or out == shown
        assert out
