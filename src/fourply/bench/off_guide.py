"""What no guide cuts: the slants, arcs and ovals of a shape, set out from the edges of the board.

Points are measured from the nearer edges, on which the settings of the guide stand too, so that a board that is a
little off its size does not part an arc from the sides that it meets. The paths of their figures begin as those of
`setting_out`, which must have entered its own first.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from fourply.bench import cut_rules as rules
from fourply.bench.cuts import Arc, Oval, Slant, Spot, Task, Template
from fourply.bench.cutter import Cutter
from fourply.bench.jobs import Job
from fourply.bench.shop_cutter import oval_scale
from fourply.measure.length import ZERO, Length
from fourply.measure.rounding import from_mm
from fourply.measure.size import Size
from fourply.trade.shapes.arch import Arch, EllipticalArch
from fourply.trade.shapes.corners import Clipped, Rounded, Scooped
from fourply.trade.shapes.ellipse import Ellipse
from fourply.trade.shapes.free import Free
from fourply.trade.shapes.regular import Regular
from fourply.trade.shapes.shape import Shape


def others(job: Job, cutter: Cutter) -> tuple[Task, ...]:
    """Return the cuts of the job's shape that run along no side, for a cutter that may have an oval head."""
    return tuple(_others(job, cutter))


def _others(job: Job, cutter: Cutter) -> Iterator[Task]:
    match job.shape:
        case Clipped() as shape:
            yield from _slants_of_clipped(job, shape)
        case Rounded() | Scooped() as shape:
            yield from _arcs_of_corners(job, shape)
        case Arch() | EllipticalArch() as shape:
            yield from _arc_of_arch(job, shape)
        case Regular() as shape:
            yield from _slants_of_polygon(job, shape)
        case Ellipse():
            yield from _oval(job, cutter)
        case Free():
            yield from _template(job)


def curves_first(shape: Shape) -> bool:
    """Tell whether what runs along no side is cut first.

    Arcs are: the guide's cut then runs out into one that is there, and the piece falls out under the guide. Slants wait
    for the sides.
    """
    return not isinstance(shape, Clipped | Regular)


def _slants_of_clipped(job: Job, shape: Clipped) -> Iterator[Task]:
    leg, past = f"{job.key}.leg", f"{job.key}.past"
    line = from_mm(shape.leg.as_mm * math.sqrt(2))
    line_at = f"{job.key}.diagonal"
    job.ledger.figure(line_at, line, rules.LEG_LINE, leg=leg)
    added = job.ledger.length(past)
    length = line + 2 * added
    job.ledger.figure(f"{job.key}.slant", length, rules.SLANT_LENGTH, line=line_at, past=past)
    for number, (right, low) in enumerate(_CORNERS, start=1):
        path = f"{job.key}.corner.{number}"
        start = _spot(job, f"{path}.start", (right, low), (ZERO, ""), (shape.leg, leg))
        end = _spot(job, f"{path}.end", (right, low), (shape.leg, leg), (ZERO, ""))
        yield Slant(f"{job.scope}{path}", start, end, line, added, length)


_CORNERS = ((False, False), (True, False), (True, True), (False, True))
"""Right and low for each corner, clockwise from the upper left as the board lies."""


def _edge(job: Job, *, upright: bool, far: bool) -> tuple[Length, str]:
    """Return the border beside an edge as the board lies: what is left in front lies at the right."""
    if upright:
        return job.side("bottom" if far else "top")
    return job.side("left" if far else "right")


def _spot(job: Job, path: str, corner: tuple[bool, bool], across: tuple[Length, str], down: tuple[Length, str]) -> Spot:
    """Enter a point by how far it lies inside two lines of the guide, and return it."""
    values = []
    for name, upright, far, (reach, reach_at) in (
        ("across", False, corner[0], across),
        ("down", True, corner[1], down),
    ):
        edge, edge_at = _edge(job, upright=upright, far=far)
        if reach_at:
            job.ledger.figure(f"{path}.{name}", edge + reach, rules.SPOT_IN, edge=edge_at, reach=reach_at)
        else:
            job.ledger.figure(f"{path}.{name}", edge, rules.SPOT, edge=edge_at)
        values.append(edge + reach)
    return Spot(f"{job.scope}{path}", values[0], values[1], *corner)


