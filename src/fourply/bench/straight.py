"""Straight cuts along the sides of a board: guide, far and near end, length."""

from __future__ import annotations

from fourply.bench import cut_rules as rules
from fourply.bench.cuts import Cut, End
from fourply.bench.cutter import Cutter, Guided, Side
from fourply.bench.jobs import Job
from fourply.bench.setting_out import NEXT, Corner, Ring
from fourply.bench.shop_cutter import constant, guided, stop_at
from fourply.measure.length import ZERO, Length

ROUND = ("top", "left", "bottom", "right")
"""The order of the cuts: clockwise seen from the back."""


def side_cut(job: Job, ring: Ring, side: str, cutter: Cutter, before: Cut | None) -> Cut:
    """Return the cut along one side; `before` is the straight cut made before it, None for the first."""
    path = f"{job.key}.step.{ring.number}.{side}" if ring.number else f"{job.key}.{side}"
    if ring.part:
        path += f".{ring.part}"
    guide = _guide(job, ring, side, f"{path}.guide")
    sides = NEXT[side] if cutter.guide is Side.LEFT else NEXT[side][::-1]
    corners = [ring.ends[side, towards] for towards in sides]
    far = _end(job, f"{path}.far", (side, sides[0]), corners[0], cutter)
    near = _end(job, f"{path}.near", (side, sides[1]), corners[1], cutter)
    length = _length(job, path, side, (far, near), corners)
    scale = guided(job, cutter, path, guide)
    now = _set(scale, far, near)
    then = {} if before is None else _set(before.guided, before.far, before.near)
    changed = tuple(key for key, value in now.items() if then.get(key) != value)
    return Cut(side, f"{job.scope}{path}", guide, scale, far, near, changed, length, ring.number, _part(ring, cutter))


def _set(scale: Guided, far: End, near: End) -> dict[str, object]:
    """Return what is set for a cut, by name; a stop that the cutter has not is never set."""
    stops = {name: end.stop for name, end in (("far", far), ("near", near)) if end.stopped}
    return {"guide": (scale.reading, scale.strip), **stops}


def _part(ring: Ring, cutter: Cutter) -> int:
    """Return which end of the line is cut, as this cutter sees far and near."""
    return ring.part if cutter.guide is Side.LEFT or not ring.part else 3 - ring.part


def _guide(job: Job, ring: Ring, side: str, path: str) -> Length:
    if not ring.inset_at:
        return job.border(path, side)
    edge, edge_at = job.side(side)
    return job.ledger.figure(path, edge + ring.inset, rules.GUIDE_STEP, edge=edge_at, inset=ring.inset_at)


def _end(job: Job, path: str, sides: tuple[str, str], corner: Corner, cutter: Cutter) -> End:
    """Enter and return the three figures of one end of a cut along the first side, towards the second."""
    side, towards = sides
    crossing = _crossing(job, f"{path}.crossing", towards, corner)
    more, name = constant(job, cutter, start=cutter.is_start(far=path.endswith("far")))
    operands = {"crossing": f"{path}.crossing", "constant": name}
    past = _past(job, corner)
    rule = rules.BLADE_FLUSH
    if corner.past_at:
        rule, operands["past"] = rules.BLADE_CORNER, corner.past_at
    elif not corner.flush:
        rule = rules.BLADE if job.out >= ZERO else rules.OPPOSITE
        operands["run"] = f"mat.{job.mat or 1}.run"
    blade = job.ledger.figure(f"{path}.blade", crossing - past - more, rule, **operands)
    stop = stop_at(job, cutter, path, crossing, (_room(job, side), f"{job.edge}.{_along(side)}"))
    return End(towards, crossing, stop.reading, blade, stop.off, stop.there)


def _crossing(job: Job, path: str, towards: str, corner: Corner) -> Length:
    if not corner.reach_at:
        return job.border(path, towards)
    edge, edge_at = job.side(towards)
    operands = {"edge": edge_at, "reach": corner.reach_at}
    return job.ledger.figure(path, edge + corner.reach, rules.CROSSING_REACH, **operands)


def _past(job: Job, corner: Corner) -> Length:
    if corner.flush:
        return ZERO
    return corner.past if corner.past_at else job.out


def _along(side: str) -> str:
    return "width" if side in ("top", "bottom") else "height"


def _room(job: Job, side: str) -> Length:
    return job.size.width if _along(side) == "width" else job.size.height


def _length(job: Job, path: str, side: str, ends: tuple[End, End], corners: list[Corner]) -> Length:
    """Enter and return how long the cut is on the face."""
    operands = {"edge": f"{job.edge}.{_along(side)}", "far": f"{path}.far.crossing", "near": f"{path}.near.crossing"}
    pasts = [corner.past_at or job.out_at for corner in corners if not corner.flush]
    if len(pasts) == 2:
        rule, names = rules.LENGTH_PAST, {"past_far": pasts[0], "past_near": pasts[1]}
    elif pasts:
        rule, names = rules.LENGTH_ONE, {"past": pasts[0]}
    else:
        rule, names = rules.LENGTH_FLUSH, {}
    value = _room(job, side) - ends[0].crossing - ends[1].crossing
    value += _past(job, corners[0]) + _past(job, corners[1])
    return job.ledger.figure(f"{path}.length", value, rule, **operands, **names)
