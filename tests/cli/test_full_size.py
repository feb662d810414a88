"""`./run template` and `./run cutfile`: what is written, what is said, that it is the work at its true size."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree as ET

import pdfplumber
import pytest
from tests.render.dxf_reader import Entity, read

from fourply.cli.main import run
from fourply.wiring import parts

# borders of 2 1/2 and a sheet of 14 1/2 x 11 1/4 under an overlap of 1/8 (derived): the window is 14 1/4 x 11
LIST = "No.,Title,Width (in),Height (in)\nA-1,Low water,14 1/2,11 1/4\n"
INCH = 25.4
MATS = "cream 4-ply + black 4-ply @ 1/4"


def called(folder: Path, *arguments: str | Path) -> int:
    path = folder / "list.csv"
    path.write_text(LIST, encoding="utf-8")
    words = [str(argument) for argument in arguments]
    return run([words[0], str(path), *words[1:]], parts())


def window(entities: list[Entity]) -> tuple[float, float]:
    xs, ys = zip(*(point for e in entities if "-window-" in e.layer for point in e.points(1)), strict=True)
    return max(xs) - min(xs), max(ys) - min(ys)


def test_a_template_is_written_where_it_is_asked_for(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "t.pdf"
    assert called(tmp_path, "template", "A-1", "--paper", "A4", "--view", "front", "--out", out) == 0
    said = capsys.readouterr().out
    with pdfplumber.open(out) as file:
        assert f"{len(file.pages) - 1} tiles, seen from the front, on A4" in said
        assert round(float(file.pages[0].width) / 72 * INCH) == 210
    assert "no scaling to page" in said


def test_a_cut_file_for_each_board_holds_the_sight_in_millimetres(tmp_path: Path) -> None:
    assert called(tmp_path, "cutfile", "A-1", "--set", f"mats={MATS}", "--out", tmp_path / "o") == 0
    names = sorted(path.name for path in (tmp_path / "o").iterdir())
    assert names == [f"A-1-{of}-back-sight.dxf" for of in ("all-boards", "top-mat", "under-mat")]
    top, under = (read((tmp_path / "o" / f"A-1-{of}-back-sight.dxf").read_bytes()) for of in ("top-mat", "under-mat"))
    assert window(under.entities) == pytest.approx((14.25 * INCH, 11 * INCH), abs=0.001)
    assert window(top.entities) == pytest.approx((14.75 * INCH, 11.5 * INCH), abs=0.001)
    assert {e.layer for e in top.entities} == {"1-cream-4-ply-window-bevel", "1-cream-4-ply-blank-straight", "note"}
    said = " ".join(top.comments)
    assert "A-1 Low water" in said
    assert "seen from the back" in said
    assert "sight line" in said
    assert "millimetre" in said


def test_face_and_sight_differ_by_the_run_and_svg_agrees_with_dxf(tmp_path: Path) -> None:
    for kind in ("dxf", "svg"):
        for line in ("sight", "face"):
            assert called(tmp_path, "cutfile", "A-1", "--out", tmp_path, "--line", line, "--format", kind) == 0
    sight, face = (
        window(read((tmp_path / f"A-1-top-mat-back-{n}.dxf").read_bytes()).entities) for n in ("sight", "face")
    )
    assert face[0] - sight[0] == pytest.approx(face[1] - sight[1])
    assert face[0] - sight[0] > 2
    root = ET.parse(tmp_path / "A-1-top-mat-back-face.svg").getroot()  # noqa: S314 - our own file
    (path,) = (p for g in root if "-window-" in g.get("id", "") for p in g)
    points = [part.split() for part in path.attrib["d"].strip("MZ").split("L")]
    xs = [float(x) for x, _ in points]
    assert max(xs) - min(xs) == pytest.approx(face[0], abs=0.001)


def test_a_work_that_is_not_there_is_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert called(tmp_path, "template", "A-9") == 1
    assert "A-1" in capsys.readouterr().err
    assert called(tmp_path, "cutfile", "A-1") == 64
