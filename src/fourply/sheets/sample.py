"""A material as a sample shows it: cut through with its measures, and as a piece of it is seen from the front.

A section is two pictures of one size, laid one over the other: colours below, lines and figures above, so that ink may
turn with the page while things keep their colours.
"""

from __future__ import annotations

from dataclasses import dataclass

from fourply.drawing import dimension
from fourply.drawing.dimension import Dim, Side, lay_out
from fourply.drawing.hatch import growth_rings, hatch
from fourply.drawing.ink import EXTENSION, HATCHING, VISIBLE
from fourply.drawing.light import lit, slopes
from fourply.drawing.page import ENLARGED, REDUCED, Scale, largest
from fourply.drawing.pen import Path, Pen
from fourply.drawing.record import Drawing, Recorder
from fourply.drawing.scene import Area, Field, Hair, Patch, Scene
from fourply.drawing.shapes import Box, Point, polygon, polyline, rectangle
from fourply.measure.length import Length
from fourply.sheets.preview_frame import mitred
from fourply.sheets.sample_view import Cut, SampleView, section_of
from fourply.sheets.view import Filling
from fourply.trade.materials import Board, Moulding
from fourply.working.words import Words

WIDE, HIGH = 92.0, 66.0
"""The size of each sample, in millimetres: a phone shows it whole."""
_ROOM = {Side.LEFT: 14.0, Side.TOP: 11.0, Side.RIGHT: 14.0, Side.BOTTOM: 11.0}
_SCALES = (Scale(20, 1), Scale(10, 1), *ENLARGED, *REDUCED)
_POINTS = 10.5
_HATCHES = {Filling.RISING: (1.5, 45.0), Filling.FALLING: (1.5, 135.0), Filling.WIDE: (2.6, 135.0)}
_PAPER, _WALL = "#f9f6ee", "#efede8"
_MARGIN = 9.0


@dataclass(frozen=True, slots=True)
class Sample:
    """A picture of a material: its caption, its colours, and the lines and figures over them (None where none)."""

    caption: str
    scene: Scene
    drawing: Drawing | None = None


def samples(item: object, run: Length | None, words: Words, *, pictured: bool = False) -> tuple[Sample, ...]:
    """Return the samples of a material, none for what has no look; `run` is that of a board's bevel.

    With `pictured` there is a photograph of it: a field of the number 0 stands where it is to be placed.
    """
    found = []
    if (view := section_of(item, run, words)) is not None:
        found.append(_section(view))
    if isinstance(item, Board):
        found.append(_mat(item, run, pictured=pictured))
    elif isinstance(item, Moulding):
        found.append(_photograph() if pictured else _corner(item))
    return tuple(found)


# ── cut through ──────────────────────────────────────────────────────────────────────────────────────────────────


def _section(view: SampleView) -> Sample:
    room = (WIDE - _ROOM[Side.LEFT] - _ROOM[Side.RIGHT], HIGH - _ROOM[Side.TOP] - _ROOM[Side.BOTTOM])
    scale = largest((view.width, view.height), room, _SCALES)
    left = _ROOM[Side.LEFT] + (room[0] - scale.of(view.width)) / 2
    top = _ROOM[Side.TOP] + (room[1] - scale.of(view.height)) / 2
    box = Box(left, top, left + scale.of(view.width), top + scale.of(view.height))

    def placed(points: tuple[Point, ...]) -> list[Point]:
        return [(left + scale.of(x), top + scale.of(y)) for x, y in points]

    caption = f"Its package, {scale}" if view.front else f"Cut through, {scale}"
    pen, colours = Recorder(), []
    for cut in view.cuts:
        colours.append(Area(polygon(placed(cut.outline)), cut.colour))
        _lines(pen, cut, placed(cut.outline), broken=view.broken)
    face: list[Patch] = []
    if view.face is not None:
        face.append(Area(polygon(placed(view.face[0])), view.face[1]))
    _dimensions(pen, view, box, scale)
    scene = Scene(Box(0, 0, WIDE, HIGH), (*colours, *face), None, (), caption)
    return Sample(caption, scene, pen.drawing(WIDE, HIGH, title=caption))


