"""Names beside a drawing, joined by leaders: kept apart, kept in order.

Names that belong to thin layers would stand on one another; they are spread along a line as little as is needed.
"""

from __future__ import annotations

from collections.abc import Sequence


def spread(wanted: Sequence[float], apart: float, low: float, high: float) -> list[float]:
    """Return places in the order of `wanted`, at least `apart` from one another and moved as little as may be.

    `wanted` ascends. Places lie between low and high where the room allows; where it does not they run on past high.

    >>> spread([0, 1, 10], 4, -5, 20)
    [-1.5, 2.5, 10.0]
    """
    groups: list[tuple[float, int]] = []  # the place of the first, how many
    for place in wanted:
        groups.append((min(max(place, low), max(low, high)), 1))
        while len(groups) > 1 and groups[-2][0] + groups[-2][1] * apart > groups[-1][0] + 1e-9:
            (first, count), (second, more) = groups[-2:]
            # each member would like its own place: the joined group stands at the mean of what they ask
            mean = (first * count + (second - count * apart) * more) / (count + more)
            last = mean + (count + more - 1) * apart
            groups[-2:] = [(max(low, mean - max(0.0, last - high)), count + more)]
    return [float(first + i * apart) for first, count in groups for i in range(count)]
