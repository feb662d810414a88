"""Opening a show: what is wrong with it is told as it stands, whatever else could not be found."""

from __future__ import annotations

from pathlib import Path

import pytest

from fourply.app.shows import open_show
from fourply.errors import Unknown
from fourply.files.works import Asked
from fourply.trade.shapes.rule import ShapeKind


def test_a_show_file_that_is_broken_is_a_fault_and_no_missing_board(tmp_path: Path) -> None:
    path = tmp_path / "show.toml"
    path.write_text("[show\n")
    (fault,) = open_show(path, Asked()).faults
    assert fault.expected.startswith("TOML")


def test_a_setting_holds_for_every_work_and_its_names_are_looked_up(tmp_path: Path) -> None:
    path = tmp_path / "show.toml"
    path.write_text('[show]\nunit = "in"\norder = "width x height"\n[[work]]\nsize = "9 x 12"\n')
    opened = open_show(path, Asked(), {"shape": "oval", "title_opening": "3 x 1/2"})
    assert opened.packages[0].treatment.shape.kind is ShapeKind.OVAL
    assert opened.packages[0].treatment.title is not None
    with pytest.raises(Unknown, match="plum"):
        open_show(path, Asked(), {"inlay": "plum @ 1 in, 1/4 in wide"})