def _lines(pen: Pen, cut: Cut, points: list[Point], *, broken: bool) -> None:
    if cut.wood:
        xs, ys = [x for x, _ in points], [y for _, y in points]
        pen.path(Path(growth_rings([points], (min(xs) - 12, max(ys) + 16), 3.2), HATCHING))
    if cut.filling in _HATCHES:
        spacing, angle = _HATCHES[cut.filling]
        pen.path(Path(hatch([points], spacing, angle=angle), HATCHING))
    if not broken:
        pen.path(Path(polygon(points), VISIBLE))
        return
    pen.path(Path(polyline(points), VISIBLE))  # it is left open at its left end, where it goes on
    (x, top), (_, base) = points[0], points[-1]
    steps = max(3, round((base - top) / 2.5))
    edge = [(x + (0.7 if at % 2 else -0.7), top + (base - top) * at / steps) for at in range(steps + 1)]
    pen.path(Path(polyline(edge), EXTENSION))


def _dimensions(pen: Pen, view: SampleView, box: Box, scale: Scale) -> None:
    bases = {Side.TOP: box.top, Side.BOTTOM: box.bottom, Side.LEFT: box.left, Side.RIGHT: box.right}
    for side, tiers in view.dims.items():
        start, end = (box.left, WIDE) if side.level else (box.top, HIGH)
        placed = [[_scaled(dim, start, scale) for dim in tier] for tier in tiers]
        within = (1.0, end - 1.0)
        dimension.draw(pen, lay_out(side, bases[side], placed, within=within, points=_POINTS))


def _scaled(dim: Dim, start: float, scale: Scale) -> Dim:
    return dim._replace(
        start=start + scale.of(dim.start),
        end=start + scale.of(dim.end),
        foot=scale.of(dim.foot),
        end_foot=None if dim.end_foot is None else scale.of(dim.end_foot),
    )


# ── seen from the front ──────────────────────────────────────────────────────────────────────────────────────────


def _mat(board: Board, run: Length | None, *, pictured: bool) -> Sample:
    """Return the lower right corner of a window in the board, whose bevels are in the light, at true size."""
    seen, bevel = Box(0, 0, WIDE, HIGH), run.as_mm if run else 0.0
    sight = Box(-WIDE, -HIGH, 0.6 * WIDE, 0.6 * HIGH)
    face: list[Patch] = [Field(0, seen, board.colour)] if pictured else [Area(rectangle(seen), board.colour)]
    patches = (
        *face,
        Area(rectangle(sight), _PAPER),
        *slopes(list(sight.corners), 0.0, bevel, board.core, 45.0, inwards=True),
        Hair(rectangle(sight.grown(bevel)), lit(board.colour, 0.55), 0.12, 0.35),
        Hair(rectangle(sight), lit(board.core, 0.55), 0.12, 0.35),
    )
    return Sample("From the front, true size", Scene(seen, patches, None, (), "the board from the front"))


def _corner(moulding: Moulding) -> Sample:
    """Return a corner of a frame of the moulding, at true size where it is not too wide."""
    width = moulding.width.as_mm
    scale = largest((width, width), (0.6 * HIGH, 0.6 * HIGH), REDUCED)
    seen = Box(0, 0, WIDE * scale.real, HIGH * scale.real)
    margin = _MARGIN * scale.real
    outside = Box(margin, margin, 2 * seen.right, 2 * seen.bottom)
    inside = outside.grown(-width)
    patches = (Area(rectangle(inside), _PAPER), *mitred(outside.corners, inside.corners, [moulding] * 4))
    shown = "true size" if scale.real == 1 else str(scale)
    return Sample(f"From the front, {shown}", Scene(seen, patches, _WALL, (), "a corner of a frame from the front"))


def _photograph() -> Sample:
    seen = Box(0, 0, WIDE, HIGH)
    return Sample("Its picture", Scene(seen, (Field(0, seen, _WALL),), None, (), "a picture of the moulding"))
