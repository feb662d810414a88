"""How many sticks and sets at least: a bound from whole numbers of both, whatever the fillings are.

Give each unit any value. No stick can hold more than so much of it, no set has more than its own, and together they
must come to that of all units. Each choice of values is one row over the numbers of sticks and sets, which are whole;
the least cost that fits all rows is a bound, and since sticks are whole it is often far above that of a linear
programme.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import highspy
import numpy as np
from highspy._core import _Highs

_SLACK = 1e-6
"""What the arithmetic of floats may be out by, relative to a row."""


@dataclass(frozen=True, slots=True)
class Row:
    """What one of each kind counts for, and what all must come to."""

    each: Sequence[float]
    least: float


def count_bound(costs: Sequence[int], most: Sequence[float], rows: Sequence[Row], nodes: int) -> float:
    """Return a cost that all whole numbers within `most` that fulfil the rows reach; nothing where none is proved."""
    model = _Highs()
    for name, value in (("output_flag", False), ("threads", 1), ("random_seed", 1), ("mip_max_nodes", nodes)):
        model.setOptionValue(name, value)
    model.setOptionValue("mip_rel_gap", 0.0)
    held = [row for row in rows if max(row.each, default=0.0) > 0]
    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = len(costs), len(held)
    lp.col_cost_ = np.array(costs, float)
    lp.col_lower_, lp.col_upper_ = np.zeros(len(costs)), np.array(most, float)
    lp.row_lower_ = np.array([row.least / max(row.each) * (1 - _SLACK) for row in held])
    lp.row_upper_ = np.full(len(held), highspy.kHighsInf)
    lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    lp.a_matrix_.start_ = np.arange(len(held) + 1, dtype=np.int32) * len(costs)
    lp.a_matrix_.index_ = np.tile(np.arange(len(costs), dtype=np.int32), len(held))
    lp.a_matrix_.value_ = np.concatenate([np.array(row.each, float) / max(row.each) for row in held])
    lp.integrality_ = [highspy.HighsVarType.kInteger] * len(costs)
    model.passModel(lp)
    model.run()
    solved = model.getModelStatus() in (highspy.HighsModelStatus.kOptimal, highspy.HighsModelStatus.kSolutionLimit)
    bound = float(model.getInfo().mip_dual_bound)
    return bound - _SLACK * max(1.0, abs(bound)) if solved and np.isfinite(bound) else 0.0
