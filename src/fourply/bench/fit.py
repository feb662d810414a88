"""Constants out of readings: least squares with what is likely beforehand, and which readings do not fit.

Every reading has a known error, so no error is taken from the scatter: two readings that disagree by far more than
they can are a contradiction and not a large error. The likely values come in as readings of their own.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from fourply.bench.constants import NAMES, Name
from fourply.bench.readings import Row

LIMIT = 3.5
"""How many standard errors a reading may lie off what all others say: 1 in 2000 does if the errors are as stated."""

type Vector = NDArray[np.float64]
type Prior = Mapping[Name, tuple[float, float]]


@dataclass(frozen=True, slots=True)
class Fit:
    """The constants in the order of NAMES, and their covariances."""

    values: Vector
    covariance: Vector

    def error(self, along: Sequence[float]) -> float:
        """Return the standard error of a weighted sum of the constants."""
        weights = np.asarray(along)
        return float(np.sqrt(max(weights @ self.covariance @ weights, 0.0)))


@dataclass(frozen=True, slots=True)
class Misfit:
    """A reading that the others contradict: how far off it lies, in its unit and in standard errors.

    `instead` are the readings of which each, left out by itself, would end the contradiction as well.
    """

    name: str
    off: float
    times: float
    instead: tuple[str, ...] = ()


def fit(rows: Sequence[Row], prior: Prior) -> Fit:
    """Return the constants that the readings and what is likely beforehand make together.

    >>> from fourply.bench.constants import PRIOR
    >>> from fourply.bench.readings import shares
    >>> found = fit([Row("a", shares(start=1.0), 0.8, 0.1)], PRIOR)
    >>> round(float(found.values[3]), 3)
    0.798
    """
    means = np.array([prior[name][0] for name in NAMES])
    weights = np.diag([prior[name][1] ** -2 for name in NAMES])
    if rows:
        matrix, values, errors = _arrays(rows)
        scaled = matrix / errors[:, None]
        covariance = np.linalg.inv(weights + scaled.T @ scaled)
        means = means + covariance @ (scaled.T @ ((values - matrix @ means) / errors))
    else:
        covariance = np.linalg.inv(weights)
    return Fit(means, covariance)


def narrowed(found: Fit, rows: Sequence[Row]) -> Fit:
    """Return the constants with the errors they would have after these readings, whatever these will say."""
    matrix, _, errors = _arrays(rows)
    scaled = matrix / errors[:, None]
    return Fit(found.values, np.linalg.inv(np.linalg.inv(found.covariance) + scaled.T @ scaled))


def misfits(rows: Sequence[Row], prior: Prior, kept: Sequence[str] = ()) -> tuple[Misfit, ...]:
    """Return the readings that the others contradict, the worst first, but those that a person has kept.

    Each found is set aside before the next is looked for, since one bad reading makes good ones look bad.
    """
    left = list(rows)
    found: list[Misfit] = []
    while left:
        off, times = _off(left, prior)
        doubtful = [at for at, row in enumerate(left) if abs(times[at]) > LIMIT and row.name not in kept]
        if not doubtful:
            break
        worst = max(doubtful, key=lambda at: abs(times[at]))
        instead = tuple(left[at].name for at in doubtful if at != worst and _settles(left, at, prior))
        found.append(Misfit(left[worst].name, float(off[worst]), float(times[worst]), instead))
        del left[worst]
    return tuple(found)


def _settles(rows: Sequence[Row], without: int, prior: Prior) -> bool:
    rest = [row for at, row in enumerate(rows) if at != without]
    return not rest or bool(np.abs(_off(rest, prior)[1]).max() <= LIMIT)


def _off(rows: Sequence[Row], prior: Prior) -> tuple[Vector, Vector]:
    """Return how far each reading lies off what all others say, and that in standard errors of the difference."""
    found = fit(rows, prior)
    matrix, values, errors = _arrays(rows)
    residuals = values - matrix @ found.values
    own = np.einsum("ij,jk,ik->i", matrix, found.covariance, matrix) / errors**2
    rest = np.maximum(1 - own, 1e-12)
    return residuals / rest, residuals / (errors * np.sqrt(rest))


def _arrays(rows: Sequence[Row]) -> tuple[Vector, Vector, Vector]:
    return (
        np.array([row.shares for row in rows]),
        np.array([row.value for row in rows]),
        np.array([row.error for row in rows]),
    )
