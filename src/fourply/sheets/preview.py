"""The finished work as it hangs: art, mats, accents and frame in their colours, true to scale, lit from upper left.

Every edge is where the package puts it. Only light and shade are judged by eye: how far a shadow falls and how soft
it is follow from how high its edge stands, and are dimmed until they look right beside real frames.
"""

from __future__ import annotations

from collections.abc import Iterator

from fourply.drawing.light import lit
from fourply.drawing.pen import Steps
from fourply.drawing.scene import Area, Field, Hair, Patch, Scene, Shadow, beside, grown, soft
from fourply.drawing.shapes import Box, Point, polygon, rectangle
from fourply.measure.length import ZERO, total
from fourply.measure.size import Edges, Rect
from fourply.sheets.front_view import reach_of, rims_of, ring_of
from fourply.sheets.outlines import moved
from fourply.sheets.preview_frame import rails
from fourply.sheets.preview_mats import fall, fillet, mats
from fourply.trade.materials import Fillet, Spacer
from fourply.trade.package import ArtPlace, Frame, Package, Strips
from fourply.trade.treatment import WindowFrom

WALL = "#efede8"
PAPER = "#f9f6ee"
GREY = "#c9c7c2"
SHADE = "#000000"
_SPACER = "#dedbd4"
_OFF_THE_WALL = 8.0  # how far a package without a frame stands off the wall, in millimetres
_BUMPERS = 5.0  # and a frame by its bumpers


def preview(package: Package, *, wall: str | None = WALL) -> Scene:
    """Return the finished work as a scene, on a wall of a colour or on nothing (None)."""
    rims = rims_of(package)
    outside = _outside(package)
    seen = outside.grown(max(0.06 * max(outside.width, outside.height), 2 * _off_the_wall(package.frame)))
    title = f"{package.work.id} {package.work.title}".strip()
    patches = tuple(_patches(package, rims, outside))
    return Scene(seen, patches, wall, tuple(_on_the_wall(package, outside)), title)


def _outside(package: Package) -> Box:
    frame, outer = package.frame, package.outer
    if frame is None:
        return Box(0, 0, outer.width.as_mm, outer.height.as_mm)
    if frame.sides == 4:
        return Box(0, 0, frame.outside.width.as_mm, frame.outside.height.as_mm)
    left, top, right, bottom = reach_of(frame)
    return Box(0, 0, left + right, top + bottom)


def _patches(package: Package, rims: Edges, outside: Box) -> Iterator[Patch]:
    frame = package.frame
    edge = _edge(package, rims)
    yield Area(edge, package.mount.colour)
    for number, place in enumerate(package.arts):
        yield from _art(package, place, number, rims)
    for strips in package.strips:
        if isinstance(strips.spacer, Fillet):
            window = _placed(package.art.window, rims)
            yield from fillet(window, strips.spacer)
    yield from mats(package, rims, edge)
    for strips in package.strips:
        yield from _spacer(strips, package, rims)
    if frame is None:
        yield Hair(edge, SHADE, 0.2, 0.25)
        return
    yield from _under_the_lip(package, frame)
    yield from rails(frame, outside)


def _edge(package: Package, rims: Edges) -> Steps:
    """Return the edge of the package where it lies in its frame."""
    frame, outer = package.frame, package.outer
    if frame is None or frame.sides == 4:
        return rectangle(_placed(Rect(ZERO, ZERO, outer), rims))
    left, top, _, _ = reach_of(frame)
    return polygon([(left + x, top + y) for x, y in ring_of(frame, outer.width)])


def _placed(rect: Rect, rims: Edges) -> Box:
    left, top = (rims.left + rect.left).as_mm, (rims.top + rect.top).as_mm
    return Box(left, top, left + rect.size.width.as_mm, top + rect.size.height.as_mm)


