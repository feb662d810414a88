"""Rails from sticks or bought cut to size: which frames to buy and which to cut, at least cost in all.

A set that is bought is one more pattern in the master of the sticks, so the same linear programme prices both and the
same bound holds for both.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import replace
from fractions import Fraction
from itertools import product
from math import ceil, prod

from fourply.errors import BadInput
from fourply.planning.budget import Budget, Progress
from fourply.planning.mix_alike import Alike
from fourply.planning.mix_problem import Mix, MixProblem, RailSet
from fourply.planning.mix_referee import check_mix
from fourply.planning.pace import Pace
from fourply.planning.stick_filling import fill_in_turn
from fourply.planning.stick_problem import StickPlan
from fourply.planning.stick_units import Cut, Job, cost_of, material_bound, ready
from fourply.planning.sticks import LONGEST

_FEW = 24
"""So many choices of numbers are tried one by one, which needs no linear programme for a frame or two."""


def plan_mix(
    asked: MixProblem, budget: Budget, progress: Progress | None = None, known: Iterable[StickPlan] = ()
) -> Mix:
    """Return the cheapest choice found within the budget, passed by the referee.

    `known` are plans for some of the rails; the choice never costs more than one of them with the sets of all other
    rails. Raises BadInput where a rail of no set fits no stick or the sticks do not suffice.

    >>> from fourply.planning.stick_problem import Rail, Stick, StickProblem
    >>> rails = (Rail(key="a", length=60), Rail(key="b", length=40), Rail(key="c", length=60))
    >>> sticks = StickProblem(rails=rails, sticks=(Stick(key="s", length=100, cost=7),))
    >>> mix = plan_mix(MixProblem(sticks, (RailSet(key="one", rails=("c",), cost=5),)), Budget(steps=10))
    >>> mix.cost, dict(mix.bought)
    (12, {'one': 1})
    """
    forced = [each for each in asked.sets if each.must or each.cost <= 0 or _too_long(asked, each)]
    copies = asked.copies()
    bought = {each.key: copies[each.key] for each in forced}
    spent = sum(each.cost * copies[each.key] for each in forced)
    gone = {rail for each in forced for rail in each.rails}
    rails = tuple(rail for rail in asked.sticks.rails if rail.key not in gone)
    mix = Mix(bought, None, None, spent, spent)
    if rails:
        sets = tuple(each for each in asked.sets if each.key not in bought)
        free = MixProblem(replace(asked.sticks, rails=rails), sets)
        mix = _joined(bought, spent, _choose(free, budget, progress, known))
    check_mix(asked, mix)
    return mix


def _too_long(asked: MixProblem, one: RailSet) -> bool:
    spans = (length for stick in asked.sticks.sticks if stick.copies != 0 for _, length in asked.sticks.spans(stick))
    longest = max(spans, default=0)
    return any(rail.length > longest for rail in asked.sticks.rails if rail.key in one.rails)


def _joined(bought: Mapping[str, int], spent: int, mix: Mix) -> Mix:
    return replace(mix, bought={**bought, **mix.bought}, cost=mix.cost + spent, lower_bound=mix.lower_bound + spent)


def _choose(asked: MixProblem, budget: Budget, progress: Progress | None, known: Iterable[StickPlan]) -> Mix:
    """Return the choice for rails that sticks hold and sets that cost something."""
    pace = Pace(budget, progress)
    alike = Alike.of(asked)
    job = alike.job()
    starts, bound = list(_starts(job, alike.place, known)), _least(job)
    if prod(each.copies + 1 for each in job.sets) <= _FEW:
        tried, bound = _try_all(job)
        starts += tried
    cuts = min(starts, key=lambda start: cost_of(job, start))
    bound = min(bound, cost_of(job, cuts))
    on = pace.tell(cost_of(job, cuts), bound)
    if on and bound < cost_of(job, cuts) and max(max(b.spans, default=0) for b in job.bins) <= LONGEST:
        from fourply.planning.stick_columns import StickSearch  # noqa: PLC0415 — NumPy and HiGHS

        search = StickSearch(job, cuts, bound, pace)
        search.run()
        cuts, bound = search.best, search.bound
    return _answer(asked, alike, cuts, bound, pace)


def _try_all(job: Job) -> tuple[list[list[Cut]], int]:
    """Return a plan for every number of each set, as far as sticks suffice, and the least that any of them can cost."""
    plans: list[list[Cut]] = []
    bounds: list[int] = []
    for times in product(*(range(each.copies + 1) for each in job.sets)):
        less: Counter[int] = Counter()
        bought: list[Cut] = []
        for at, (each, count) in enumerate(zip(job.sets, times, strict=True)):
            bought += [Cut(len(job.bins) + at, (each.units,))] * count
            less.update(each.units * count)
        units = tuple(replace(unit, copies=unit.copies - less[at]) for at, unit in enumerate(job.units))
        left = replace(job, units=units, sets=())
        bounds.append(cost_of(job, bought) + material_bound(left))
        with suppress(BadInput):
            plans.append(bought + fill_in_turn(left))
    return plans, min(bounds)


def _starts(job: Job, place: Mapping[str, int], known: Iterable[StickPlan]) -> Iterator[list[Cut]]:
    """Yield whole plans: everything cut, every set bought, each known plan with the sets of the rails that it lacks."""
    bought = [Cut(len(job.bins) + at, (each.units,)) for at, each in enumerate(job.sets) for _ in range(each.copies)]
    in_sets = {unit for each in job.sets for unit in each.units}
    loose = replace(
        job, units=tuple(replace(u, copies=0) if at in in_sets else u for at, u in enumerate(job.units)), sets=()
    )
    found = 0
    for plan in known:
        cuts = list(_read(job, place, plan))
        have = Counter(unit for cut in cuts for unit in cut.units().elements())
        whole = [cut for cut in bought if not all(have[unit] for unit in cut.fill[0])]
        have.update(unit for cut in whole for unit in cut.fill[0])
        if all(have[at] == unit.copies for at, unit in enumerate(job.units)):
            found += 1
            yield cuts + whole
    refused: BadInput | None = None
    for one, start in ((job, []), (loose, bought)):
        try:
            yield start + fill_in_turn(one)
            found += 1
        except BadInput as bad:
            refused = bad
    if not found and refused is not None:
        raise refused


def _read(job: Job, place: Mapping[str, int], plan: StickPlan) -> Iterator[Cut]:
    """Yield the cuts of a plan as far as they are of this job."""
    bins = {each.stick.key: at for at, each in enumerate(job.bins)}
    for stick in plan.sticks:
        at = bins[stick.stick]
        spans = job.problem.spans(job.bins[at].stick)
        rails = [(rail.start, place[rail.rail]) for rail in stick.rails if rail.rail in place]
        fill = tuple(tuple(unit for start, unit in rails if begin <= start < begin + length) for begin, length in spans)
        if any(fill):
            yield from [Cut(at, fill)] * stick.copies


def _least(job: Job) -> int:
    """Return a cost that every choice reaches: each set bought or its share of the cheapest length. Exact."""
    loose = set(range(len(job.units))) - {unit for each in job.sets for unit in each.units}
    rate = min(Fraction(b.stick.cost, b.room) for b in job.bins if b.room)
    cost = rate * sum(job.units[at].length * job.units[at].copies for at in loose)
    for each in job.sets:
        cost += min(Fraction(each.cost), rate * sum(job.units[at].length for at in each.units)) * each.copies
    return ceil(cost)


def _answer(asked: MixProblem, alike: Alike, cuts: Sequence[Cut], bound: int, pace: Pace) -> Mix:
    """Return the cuts as sets that are bought and a plan of its own for what is cut."""
    job = alike.job()
    cost = cost_of(job, cuts)
    bound = min(bound, cost)
    bought = alike.bought(Counter(cut.bin - len(job.bins) for cut in cuts if cut.bin >= len(job.bins)))
    less = Counter({rail: bought.get(each.key, 0) for each in asked.sets for rail in each.rails})
    rails = tuple(
        replace(rail, copies=rail.copies - less[rail.key])
        for rail in asked.sticks.rails
        if rail.copies > less[rail.key]
    )
    if not rails:
        return Mix(bought, None, None, cost, bound, pace.steps)
    problem = replace(asked.sticks, rails=rails)
    sticks = [cut for cut in cuts if cut.bin < len(job.bins)]
    spent = cost_of(job, sticks)
    least = max(0, bound - (cost - spent), min(material_bound(ready(problem)), spent))
    plan = StickPlan(alike.laid_out(sticks, rails), spent, least, "sticks", pace.steps, pace.seconds)
    return Mix(bought, problem, plan, cost, bound, pace.steps)
