"""A cutter of the shop as the settings of cuts see it: what its own scales and stops show for what is wanted.

Where a blade must enter follows from the board and from the cutter's constants. What a stop reads follows from that
and from what the head's index line is set to: a line that is set to the pencil line has the run of the bevel built in,
so it stands one run short of where the blade is; one that shows where the blade enters stands there.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from fourply.bench import cut_rules
from fourply.bench import set_up_rules as rules
from fourply.bench.constants import NOMINAL_CALIPER
from fourply.bench.cutter import Cutter, Guided, StopDatum
from fourply.bench.jobs import Job
from fourply.bench.profile import BoardFace, Head, HeadKind, Index, OvalScale, Profile, Scale, untested
from fourply.bench.reach import Border, OutOfReach, Remedy, Setting, set_for
from fourply.measure.length import ZERO, Length
from fourply.measure.rounding import Grid, from_mm, half_even, to_grid
from fourply.measure.size import Size
from fourply.working.ledger import Ledger


@dataclass(frozen=True, slots=True)
class ShopCutter(Cutter):
    """A cutter with its profile, and the `others` of the shop, which may reach what this one does not."""

    profile: Profile = field(kw_only=True)
    others: tuple[Profile, ...] = field(default=(), kw_only=True)

    @property
    def origin(self) -> str:
        """Where its constants come from, in words."""
        found = self.profile.calibration
        return f"{self.name}, " + (f"{found.readings} readings of {found.date}" if found else "no test cut on file")

    def head(self, *, upright: bool) -> Head:
        """Return the head that cuts bevels, or the one whose blade stands upright where there is one."""
        heads = [head for head in self.profile.heads if head.kind is HeadKind.STRAIGHT] if upright else []
        return heads[0] if heads else self.profile.bevel

    @property
    def oval(self) -> Head | None:
        """The head that cuts ovals, None where there is none."""
        return next((head for head in self.profile.heads if head.kind is HeadKind.OVAL), None)


def shop_cutter(profile: Profile, others: Sequence[Profile] = ()) -> ShopCutter:
    """Return a cutter of the shop for settings; raises ValueError for one that has no bevel head."""
    plain = profile.cutter(from_mm(NOMINAL_CALIPER))
    return ShopCutter(
        plain.name,
        plain.guide,
        plain.stops,
        plain.start,
        plain.stop,
        plain.tested,
        plain.direction,
        profile=profile,
        others=tuple(other for other in others if other.name != profile.name),
    )


def enter_cutter(ledger: Ledger, cutter: Cutter) -> None:
    """Enter what the settings of all boards stand on."""
    if not isinstance(cutter, ShopCutter):
        origin = f"{cutter.name}" + ("" if cutter.tested else ", no test cut on file")
        ledger.given("cutter.start", cutter.start, origin)
        ledger.given("cutter.stop", cutter.stop, origin)
        return
    known, origin = cutter.profile.known, cutter.origin
    ledger.given("cutter.start", from_mm(known.start.value), origin)
    ledger.given("cutter.start_by_caliper", known.start_by_caliper.value, origin)
    ledger.given("cutter.stop", from_mm(known.stop.value), origin)
    ledger.given("cutter.stop_by_caliper", known.stop_by_caliper.value, origin)
    ledger.given("cutter.common", from_mm(NOMINAL_CALIPER), "the caliper at which start and stop are stated")
    ledger.given("cutter.gain", known.gain.value, origin)
    ledger.given("cutter.offset", from_mm(known.offset.value), origin)
    ledger.given("cutter.skew", known.skew.value, origin)
    ledger.given("cutter.along", ZERO, "borders are set for mid-length")
    ledger.given("cutter.grid", cutter.profile.guide.step, "the finest division that can be set")


# ── where the blade enters and leaves ────────────────────────────────────────────────────────────────────────────


def constant(job: Job, cutter: Cutter, *, start: bool) -> tuple[Length, str]:
    """Return how far past the geometric corner the blade enters (`start`) or leaves, with the path of its figure."""
    name = "start" if start else "stop"
    if not isinstance(cutter, ShopCutter):
        return (cutter.start if start else cutter.stop), f"cutter.{name}"
    path, head = f"{job.key}.{name}", cutter.head(upright=not job.out_at)
    if path in job.ledger:
        return job.ledger.length(path), path
    if head.kind is HeadKind.STRAIGHT:
        return job.ledger.given(path, head.start if start else head.stop, f"{cutter.name}, {head.name}"), path
    value = cutter.profile.start(job.caliper) if start else cutter.profile.stop(job.caliper)
    operands = {"constant": f"cutter.{name}", "by_caliper": f"cutter.{name}_by_caliper"}
    operands |= {"caliper": job.caliper_at, "common": "cutter.common"}
    return job.ledger.figure(path, value, rules.BY_CALIPER, **operands), path


@dataclass(frozen=True, slots=True)
class Stopped:
    """What a stop reads, how far past its place the blade then comes, and whether there is such a stop."""

    reading: Length
    off: Length = ZERO
    there: bool = True


def stop_at(job: Job, cutter: Cutter, path: str, crossing: Length, edge: tuple[Length, str]) -> Stopped:
    """Enter and return what the stop of one end reads; its blade's figure stands at `path` and `.blade`.

    `edge` is the length of the edge that is cut, with the path of its figure. Without errors the stop is set to the
    pencil crossing.
    """
    far = path.endswith("far")
    from_bar = cutter.stops is StopDatum.BAR and far
    (length, length_at), ledger = edge, job.ledger
    if not isinstance(cutter, ShopCutter):
        if not from_bar:
            return Stopped(crossing)
        operands = {"edge": length_at, "crossing": f"{path}.crossing"}
        return Stopped(ledger.figure(f"{path}.stop", length - crossing, cut_rules.STOP_FROM_BAR, **operands))
    stops = cutter.profile.stops
    if not (stops.far if far else stops.near):
        return Stopped(crossing, there=False)
    index, index_at = _index(job, cutter, path)
    wanted = length - index if from_bar else index
    reading = to_grid(wanted, Grid("step", cutter.profile.guide.step), half_even)
    operands = {"index": index_at, "grid": "cutter.grid"} | ({"edge": length_at} if from_bar else {})
    rule = rules.STOP_BAR if from_bar else rules.STOP_EDGE
    ledger.figure(f"{path}.stop", reading, rule, **operands)
    return Stopped(reading, reading - wanted if from_bar else wanted - reading)


def _index(job: Job, cutter: ShopCutter, path: str) -> tuple[Length, str]:
    """Return where the index line stands, from the board's edge at that end, with the path of its figure."""
    blade = job.ledger.length(f"{path}.blade")
    lead, lead_at = index_lead(job, cutter)
    if not lead_at:
        return blade, f"{path}.blade"
    at = f"{path}.index"
    return job.ledger.figure(at, blade + lead, rules.INDEX_LINE, blade=f"{path}.blade", run=lead_at), at


