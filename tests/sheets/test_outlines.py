"""Outlines become paths that are where the outlines are."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.render.cut_samples import along
from tests.sheets.samples import TICKETS

from fourply.sheets.outlines import FINE, Line, mat_lines, mirrored, package_edge, sight_line, steps_of
from fourply.trade.shapes.outline import Cubic, Outline, Segment, Sweep


def oval(rx: float, ry: float, away: float = 0.0) -> Outline:
    return Outline((Sweep(0.0, 0.0, rx, ry, 0.0, 360.0, away),))


def test_lines_arcs_and_curves_stay_what_they_are() -> None:
    arch = Outline(
        (
            Segment((-50.0, 60.0), (-50.0, 0.0)),
            Sweep(0.0, 0.0, 50.0, 30.0, 180.0, 180.0),
            Cubic((50.0, 0.0), (60.0, 20.0), (40.0, 40.0), (50.0, 60.0)),
            Segment((50.0, 60.0), (-50.0, 60.0)),
        )
    )
    steps = steps_of(arch, (100.0, 200.0))
    assert [step[0] for step in steps] == ["M", "L", "A", "C", "Z"]  # closing it draws the last line
    assert steps[0] == ("M", 50.0, 260.0)
    assert steps[2] == ("A", 100.0, 200.0, 50.0, 30.0, 180.0, 180.0)


@settings(max_examples=25, deadline=None)
@given(st.floats(40, 250), st.floats(40, 250), st.floats(-3, 6))
def test_a_parallel_of_an_oval_lies_so_far_from_it_everywhere(rx: float, ry: float, away: float) -> None:
    for x, y in along(steps_of(oval(rx, ry, away)), 8):
        # by the definition of a parallel: the nearest point of the ellipse is `away` off; found by a fine search
        near = min(range(720), key=lambda i: math.dist((x, y), _on(rx, ry, math.radians(i / 2))))
        angle = math.radians(near / 2)
        step = math.radians(0.5)
        for _ in range(50):
            angle = min((angle - step, angle, angle + step), key=lambda a: math.dist((x, y), _on(rx, ry, a)))
            step /= 1.5
        assert math.dist((x, y), _on(rx, ry, angle)) == pytest.approx(abs(away), abs=1.2 * FINE)


def _on(rx: float, ry: float, angle: float) -> tuple[float, float]:
    return rx * math.cos(angle), ry * math.sin(angle)


def test_a_parallel_takes_few_curves() -> None:
    assert len(steps_of(oval(101.6, 127.0, 1.5875))) <= 130


def test_what_runs_parallel_to_a_circle_is_a_circle() -> None:
    assert steps_of(oval(50.0, 50.0, 2.5))[1] == ("A", 0.0, 0.0, 52.5, 52.5, 0.0, 360.0)


def test_mirrored_twice_is_as_before() -> None:
    steps = steps_of(oval(50.0, 30.0), (80.0, 90.0))
    twice = mirrored(mirrored(steps, 200.0), 200.0)
    for one, two in zip(along(steps), along(twice), strict=True):
        assert one == pytest.approx(two)


@pytest.mark.parametrize("name", TICKETS)
def test_each_line_of_a_mat_has_its_size(name: str) -> None:
    package, _ = TICKETS[name]
    for mat in package.mats:
        boxes = {cut.line: cut.box for cut in mat_lines(package, mat)}
        sizes = {Line.BACK: mat.opening.back, Line.FACE: mat.opening.face, Line.BLANK: mat.blank}
        for line, size in sizes.items():
            assert (boxes[line].width, boxes[line].height) == pytest.approx((size.width.as_mm, size.height.as_mm))
        back, face, sight = boxes[Line.BACK], boxes[Line.FACE], mat.opening.sight
        assert back.left + back.right == pytest.approx(face.left + face.right)
        assert boxes[sight_line(mat)].width == pytest.approx(sight.width.as_mm)
        assert back.left == pytest.approx(mat.borders.left.as_mm)


def test_only_a_package_that_is_no_rectangle_has_an_edge_of_its_own() -> None:
    edge = package_edge(TICKETS["octagon"][0])
    assert edge is not None
    xs = [step[1] for step in edge if step[0] in {"M", "L"}]
    assert max(xs) - min(xs) == pytest.approx(16 * 25.4)
    assert package_edge(TICKETS["double"][0]) is None
