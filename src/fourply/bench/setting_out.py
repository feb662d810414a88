"""How each shape is set out on the back: its straight sides with their ends, its slants, arcs, ovals.

Shapes other than rectangles: what a side is short of its corners, and how far the blade goes past each end, follow
from the shape and the bevel. A corner at which the line turns by `turn` lies `run * tan(turn / 2)` past the pencil's on
the face; an arc keeps its centre, so an arc's corner lies where the moved side meets the longer (or shorter) radius.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from fourply.bench import cut_rules as rules
from fourply.bench.jobs import SIDES, Job
from fourply.measure.length import ZERO, Length
from fourply.measure.rounding import from_mm
from fourply.trade.shapes.arch import Arch, EllipticalArch
from fourply.trade.shapes.corners import Clipped, Rounded, Scooped
from fourply.trade.shapes.rectangle import Rectangle
from fourply.trade.shapes.regular import Regular
from fourply.trade.shapes.stepped import Stepped

NEXT = {"top": ("left", "right"), "left": ("bottom", "top"), "bottom": ("right", "left"), "right": ("top", "bottom")}
"""To which side the far and the near end of each cut run, under a left-hand guide."""


@dataclass(frozen=True, slots=True)
class Corner:
    """One end of a side: how much of the box it leaves to the corner, how far the blade goes past, with their figures.

    Without a path `past` is that of a square corner, or with `flush` nothing.
    """

    reach: Length = ZERO
    reach_at: str = ""
    past: Length = ZERO
    past_at: str = ""
    flush: bool = False


SQUARE = Corner()

type Ends = Mapping[tuple[str, str], Corner]
"""The corner at the end of a side, by the side that is cut and the side that it runs to."""


@dataclass(frozen=True, slots=True)
class Ring:
    """The straight sides of a shape: of one rectangle, `inset` inside the box, where several are cut.

    `part` is 1 or 2 for what lies at the far or the near end of one line (under a left-hand guide).
    """

    ends: Ends
    number: int = 0
    inset: Length = ZERO
    inset_at: str = ""
    part: int = 0


def rings(job: Job) -> tuple[Ring, ...]:
    """Return the straight sides along which a guide cuts the job's shape, entering what they stand on."""
    shape = job.shape
    match shape:
        case Rectangle():
            corner = SQUARE if job.out_at else Corner(flush=True)
            return (Ring(_all(corner)),)
        case Stepped():
            return _stepped(job, shape)
        case Clipped() | Rounded() | Scooped():
            corner = _corner(job, shape)
            sides = [(side, room) for side in SIDES if (room := _room(job, side) - 2 * corner.reach) > Length(1)]
            return (Ring({(side, to): corner for side, _ in sides for to in NEXT[side]}),)
        case Arch() | EllipticalArch():
            return (Ring(_arch_ends(job, shape)),)
        case Regular():
            return (Ring(_regular_ends(job, shape)),)
        case _:
            return ()


def _all(corner: Corner) -> Ends:
    return {(side, to): corner for side in SIDES for to in NEXT[side]}


def _room(job: Job, side: str) -> Length:
    return job.box("width" if side in ("top", "bottom") else "height")[0]


def _given(job: Job, name: str, value: Length | float) -> str:
    path = f"{job.key}.{name}"
    job.ledger.given(path, value, f"shape {job.shape.words}")
    return path


# ── stepped corners ──────────────────────────────────────────────────────────────────────────────────────────────


def _stepped(job: Job, shape: Stepped) -> tuple[Ring, ...]:
    insets, at = [ZERO], [""]
    for number, step in enumerate(shape.steps, start=1):
        given, path = _given(job, f"step_width.{number}", step), f"{job.key}.inset.{number}"
        inset = insets[-1] + step
        if number == 1:
            path = given
        else:
            job.ledger.figure(path, inset, rules.STEP_INSET, before=at[-1], step=given)
        insets.append(inset)
        at.append(path)
    steps = list(zip(insets, at, strict=True))
    if job.whole:
        return tuple(_whole(job, steps))
    return tuple(
        Ring(_all(Corner(*opposite)), number, *step)
        for number, (step, opposite) in enumerate(zip(steps, reversed(steps), strict=True), start=1)
    )


def _whole(job: Job, steps: list[tuple[Length, str]]) -> Iterator[Ring]:
    """Yield stepped corners cut along their outline only: both ends of every line but the outermost by themselves."""
    yield Ring(_all(Corner(*steps[-1])), 1)
    job.ledger.figure(f"{job.key}.step_short", -job.out, rules.PAST_STEP, run=job.out_at)
    for number in range(2, len(steps) + 1):
        outer, inner = steps[-number], steps[-number + 1]
        for part in (1, 2):
            for side in NEXT:
                yield _part(job, side, (number, part), (steps[number - 1], outer, inner))


type _Inset = tuple[Length, str]
"""How far a line lies inside the outermost, with the path of its figure."""


def _part(job: Job, side: str, which: tuple[int, int], lines: tuple[_Inset, _Inset, _Inset]) -> Ring:
    """Return one end of a line of stepped corners: `lines` are its own inset and those that it runs between."""
    (number, part), (own, outer, inner) = which, lines
    along = "width" if side in ("top", "bottom") else "height"
    (box, box_at), rest = job.box(along), f"{job.key}.rest.{along}.{number}"
    job.ledger.figure(rest, box - inner[0], rules.STEP_REST, box=box_at, inset=inner[1])
    stop = Corner(box - inner[0], rest, -job.out, f"{job.key}.step_short")
    to, other = NEXT[side][:: 1 if part == 1 else -1]
    return Ring({(side, to): Corner(*outer), (side, other): stop}, number, *own, part)


