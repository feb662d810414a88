"""`./run preview`: the picture shows mat, bevel and image where they are cut, and says what it cannot use."""

from __future__ import annotations

import io
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from PIL import Image

from fourply.cli.main import run
from fourply.wiring import parts

# borders of 2 1/2 and a sheet of 14 1/2 x 11 1/4 under an overlap of 1/8 (derived): the window is 14 1/4 x 11
LIST = "No.,Title,Width (in),Height (in)\nA-1,Low water,14 1/2,11 1/4\n"
BOARDS = '[boards."cream"]\ncaliper = "1/16 in"\ncolour = "#efe0b0"\ncore = "#c8c8c8"\nsheets = []\n'
SHOW = """
[show]
unit = "in"
order = "width x height"
works = "list.csv"
materials = "own.toml"
[defaults]
mats = "cream"
moulding = "black 1 1/4"
"""
GREEN, INCH = (40, 150, 70), 25.4


@pytest.fixture
def show(tmp_path: Path) -> Path:
    (tmp_path / "list.csv").write_text(LIST, encoding="utf-8")
    (tmp_path / "own.toml").write_text(BOARDS, encoding="utf-8")
    path = tmp_path / "show.toml"
    path.write_text(SHOW, encoding="utf-8")
    Image.new("RGB", (300, 240), GREEN).save(tmp_path / "green.png")
    return path


def called(show: Path, *arguments: str | Path) -> int:
    return run(["preview", str(show), "A-1", *map(str, arguments)], parts())


def seen(svg: Path) -> tuple[float, ...]:
    root = ET.parse(svg).getroot()  # noqa: S314 - our own file
    return tuple(float(number) for number in root.attrib["viewBox"].split())


def test_mat_bevel_and_image_are_seen_where_they_are_cut(show: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = show.parent
    assert called(show, "--image", folder / "green.png", "--pixels", "1600", "--out", folder / "p.png") == 0
    assert str(folder / "p.png") in capsys.readouterr().out
    assert called(show, "--out", folder / "p.svg") == 0
    image, (left, _, width, _) = Image.open(folder / "p.png").convert("RGB"), seen(folder / "p.svg")
    assert max(image.size) == 1600
    scale, half = image.width / width, width / 2 + left  # the outside of the frame begins at nothing

    def at(across: float) -> tuple[int, ...]:
        """Return the dot so many millimetres right of the middle of the picture, where the window's is too."""
        dot = image.getpixel((int(image.width / 2 + across * scale), image.height // 2))
        assert isinstance(dot, tuple)
        return dot

    assert at(0) == pytest.approx(GREEN, abs=5)
    # from the middle to the right: image to half the window (7 1/8), then the bevel (1/16), then the mat
    assert at(7 * INCH) == pytest.approx(GREEN, abs=5)
    assert at((7.125 + 1 / 32) * INCH) == pytest.approx((208, 208, 208), abs=10)
    assert at((7.125 + 1) * INCH) == (0xEF, 0xE0, 0xB0)
    assert at(-(7.125 + 1 / 32) * INCH)[0] < 0xC8 - 20  # at the left it turns from the lamp
    assert max(at(half - 0.6 * INCH)) < 90  # the black moulding


def test_without_an_image_there_is_a_calm_grey(show: Path) -> None:
    assert called(show, "--out", show.parent / "p.png") == 0
    image = Image.open(show.parent / "p.png")
    assert max(image.size) == 2000
    assert image.getpixel((image.width // 2, image.height // 2)) == (0xC9, 0xC7, 0xC2)


def test_an_svg_carries_the_image_within_it(show: Path) -> None:
    assert called(show, "--image", show.parent / "green.png", "--out", show.parent / "p.SVG") == 0
    root = ET.parse(show.parent / "p.SVG").getroot()  # noqa: S314 - our own file
    (image,) = (element for element in root if element.tag.endswith("image"))
    assert image.attrib["href"].startswith("data:image/jpeg;base64,")
    assert float(image.attrib["width"]) == pytest.approx(14.5 * INCH)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--out", "p.jpg"), ".svg or .png"),
        (("--image", "list.csv", "--out", "p.png"), "JPEG"),
        (("--image", "empty.png", "--out", "p.png"), "empty.png"),
        (("--image", "green.png", "--image", "green.png", "--out", "p.png"), "in the order of its windows"),
    ],
)
def test_what_cannot_be_used_is_said_and_nothing_is_written(
    show: Path, capsys: pytest.CaptureFixture[str], arguments: tuple[str, ...], said: str
) -> None:
    folder = show.parent
    (folder / "empty.png").write_bytes(b"")
    assert called(show, *(word if word.startswith("--") else folder / word for word in arguments)) == 1
    assert said in capsys.readouterr().err
    assert [path.name for path in folder.iterdir() if path.name.startswith("p.")] == []


def test_a_wrong_call_is_told_as_such(show: Path) -> None:
    assert called(show) == 64
    assert called(show, "--pixels", "3", "--out", show.parent / "p.png") == 64
    assert called(show, "--image", show.parent / "none.png", "--out", show.parent / "p.png") == 64


def test_the_picture_is_the_same_each_time(show: Path) -> None:
    made = []
    for _ in range(2):
        assert called(show, "--pixels", "200", "--out", show.parent / "p.png") == 0
        made.append((show.parent / "p.png").read_bytes())
    assert made[0] == made[1]
    assert Image.open(io.BytesIO(made[0])).size[0] == 200
