"""A DXF file read by its group codes is the drawing: same lines, same curves, same units, same words."""

from __future__ import annotations

import pytest
from ezdxf import options  # type: ignore[attr-defined]
from hypothesis import given
from tests.render.cut_samples import ARCH, DRAWING, HEIGHT, MICRON, along, apart, arcs, curves, off, spread
from tests.render.dxf_reader import File, read

from fourply.drawing.ink import CUT
from fourply.drawing.pen import Path, Steps
from fourply.drawing.record import Drawing
from fourply.render import dxf

FILE = read(dxf.render(DRAWING))


def down(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
    return [(x, HEIGHT - y) for x, y in points]


def written(steps: Steps) -> File:
    return read(dxf.render(Drawing(400, HEIGHT, (Path(steps, CUT, layer="a"),))))


@given(arcs())
def test_an_arc_is_one_true_arc(steps: Steps) -> None:
    (entity,) = written(steps).entities
    step = steps[1]
    assert step[0] == "A"
    whole = abs(step[6]) > 360 - 1e-9  # a machine's floats may leave a little of a turn
    assert entity.kind == ("CIRCLE" if whole else "ARC") if step[3] == step[4] else entity.kind == "ELLIPSE"
    if whole:
        assert off(steps, down(entity.points())) < MICRON
        assert apart(entity.points(1)[:1], entity.points(1)[1:]) < MICRON
    else:
        assert apart(down(entity.points()), along(steps)) < MICRON


@given(curves)
def test_a_cubic_is_one_spline_of_the_same_points(steps: Steps) -> None:
    (entity,) = written(steps).entities
    assert entity.kind == "SPLINE"
    assert apart(down(entity.points()), along(steps)) < MICRON


def test_a_path_becomes_the_entities_of_its_steps_in_their_order() -> None:
    found = written(ARCH).entities
    assert [entity.kind for entity in found] == ["LINE", "ARC", "LINE", "SPLINE"]
    assert spread([down(entity.points()) for entity in found], [along(ARCH)]) < MICRON


def test_whole_ovals_have_their_axes_lying_and_standing() -> None:
    standing, lying = (entity for entity in FILE.entities if entity.kind == "ELLIPSE")
    for entity, long, short in ((standing, 127.0, 101.6), (lying, 127.0, 101.6)):
        assert (entity.one(11) ** 2 + entity.one(21) ** 2) ** 0.5 == pytest.approx(long, abs=1e-9)
        assert entity.one(40) * long == pytest.approx(short, abs=1e-9)
    assert (standing.one(11), lying.one(21)) == (0, 0)


def test_the_units_are_millimetres_and_the_corner_is_the_origin() -> None:
    # 4 is millimetres; from memory: DXF Reference, $INSUNITS
    assert FILE.header["$INSUNITS"] == ["4"]
    assert FILE.header["$MEASUREMENT"] == ["1"]
    assert FILE.header["$ACADVER"] == ["AC1024"]
    blank = [entity.points(1) for entity in FILE.entities if entity.layer == "1-blank"]
    xs, ys = zip(*(point for line in blank for point in line), strict=True)
    assert (min(xs), max(xs), min(ys), max(ys)) == (10, 390, 20, 280)


def test_each_layer_is_in_the_table_and_holds_its_entities() -> None:
    assert {"1-blank", "1-window", "2-window", "note"} <= set(FILE.layers)
    assert sum(entity.layer == "2-window" for entity in FILE.entities) == 5


def test_the_words_stand_on_their_layer_and_at_the_head() -> None:
    (text,) = (entity for entity in FILE.entities if entity.kind == "TEXT")
    assert text.layer == "note"
    assert text.text(1) == "sight line, seen from the back; 16 3⁄8 & <mm>"
    assert FILE.comments == ["08 The Bell Buoy", text.text(1)]


def test_the_same_drawing_gives_the_same_bytes_and_leaves_the_library_as_it_was() -> None:
    before = options.write_fixed_meta_data_for_testing
    assert dxf.render(DRAWING) == dxf.render(DRAWING)
    assert options.write_fixed_meta_data_for_testing == before


def test_a_line_break_in_a_title_cannot_break_the_file() -> None:
    found = read(dxf.render(Drawing(10, 10, (), "one\n0\nSECTION")))
    assert found.comments == ["one 0 SECTION"]
