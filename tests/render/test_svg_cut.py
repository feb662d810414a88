"""An SVG for a machine, read by the standard's own arithmetic, holds what is cut and nothing else."""

from __future__ import annotations

import math
from xml.etree import ElementTree as ET

from hypothesis import given
from tests.render.cut_samples import DRAWING, MICRON, along, apart, arcs, curves, off, spread
from tests.render.svg_reader import SVG, groups

from fourply.drawing.ink import CUT
from fourply.drawing.pen import Path, Steps
from fourply.drawing.record import Drawing
from fourply.render import svg_cut

FILE = svg_cut.render(DRAWING)
ROOT = ET.fromstring(FILE)  # noqa: S314 - our own file


def read(steps: Steps) -> list[list[tuple[float, float]]]:
    return groups(svg_cut.render(Drawing(400, 300, (Path(steps, CUT, layer="a"),))))["a"]


@given(arcs())
def test_the_points_of_an_arc_lie_on_its_ellipse(steps: Steps) -> None:
    (points,) = read(steps)
    assert off(steps, points) < MICRON
    ends = along(steps)
    assert math.dist(points[0], ends[0]) < MICRON
    assert math.dist(points[-1], ends[-1]) < MICRON


@given(curves)
def test_a_curve_keeps_its_points(steps: Steps) -> None:
    (points,) = read(steps)
    assert apart(points, along(steps)) < MICRON


def test_each_layer_is_one_group_in_the_order_of_drawing() -> None:
    found = groups(FILE)
    assert list(found) == ["1-blank", "1-window", "2-window"]
    for layer, outlines in found.items():
        drawn = [path.steps for path in DRAWING.paths if path.layer == layer]
        assert len(outlines) == len(drawn)
        for points, steps in zip(outlines, drawn, strict=True):
            # an arc of 360 degrees is read as four, so its points are not the same ones
            assert spread([points], [along(steps, 256)]) < 0.02


def test_the_size_is_in_millimetres() -> None:
    assert (ROOT.attrib["width"], ROOT.attrib["height"], ROOT.attrib["viewBox"]) == ("400mm", "300mm", "0 0 400 300")


def test_words_stand_only_where_no_machine_looks() -> None:
    assert {element.tag.removeprefix(SVG) for element in ROOT.iter()} == {"svg", "title", "desc", "g", "path"}
    assert ROOT.findtext(f"{SVG}title") == "08 The Bell Buoy"
    assert ROOT.findtext(f"{SVG}desc") == "sight line, seen from the back; 16 3⁄8 & <mm>"


def test_lines_are_hairlines_without_a_fill() -> None:
    for group in ROOT.iter(f"{SVG}g"):
        assert group.attrib["fill"] == "none"
        assert float(group.attrib["stroke-width"]) <= 0.03
