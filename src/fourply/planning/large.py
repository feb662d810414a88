"""Jobs of more sizes than one linear programme can hold: smooth prices, patterns picked by them, the worst mended.

A greedy plan comes first, within a second or two at ten thousand pieces. The prices prove a bound for the whole job;
picking gives a plan a few per cent above it; then the boards that waste most are taken apart, some hundred pieces at a
time, and planned anew by the strong planner until the budget ends.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from random import Random

from fourply.errors import CannotHonour
from fourply.planning.bounds import area_bound
from fourply.planning.budget import Budget, Progress
from fourply.planning.grid import Grid, grid_of
from fourply.planning.lagrange import rounded
from fourply.planning.narrow import Choice, narrowed
from fourply.planning.pace import Pace
from fourply.planning.parts import plan_greedily_in_parts
from fourply.planning.patterns import Column
from fourply.planning.picking import Picker
from fourply.planning.plan import Plan
from fourply.planning.problem import Problem
from fourply.planning.realise import boards_of
from fourply.planning.slots import cost_of
from fourply.planning.smooth import NETS, Prices, Pricing
from fourply.planning.strong import ENGINE, accepting

_PRICING = 0.35
_PICK_SIZES = (400, 1000)
_PICK_RATE = 1_000_000
_PICK_TIME = 0.4
_MEND = 120
_FIRST_MEND = 150
_MEND_STEPS = 200
_MEND_SECONDS = 4.0
_IN_VAIN = 40
_LEANING = 0.3


def plan_large(problem: Problem, budget: Budget, progress: Progress | None = None) -> Plan:
    """Return the best plan found within the budget, and the bound that smooth prices prove.

    Not for problems with lots. Raises BadInput where a piece fits no stock or the stock does not suffice.
    """
    pace = Pace(budget, progress)
    first = plan_greedily_in_parts(problem)
    job = _Job(problem, pace, first.cost, area_bound(problem))
    boards = first.boards
    if pace.tell(first.cost, job.floor) and pace.spend() and first.cost > job.floor:
        choice = job.search()
        if choice is not None:
            try:
                found = boards_of(job.grid, choice)
            except CannotHonour:
                found = boards
            boards = min((first.boards, found), key=lambda made: cost_of(problem, made))
    cost = cost_of(problem, boards)
    floor = min(cost, job.floor)
    pace.tell(cost, floor)
    return Plan(boards, cost, floor, ENGINE, pace.steps, pace.seconds)


@dataclass(slots=True)
class _Job:
    """The search on one problem: its grid, the best cost told and the bound proved so far."""

    problem: Problem
    pace: Pace
    cost: int
    floor: int
    grid: Grid = field(init=False)

    def __post_init__(self) -> None:
        self.grid = grid_of(self.problem)

    def search(self) -> Choice | None:
        """Return the best whole choice of patterns found; None where none was found in time."""
        prices = self._prices()
        if self.pace.stopped:
            return None
        picked = Picker(self.grid, prices, self.pace, lambda grid: accepting(self.problem, grid)).run(self._pick_size())
        if picked is None:
            return None
        self._tell(picked)
        return self._mended(picked, prices)

    def _tell(self, choice: Choice) -> None:
        cost = sum(one.cost * n for one, n in choice) + self.grid.sunk
        self.cost = min(self.cost, cost)
        self.pace.tell(self.cost, min(self.cost, self.floor))

    def _prices(self) -> Prices:
        """Find prices, first on a wide net; each is the start of the next finer one."""
        part = _share(self.pace, _PRICING)
        pricing = Pricing(self.grid, part)
        for knots in NETS:
            done = pricing.run(knots)
            bound = rounded(self.grid.step, pricing.best.bound) + self.grid.sunk
            self.floor = max(self.floor, bound)
            if not self.pace.tell(self.cost, min(self.cost, self.floor)) or not done:
                break
        self.pace.spend(part.steps)
        return pricing.best

    def _pick_size(self) -> int:
        """Return how many pieces to pick at a time: many fit together better, and take longer with their square."""
        left, (least, most) = self.pace.left, _PICK_SIZES
        return most if left is None else min(most, max(least, int(_PICK_RATE * _PICK_TIME * left / self.grid.count)))

    def _mended(self, plan: Choice, prices: Prices) -> Choice:
        """Take the boards that waste most apart and plan their pieces anew, again and again."""
        boards = [one for one, n in plan for _ in range(n)]
        vain, round_ = 0, 0
        while vain < _IN_VAIN and not self.pace.stopped and self.cost > self.floor:
            loose, kept = self._parted(boards, prices, round_)
            better = self._replanned(loose, kept)
            vain = 0 if better else vain + 1
            if better:
                boards = kept + better
                self._tell([(one, 1) for one in boards])
            round_ += 1
        return [(one, 1) for one in boards]

    def _parted(self, boards: list[Column], prices: Prices, round_: int) -> tuple[list[Column], list[Column]]:
        """Return the boards to take apart and those to keep: the last picked first, then the wasteful by chance."""
        chance = Random(round_)  # noqa: S311 — a fixed order that looks like none
        most = _MEND
        if round_ == 0:
            order = list(range(len(boards)))[::-1]
            most = _FIRST_MEND
        else:
            order = sorted(
                range(len(boards)), key=lambda at: -(_waste(boards[at], prices) ** _LEANING) * chance.random()
            )
        loose: list[Column] = []
        kept: list[Column] = []
        pieces = 0
        for at in order:
            own = sum(n for _, n in boards[at].counts)
            pieces += own
            (loose if pieces <= most else kept).append(boards[at])
        return loose, kept[::-1]

    def _replanned(self, loose: list[Column], kept: list[Column]) -> list[Column] | None:
        """Return cheaper boards for the pieces of the loose ones; None where none are found."""
        from fourply.planning.branch import Search  # noqa: PLC0415 — NumPy, HiGHS and the compiler
        from fourply.planning.colgen import Workshop  # noqa: PLC0415

        left, room = _open(self.grid, kept)
        part = narrowed(self.grid, left, room, {one.kind for one in loose})
        cost = sum(one.cost for one in loose)
        pace = _share(self.pace, 1.0, steps=_MEND_STEPS, seconds=_MEND_SECONDS, told=self._told)
        shop = Workshop(part.grid, pace, accepting(self.problem, part.grid))
        search = Search(shop, part.inside((one, 1) for one in loose), cost, 0)
        search.run()
        self.pace.spend(max(1, pace.steps))
        if search.cost >= cost:
            return None
        return [one for one, n in part.outside(search.best) for _ in range(n)]

    def _told(self, _cost: int, _bound: int) -> bool:
        return self.pace.tell(self.cost, min(self.cost, self.floor))


def _waste(one: Column, prices: Prices) -> float:
    worth = max(float(one.cost), float(prices.worth[one.kind]))
    return max(1.0, worth - sum(float(prices.values[item]) * n for item, n in one.counts))


def _open(grid: Grid, kept: list[Column]) -> tuple[list[int], list[int | None]]:
    """Return what is still to be cut and what stock there is when the kept boards are cut."""
    left, room = [item.want for item in grid.items], list(grid.limits)
    for one in kept:
        for item, n in one.counts:
            left[item] = max(0, left[item] - n)
        known = room[one.row]
        room[one.row] = None if known is None else known - 1
    return left, room


def _share(
    pace: Pace, part: float, *, steps: int | None = None, seconds: float | None = None, told: Progress | None = None
) -> Pace:
    """Return a pace of its own over a part of what is left, at most so many steps and seconds where a clock counts."""
    left = None if pace.budget.steps is None else max(1, int((pace.budget.steps - pace.steps) * part))
    time = None if pace.left is None else pace.left * part
    limits = [n for n in (left, steps) if n is not None]
    if time is not None and seconds is not None:
        time = min(time, seconds)
    return Pace(Budget(steps=min(limits, default=None), seconds=time, clock=pace.budget.clock), told)
