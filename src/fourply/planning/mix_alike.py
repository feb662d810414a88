"""Frames that are alike taken together: what is chosen is how many of them are bought, not which.

Rails of one length are one unit where they are of no set, or of sets of the same lengths at the same cost. Twenty
frames of one size then are one choice of a number, not a million choices that differ in names alone.
"""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from fourply.planning.mix_problem import MixProblem, RailSet
from fourply.planning.stick_problem import CutStick, Rail, RailAt
from fourply.planning.stick_units import Cut, Job, ReadyMade, laid_out, ready


@dataclass(frozen=True, slots=True)
class Alike:
    """A mix problem with its sets by class: the job of all classes, and which unit of it each rail is."""

    asked: MixProblem
    classes: tuple[tuple[RailSet, ...], ...]
    place: Mapping[str, int]
    _job: Job

    @classmethod
    def of(cls, asked: MixProblem) -> Alike:
        """Return the problem by classes; raises BadInput where a rail fits no stick."""
        length = {rail.key: rail.length for rail in asked.sticks.rails}
        found: dict[tuple[int, tuple[int, ...]], list[RailSet]] = {}
        for each in asked.sets:
            found.setdefault((each.cost, tuple(sorted(length[key] for key in each.rails))), []).append(each)
        classes = tuple(tuple(sets) for sets in found.values())
        of_class = {key: at for at, sets in enumerate(classes) for each in sets for key in each.rails}
        names = {rail.key: _name(rail, of_class.get(rail.key, -1)) for rail in asked.sticks.rails}
        job = ready(replace(asked.sticks, rails=tuple(_together(asked.sticks.rails, names))))
        unit = {rail.key: at for at, unit in enumerate(job.units) for rail in unit.rails}
        place = {key: unit[name] for key, name in names.items()}
        copies = asked.copies()
        sets = tuple(
            ReadyMade(
                tuple(sorted(place[key] for key in each[0].rails)),
                each[0].cost,
                sum(copies[one.key] for one in each),
            )
            for each in classes
        )
        return cls(asked, classes, place, replace(job, sets=sets))

    def job(self) -> Job:
        """Return the job whose units and sets are the classes."""
        return self._job

    def bought(self, times: Mapping[int, int]) -> dict[str, int]:
        """Return how often each set is bought where its class is so often: the first ones first."""
        copies, bought = self.asked.copies(), {}
        for at, sets in enumerate(self.classes):
            left = times.get(at, 0)
            for each in sets:
                taken = min(left, copies[each.key])
                left -= taken
                if taken:
                    bought[each.key] = taken
        return bought

    def laid_out(self, cuts: Iterable[Cut], rails: Sequence[Rail]) -> tuple[CutStick, ...]:
        """Return the cuts as sticks with these rails in their places."""
        waiting: dict[int, deque[str]] = {}
        for rail in rails:
            if rail.group is None:
                waiting.setdefault(self.place[rail.key], deque()).extend([rail.key] * rail.copies)
        unit = {rail.key: at for at, each in enumerate(self._job.units) for rail in each.rails}
        counted: Counter[tuple[str, tuple[RailAt, ...], int | None]] = Counter()
        for stick in laid_out(self._job, cuts):
            for _ in range(stick.copies):
                placed = tuple(
                    replace(at, rail=queue.popleft()) if (queue := waiting.get(unit[at.rail])) else at
                    for at in stick.rails
                )
                counted[stick.stick, placed, stick.left] += 1
        return tuple(CutStick(stick, placed, copies, left) for (stick, placed, left), copies in counted.items())


def _name(rail: Rail, of: int) -> str:
    return rail.key if rail.group is not None else f"{of} {rail.length}"


def _together(rails: Iterable[Rail], names: Mapping[str, str]) -> Iterator[Rail]:
    counted: Counter[str] = Counter()
    first: dict[str, Rail] = {}
    for rail in rails:
        counted[names[rail.key]] += rail.copies
        first.setdefault(names[rail.key], rail)
    for name, rail in first.items():
        yield replace(rail, key=name, copies=counted[name])
