"""Drawings as DXF, for machines that cut and programs that design: true lines, arcs and curves in millimetres.

What a machine follows must be what was worked out, so nothing is flattened: straight lines are LINE, arcs of a circle
ARC or CIRCLE, arcs of an ellipse ELLIPSE, cubic curves SPLINE (the same curve, as one span of the third degree). Y
runs up, as the format has it; the lower left corner of the drawing is the origin. Each layer of the drawing is one of
the file; lines of text are TEXT on the layer `note` and stand once more as comments at the head of the file.

The version is R2010, the first of those in common use that keeps names in UTF-8 and units in its header. The dates
that the format asks for are fixed, so the same drawing gives the same bytes.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from fourply.drawing.pen import Arc, Label, Path, Pen, Step
from fourply.drawing.record import Drawing, replay
from fourply.drawing.shapes import Point, arc_point
from fourply.drawing.text import clean

if TYPE_CHECKING:
    from ezdxf.layouts.layout import Modelspace

NOTE = "note"
"""The layer of the text."""

_VERSION = "R2010"
_MILLIMETRES = 4  # of $INSUNITS
_FOR_NOTES = 8  # grey in the format's numbered colours; those of the cuts are 1 to 7
_WHOLE = 360.0 - 1e-9
_NOTHING = 1e-7  # the line that closes a path which an arc has closed already


def render(drawing: Drawing) -> bytes:
    """Return the drawing as a DXF file in UTF-8, one unit a millimetre; an area is written by its outline."""
    from ezdxf.filemanagement import new  # noqa: PLC0415 - heavy, and needed here alone

    with _fixed_dates():
        document = new(_VERSION, units=_MILLIMETRES)
        document.header["$MEASUREMENT"] = 1
        layers = dict.fromkeys(path.layer for path in drawing.paths if path.layer)
        for number, layer in enumerate(layers):
            document.layers.add(layer, color=number % 7 + 1)
        document.layers.add(NOTE, color=_FOR_NOTES)
        replay(drawing.marks, _Entities(document.modelspace(), drawing.height))
        document.header["$EXTMIN"] = (0.0, 0.0, 0.0)
        document.header["$EXTMAX"] = (drawing.width, drawing.height, 0.0)
        file = io.StringIO()
        document.write(file)
    comments = [drawing.title, *(label.text for label in drawing.labels)]
    head = "".join(f"999\n{clean(comment)}\n" for comment in comments)
    return (head + file.getvalue()).encode()


@contextmanager
def _fixed_dates() -> Iterator[None]:
    from ezdxf import options  # type: ignore[attr-defined] # noqa: PLC0415

    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


class _Entities(Pen):
    """Turns marks into entities."""

    def __init__(self, space: Modelspace, height: float) -> None:
        self._space = space
        self._height = height

    def path(self, path: Path) -> None:
        attributes = {"layer": path.layer or "0"}
        here = start = (0.0, 0.0)
        for step in path.steps:
            there = start if step[0] == "Z" else arc_point(step, step[6]) if step[0] == "A" else (step[-2], step[-1])
            if step[0] == "M":
                start = there
            else:
                self._entity(here, step, there, attributes)
            here = there

    def label(self, label: Label) -> None:
        attributes = {"layer": NOTE, "height": label.size, "rotation": label.angle}
        self._space.add_text(clean(label.text), dxfattribs={**attributes, "insert": self._up((label.x, label.y))})

    def _entity(self, here: Point, step: Step, there: Point, attributes: dict[str, str]) -> None:
        if step[0] == "A":
            self._arc(step, attributes)
        elif step[0] == "C":
            points = [here, (step[1], step[2]), (step[3], step[4]), there]
            spline = self._space.add_spline(dxfattribs=attributes)
            spline.set_open_uniform([self._up(point) for point in points], degree=3)
        elif math.dist(here, there) > _NOTHING:
            self._space.add_line(self._up(here), self._up(there), dxfattribs=attributes)

    def _arc(self, arc: Arc, attributes: dict[str, str]) -> None:
        """Add an arc; in the format all run against the clock, so one that ran with it is turned round."""
        _, cx, cy, rx, ry, start, sweep = arc
        centre = self._up((cx, cy))
        first, last = sorted((-start, -start - sweep))
        if rx == ry and abs(sweep) >= _WHOLE:
            self._space.add_circle(centre, rx, dxfattribs=attributes)
        elif rx == ry:
            self._space.add_arc(centre, rx, first, last, dxfattribs=attributes)
        else:
            # the format measures from the longer half axis
            lying = rx > ry
            axis, turn = ((rx, 0.0), 0.0) if lying else ((0.0, ry), 90.0)
            begin = 0.0 if abs(sweep) >= _WHOLE else math.radians((first - turn) % 360)
            end = math.tau if abs(sweep) >= _WHOLE else begin + math.radians(abs(sweep))
            self._space.add_ellipse(centre, axis, min(rx, ry) / max(rx, ry), begin, end, dxfattribs=attributes)

    def _up(self, point: Point) -> Point:
        return point[0], self._height - point[1]
