"""Sticks and rails made ready for filling: whole units of length on a common grid, rails that stay together as one.

A kerf is lost between neighbours only, so every unit and every span grows by one kerf and from then on simply adds up.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from math import gcd

from fourply.errors import BadInput
from fourply.planning.stick_problem import CutStick, Rail, RailAt, Stick, StickProblem


@dataclass(frozen=True, slots=True)
class Unit:
    """One rail, or the rails of a group side by side: its grid length, how often, and the rails in it."""

    length: int
    copies: int
    rails: tuple[Rail, ...]


@dataclass(frozen=True, slots=True)
class Bin:
    """A kind of stick with the grid lengths of its sound spans."""

    stick: Stick
    spans: tuple[int, ...]

    @property
    def room(self) -> int:
        """All that can be filled of it."""
        return sum(self.spans)


@dataclass(frozen=True, slots=True)
class ReadyMade:
    """Units that can be had together for a cost without a stick, so many times."""

    units: tuple[int, ...]
    cost: int
    copies: int


@dataclass(frozen=True, slots=True)
class Cut:
    """How one stick is filled: for each of its spans the indices of the units in it.

    A `bin` beyond the job's kinds of stick is one of its ready-made sets, whose units are its only span.
    """

    bin: int
    fill: tuple[tuple[int, ...], ...]

    def units(self) -> Counter[int]:
        """Return how often each unit is cut."""
        return Counter(at for span in self.fill for at in span)


@dataclass(frozen=True, slots=True)
class Job:
    """A stick problem in grid lengths, units longest first, with the sets that can be bought ready-made."""

    problem: StickProblem
    units: tuple[Unit, ...]
    bins: tuple[Bin, ...]
    sets: tuple[ReadyMade, ...] = ()

    @property
    def costs(self) -> tuple[int, ...]:
        """What one of each kind of stick and then of each set costs."""
        return (*(b.stick.cost for b in self.bins), *(each.cost for each in self.sets))

    def total(self, cut: Cut) -> int:
        """Return the grid length of the units that a cut takes."""
        return sum(self.units[at].length for span in cut.fill for at in span)


def ready(problem: StickProblem) -> Job:
    """Return the problem in grid lengths; raises BadInput where a unit fits no stick."""
    kerf = problem.kerf
    singles = [(r.length + kerf, r.copies, (r,)) for r in problem.rails if r.group is None]
    groups = [tuple(r for r in problem.rails if r.group == group) for group in problem.groups()]
    units = singles + [(sum(r.length + kerf for r in rails), rails[0].copies, rails) for rails in groups]
    spans = {s.key: [n + kerf for _, n in problem.spans(s)] for s in problem.sticks}
    grid = gcd(*(length for length, _, _ in units))
    made = sorted((Unit(length // grid, n, rails) for length, n, rails in units), key=lambda u: -u.length)
    bins = tuple(Bin(s, tuple(n // grid for n in spans[s.key])) for s in problem.sticks if s.copies != 0)
    longest = max((max(b.spans, default=0) for b in bins), default=0)
    if made[0].length > longest:
        key = made[0].rails[0].key
        raise BadInput(f"rail {key}", "a stick with a sound part that holds it, and the rails of its group")
    return Job(problem, tuple(made), bins)


def material_bound(job: Job) -> int:
    """Return a cost that every plan reaches: the length needed at the least cost per length, in whole sticks.

    Whole sticks cost a multiple of what all their costs can be divided by. Exact arithmetic.
    """
    need = sum(u.length * u.copies for u in job.units)
    cost, done = 0, 1
    for offer in sorted((b for b in job.bins if b.room), key=lambda b: b.stick.cost / b.room):
        have = offer.stick.copies
        if have is not None and have * offer.room < need:
            cost += have * offer.stick.cost
            need -= have * offer.room
            continue
        cost, done = cost * offer.room + need * offer.stick.cost, offer.room
        break
    step = gcd(*(b.stick.cost for b in job.bins)) or 1
    return -(-cost // (done * step)) * step


def cost_of(job: Job, cuts: Iterable[Cut]) -> int:
    """Return what the sticks of these cuts cost."""
    costs = job.costs
    return sum(costs[cut.bin] for cut in cuts)


def laid_out(job: Job, cuts: Iterable[Cut]) -> tuple[CutStick, ...]:
    """Return the cuts as sticks with every rail in its place, equal ones as copies of one."""
    counted: Counter[tuple[str, tuple[RailAt, ...], int | None]] = Counter()
    for cut in cuts:
        counted[_place(job, cut)] += 1
    return tuple(CutStick(stick, rails, copies, left) for (stick, rails, left), copies in counted.items())


def _place(job: Job, cut: Cut) -> tuple[str, tuple[RailAt, ...], int | None]:
    stick, kerf = job.bins[cut.bin].stick, job.problem.kerf
    placed: list[RailAt] = []
    longest = 0
    for (start, length), fill in zip(job.problem.spans(stick), cut.fill, strict=True):
        at = start
        for unit in fill:
            for rail in job.units[unit].rails:
                placed.append(RailAt(rail.key, at, rail.length))
                at += rail.length + kerf
        longest = max(longest, start + length - at)
    keep = job.problem.keep
    return stick.key, tuple(placed), longest if keep is not None and longest >= keep else None
