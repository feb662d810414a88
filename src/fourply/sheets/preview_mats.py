"""The mats of a finished work: faces in the colours of their boards, bevels in their core's, accents, shadows."""

from __future__ import annotations

from collections.abc import Iterator

from fourply.drawing.light import gloss, lit, slopes, tone
from fourply.drawing.pen import Steps
from fourply.drawing.scene import Area, Hair, Patch, beside, soft
from fourply.drawing.shapes import Box, Point, polygon, rectangle
from fourply.measure.length import Length
from fourply.measure.size import Edges
from fourply.sheets.front_view import middle_of
from fourply.sheets.outlines import moved, steps_of
from fourply.trade.materials import Fillet
from fourply.trade.package import Groove, Hole, Inlay, Mat, Package
from fourply.trade.shapes.outline import Outline
from fourply.trade.treatment import Bevel

_SHADE = "#000000"
_SMOOTH = 0.03  # how far from the true curve, in millimetres, what is shaded may be flattened
_ROUGH = 0.1
_FINE = 0.01  # how far from the true curve an edge may be written
_UNDER = 0.4  # how far what lies under an edge goes on under it, so that nothing shows through between


def fall(height: float) -> tuple[float, float]:
    """Return how far right and down the shadow falls of an edge that stands so high, in millimetres."""
    return 0.42 * height, 0.56 * height


def mats(package: Package, rims: Edges, edge: Steps) -> Iterator[Patch]:
    """Yield the mats from the innermost to the top one, each with its shadow on what lies behind it.

    A mat that is set back out of sight only raises the one above it.
    """
    raised = 0.0
    for mat in reversed(package.mats):
        raised += mat.board.caliper.as_mm
        if mat.hidden:
            continue
        yield from _mat(mat, package, rims, (edge, raised))
        raised = 0.0


def _mat(mat: Mat, package: Package, rims: Edges, lying: tuple[Steps, float]) -> Iterator[Patch]:
    edge, height = lying
    core, steep = mat.board.core, package.treatment.bevel_deg
    holes = [(hole, middle_of(rims, hole.borders, hole.opening.back)) for hole in mat.holes]
    for hole, at in holes:
        yield from _shadow(hole, at, height)
        if hole.opening.bevel is Bevel.NORMAL:
            points = _points(hole.opening.back_outline(), at)
            run = hole.opening.run.as_mm
            yield from slopes(points, 0.0, run + _UNDER, core, steep, inwards=True)
    face = [steps_of(hole.opening.face_outline(), at, within=_FINE) for hole, at in holes]
    for groove in mat.all_grooves:
        at = middle_of(rims, groove.borders, groove.back)
        yield from _valley(groove, at, core, steep)
        face += [steps_of(groove.shape.parallel(away), at, within=_FINE) for away in _banks(groove)]
    yield Area((*edge, *(step for outline in face for step in outline)), mat.board.colour)
    for outline in face:
        yield Hair(outline, lit(mat.board.colour, 0.55), 0.12, 0.35)
    for hole, at in holes:
        yield from _ruled(hole, at)
    if mat.number == 1 and package.inlay is not None:
        yield from _inlay(package.inlay, rims)


def _points(outline: Outline, at: Point, chord_error_mm: float = _SMOOTH) -> list[Point]:
    return [(x + at[0], y + at[1]) for x, y in outline.flatten(chord_error_mm)]


def _shadow(hole: Hole, at: Point, height: float) -> Iterator[Area]:
    """Yield the shadow of the edge of an opening on what is seen through it."""
    across, down = fall(0.8 * height)
    sight = _points(hole.opening.sight_outline(), at, _ROUGH)
    under = polygon(beside(sight, _UNDER))

    def beyond(by: float) -> Steps:
        return (*under, *polygon([(x + across, y + down) for x, y in beside(sight, -by)]))

    yield from soft(beyond, _SHADE, 0.1 + 0.45 * height, 0.36, layers=10)


def _banks(groove: Groove) -> tuple[Length, Length]:
    return groove.run, -groove.run - groove.shave


def _valley(groove: Groove, at: Point, core: str, steep: float) -> Iterator[Area]:
    """Yield the two slopes of a groove, the outer one first; both go on under the face."""
    outer, inner = (length.as_mm for length in _banks(groove))
    points = _points(groove.shape.outline(), at)
    middle = (outer + inner) / 2
    yield from slopes(points, inner, outer + _UNDER, core, steep, inwards=True)
    yield from slopes(points, inner - _UNDER, middle, core, steep, inwards=False)


def _ruled(hole: Hole, at: Point) -> Iterator[Area]:
    for line in hole.lines:
        shape, inner = hole.opening.shape, line.away
        edges = (shape.parallel(inner), shape.parallel(inner + line.rule.width))
        band = tuple(step for edge in edges for step in steps_of(edge, at, within=_FINE))
        yield Area(band, line.rule.colour, 0.55 if line.rule.wash else 0.9)


def _inlay(inlay: Inlay, rims: Edges) -> Iterator[Patch]:
    at = middle_of(rims, inlay.inner, inlay.shape.size)
    edges = [steps_of(inlay.shape.parallel(away), at, within=_FINE) for away in (inlay.run, inlay.run + inlay.width)]
    yield Area((*edges[0], *edges[1]), inlay.board.colour)
    for outline in edges:
        yield Hair(outline, lit(inlay.board.colour, 0.5), 0.15, 0.4)


def fillet(window: Box, kind: Fillet) -> Iterator[Patch]:
    """Yield the rails of a fillet round the window, half-round, under the mats."""
    shown = kind.shown.as_mm
    height = kind.thickness.as_mm
    across, down = fall(0.6 * height)
    around = rectangle(window.grown(_UNDER))
    yield from soft(
        lambda by: (*around, *moved(rectangle(window.grown(-by)), across, down)),
        _SHADE,
        0.1 + 0.35 * height,
        0.36,
    )
    bands = 8
    sides = ((0.0, 1.0), (-1.0, 0.0), (0.0, -1.0), (1.0, 0.0))
    for band in range(bands):
        near = shown * band / bands
        steep = 62 - 110 * (band + 0.5) / bands
        for side, inward in enumerate(sides):
            facing = inward if steep > 0 else (-inward[0], -inward[1])
            shine = 0.55 * gloss(facing, abs(steep), polish=10)
            colour = lit(kind.colour, tone(facing, abs(steep)), shine)
            ring = [window.grown(near).corners, window.grown(shown + kind.lip.as_mm).corners]
            a, b = ring[0][side], ring[0][(side + 1) % 4]
            c, d = ring[1][(side + 1) % 4], ring[1][side]
            yield Area(polygon([a, b, c, d]), colour)
