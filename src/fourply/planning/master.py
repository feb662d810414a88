"""The master problem: which patterns to use and how often, so that all is cut at least cost.

Every kind of piece has a row (at least as many as wanted), every kind of stock has one (from low to high). The linear
programme gives each piece a price, the integer programme a plan from the patterns at hand. One thread, no time in it:
the same calls give the same answers.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from threading import Event, Thread

import highspy
import numpy as np
from highspy._core import _Highs
from highspy._core.cb import HighsCallbackInput, HighsCallbackType
from numpy.typing import NDArray

from fourply.planning.grid import Grid
from fourply.planning.patterns import Column

_INF = highspy.kHighsInf
_LOOK = 0.02
"""Seconds between two looks at whether an integer programme is still wanted."""

Limits = list[tuple[float, float]]


def row_limits(grid: Grid) -> Limits:
    """Return (least, most) for each row of stock."""
    return [(0.0, _INF if most is None else float(most)) for most in grid.limits]


@dataclass(frozen=True, slots=True)
class Relaxed:
    """An answer of the linear programme: cost, use of each column, price of each piece and of each row of stock.

    `short` is how many pieces are left uncut for want of patterns (at a price beyond any stock).
    """

    cost: float
    use: NDArray[np.float64]
    prices: NDArray[np.float64]
    rents: NDArray[np.float64]
    short: float


class Master:
    """The linear programme over a growing set of columns, re-solved from where it last stood."""

    def __init__(self, dearest: int, wants: Sequence[int], limits: Limits) -> None:
        self.items = len(wants)
        self.columns: list[Column] = []
        self.model = bare_model()
        dear = 10.0 * dearest + 1.0
        empty = (0, np.zeros(0, np.int32), np.zeros(0))
        for want in wants:
            self.model.addRow(float(want), _INF, *empty)
        for least, most in limits:
            self.model.addRow(least, most, *empty)
        for item in range(self.items):
            self.model.addCol(dear, 0.0, _INF, 1, np.array([item], np.int32), np.ones(1))

    def add(self, columns: Iterable[Column]) -> None:
        """Take these columns in."""
        new = list(columns)
        if not new:
            return
        self.columns.extend(new)
        starts, index, value, cost = _sparse(new, self.items)
        count = len(new)
        self.model.addCols(count, cost, np.zeros(count), np.full(count, _INF), len(index), starts, index, value)

    def demand(self, wants: Sequence[int]) -> None:
        """Ask for so many of each kind from now on."""
        for item, want in enumerate(wants):
            self.model.changeRowBounds(item, float(want), _INF)

    def limit(self, limits: Limits) -> None:
        """Bound the rows of stock from now on."""
        for row, (least, most) in enumerate(limits):
            self.model.changeRowBounds(self.items + row, least, most)

    def solve(self) -> Relaxed | None:
        """Return the best fractional use of the columns; None where the limits contradict one another."""
        self.model.run()
        if self.model.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            return None
        answer = self.model.getSolution()
        use = np.array(answer.col_value)
        dual = np.array(answer.row_dual)
        return Relaxed(
            cost=float(self.model.getInfo().objective_function_value),
            use=use[self.items :],
            prices=np.maximum(dual[: self.items], 0.0),
            rents=dual[self.items :],
            short=float(use[: self.items].sum()),
        )


def bare_model() -> _Highs:
    """Return an empty model; the public class would print a banner, which the plain one beneath it does not."""
    model = _Highs()
    for name, value in (("output_flag", False), ("threads", 1), ("presolve", "off"), ("random_seed", 1)):
        model.setOptionValue(name, value)
    return model


def _sparse(
    columns: Sequence[Column], items: int
) -> tuple[NDArray[np.int32], NDArray[np.int32], NDArray[np.float64], NDArray[np.float64]]:
    starts: list[int] = []
    index: list[int] = []
    value: list[float] = []
    for one in columns:
        starts.append(len(index))
        index.extend([item for item, _ in one.counts] + [items + one.row])
        value.extend([float(n) for _, n in one.counts] + [1.0])
    cost = np.array([float(c.cost) for c in columns])
    return np.array(starts, np.int32), np.array(index, np.int32), np.array(value), cost


@dataclass(frozen=True, slots=True)
class Effort:
    """How far an integer programme may go: nodes, seconds where the budget has a clock, and as long as `goes_on` says.

    What is broken off by `goes_on` gives no answer.
    """

    nodes: int
    seconds: float | None = None
    goes_on: Callable[[], bool] | None = None


@dataclass(frozen=True, slots=True)
class Whole:
    """An answer of the integer programme: use of each column, or None; `done` if nothing cheaper exists in them."""

    use: list[int] | None
    done: bool


def choose(columns: Sequence[Column], wants: Sequence[int], limits: Limits, below: float, effort: Effort) -> Whole:
    """Return the cheapest whole use of the columns that costs less than `below`, as far as the effort goes."""
    model = bare_model()
    model.setOptionValue("presolve", "on")
    model.setOptionValue("mip_max_nodes", effort.nodes)
    model.setOptionValue("mip_rel_gap", 0.0)
    model.setOptionValue("mip_abs_gap", 0.999)
    if effort.seconds is not None:
        model.setOptionValue("time_limit", max(effort.seconds, 0.01))
    items = len(wants)
    starts, index, value, cost = _sparse(columns, items)
    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = len(columns), items + len(limits) + 1
    lp.col_cost_, lp.col_lower_ = cost, np.zeros(len(columns))
    lp.col_upper_ = np.array([_most(one, wants) for one in columns])
    lp.row_lower_ = np.array([float(w) for w in wants] + [least for least, _ in limits] + [-_INF])
    lp.row_upper_ = np.array([_INF] * items + [most for _, most in limits] + [below - 0.5])
    lp.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    last = items + len(limits)
    start, where, what = _with_cost_row((starts, index, value, cost), last)
    lp.a_matrix_.start_, lp.a_matrix_.index_, lp.a_matrix_.value_ = start, where, what
    lp.integrality_ = [highspy.HighsVarType.kInteger] * len(columns)
    model.passModel(lp)
    if not _ran(model, effort.goes_on):
        return Whole(None, done=False)
    return _answer(model, columns, wants, below)


def _ran(model: _Highs, goes_on: Callable[[], bool] | None) -> bool:
    """Run the model; return False where it was broken off.

    The solver itself looks up too seldom, half a second apart at times. So it works in a thread of its own, and where
    it is no longer wanted it is left to itself until it next looks up and hears that it is to end.
    """
    if goes_on is None:
        model.run()
        return True
    over = Event()

    def look(_kind: object, _text: str, _out: object, answer: HighsCallbackInput, _own: object) -> None:
        answer.user_interrupt = over.is_set()

    model.setCallback(look, None)
    model.startCallback(HighsCallbackType.kCallbackMipInterrupt)
    work = Thread(target=model.run, daemon=True)
    work.start()
    while work.is_alive():
        work.join(_LOOK)
        if work.is_alive() and not goes_on():
            over.set()
            return False
    return True


def _most(one: Column, wants: Sequence[int]) -> float:
    return float(max(-(-wants[item] // n) for item, n in one.counts))


def _with_cost_row(
    sparse: tuple[NDArray[np.int32], NDArray[np.int32], NDArray[np.float64], NDArray[np.float64]], row: int
) -> tuple[NDArray[np.int32], NDArray[np.int32], NDArray[np.float64]]:
    starts, index, value, cost = sparse
    ends = np.append(starts[1:], len(index))
    where = np.insert(index, ends, row).astype(np.int32)
    what = np.insert(value, ends, cost)
    start = np.append(starts + np.arange(len(starts)), len(where)).astype(np.int32)
    return start, where, what


def _answer(model: _Highs, columns: Sequence[Column], wants: Sequence[int], below: float) -> Whole:
    """Believe nothing: the use is rounded, and cover and cost are counted again."""
    status = model.getModelStatus()
    done = status in (highspy.HighsModelStatus.kOptimal, highspy.HighsModelStatus.kInfeasible)
    if status == highspy.HighsModelStatus.kInfeasible or not model.getInfo().primal_solution_status:
        return Whole(None, done)
    use = [max(0, round(x)) for x in model.getSolution().col_value]
    got = [0] * len(wants)
    for one, times in zip(columns, use, strict=True):
        for item, n in one.counts if times else ():
            got[item] += n * times
    covered = all(g >= w for g, w in zip(got, wants, strict=True))
    cheaper = sum(one.cost * times for one, times in zip(columns, use, strict=True)) < below
    return Whole(use if covered and cheaper else None, done and covered and cheaper)
