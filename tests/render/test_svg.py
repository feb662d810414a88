"""The SVG is the drawing, is well formed whatever a title holds, and fetches nothing."""

from __future__ import annotations

import re
import unicodedata
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.render.cut_samples import arcs, off
from tests.render.svg_reader import points

from fourply.drawing import dimension
from fourply.drawing.dimension import Dim, Side, lay_out
from fourply.drawing.ink import CUT, HIDDEN, VISIBLE, Ink
from fourply.drawing.page import Scale
from fourply.drawing.pen import Label, Path, Steps
from fourply.drawing.record import Drawing, Mark, Recorder
from fourply.drawing.shapes import Box, circle, ellipse, rectangle
from fourply.render import svg

SVG = "{http://www.w3.org/2000/svg}"


def read(*marks: Mark, title: str = "") -> ET.Element:
    return ET.fromstring(svg.render(Drawing(200, 150, marks, title)))  # noqa: S314 - our own output


def paths(root: ET.Element) -> list[str]:
    return [path.attrib["d"] for path in root.iter(f"{SVG}path")]


def test_one_unit_is_one_millimetre() -> None:
    root = read()
    assert (root.attrib["width"], root.attrib["height"], root.attrib["viewBox"]) == ("200mm", "150mm", "0 0 200 150")


def test_a_dimension_drawn_at_one_to_six_has_the_length_it_says() -> None:
    scale, real = Scale(1, 6), 16.375 * 25.4
    pen = Recorder()
    dimension.draw(pen, lay_out(Side.TOP, 60, [[Dim(40, 40 + scale.of(real), "16 3⁄8")]], within=(0, 200)))
    root = ET.fromstring(svg.render(pen.drawing(200, 150)))  # noqa: S314 - our own output
    numbers = [[float(n) for n in re.findall(r"[-.\d]+", path)] for path in paths(root)]
    longest = max(abs(points[2] - points[0]) for points in numbers if len(points) == 4)
    assert longest * 6 == pytest.approx(real, abs=0.05)
    text = "".join(root.find(f"{SVG}text").itertext())  # type: ignore[union-attr]
    assert unicodedata.normalize("NFKC", text) == "16 3⁄8"


def test_lines_carry_their_role_width_and_dashes() -> None:
    (path,) = read(Path(rectangle(Box(1, 2, 3, 4)), HIDDEN)).iter(f"{SVG}path")
    assert path.attrib["class"] == "hidden"
    assert path.attrib["stroke-width"] == "0.25"
    assert path.attrib["stroke-dasharray"] == "1.6 0.8"
    assert path.attrib["d"] == "M1 2L3 2L3 4L1 4Z"


def test_a_whole_ellipse_is_four_quarters() -> None:
    quarters = "A20 10 0 0 1 100 60A20 10 0 0 1 80 50A20 10 0 0 1 100 40A20 10 0 0 1 120 50"
    assert paths(read(Path(ellipse(100, 50, 20, 10), CUT))) == [f"M120 50{quarters}Z"]


@given(arcs())
def test_an_arc_read_by_the_standard_s_arithmetic_lies_where_it_was_drawn(steps: Steps) -> None:
    (data,) = paths(read(Path(steps, CUT)))
    # ends are written to 0.0001 mm; what a flat arc makes of that is more, and still far below a line's width
    assert off(steps, points(data)) < 0.01


def test_an_arc_keeps_its_direction() -> None:
    path = Path((("M", 10.0, 0.0), ("A", 0.0, 0.0, 10.0, 10.0, 0.0, -90.0)), VISIBLE)
    assert paths(read(path)) == ["M10 0A10 10 0 0 0 0 -10"]


def test_black_follows_the_text_colour_of_the_page() -> None:
    root = read(Path(circle(5, 5, 2), None, Ink.BLACK), Label(0, 10, "a", 4), Label(0, 20, "b", 4, ink=Ink.PAPER))
    assert [element.attrib["fill"] for element in list(root)[1:]] == ["currentColor", "currentColor", "#ffffff"]


def test_a_figure_carries_its_path() -> None:
    (text,) = read(Label(5, 10, "16 1⁄2", 4, angle=90, figure="mat.1.width")).iter(f"{SVG}text")
    assert text.attrib["data-figure"] == "mat.1.width"
    assert text.attrib["transform"] == "rotate(-90 5 10)"


@given(st.text(max_size=40))
def test_no_title_can_break_the_file_or_bring_elements_into_it(title: str) -> None:
    root = read(Label(5, 10, title, 4, figure=title), title=title)
    assert {element.tag for element in root.iter()} <= {f"{SVG}{tag}" for tag in ("svg", "title", "text", "tspan")}


def test_nothing_is_fetched_and_nothing_runs() -> None:
    data = svg.render(Drawing(200, 150, (Label(5, 10, '<script src="x">', 4),), "<style>")).decode()
    assert not re.search(r"<script|<style|href|url\(|on\w+=", data)
    assert data.count("http") == 1  # the name of the format
