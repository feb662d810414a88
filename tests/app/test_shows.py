"""Opening a show: what is wrong with it is told as it stands, whatever else could not be found."""

from __future__ import annotations

from pathlib import Path

import pytest

from fourply.app.demo import copy_demo
from fourply.app.shows import open_show
from fourply.errors import Unknown
from fourply.files.works import Asked
from fourply.trade.shapes.rule import ShapeKind


def test_a_show_file_that_is_broken_is_a_fault_and_no_missing_board(tmp_path: Path) -> None:
    path = tmp_path / "show.toml"
    path.write_text("[show\n")
    (fault,) = open_show(path, Asked()).faults
    assert fault.expected.startswith("TOML")


def test_the_demo_has_every_kind_of_window_and_all_its_works_can_be_made(tmp_path: Path) -> None:
    opened = open_show(copy_demo(tmp_path, metric=False), Asked())
    assert not opened.faults
    assert len(opened.packages) == 24
    holes = {package.work.id: package.mats[0].holes for package in opened.packages}
    assert holes["TM-11"][0].opening.shape.words == "oval"
    assert holes["TM-12"][0].opening.shape.words == "elliptical arch"
    assert holes["TM-21"][0].opening.shape.words == "stepped corners"
    assert holes["TM-03"][0].grooves[0].shape.words == "clipped corners"
    assert len(holes["TM-13"]) == 3
    assert holes["TM-24"][-1].title


def test_a_setting_holds_for_every_work_and_its_names_are_looked_up(tmp_path: Path) -> None:
    path = tmp_path / "show.toml"
    path.write_text('[show]\nunit = "in"\norder = "width x height"\n[[work]]\nsize = "9 x 12"\n')
    opened = open_show(path, Asked(), {"shape": "oval", "title_opening": "3 x 1/2"})
    assert opened.packages[0].treatment.shape.kind is ShapeKind.OVAL
    assert opened.packages[0].treatment.title is not None
    with pytest.raises(Unknown, match="plum"):
        open_show(path, Asked(), {"inlay": "plum @ 1 in, 1/4 in wide"})