def index_lead(job: Job, cutter: ShopCutter) -> tuple[Length, str]:
    """Return by how much the index line stands short of the blade, with the path of its figure, empty for nothing."""
    head = cutter.head(upright=not job.out_at)
    if head.index is Index.BLADE or not job.out_at:
        return ZERO, ""
    return abs(job.out), f"mat.{job.mat or 1}.run"


# ── the guide ────────────────────────────────────────────────────────────────────────────────────────────────────


def guided(job: Job, cutter: Cutter, path: str, border: Length) -> Guided:
    """Enter and return what the guide is set to for a border, whose own figure stands at `path` and `.guide`."""
    if not isinstance(cutter, ShopCutter):
        return Guided(border, border)
    if border <= ZERO:
        return Guided(border, border, reached=False)
    found = set_for(cutter.profile, Border(border), cutter.others)
    setting, reached = (found, True) if isinstance(found, Setting) else nearest_here(found)
    ledger, at = job.ledger, f"{path}.guide"
    if setting.strip:
        ledger.given(f"{path}.strip", setting.strip, "a strip of known width")
        at, names = f"{path}.wanted", {"border": f"{path}.guide", "strip": f"{path}.strip"}
        ledger.figure(at, border + setting.strip, rules.WITH_STRIP, **names)
    constants = {name: f"cutter.{name}" for name in ("offset", "skew", "along", "gain")}
    if reached and cutter.profile.guide.scale is not Scale.PINNED and _inside(cutter.profile, setting):
        ledger.figure(f"{path}.set", setting.reading, rules.READING, wanted=at, grid="cutter.grid", **constants)
    else:
        ledger.given(f"{path}.set", setting.reading, "the nearest that this guide can be set to")
    gives, names = border + setting.left, {"reading": f"{path}.set", **constants}
    if setting.strip:
        ledger.figure(f"{path}.gives", gives, rules.GIVES_WITH_STRIP, strip=f"{path}.strip", **names)
    else:
        ledger.figure(f"{path}.gives", gives, rules.GIVES, **names)
    return Guided(setting.reading, gives, setting.spread, setting.strip, reached)


def nearest_here(found: OutOfReach) -> tuple[Setting, bool]:
    """Return what can be set on this cutter for a border out of its reach, and whether a strip makes it whole."""
    for way in found.ways:
        if way.remedy is Remedy.STRIP:
            return way.setting, True
    return found.ways[-1].setting, False


def _inside(profile: Profile, setting: Setting) -> bool:
    """Tell whether the reading is one that rounding chose, and not the end of the guide's reach."""
    return profile.guide.least < setting.reading < profile.guide.greatest


# ── ovals, angles ────────────────────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class OnOval:
    """What the scales of an oval cutter read, which edge that is, and whether the face of the board lies up."""

    axes: Size
    reads: str
    face_up: bool


def oval_scale(job: Job, cutter: Cutter, path: str, axes: Sequence[tuple[Length, str]]) -> OnOval | None:
    """Enter and return what an oval cutter's scales read for the axes of a back line (width, height).

    A normal bevel's sight edge is the back line; a reverse bevel's is its face edge. None where no oval head is known.
    """
    head = cutter.oval if isinstance(cutter, ShopCutter) else None
    if head is None:
        return None
    to_face = bool(job.out_at) and (head.reads is OvalScale.FACE or job.out < ZERO)
    values = []
    for name, (axis, axis_at) in zip(("width", "height"), axes, strict=True):
        at = f"{path}.scale.{name}"
        if to_face:
            value = axis + 2 * job.out
            values.append(job.ledger.figure(at, value, rules.OVAL_FACE, axis=axis_at, out=job.out_at))
        else:
            values.append(job.ledger.figure(at, axis, rules.OVAL_SIGHT, axis=axis_at))
    return OnOval(Size(values[0], values[1]), head.reads.value, head.board is BoardFace.UP)


def bevel_angle(profile: Profile) -> tuple[float, str]:
    """Return the angle of the bevel that a cutter cuts, in degrees to the board, and where it is known from."""
    found = profile.calibration
    if found is None:
        return untested(profile.bevel).angle.value, f"blade of {profile.name}"
    return found.angle.value, f"test cut of {found.date} on {profile.name}"
