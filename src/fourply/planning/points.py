"""Where cuts need to be thought of: the sums that pieces laid side by side can reach, and nothing between.

Any layout can be pushed to the low corner until every piece touches its neighbour; then every cut stands at a sum of
distinct pieces' sides. Sums are kept as the bits of one integer.
"""

from __future__ import annotations

from collections.abc import Iterable


def reachable(sides: Iterable[tuple[int, ...]], longest: int) -> list[int]:
    """Return all sums up to `longest`, ascending from 0, that take at most one of the sides of each piece.

    >>> reachable([(2, 5), (4,)], 8)
    [0, 2, 4, 5, 6]
    """
    mask = (1 << (longest + 1)) - 1
    sums = 1
    for either in sides:
        grown = sums
        for side in either:
            grown |= sums << side
        sums = grown & mask
    return [at for at in range(longest + 1) if sums >> at & 1]
