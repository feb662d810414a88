"""Plans of a kept show and the rack, as a person types them."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.cli.conftest import Run

LIST = "No.,Title,Width (in),Height (in)\nA-1,Low water,14 1/2,11 1/4\nA-2,High water,10,13\n"


@pytest.fixture
def call(call: Run, tmp_path: Path) -> Run:
    """Runs a command on a shop with one show of two works."""
    path = tmp_path / "tide.csv"
    path.write_text(LIST, encoding="utf-8")
    assert call("keep", path)[0] == 0
    return call


def test_plan_is_made_printed_again_accepted_and_cut(call: Run, tmp_path: Path) -> None:
    assert "No plan is kept yet" in call("plans", "tide")[1]
    assert "number 1" in call("rack", "--put", "white 4-ply", "24 x 30", "--place", "shelf")[1]
    code, out, _ = call("plans", "tide", "Monday", "--new", "--steps", "20", "--out", tmp_path / "one")
    assert (code, "Kept Monday: 2 works" in out) == (0, True)
    assert call("plans", "tide", "monday", "--out", tmp_path / "two")[0] == 0
    names = sorted(each.relative_to(tmp_path / "one") for each in (tmp_path / "one").rglob("*") if each.is_file())
    assert "tickets.pdf" in map(str, names)
    assert [
        name for name in names if (tmp_path / "one" / name).read_bytes() != (tmp_path / "two" / name).read_bytes()
    ] == []
    assert "Cut by this one" in call("plans", "tide", "monday", "--accept")[1]
    assert "promised to tide" in call("rack")[1]
    told = call("plans", "tide", "monday")[1]
    assert "from the rack  1: 24 x 30 of white 4-ply, shelf" in told
    assert "accepted: 2 works" in call("plans", "tide")[1]
    assert "is cut" in call("plans", "tide", "monday", "--cut")[1]
    assert "shelf" not in call("rack")[1]
    assert call("plans", "tide", "monday", "--cut")[0] == 1
    call("history", "--undo")
    assert "shelf" in call("rack")[1]


def test_what_is_not_there_and_what_cannot_be_is_said(call: Run) -> None:
    assert call("plans", "no such show")[0] == 1
    code, _, error = call("plans", "tide", "Tuesday")
    assert (code, "Tuesday" in error) == (1, True)
    assert call("plans", "tide", "--accept")[0] == 64
    assert "rack is empty" in call("rack")[1]
    assert call("rack", "--put", "no such board", "9 x 12")[0] == 1
    assert call("rack", "--put", "white 4-ply", "9 by")[0] == 1
    call("rack", "--put", "White 4-Ply", "9 x 12")
    assert "9 x 12 of white 4-ply" in call("rack", "--holds", "12 x 8")[1]
    assert "No piece is so" in call("rack", "--holds", "12 x 10")[1]
    assert call("rack", "--holds", "x")[0] == 1
