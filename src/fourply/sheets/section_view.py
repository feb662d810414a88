"""A package as its section through the bottom rail: every layer true to its thickness, resting on the rabbet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from fourply.drawing.dimension import Dim
from fourply.drawing.shapes import Point
from fourply.measure.length import ZERO, Length
from fourply.sheets.section_place import SectionPlace, section_place
from fourply.sheets.view import Beside, Filling, Layer, SectionView
from fourply.trade.materials import Fillet, Moulding, Spacer
from fourply.trade.package import Groove, Inlay, Mat, Package, StackLayer
from fourply.trade.parts import mat_name
from fourply.trade.treatment import WindowFrom
from fourply.working.words import Words

_ABOVE = 3.5  # millimetres of what is seen in the window, shown above its lower edge
_BELOW = 2.0  # millimetres of plain mat, shown below the lowest thing that changes
_OVER_LIP = 2.0
_RAIL = 8.0  # millimetres of rail shown below the rabbet; a wider one is cut off
_WORTH = 3.0  # millimetres that are left out at least
_WIDER = 0.2  # a strip that is cut where it is so much wider than at its narrowest says so


@dataclass(frozen=True, slots=True)
class _Edge:
    """Heights at which a bevelled cut meets the face and the back of its board, above the bottom of the package."""

    face: float
    back: float

    @property
    def sight(self) -> float:
        """The inner of the two."""
        return max(self.face, self.back)


@dataclass(frozen=True, slots=True)
class _Vee:
    """A groove that is cut through: where it begins and ends on the face, and where its bottom lies."""

    groove: Groove
    outer: float
    inner: float
    floor: float


def section_view(package: Package, words: Words) -> SectionView:
    """Return the section of a package in its frame, or of its bottom edge where there is no frame."""
    place = section_place(package)
    bottom_rail = _bottom_moulding(package)
    changes = tuple(_changes(place))
    window = package.outer.height.as_mm - place.art.window.bottom.as_mm
    top = max(window, *(height for height in changes if height < window + 4 * _ABOVE)) + _ABOVE
    wall = min(_RAIL, (bottom_rail.width - bottom_rail.lip).as_mm) if bottom_rail else 0.0
    cut_low, cut_high = _break((bottom_rail.lip.as_mm + _OVER_LIP) if bottom_rail else 6.0, changes)
    return SectionView(
        layers=tuple(_layers(place, words, top)),
        rail=_profile(bottom_rail) if bottom_rail else (),
        rail_growth=(bottom_rail.height.as_mm * 1.4, -wall - 14.0) if bottom_rail else (0.0, 0.0),
        bottom=-wall,
        cut_low=cut_low,
        cut_high=cut_high,
        top=top,
        depths=tuple(_depths(package, words)),
        beside=tuple(_beside(place, words)),
        notes=tuple(_notes(package, bottom_rail, words)),
        point=package.stack.depth.as_mm + 0.3 if bottom_rail else None,
    )


def _break(lowest: float, changes: Sequence[float]) -> tuple[float, float]:
    """Return the longest stretch over `lowest` on which nothing changes, alike heights where it is too short."""
    heights = sorted(height for height in changes if height > lowest)
    stretches = [(low + _BELOW, high - _BELOW) for low, high in pairwise((lowest - _BELOW, *heights))]
    low, high = max(stretches, key=lambda stretch: stretch[1] - stretch[0], default=(lowest, lowest))
    return (low, high) if high - low > _WORTH else (lowest, lowest)


def _bottom_moulding(package: Package) -> Moulding | None:
    if package.frame is None:
        return None
    rails = [rail.moulding for rail in package.frame.rails if rail.side == "bottom"]
    return rails[0] if rails else package.frame.moulding


def _changes(place: SectionPlace) -> Iterator[float]:
    """Yield every height at which something begins or ends."""
    package = place.package
    for mat in package.mats:
        edge = _edge(place, mat)
        yield from (edge.face, edge.back)
        yield from (height for vee in _vees(place, mat) for height in (vee.outer, vee.inner))
    if package.inlay is not None:
        yield from (height for edge in _inlaid(place, package.inlay) for height in (edge.face, edge.back))
    if package.sink is not None:
        yield (package.outer.height - package.sink.opening.bottom).as_mm
    yield (package.outer.height - place.art.sheet.bottom).as_mm


def _edge(place: SectionPlace, mat: Mat) -> _Edge:
    """Return where the opening of a mat is cut; the section passes all mats of its window."""
    hole = place.hole(mat)
    shape, flat = hole.opening.shape, hole.borders.bottom
    heights = []
    for away in (hole.opening.towards_face, ZERO):
        met = place.height(shape, hole.borders, away)
        heights.append((flat - away).as_mm if met is None else met)
    return _Edge(*heights)


def _vees(place: SectionPlace, mat: Mat) -> list[_Vee]:
    """Return the grooves that the section meets, from the bottom up."""
    vees = []
    for groove in place.grooves(mat):
        outer, inner, back = (
            place.height(groove.shape, groove.borders, away)
            for away in (groove.run, -groove.run - groove.shave, -groove.shave // 2)
        )
        if outer is not None and inner is not None and back is not None:
            vees.append(_Vee(groove, outer, inner, back))
    return sorted(vees, key=lambda vee: vee.outer)


def _inlaid(place: SectionPlace, inlay: Inlay) -> tuple[_Edge, ...]:
    """Return the two edges of an inlay where it is met: the outer, then the inner."""
    edges: list[_Edge] = []
    for away in (inlay.width, ZERO):
        heights = [place.height(inlay.shape, inlay.inner, away + more) for more in (inlay.run, ZERO)]
        edges.extend(_Edge(face, back) for face, back in [heights] if face is not None and back is not None)
    return tuple(edges) if len(edges) == 2 else ()


def _profile(moulding: Moulding) -> tuple[Point, ...]:
    """Return the moulding cut through: its lip in front, the rabbet behind it; its front edge eased."""
    lip, floor = moulding.lip.as_mm, 0.0
    foot = -(moulding.width - moulding.lip).as_mm
    front = -(moulding.height - moulding.rabbet_depth).as_mm
    back = moulding.rabbet_depth.as_mm
    ease = min(-front, lip - foot) * 0.3
    if front == 0.0:
        return ((0.0, foot), (back, foot), (back, floor), (0.0, floor))
    return (
        (front, foot),
        (back, foot),
        (back, floor),
        (0.0, floor),
        (0.0, lip),
        (front + ease, lip),
        (front, lip - ease),
    )


def _layers(place: SectionPlace, words: Words, top: float) -> Iterator[Layer]:
    """Yield every layer of the stack, front to back, an inlay behind its mat; a floated sheet and its lift last."""
    package, depth = place.package, ZERO
    floats = place.treatment.window is WindowFrom.FLOAT
    mats = {mat_name(mat): mat for mat in package.mats}
    for layer in package.stack.layers:
        span = (depth.as_mm, (depth + layer.thickness).as_mm)
        mat = mats.get(layer.name)
        name = f"{layer.name} {words.write(layer.thickness)}"
        if mat:
            yield from _mat_layers(place, mat, span, name, words)
        elif layer.name == "sink mat":
            yield from _sunk(place, span, name, words, top)
        elif not (layer.name == "art" and floats):  # what floats here is not the sheet that lies behind the mats
            yield Layer(name, (_plain(place, layer, span, top),), _FILLINGS.get(layer.name, Filling.EMPTY))
        depth += layer.thickness
    if floats:
        yield from _floated(place, words, top)


_FILLINGS = {"art": Filling.SOLID, "backing": Filling.WIDE, "spacer": Filling.RISING, "fillet": Filling.RISING}


def _plain(place: SectionPlace, layer: StackLayer, span: tuple[float, float], top: float) -> tuple[Point, ...]:
    """Return the area of a layer without a bevel."""
    low, high, package = 0.0, top, place.package
    if layer.name == "art":
        low = (package.outer.height - place.art.sheet.bottom).as_mm
    for strips in package.strips:
        if layer.name == "spacer" and isinstance(strips.spacer, Spacer):
            high = strips.spacer.width.as_mm
        if layer.name == "fillet" and isinstance(strips.spacer, Fillet):
            border = place.hole(package.mats[-1]).borders.bottom
            low, high = (border - strips.spacer.lip).as_mm, (border + strips.spacer.shown).as_mm
    return _box(span, low, high)


def _box(span: tuple[float, float], low: float, high: float) -> tuple[Point, ...]:
    front, back = span
    return ((front, low), (front, high), (back, high), (back, low))


def _sunk(place: SectionPlace, span: tuple[float, float], name: str, words: Words, top: float) -> Iterator[Layer]:
    """Yield the boards round thick art, and the art at the back of the hole in them."""
    package, art, sink = place.package, place.art, place.package.sink
    if sink is None:
        return
    edge = (package.outer.height - sink.opening.bottom).as_mm
    yield Layer(name, (_box(span, 0.0, edge),), Filling.FALLING)
    thickness, low = art.art.thickness, (package.outer.height - art.sheet.bottom).as_mm
    depth = (span[1] - thickness.as_mm, span[1])
    yield Layer(f"art {words.write(thickness)}", (_box(depth, low, top),), Filling.SOLID)


def _mat_layers(place: SectionPlace, mat: Mat, span: tuple[float, float], name: str, words: Words) -> Iterator[Layer]:
    """Yield a mat as the cut shows it: in parts where a groove or an inlay parts it; then the inlay."""
    front, back = span
    edge, inlay = _edge(place, mat), place.package.inlay if mat.number == 1 else None
    inlaid = _inlaid(place, inlay) if inlay is not None else ()
    parts: list[tuple[Point, ...]] = []
    outer: tuple[Point, Point] = (front, mat.inset.as_mm), (back, mat.inset.as_mm)
    gaps = [_gap_of(vee, span) for vee in _vees(place, mat)]
    if inlaid:
        gaps.append(
            (((front, inlaid[0].face), (back, inlaid[0].back)), ((front, inlaid[1].face), (back, inlaid[1].back)))
        )
    for low, high in sorted(gaps, key=lambda gap: gap[0][0][1]):
        if low[0][1] > outer[0][1]:  # else it meets the one before, and a finding says so
            parts.append((outer[0], *low, outer[1]))
        outer = (high[0], high[-1])
    parts.append((outer[0], (front, edge.face), (back, edge.back), outer[1]))
    yield Layer(name, tuple(parts), Filling.RISING if mat.number % 2 else Filling.FALLING)
    if inlay is not None and inlaid:
        one, two = inlaid
        band = ((front, one.face), (front, two.face), (back, two.back), (back, one.back))
        yield Layer(f"inlay {words.write(inlay.board.caliper)}", (band,), Filling.FALLING)


type _Gap = tuple[tuple[Point, ...], tuple[Point, ...]]


def _gap_of(vee: _Vee, span: tuple[float, float]) -> _Gap:
    """Return the lower and the upper edge of a groove, each from the face to the back of the board."""
    front, back = span
    run, shave = vee.groove.run.as_mm, vee.groove.shave.as_mm
    if not shave or not run:
        floor: tuple[Point, ...] = ((back, vee.floor),)
    else:
        floor = ((back + shave * (back - front) / (2 * run), vee.floor), (back, vee.floor))
    return ((front, vee.outer), *floor), ((front, vee.inner), *floor)


def _floated(place: SectionPlace, words: Words, top: float) -> Iterator[Layer]:
    """Yield the floated sheet and the board that raises it; both stand in front of the mount board."""
    mount, package = ZERO, place.package
    for layer in package.stack.layers:
        if layer.name == "mount board":
            break
        mount += layer.thickness
    lift = place.lift.rise if place.lift else ZERO
    thickness = place.art.art.thickness
    sheet = (package.outer.height - place.art.sheet.bottom).as_mm
    front = (mount - lift - thickness).as_mm
    yield Layer(f"art {words.write(thickness)}", (_box((front, (mount - lift).as_mm), sheet, top),), Filling.SOLID)
    if place.lift is not None:
        setback = sheet + package.treatment.float_setback.as_mm
        area = _box(((mount - lift).as_mm, mount.as_mm), min(setback, top - 1), top)
        yield Layer(f"lift {words.write(lift)}", (area,), Filling.FALLING)


def _depths(package: Package, words: Words) -> Iterator[tuple[Dim, ...]]:
    stack = package.stack
    depth = Dim(0.0, stack.depth.as_mm, words.write(stack.depth), figure="stack.depth")
    if stack.rabbet is None or stack.spare is None:
        yield (depth,)
        return
    if stack.spare > ZERO:
        spare = Dim(stack.depth.as_mm, stack.rabbet.as_mm, words.write(stack.spare), bold=True, figure="stack.spare")
        yield (depth, spare)
    else:
        yield (depth,)
    yield (Dim(0.0, stack.rabbet.as_mm, f"rabbet {words.write(stack.rabbet)}", figure="moulding.rabbet_depth"),)


def _beside(place: SectionPlace, words: Words) -> Iterator[Beside]:
    """Yield what is seen in front, bottom to top: grooves, inlay, strips, bevels, each with its width."""
    package = place.package
    top = package.mats[0]
    vees = _vees(place, top) if top.run > ZERO else []
    for vee in vees:
        yield Beside(vee.outer, vee.inner, f"groove {words.write(vee.groove.width)}")
    if vees and vees[-1].inner < _edge(place, top).face:
        yield _strip(vees[-1].inner, _edge(place, top).face, "strip", vees[-1].groove.strip, words)
    if package.inlay is not None and (inlaid := _inlaid(place, package.inlay)):
        yield Beside(inlaid[0].face, inlaid[1].face, f"inlay {words.write(package.inlay.width)}")
    before: _Edge | None = None
    for mat in (mat for mat in package.mats if not mat.hidden):
        hole, edge = place.hole(mat), _edge(place, mat)
        if before is not None and hole.strip > ZERO:
            yield _strip(before.sight, edge.face, "flat", hole.strip, words)
        if edge.face < edge.back:
            yield Beside(edge.face, edge.back, f"bevel {words.write(mat.run)}", minor=True)
        before = edge


def _strip(low: float, high: float, name: str, width: Length, words: Words) -> Beside:
    """Return a strip whose figure is its least width, which may be elsewhere."""
    least = "least " if high - low > width.as_mm + _WIDER else ""
    return Beside(low, high, f"{name} {least}{words.write(width)}")


def _notes(package: Package, moulding: Moulding | None, words: Words) -> Iterator[str]:
    if moulding is None:
        return
    yield f"rail {words.write(moulding.width)}, lip {words.write(moulding.lip)}"
    yield f"clear {words.write(package.treatment.allowance)} in all; the package rests on the rail"