def _on_the_wall(package: Package, outside: Box) -> Iterator[Shadow]:
    """Yield the shadow on the wall: a wide one, and a narrow one where the work is near to it."""
    frame = package.frame
    height = _off_the_wall(frame)
    corners = _outline(frame, outside)
    for blur, away, opacity in ((0.65, 1.0, 0.32), (0.2, 0.25, 0.25)):
        across, down = fall(height * away)
        fallen = tuple((x + across, y + down) for x, y in corners)
        yield Shadow(fallen, SHADE, blur * height, opacity, tuple(beside(corners, -1)))


def _off_the_wall(frame: Frame | None) -> float:
    """Return how high the edge stands that throws the shadow, in millimetres."""
    return frame.moulding.height.as_mm * 0.7 + _BUMPERS if frame else _OFF_THE_WALL


def _outline(frame: Frame | None, outside: Box) -> list[Point]:
    """Return the corners of the frame's outside, clockwise."""
    if frame is None or frame.sides == 4:
        return outside.corners
    left, top, _, _ = reach_of(frame)
    return [(left + x, top + y) for x, y in ring_of(frame, frame.outside.width)]


def _art(package: Package, place: ArtPlace, number: int, rims: Edges) -> Iterator[Patch]:
    """Yield a sheet with its image; with its shadow where it floats."""
    sheet = _placed(place.sheet, rims)
    if package.treatment.window is WindowFrom.FLOAT:
        rise = max([lift.rise.as_mm for lift in package.lifts if lift.scope == place.scope], default=0.0)
        height = rise + place.art.thickness.as_mm
        across, down = fall(height)
        hidden = rectangle(sheet.grown(-1.0 - height))
        yield from soft(
            lambda by: (*hidden, *moved(grown(sheet.corners, by), across, down)),
            SHADE,
            0.15 + 0.42 * height,
            0.42,
            layers=20,
        )
    image = sheet if place.image is None else _placed(place.image, rims)
    yield Area(rectangle(sheet), PAPER)
    yield Field(number, image, GREY)
    if package.treatment.window is WindowFrom.FLOAT:
        yield Hair(rectangle(sheet), SHADE, 0.15, 0.22)


def _spacer(strips: Strips, package: Package, rims: Edges) -> Iterator[Patch]:
    """Yield the spacer under the glazing, of which only what the lip leaves is seen."""
    spacer = strips.spacer
    if not isinstance(spacer, Spacer) or (package.frame is not None and package.frame.sides != 4):
        return
    outer = _placed(Rect(ZERO, ZERO, package.outer), rims)
    inner = outer.grown(-spacer.width.as_mm)
    across, down = fall(spacer.depth.as_mm)
    yield from soft(
        lambda by: (*rectangle(inner.grown(0.5)), *moved(rectangle(inner.grown(-by)), across, down)),
        SHADE,
        0.2 + 0.4 * spacer.depth.as_mm,
        0.22,
    )
    yield Area((*rectangle(outer), *rectangle(inner)), _SPACER)
    yield Hair(rectangle(inner), lit(_SPACER, 0.7), 0.2)


def _under_the_lip(package: Package, frame: Frame) -> Iterator[Area]:
    """Yield the shadow of the lip on what lies behind the glazing."""
    lip = min(rail.moulding.height - rail.moulding.rabbet_depth for rail in frame.rails)
    spacers = [strips.spacer.depth for strips in package.strips if isinstance(strips.spacer, Spacer)]
    glass = package.glazing.thickness if package.glazing else ZERO
    height = 0.6 * lip.as_mm + (glass + total(spacers)).as_mm
    across, down = fall(height)
    if frame.sides != 4:
        left, top, _, _ = reach_of(frame)
        corners = [(left + x, top + y) for x, y in ring_of(frame, frame.sight.width)]
    else:
        faces = {rail.side: rail.moulding.width.as_mm for rail in frame.rails}
        left, top = faces["left"], faces["top"]
        corners = Box(left, top, left + frame.sight.width.as_mm, top + frame.sight.height.as_mm).corners
    lip_edge = grown(corners, 0.5)

    def beyond(by: float) -> Steps:
        return (*lip_edge, *moved(grown(corners, -by), across, down))

    yield from soft(beyond, SHADE, 0.3 + 0.36 * height, 0.32, layers=20)
