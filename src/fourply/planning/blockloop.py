"""The inner loop of exact pricing: blocks of pieces are joined as long as what could still be added may make them pay.

A block is a box with its packed pieces and their value. `around` says for each size of block in the low corner of a
board how much could at most be added; a block whose value and this do not reach the threshold is dropped. What is left
at the end are all patterns above the threshold.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from fourply.planning.compiled import compiled
from fourply.planning.kernels import Packs

Ints = NDArray[np.int64]
Words = NDArray[np.uint64]
Floats = NDArray[np.float64]
Steps = tuple[NDArray[np.int32], Ints]
"""For each row the points where its value rises, and how many there are."""
Heap = tuple[Ints, Floats, Words, Ints, Ints, Ints]
"""Boxes, values, packed pieces, joins, next block of the same slot, first block of each slot."""
Board = tuple[int, int, float]
"""Width, height, threshold."""


@compiled
def _steps(best: Floats, right: int, top: int) -> tuple[NDArray[np.int32], Ints, NDArray[np.int32], Ints]:
    """Return where the values rise along x for each y, and along y for each x."""
    steps_x, count_x = np.zeros((top + 1, right + 1), np.int32), np.zeros(top + 1, np.int64)
    steps_y, count_y = np.zeros((right + 1, top + 1), np.int32), np.zeros(right + 1, np.int64)
    for i in range(1, right + 1):
        for j in range(1, top + 1):
            if best[i, j] > best[i - 1, j]:
                steps_x[j, count_x[j]] = i
                count_x[j] += 1
            if best[i, j] > best[i, j - 1]:
                steps_y[i, count_y[i]] = j
                count_y[i] += 1
    return steps_x, count_x, steps_y, count_y


@compiled
def _beside(more: Floats, best: Floats, steps: Steps, points: tuple[Ints, Ints], spot: tuple[int, int, int]) -> float:
    """Return the most that a part beside the block adds, with what can then be added to both.

    What lies beside makes the block wider by a real sum of sides, so at least to the next point.
    """
    i, j, wide = spot
    value = 0.0
    for k in range(steps[1][j]):
        a = steps[0][j, k]
        if points[0][i] + points[0][a] > wide:
            break
        other = max(points[1][points[0][i] + points[0][a]], i + 1)
        if other < more.shape[0]:
            value = max(value, more[other, j] + best[a, j])
    return value


@compiled
def _above(more: Floats, best: Floats, steps: Steps, points: tuple[Ints, Ints], spot: tuple[int, int, int]) -> float:
    """Return the same for a part above the block."""
    i, j, high = spot
    value = 0.0
    for k in range(steps[1][i]):
        a = steps[0][i, k]
        if points[0][j] + points[0][a] > high:
            break
        other = max(points[1][points[0][j] + points[0][a]], j + 1)
        if other < more.shape[1]:
            value = max(value, more[i, other] + best[i, a])
    return value


@compiled
def around(axes: tuple[Ints, Ints], floors: tuple[Ints, Ints], best: Floats, spot: Ints) -> Floats:
    """Return for a block of each size the most that could be added to it on a board of index (i, j), w by h."""
    right, top = spot[0], spot[1]
    more = np.zeros((right + 1, top + 1))
    steps_x, count_x, steps_y, count_y = _steps(best, right, top)
    for i in range(right, -1, -1):
        for j in range(top, -1, -1):
            value = more[i + 1, j] if i < right else 0.0
            if j < top:
                value = max(value, more[i, j + 1])
            beside = _beside(more, best, (steps_x, count_x), (axes[0], floors[0]), (i, j, spot[2]))
            above = _above(more, best, (steps_y, count_y), (axes[1], floors[1]), (i, j, spot[3]))
            more[i, j] = max(value, beside, above)
    return more


@compiled
def _hash(packed: Words, size: int) -> np.int64:
    mixed = np.uint64(1469598103934665603)
    for k in range(packed.size):
        mixed = (mixed ^ packed[k]) * np.uint64(1099511628211)
        mixed ^= mixed >> np.uint64(29)
    return np.int64(mixed % np.uint64(size))


@compiled
def _outdone(heap: Heap, slot: np.int64, packed: Words, w: int, h: int) -> bool:
    """Whether the same pieces are there already in a box that is no larger."""
    at = heap[5][slot]
    while at >= 0:
        if heap[0][at, 0] <= w and heap[0][at, 1] <= h:
            same = True
            for k in range(packed.size):
                same &= heap[2][at, k] == packed[k]
            if same:
                return True
        at = heap[4][at]
    return False


@compiled
def _keep(heap: Heap, at: int, slot: np.int64, block: tuple[int, int, float], packed: Words) -> None:
    """Put a block in place `at`."""
    heap[0][at, 0], heap[0][at, 1], heap[1][at] = block
    heap[2][at] = packed
    heap[4][at], heap[5][slot] = heap[5][slot], at


@compiled
def _start(heap: Heap, starts: tuple[Ints, Floats, Words], reach: tuple[Floats, Ints, Ints], board: Board) -> int:
    """Begin with the single pieces; return how many."""
    count = 0
    for s in range(starts[0].shape[0]):
        w, h = starts[0][s, 0], starts[0][s, 1]
        fits = w <= board[0] and h <= board[1] and count < heap[1].size
        if fits and starts[1][s] + reach[0][reach[1][w], reach[2][h]] > board[2]:
            heap[3][count, 0], heap[3][count, 1] = s, -1
            _keep(heap, count, _hash(starts[2][s], heap[5].size), (w, h, starts[1][s]), starts[2][s])
            count += 1
    return count


@compiled
def _join(heap: Heap, pair: tuple[int, int, int], size: tuple[int, int], count: int) -> int:
    """Join two blocks one way, unless the same pieces lie in no larger a box already; return how many there are."""
    at, other, way = pair
    packed = heap[2][at] + heap[2][other]
    slot = _hash(packed, heap[5].size)
    if _outdone(heap, slot, packed, size[0], size[1]):
        return count
    if count < heap[1].size:
        heap[3][count, 0], heap[3][count, 1], heap[3][count, 2] = at, other, way
        _keep(heap, count, slot, (size[0], size[1], heap[1][at] + heap[1][other]), packed)
    return count + 1


@compiled
def grow(
    starts: tuple[Ints, Floats, Words], packs: Packs, reach: tuple[Floats, Ints, Ints], board: Board, cap: int
) -> tuple[int, Floats, Ints]:
    """Return (count, values, how each block was joined); the count is beyond the cap if the cap was met.

    A join is (first, second, 0 side by side or 1 one above the other); a single piece is (which start, -1, 0). `reach`
    is the table of `around` and for each length the last point that is not beyond it.
    """
    box, value, join = np.zeros((cap, 2), np.int64), np.zeros(cap), np.zeros((cap, 3), np.int64)
    mask = np.zeros((cap, packs[0].size), np.uint64)
    heap = (box, value, mask, join, np.full(cap, -1, np.int64), np.full(2 * cap + 1, -1, np.int64))
    single, bias, guard = packs
    more, fx, fy = reach
    wide, high, threshold = board
    count = _start(heap, starts, reach, board)
    at = 0
    while at < count <= cap:
        for other in range(at + 1):
            total, clash = value[at] + value[other], False
            for k in range(single.size):
                both = mask[at, k] + mask[other, k] + bias[k]
                clash |= (mask[at, k] & mask[other, k] & single[k]) != 0 or (both & guard[k]) != 0
            if clash:
                continue
            for way in range(2):
                w, h = box[at, 0] + box[other, 0], max(box[at, 1], box[other, 1])
                if way == 1:
                    w, h = max(box[at, 0], box[other, 0]), box[at, 1] + box[other, 1]
                if w <= wide and h <= high and total + more[fx[w], fy[h]] > threshold:
                    count = _join(heap, (at, other, way), (w, h), count)
            if count > cap:
                break
        at += 1
    return count, value, join
