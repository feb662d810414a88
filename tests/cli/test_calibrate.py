"""Calibrating by commands: the sheet, the readings, what does not fit, what is accepted, what to set then."""

from __future__ import annotations

import csv
import re
from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path

import pytest

from fourply.bench.profile import Profile
from fourply.cli.main import run
from fourply.files.cutters import read_cutter, starter_cutters, write_cutter
from fourply.wiring import parts

type Run = Callable[..., tuple[int, str, str]]


@pytest.fixture
def call(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> Run:
    def called(*arguments: str | Path) -> tuple[int, str, str]:
        code = run([str(argument) for argument in arguments] + ["--data", str(tmp_path / "shop")], parts())
        said = capsys.readouterr()
        return code, said.out, said.err

    return called


def printed(call: Run, folder: Path) -> Path:
    code, out, err = call("calibrate", "Inch Cutter", "--out", folder)
    assert (code, err) == (0, "")
    assert (folder / "inch_cutter-test-cut.pdf").read_bytes().startswith(b"%PDF")
    assert "--measured" in out
    return folder / "inch_cutter-test-cut.csv"


def fill(table: Path, values: Mapping[str, str], date: str = "2026-03-01") -> Path:
    """Fill in boxes by number as a person would, and the facts of the day."""
    rows = list(csv.reader(table.read_text("utf-8").splitlines()))
    for row in rows[1:]:
        row[3] = {"date": date, "caliper": "0.055"}.get(row[1], row[3])
        row[3] = values.get(row[0], row[3]) if row[0] else row[3]
    filled = table.with_name("filled.csv")
    filled.write_text("\n".join(",".join(f'"{cell}"' for cell in row) for row in rows) + "\n", encoding="utf-8")
    return filled


def kept(call: Run, folder: Path) -> Profile:
    """Return the inch cutter as the shop keeps it."""
    file = folder / "given.toml"
    assert call("cutters", "inch cutter", "--write", file)[0] == 0
    profile = read_cutter(file.name, file.read_bytes()).profile
    assert profile is not None
    return profile


WIDE = {"1": "1 1/32", "4": "2 5/32", "7": "4 17/32", "10": "3 13/32", "13": "-1/32", "15": "-1/32"}


def test_a_cutter_is_calibrated_from_sheet_to_setting(call: Run, tmp_path: Path) -> None:
    table = fill(printed(call, tmp_path), WIDE)

    code, out, err = call("calibrate", "inch cutter", "--measured", table)
    assert (code, err) == (0, "")
    assert "Next, read" in out
    assert "Nothing is changed" in out
    assert not (tmp_path / "shop").exists()

    code, out, _ = call("calibrate", "inch cutter", "--measured", table, "--accept")
    assert code == 0
    profile = kept(call, tmp_path)
    assert profile.calibration is not None
    assert profile.calibration.readings == 6
    assert profile.calibration.start.value == pytest.approx(25.4 / 32, abs=0.05)

    code, out, _ = call("cutters", "inch cutter", "--border", "2 1/2")
    assert code == 0
    assert out.startswith("set 2 15/32 to get 2 1/2 (")
    code, out, _ = call("cutters")
    assert "calibrated 2026-03-01 from 6 readings" in out
    assert "metric cutter" in out


def test_the_same_readings_say_the_same_once_they_are_accepted(call: Run, tmp_path: Path) -> None:
    table = fill(printed(call, tmp_path), WIDE)
    _, before, _ = call("calibrate", "inch cutter", "--measured", table, "--accept")
    code, after, err = call("calibrate", "inch cutter", "--measured", table, "--accept")
    assert code == 1
    assert "in force already" in err
    assert after.splitlines()[:9] == before.splitlines()[:9]


def test_a_second_test_cut_starts_from_the_first(call: Run, tmp_path: Path) -> None:
    first = fill(printed(call, tmp_path), WIDE)
    assert call("calibrate", "inch cutter", "--measured", first, "--accept")[0] == 0
    clean = fill(printed(call, tmp_path), {"13": "0", "15": "0"}, date="2026-04-01")
    assert call("calibrate", "inch cutter", "--measured", clean, "--accept")[0] == 0
    profile = kept(call, tmp_path)
    one, two = (each.start.value for each in profile.calibrations)
    assert two == pytest.approx(one, abs=0.01)


def test_files_of_cutters_are_taken_over_once_and_stay(call: Run, tmp_path: Path) -> None:
    folder = tmp_path / "shop" / "cutters"
    folder.mkdir(parents=True)
    file = write_cutter(replace(starter_cutters()["inch cutter"], name="Old bench"))
    (folder / "old.toml").write_bytes(file)
    code, out, err = call("cutters")
    assert (code, "Old bench" in out, "Old bench is kept with the shop now" in err) == (0, True, True)
    assert [path.name for path in folder.iterdir()] == ["old.toml.taken"]
    assert (folder / "old.toml.taken").read_bytes() == file
    code, out, err = call("cutters", "old bench", "--border", "2 1/2")
    assert (code, out.startswith("set 2 1/2"), err) == (0, True, "")
    (folder / "again.toml").write_bytes(file)
    code, _, err = call("cutters")
    assert (code, "a name that no other cutter has" in err) == (2, True)
    assert (folder / "again.toml").exists()


def test_a_cutter_goes_out_as_a_file_and_comes_back_changed(call: Run, tmp_path: Path) -> None:
    file = tmp_path / "mine.toml"
    assert call("cutters", "inch cutter", "--write", file)[0] == 0
    assert not (tmp_path / "shop").exists()
    text = file.read_text("utf-8")
    file.write_text(text.replace('name = "inch cutter"', 'name = "mine"'), encoding="utf-8")
    for bar in ("40 in", "60 in"):
        file.write_text(re.sub(r"(?m)^bar = .*$", f'bar = "{bar}"', file.read_text("utf-8")), encoding="utf-8")
        assert call("cutters", "--take", file)[0] == 0
        assert f"bar {bar}" in call("cutters", "Mine")[1]
    file.write_text('schema = 1\nname = "mine"\n', encoding="utf-8")
    code, out, err = call("cutters", "--take", file)
    assert (code, out, "mine.toml" in err) == (2, "", True)
    assert "bar 60 in" in call("cutters", "mine")[1]


def test_drift_is_shown(call: Run, tmp_path: Path) -> None:
    table = printed(call, tmp_path)
    for date, values in (("2026-03-01", WIDE), ("2026-04-01", {"1": "1", "4": "2 1/8", "7": "4 1/2", "10": "3 3/8"})):
        assert call("calibrate", "inch cutter", "--measured", fill(table, values, date), "--accept")[0] == 0
    _, out, _ = call("cutters", "inch cutter")
    assert "before that 2026-03-01" in out
    assert "moved since the calibration before by more than its error" in out


def test_readings_that_do_not_fit_change_nothing_until_they_are_decided(call: Run, tmp_path: Path) -> None:
    table = fill(printed(call, tmp_path), WIDE | {"4": "2 21/32"})
    code, out, _ = call("calibrate", "inch cutter", "--measured", table)
    assert code == 2
    assert "does not fit: reading 4 (border mid) is" in out
    assert "without what does not fit: 1.0" in out
    code, _, err = call("calibrate", "inch cutter", "--measured", table, "--accept")
    assert code == 1
    assert "do not fit" in err
    assert not (tmp_path / "shop").exists()
    code, out, _ = call("calibrate", "inch cutter", "--measured", table, "--leave-out", "4", "--accept")
    assert code == 0
    assert "does not fit" not in out
    code, _, err = call("calibrate", "inch cutter", "--measured", table, "--keep", "99")
    assert code == 1
    assert "no reading is called '99'" in err


def test_a_guide_that_is_askew_is_told_how_to_move(call: Run, tmp_path: Path) -> None:
    askew = {"2": "1 3/32", "3": "1", "5": "2 7/32", "6": "2 1/8"}
    _, out, _ = call("calibrate", "inch cutter", "--measured", fill(printed(call, tmp_path), askew))
    assert "move its near end out by" in out


def test_faults_are_told_by_row(call: Run, tmp_path: Path) -> None:
    code, _, err = call("calibrate", "inch cutter", "--measured", fill(printed(call, tmp_path), {"1": "wide"}))
    assert code == 2
    assert "filled.csv, row 9, value: 'wide'" in err


def test_a_border_out_of_reach_says_what_can_be_done(call: Run) -> None:
    code, out, _ = call("cutters", "inch cutter", "--border", "3/4", "--why")
    assert code == 2
    assert "with a strip of 1" in out
    assert "take the nearest border that can be set: set 1" in out
    assert "guide.wanted" in out


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (
            ("--board", "60 x 20"),
            "The edge of 60 in is longer than the bar: two passes from the same guide edge, 40 and 20",
        ),
        (("--board", "60 x 20"), "part by 0.035 in if the board is turned by 0.1 degrees, or cut the other edge first"),
        (("--board", "36 x 36"), "The edge of 36 in is longer than the squaring arm"),
        (("--board", "16 x 20"), "in one pass"),
        (("--caliper", "1/16"), "bevel blade: 0.118 in out along its slant"),
        (("--caliper", "1/16"), "straight blade: 0.083 in out"),
        (("--cut", "70 ft"), "bevel blade: change it, 21.336 of 20 m"),
        (("--cut", "70 ft"), "straight blade: good"),
    ],
)
def test_a_board_and_a_blade_are_asked_of_a_cutter(call: Run, arguments: tuple[str, ...], told: str) -> None:
    code, out, err = call("cutters", "inch cutter", *arguments)
    assert (code, err) == (0, "")
    assert told in out