# ── corners ──────────────────────────────────────────────────────────────────────────────────────────────────────


def _corner(job: Job, shape: Clipped | Rounded | Scooped) -> Corner:
    match shape:
        case Clipped():
            leg = _given(job, "leg", shape.leg)
            return Corner(shape.leg, leg, *_turned(job, 45.0))
        case Rounded():
            return Corner(shape.radius, _given(job, "radius", shape.radius), flush=True)
        case Scooped():
            return _scoop(job, shape)


def _turned(job: Job, degrees: float) -> tuple[Length, str]:
    """Return how far the blade goes past a corner at which the line turns by so much."""
    turn, path = _given(job, "turn", degrees), f"{job.key}.past"
    past = from_mm(job.out.as_mm * math.tan(math.radians(degrees / 2)))
    return job.ledger.figure(path, past, rules.PAST_CORNER, run=job.out_at, turn=turn), path


def _scoop(job: Job, shape: Scooped) -> Corner:
    radius, inset, run = shape.radius.nm, shape.inset.nm, job.out.nm
    operands = {"radius": _given(job, "radius", shape.radius), "inset": _given(job, "centre_inset", shape.inset)}
    reach, past = f"{job.key}.reach", f"{job.key}.past"
    taken = Length(round(inset + math.sqrt(radius * radius - inset * inset)))
    job.ledger.figure(reach, taken, rules.SCOOP_REACH, **operands)
    value = _root(radius * radius - inset * inset) - _root((radius - run) ** 2 - (inset + run) ** 2)
    job.ledger.figure(past, Length(round(value)), rules.PAST_SCOOP, **operands, run=job.out_at)
    return Corner(taken, reach, Length(round(value)), past)


def _root(square: Fraction | int) -> float:
    return math.sqrt(max(0, square))


# ── arches ───────────────────────────────────────────────────────────────────────────────────────────────────────


def _arch_ends(job: Job, shape: Arch | EllipticalArch) -> Ends:
    rise, width = _given(job, "rise", shape.rise), job.box("width")
    if isinstance(shape, Arch):
        nm = Fraction(width[0].nm ** 2 + 4 * shape.rise.nm**2, 8 * shape.rise.nm)
        job.ledger.figure(f"{job.key}.radius", Length(round(nm)), rules.ARCH_RADIUS, width=width[1], rise=rise)
    if shape.shoulder <= Length(1):
        foot = _foot(job, shape) if isinstance(shape, Arch) else SQUARE
        return {("bottom", to): foot for to in NEXT["bottom"]}
    spring = Corner(shape.rise, rise, flush=True)
    if isinstance(shape, Arch) and width[0] - 2 * shape.rise > Length(1):
        spring = _spring(job, shape)
    ends = {("bottom", to): SQUARE for to in NEXT["bottom"]}
    for side in ("left", "right"):
        ends |= {(side, "bottom"): SQUARE, (side, "top"): spring}
    return ends


def _spring(job: Job, shape: Arch) -> Corner:
    (width, width_at), radius, run = job.box("width"), job.ledger.length(f"{job.key}.radius").nm, job.out.nm
    value = _root((radius + run) ** 2 - (Fraction(width.nm, 2) + run) ** 2) - _root(
        radius * radius - Fraction(width.nm**2, 4)
    )
    operands = {"radius": f"{job.key}.radius", "width": width_at, "run": job.out_at}
    past = job.ledger.figure(f"{job.key}.spring", Length(round(value)), rules.PAST_SPRING, **operands)
    return Corner(shape.rise, f"{job.key}.rise", past, f"{job.key}.spring")


def _foot(job: Job, shape: Arch) -> Corner:
    (width, width_at), radius, run = job.box("width"), job.ledger.length(f"{job.key}.radius").nm, job.out.nm
    value = _root((radius + run) ** 2 - (radius - shape.rise.nm - run) ** 2) - width.nm / 2
    operands = {"radius": f"{job.key}.radius", "width": width_at, "run": job.out_at, "rise": f"{job.key}.rise"}
    past = job.ledger.figure(f"{job.key}.foot", Length(round(value)), rules.PAST_FOOT, **operands)
    return Corner(past=past, past_at=f"{job.key}.foot")


# ── polygons ─────────────────────────────────────────────────────────────────────────────────────────────────────


def _regular_ends(job: Job, shape: Regular) -> Ends:
    across, turn = _given(job, "across", shape.across), _given(job, "turn", 360 / shape.sides)
    line = from_mm(shape.across.as_mm * math.tan(math.pi / shape.sides))
    job.ledger.figure(f"{job.key}.side", line, rules.POLYGON_SIDE, across=across, turn=turn)
    past = from_mm(job.out.as_mm * math.tan(math.pi / shape.sides))
    job.ledger.figure(f"{job.key}.past", past, rules.PAST_CORNER, run=job.out_at, turn=turn)
    sides = ["bottom"] + ["top"] * (shape.sides % 2 == 0) + ["left", "right"] * (shape.sides % 4 == 0)
    ends: dict[tuple[str, str], Corner] = {}
    for side in sides:
        along = "width" if side in ("top", "bottom") else "height"
        box, box_at = job.box(along)
        reach, path = (box - line) // 2, f"{job.key}.reach.{along}"
        job.ledger.figure(path, reach, rules.POLYGON_REACH, width=box_at, side=f"{job.key}.side")
        ends |= {(side, to): Corner(reach, path, past, f"{job.key}.past") for to in NEXT[side]}
    return ends
