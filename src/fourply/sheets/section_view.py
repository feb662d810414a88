"""A package as its section through the bottom rail: every layer true to its thickness, resting on the rabbet."""

from __future__ import annotations

from collections.abc import Iterator

from fourply.drawing.dimension import Dim
from fourply.drawing.shapes import Point
from fourply.measure.length import ZERO, Length
from fourply.sheets.view import Beside, Filling, Layer, SectionView
from fourply.trade.materials import Fillet, Moulding, Spacer
from fourply.trade.package import ArtPlace, Groove, Hole, Mat, Package, StackLayer
from fourply.trade.parts import mat_name
from fourply.trade.treatment import Bevel, WindowFrom
from fourply.working.words import Words

_ABOVE = 3.5  # millimetres of what is seen in the window, shown above its lower edge
_BELOW = 2.0  # millimetres of plain mat, shown below the lowest thing that changes
_OVER_LIP = 2.0
_RAIL = 8.0  # millimetres of rail shown below the rabbet; a wider one is cut off


def section_view(package: Package, words: Words) -> SectionView:
    """Return the section of a package in its frame, or of its bottom edge where there is no frame."""
    bottom_rail = _bottom_moulding(package)
    low = _lowest_change(package) - _BELOW
    top = package.outer.height.as_mm - _lowest(package).window.bottom.as_mm + _ABOVE
    wall = min(_RAIL, (bottom_rail.width - bottom_rail.lip).as_mm) if bottom_rail else 0.0
    cut_low = (bottom_rail.lip.as_mm + _OVER_LIP) if bottom_rail else 6.0
    return SectionView(
        layers=tuple(_layers(package, words, top)),
        rail=_profile(bottom_rail) if bottom_rail else (),
        rail_growth=(bottom_rail.height.as_mm * 1.4, -wall - 14.0) if bottom_rail else (0.0, 0.0),
        bottom=-wall,
        cut_low=cut_low,
        cut_high=max(cut_low, low) if low - cut_low > 3 else cut_low,
        top=top,
        depths=tuple(_depths(package, words)),
        beside=tuple(_beside(package, words)),
        notes=tuple(_notes(package, bottom_rail, words)),
        point=package.stack.depth.as_mm + 0.3 if bottom_rail else None,
    )


def _lowest(package: Package) -> ArtPlace:
    """Return the sheet whose window lies lowest: the one that the section passes."""
    return max(package.arts, key=lambda place: place.window.bottom)


def _bottom_moulding(package: Package) -> Moulding | None:
    if package.frame is None:
        return None
    rails = [rail.moulding for rail in package.frame.rails if rail.side == "bottom"]
    return rails[0] if rails else package.frame.moulding


def _lowest_change(package: Package) -> float:
    heights = [_face(mat).as_mm for mat in package.mats] + [mat.borders.bottom.as_mm for mat in package.mats]
    heights += [(groove.borders.bottom - groove.run).as_mm for mat in package.mats for groove in mat.all_grooves]
    heights.append(package.outer.height.as_mm - _lowest(package).sheet.bottom.as_mm)
    return min(heights)


def _face(mat: Mat) -> Length:
    """Return the height at which the coloured face ends above the bottom edge of the package."""
    return mat.borders.bottom - mat.run if mat.opening.bevel is Bevel.NORMAL else mat.borders.bottom + mat.run


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


def _layers(package: Package, words: Words, top: float) -> Iterator[Layer]:
    """Yield every layer of the stack, front to back; a floated sheet and its lift last."""
    depth = ZERO
    mats = {mat_name(mat): mat for mat in package.mats}
    for layer in package.stack.layers:
        span = (depth.as_mm, (depth + layer.thickness).as_mm)
        mat = mats.get(layer.name)
        name = f"{layer.name} {words.write(layer.thickness)}"
        if mat:
            filling = Filling.RISING if mat.number % 2 else Filling.FALLING
            yield Layer(name, _mat_areas(mat, span), filling)
        else:
            yield Layer(name, (_plain(package, layer, span, top),), _FILLINGS.get(layer.name, Filling.EMPTY))
        depth += layer.thickness
    if package.treatment.window is WindowFrom.FLOAT:
        yield from _floated(package, words, top)


_FILLINGS = {"art": Filling.SOLID, "backing": Filling.WIDE, "spacer": Filling.RISING, "fillet": Filling.RISING}