@pytest.mark.parametrize(
    ("arguments", "code", "told"),
    [
        (("cutters", "no such"), 1, "no cutter is called 'no such'"),
        (("cutters", "--border", "2"), 64, "name the cutter"),
        (("cutters", "inch cutter", "--board", "big"), 1, "write"),
        (("cutters", "inch cutter", "--border", "2", "--at", "far"), 64, "need the --length"),
        (("cutters", "inch cutter", "--border", "0"), 1, "a border is above nothing"),
        (("cutters", "inch cutter", "--border", "wide"), 1, "write a length"),
        (("calibrate", "inch cutter", "--caliper", "2 in"), 1, "a board of at most"),
    ],
)
def test_a_wrong_call_says_what_would_be_right(call: Run, arguments: tuple[str, ...], code: int, told: str) -> None:
    found, _, err = call(*arguments)
    assert found == code
    assert told in err


def test_a_cutter_file_that_is_spoilt_is_told_as_such(call: Run, tmp_path: Path) -> None:
    folder = tmp_path / "shop" / "cutters"
    folder.mkdir(parents=True)
    (folder / "mine.toml").write_text('schema = 1\nname = "mine"\n', encoding="utf-8")
    code, out, err = call("cutters")
    assert code == 2
    assert "inch cutter" in out
    assert "mine.toml" in err
    for name in ("mine", "inch cutter"):  # the broken file may be the shop's own of that name
        code, _, err = call("calibrate", name)
        assert code == 1
        assert "mine.toml" in err