def _arcs_of_corners(job: Job, shape: Rounded | Scooped) -> Iterator[Task]:
    key = job.key
    if isinstance(shape, Rounded):
        reach, middle, turn = (shape.radius, f"{key}.radius"), (shape.radius, f"{key}.radius"), math.pi / 2
    else:
        reach, middle = (job.ledger.length(f"{key}.reach"), f"{key}.reach"), (shape.inset, f"{key}.centre_inset")
        turn = math.pi / 2 + 2 * math.asin(shape.inset.nm / shape.radius.nm)
    line = _arc_line(job, shape.radius, turn)
    for number, corner in enumerate(_CORNERS, start=1):
        path = f"{key}.corner.{number}"
        yield Arc(
            f"{job.scope}{path}",
            _spot(job, f"{path}.centre", corner, middle, middle),
            shape.radius,
            shape.radius,
            _spot(job, f"{path}.start", corner, (ZERO, ""), reach),
            _spot(job, f"{path}.end", corner, reach, (ZERO, "")),
            line,
        )


def _arc_line(job: Job, radius: Length, turn: float) -> Length:
    """Enter and return the length of an arc by its angle in radians."""
    angle = job.ledger.given(f"{job.key}.arc_turn", turn, "angle of the arc at its centre, in radians")
    line = Length(round(radius.nm * angle))
    return job.ledger.figure(
        f"{job.key}.arc", line, rules.ARC_LINE, radius=f"{job.key}.radius", turn=f"{job.key}.arc_turn"
    )