def _plain(package: Package, layer: StackLayer, span: tuple[float, float], top: float) -> tuple[Point, ...]:
    """Return the area of a layer without a bevel."""
    low, high = 0.0, top
    if layer.name == "art":
        low = package.outer.height.as_mm - _lowest(package).sheet.bottom.as_mm
    for strips in package.strips:
        if layer.name == "spacer" and isinstance(strips.spacer, Spacer):
            high = strips.spacer.width.as_mm
        if layer.name == "fillet" and isinstance(strips.spacer, Fillet):
            border = package.mats[-1].borders.bottom
            low, high = (border - strips.spacer.lip).as_mm, (border + strips.spacer.shown).as_mm
    return _box(span, low, high)


def _box(span: tuple[float, float], low: float, high: float) -> tuple[Point, ...]:
    front, back = span
    return ((front, low), (front, high), (back, high), (back, low))


def _mat_areas(mat: Mat, span: tuple[float, float]) -> tuple[tuple[Point, ...], ...]:
    """Return what the cut shows of a mat: one area, or two where a groove parts it down to its back."""
    front, back = span
    low, face, line = mat.inset.as_mm, _face(mat).as_mm, mat.borders.bottom.as_mm
    if mat.hidden:
        return (((front, low), (front, line), (back, line), (back, low)),)
    areas, outer = [], ((front, low), (back, low))
    for groove in sorted(_below(mat), key=lambda each: each.borders.bottom):
        at, run, shave = groove.borders.bottom.as_mm, groove.run.as_mm, groove.shave.as_mm
        deep = back + shave * (back - front) / (2 * run) if run else back
        near = at + shave / 2
        floor = ((deep, near), (back, near)) if shave else ((back, at),)
        areas.append((outer[0], (front, at - run), *floor, outer[1]))
        outer = ((front, at + run + shave), floor[-1])
        if shave:
            outer = (outer[0], (back, near))
    areas.append((outer[0], (front, face), (back, line), outer[1]))
    return tuple(areas)


def _below(mat: Mat) -> tuple[Groove, ...]:
    """Return the grooves that the section meets: round all openings, and round the one that it passes."""
    return (*mat.grooves, *_passed(mat).grooves)


def _passed(mat: Mat) -> Hole:
    """Return the window that lies lowest: the one that the section passes."""
    return min((hole for hole in mat.holes if not hole.title), key=lambda hole: hole.borders.bottom)


def _floated(package: Package, words: Words, top: float) -> Iterator[Layer]:
    """Yield the floated sheet and the board that raises it; both stand in front of the mount board."""
    mount = ZERO
    for layer in package.stack.layers:
        if layer.name == "mount board":
            break
        mount += layer.thickness
    lift = package.lift.rise if package.lift else ZERO
    thickness = package.work.art.thickness
    sheet = package.outer.height.as_mm - _lowest(package).sheet.bottom.as_mm
    front = (mount - lift - thickness).as_mm
    yield Layer(f"art {words.write(thickness)}", (_box((front, (mount - lift).as_mm), sheet, top),), Filling.SOLID)
    if package.lift is not None:
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


def _beside(package: Package, words: Words) -> Iterator[Beside]:
    """Yield what is seen in front, bottom to top: groove, strip, bevels and flat strips, each with its width."""
    top = package.mats[0]
    for groove in _below(top) if top.run > ZERO else ():
        low, run = groove.borders.bottom.as_mm, groove.run.as_mm
        inner = low + (run + groove.shave.as_mm)
        yield Beside(low - run, inner, f"groove {words.write(groove.width)}")
        if groove is _below(top)[-1]:
            yield Beside(inner, _face(top).as_mm, f"strip {words.write(groove.strip)}")
    for number, mat in enumerate(package.mats):
        face, line = _face(mat).as_mm, mat.borders.bottom.as_mm
        if number and _passed(mat).strip > ZERO:
            before = package.mats[number - 1]
            yield Beside(_sight(before), face, f"flat {words.write(_passed(mat).strip)}")
        if mat.opening.bevel is Bevel.NORMAL and mat.run > ZERO:
            yield Beside(face, line, f"bevel {words.write(mat.run)}", minor=True)


def _sight(mat: Mat) -> float:
    return (mat.borders.bottom if mat.opening.bevel is Bevel.NORMAL else mat.borders.bottom + mat.run).as_mm


def _notes(package: Package, moulding: Moulding | None, words: Words) -> Iterator[str]:
    if moulding is None:
        return
    yield f"rail {words.write(moulding.width)}, lip {words.write(moulding.lip)}"
    yield f"clear {words.write(package.treatment.allowance)} in all; the package rests on the rail"