WORKS = "No.,Title,Width (in),Height (in)\nA-1,Low water,14 1/2,11 1/4\nA-2,High water,10,13\n"


def test_a_show_is_made_and_asked_why_on_a_cutter_of_the_shop(call: Run, tmp_path: Path) -> None:
    """2 15/32 is set to get 2 1/2, as `cutters --border` says of the same test cut; the bevel is the cutter's own."""
    table = fill(printed(call, tmp_path), WIDE)
    assert call("calibrate", "inch cutter", "--measured", table, "--accept")[0] == 0
    works = tmp_path / "list.csv"
    works.write_text(WORKS, encoding="utf-8")
    on = ("--cutter", "Inch Cutter")

    code, out, err = call("why", works, "A-1", "cut.mat.1.top.set", *on)
    assert (code, err) == (0, "")
    assert "to the nearest 1/32 in = 2 15/32 in" in out
    assert "inch cutter, 6 readings of 2026-03-01" in out
    _, out, _ = call("why", works, "A-1", "mat.1.run", *on)
    assert "bevel.angle_deg = 45 (test cut of 2026-03-01 on inch cutter)" in out
    _, out, _ = call("why", works, "A-1", "mat.1.run", "--set", "bevel_deg=52", *on)
    assert "bevel.angle_deg = 52 (command line)" in out

    code, out, err = call("make", works, "--out", tmp_path / "out", "--steps", "5", *on)
    assert (code, err) == (0, "")
    show = (tmp_path / "out" / "show.json").read_text("utf-8")
    assert '"cut.mat.1.top.set"' in show
    code, _, err = call("make", works, "--out", tmp_path / "out", "--cutter", "nobody's")
    assert code == 1
    assert "inch cutter" in err


def test_without_a_cutter_nothing_is_corrected(call: Run, tmp_path: Path) -> None:
    works = tmp_path / "list.csv"
    works.write_text(WORKS, encoding="utf-8")
    code, _, err = call("why", works, "A-1", "cut.mat.1.top.set")
    assert code == 1
    assert "cut.mat.1.top.guide" in err
    _, out, _ = call("why", works, "A-1", "mat.1.run")
    assert "bevel.angle_deg = 45 (shop default)" in out