def _arc_of_arch(job: Job, shape: Arch | EllipticalArch) -> Iterator[Task]:
    key = job.key
    rise = (shape.rise, f"{key}.rise")
    if isinstance(shape, Arch):
        radius = upright = job.ledger.length(f"{key}.radius")
        middle = (radius, f"{key}.radius")
        line = _arc_line(job, radius, 4 * math.atan(2 * shape.rise.nm / shape.size.width.nm))
    else:
        (width, width_at), middle, upright = job.box("width"), rise, shape.rise
        radius = job.ledger.figure(f"{key}.semi", width // 2, rules.SEMI_AXIS, axis=width_at)
        arc = shape.outline().pieces[0]
        line = job.ledger.given(f"{key}.arc", from_mm(arc.length), "half an ellipse, by its elliptic integral")
    path = f"{key}.arch"
    yield Arc(
        f"{job.scope}{path}",
        _middle_spot(job, f"{path}.centre", middle),
        radius,
        upright,
        _spot(job, f"{path}.start", (False, False), (ZERO, ""), rise),
        _spot(job, f"{path}.end", (True, False), (ZERO, ""), rise),
        line,
    )


def _middle_spot(job: Job, path: str, down: tuple[Length, str] | None) -> Spot:
    """Enter and return a point in the middle from side to side, and so far below the top, or in the middle too."""
    (edge, edge_at), (width, width_at) = _edge(job, upright=False, far=False), job.box("width")
    across = edge + width // 2
    job.ledger.figure(f"{path}.across", across, rules.SPOT_MIDDLE, edge=edge_at, width=width_at)
    top, top_at = job.side("top")
    if down is None:
        height, height_at = job.box("height")
        below = top + height // 2
        job.ledger.figure(f"{path}.down", below, rules.SPOT_MIDDLE, edge=top_at, width=height_at)
    else:
        below = top + down[0]
        job.ledger.figure(f"{path}.down", below, rules.SPOT_IN, edge=top_at, reach=down[1])
    return Spot(f"{job.scope}{path}", across, below)


# ── ovals, polygons, free paths ──────────────────────────────────────────────────────────────────────────────────


def _oval(job: Job, cutter: Cutter) -> Iterator[Task]:
    path, figure = f"{job.key}.oval", job.ledger.figure
    axes = [job.box("width"), job.box("height")]
    (short, short_at), (long, long_at) = sorted(axes)
    semi = []
    for name, (axis, axis_at) in (("long", (long, long_at)), ("short", (short, short_at))):
        semi.append(figure(f"{path}.{name}", axis // 2, rules.SEMI_AXIS, axis=axis_at))
    names = {"long": f"{path}.long", "short": f"{path}.short"}
    difference = figure(f"{path}.difference", semi[0] - semi[1], rules.AXIS_DIFFERENCE, **names)
    pins = figure(
        f"{path}.pins", Length(round(math.sqrt(long.nm**2 - short.nm**2))), rules.PINS, long=long_at, short=short_at
    )
    pin = figure(f"{path}.pin", pins // 2, rules.PIN, pins=f"{path}.pins")
    loop = figure(f"{path}.loop", long + pins, rules.LOOP, long=long_at, pins=f"{path}.pins")
    centre = _middle_spot(job, f"{path}.centre", None)
    size = Size(axes[0][0], axes[1][0])
    plain = Oval(f"{job.scope}{path}", centre, size, (semi[0], semi[1]), difference, pins, pin, loop)
    scale = oval_scale(job, cutter, path, axes)
    yield plain if scale is None else replace(plain, scale=scale.axes, reads=scale.reads, face_up=scale.face_up)


def _slants_of_polygon(job: Job, shape: Regular) -> Iterator[Task]:
    key = job.key
    if shape.sides == 4:
        return
    line, past = (job.ledger.length(f"{key}.{name}") for name in ("side", "past"))
    length = job.ledger.figure(
        f"{key}.slant", line + 2 * past, rules.SLANT_LENGTH, line=f"{key}.side", past=f"{key}.past"
    )
    outer = from_mm(shape.across.as_mm / 2 / math.cos(math.pi / shape.sides))
    job.ledger.figure(f"{key}.outer", outer, rules.POLYGON_OUTER, across=f"{key}.across", turn=f"{key}.turn")
    spots = [_vertex(job, shape, outer, at) for at in range(shape.sides)]
    for at in range(shape.sides):
        if 4 * (at + 1) % shape.sides:  # every quarter turn from the bottom lies a side that the guide cuts
            start, end = spots[at], spots[(at + 1) % shape.sides]
            yield Slant(f"{job.scope}{key}.slant.{at + 1}", start, end, line, past, length)


def _vertex(job: Job, shape: Regular, outer: Length, at: int) -> Spot:
    """Enter and return a corner of a polygon, counted clockwise as the board lies from the left end of its foot."""
    turn = 360 / shape.sides * (at + 0.5)
    right, low = turn > 180 + 1e-9, math.cos(math.radians(turn)) > 0
    path = f"{job.key}.corner.{at + 1}"
    from_foot = 360 - turn if right else turn
    given = job.ledger.given(f"{path}.turn", from_foot, "degrees from the middle of the foot")
    sine, cosine = math.sin(math.radians(given)), math.cos(math.radians(given))
    (edge, edge_at), (width, width_at) = _edge(job, upright=False, far=right), job.box("width")
    across = edge + from_mm(width.as_mm / 2 - outer.as_mm * sine)
    names = {"outer": f"{job.key}.outer", "turn": f"{path}.turn"}
    job.ledger.figure(f"{path}.across", across, rules.VERTEX_ACROSS, edge=edge_at, width=width_at, **names)
    (edge, edge_at), (height, height_at) = _edge(job, upright=True, far=low), job.box("height")
    names |= {"across": f"{job.key}.across", "edge": edge_at}
    if low:
        down = edge + from_mm(shape.across.as_mm / 2 - outer.as_mm * cosine)
        job.ledger.figure(f"{path}.down", down, rules.VERTEX_LOW, **names)
    else:
        down = edge + from_mm(height.as_mm - shape.across.as_mm / 2 + outer.as_mm * cosine)
        job.ledger.figure(f"{path}.down", down, rules.VERTEX_HIGH, **names, height=height_at)
    return Spot(f"{job.scope}{path}", across, down, right, low)


def _template(job: Job) -> Iterator[Task]:
    path, (width, _), (height, _) = f"{job.key}.template", job.box("width"), job.box("height")
    line = job.ledger.given(path, from_mm(job.shape.perimeter), f"length of the outline, shape {job.shape.words}")
    corner = _spot(job, f"{path}.corner", (False, False), (ZERO, ""), (ZERO, ""))
    yield Template(f"{job.scope}{path}", corner, Size(width, height), line)
