"""The inner loop of exact pricing: blocks of pieces are joined as long as what could still be added may make them pay.

A block is a box with its packed pieces and their value. `around` says for each size of block in the low corner of a
board how much could at most be added, and so does the area that is left with the pieces that are left; a block whose
value and either of these do not reach the threshold is dropped. What is left are all patterns above the threshold.

Where no strip may be narrower than `strip`, a side of a block is the least length that suits it, and a mark: a firm
side suits a box of just this length or of at least a strip more, a loose one any box of at least this length. Two firm
sides that differ by less than a strip both suit only boxes that leave a strip beside the longer one, and then all such.
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
Heap = tuple[Ints, Floats, Words, Ints, Ints, Ints, Ints, Ints]
"""Boxes, values, packed pieces, joins, next block of the same slot, first block of each slot, which sides are loose.

Last comes the least area of each lot of blocks: where it is too much for what is left of the board, the lot is passed
over.
"""
LOT = 32
"""How many blocks in turn make a lot."""
Board = tuple[int, int, float, int, int]
"""Width, height, threshold, narrowest strip, narrowest of what can still be added."""
Rest = tuple[Floats, Floats, Ints, Ints, Ints, Words]
"""Area, value, number wanted, word, shift and field of each kind of piece, the dearest by area first."""


@compiled
def steps_of(best: Floats, right: int, top: int) -> tuple[NDArray[np.int32], Ints, NDArray[np.int32], Ints]:
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
def around(  # noqa: PLR0917 — arrays of a compiled loop
    axes: tuple[Ints, Ints],
    floors: tuple[Ints, Ints],
    best: Floats,
    spot: Ints,
    steps: tuple[NDArray[np.int32], Ints, NDArray[np.int32], Ints],
    more: Floats,
) -> None:
    """Write for a block of each size the most that could be added to it.

    `spot` is the board's index (i, j) and size, then the rows down from and down to which to go on now.
    """
    right, top = spot[0], spot[1]
    for i in range(spot[4], spot[5] - 1, -1):
        for j in range(top, -1, -1):
            value = more[i + 1, j] if i < right else 0.0
            if j < top:
                value = max(value, more[i, j + 1])
            beside = _beside(more, best, (steps[0], steps[1]), (axes[0], floors[0]), (i, j, spot[2]))
            above = _above(more, best, (steps[2], steps[3]), (axes[1], floors[1]), (i, j, spot[3]))
            more[i, j] = max(value, beside, above)


@compiled
def _hash(packed: Words, size: int) -> np.int64:
    mixed = np.uint64(1469598103934665603)
    for k in range(packed.size):
        mixed = (mixed ^ packed[k]) * np.uint64(1099511628211)
        mixed ^= mixed >> np.uint64(29)
    return np.int64(mixed % np.uint64(size))


@compiled
def _both(a: int, a_loose: int, b: int, b_loose: int, strip: int) -> tuple[int, int]:
    """Return the side that suits what suits both sides, and whether it is loose."""
    low, high = min(a, b), max(a, b)
    if a_loose == b_loose:
        if a_loose or low == high or high - low >= strip:
            return high, a_loose
        return high + strip, 1
    firm, loose = (b, a) if a_loose else (a, b)
    return (firm, 0) if firm >= loose else (max(loose, firm + strip), 1)


@compiled
def _suits(side: int, loose: int, length: int, strip: int) -> bool:
    """Whether a side suits a box of that length."""
    return side <= length and (loose != 0 or side == length or length - side >= strip)


@compiled
def _covers(a: int, a_loose: int, b: int, b_loose: int, strip: int) -> bool:
    """Whether whatever suits the second side suits the first."""
    return b >= a if a_loose else (b == a and not b_loose) or b - a >= strip


@compiled
def _outdone(heap: Heap, slot: np.int64, packed: Words, block: tuple[int, int, int], strip: int) -> bool:
    """Whether the same pieces are there already in a box that suits wherever this one does."""
    w, h, loose = block
    at = heap[5][slot]
    while at >= 0:
        own = heap[6][at]
        wide = _covers(heap[0][at, 0], own & 1, w, loose & 1, strip)
        if wide and _covers(heap[0][at, 1], own >> 1, h, loose >> 1, strip):
            same = True
            for k in range(packed.size):
                same &= heap[2][at, k] == packed[k]
            if same:
                return True
        at = heap[4][at]
    return False


@compiled
def _keep(heap: Heap, at: int, slot: np.int64, block: tuple[int, int, int, float], packed: Words) -> None:
    """Put a block in place `at`."""
    heap[0][at, 0], heap[0][at, 1], heap[6][at], heap[1][at] = block
    heap[2][at] = packed
    heap[4][at], heap[5][slot] = heap[5][slot], at
    heap[7][at // LOT] = min(heap[7][at // LOT], block[0] * block[1])


@compiled
def enough(one: Words, other: Words, rest: Rest, room: float, wanted: float) -> bool:
    """Whether the pieces that neither has, as many as the room has area for, are worth more than what is wanted."""
    area, value, wants, word, shift, field = rest
    for k in range(area.size):
        used = ((one[word[k]] + other[word[k]]) >> np.uint64(shift[k])) & field[k]
        count = wants[k] - np.int64(used)
        if count * area[k] >= room:
            return bool(value[k] * room > wanted * area[k])
        wanted -= count * value[k]
        room -= count * area[k]
        if wanted < 0:
            return True
    return False


@compiled
def start(heap: Heap, starts: tuple[Ints, Floats, Words, Ints], reach: tuple[Floats, Ints, Ints], board: Board) -> int:
    """Begin with the single pieces; return how many."""
    count = 0
    for s in range(starts[0].shape[0]):
        w, h = starts[0][s, 0], starts[0][s, 1]
        fits = w <= board[0] and h <= board[1] and count < heap[1].size
        if fits and starts[1][s] + reach[0][reach[1][w], reach[2][h]] > board[2]:
            heap[3][count, 0], heap[3][count, 1] = s, -1
            slot = _hash(starts[2][s], heap[5].size)
            _keep(heap, count, slot, (w, h, starts[3][s], starts[1][s]), starts[2][s])
            count += 1
    return count


@compiled
def _join(heap: Heap, pair: tuple[int, int, int], block: tuple[int, int, int], strip: int, count: int) -> int:
    """Join two blocks one way, unless the same pieces lie as well in another block; return how many there are."""
    at, other, way = pair
    packed = heap[2][at] + heap[2][other]
    slot = _hash(packed, heap[5].size)
    if _outdone(heap, slot, packed, block, strip):
        return count
    if count < heap[1].size:
        heap[3][count, 0], heap[3][count, 1], heap[3][count, 2] = at, other, way
        _keep(heap, count, slot, (block[0], block[1], block[2], heap[1][at] + heap[1][other]), packed)
    return count + 1


@compiled
def _can_grow(side: int, loose: int, board: Board, length: int) -> bool:
    """Whether a block of that side suits the board, or can still come to suit it by what is added."""
    gap = length - side
    return gap >= 0 and (loose != 0 or gap == 0 or gap >= min(board[3], board[4]))


@compiled
def grow(  # noqa: C901, PLR0912, PLR0917 — one loop nest, as quick as can be
    heap: Heap, packs: Packs, reach: tuple[Floats, Ints, Ints], board: Board, rest: Rest, state: tuple[int, int, int]
) -> tuple[int, int]:
    """Join blocks to blocks; return (the next block to be joined to those before it, how many there are).

    `state` is where to go on, the count so far, and after how many pairs to come back. All is done when the next is
    the count; the count is beyond the room of the heap if that was too small. `reach` is the table of `around` and for
    each length the last point that is not beyond it.
    """
    box, value, mask, loose = heap[0], heap[1], heap[2], heap[6]
    single, bias, guard = packs
    more, fx, fy = reach
    wide, high, threshold, strip, _ = board
    cap = value.size
    at, count, quota = state
    while at < count <= cap and quota > 0:
        quota -= at // 16 + 1
        room = wide * high - box[at, 0] * box[at, 1]
        other = -1
        while other < at and count <= cap:
            other += 1
            if other % LOT == 0:
                while other <= at and heap[7][other // LOT] > room:
                    other += LOT
                if other > at:
                    break
                quota -= LOT
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
                if w > wide or h > high:
                    continue
                lx, ly = (loose[at] | loose[other]) & 1, (loose[at] | loose[other]) >> 1
                if strip and way == 0:
                    h, ly = _both(box[at, 1], loose[at] >> 1, box[other, 1], loose[other] >> 1, strip)
                elif strip:
                    w, lx = _both(box[at, 0], loose[at] & 1, box[other, 0], loose[other] & 1, strip)
                if strip and not (_can_grow(w, lx, board, wide) and _can_grow(h, ly, board, high)):
                    continue
                if total + more[fx[w], fy[h]] <= threshold:
                    continue
                quota -= 4
                if total > threshold or enough(mask[at], mask[other], rest, wide * high - w * h, threshold - total):
                    count = _join(heap, (at, other, way), (w, h, lx | ly << 1), strip, count)
        at += 1
    return at, count


@compiled
def paying(heap: Heap, count: int, board: Board) -> NDArray[np.bool_]:
    """Return which of the blocks are patterns of the board that are worth more than the threshold."""
    found = np.zeros(count, np.bool_)
    for at in range(count):
        box, loose = heap[0][at], heap[6][at]
        suits = _suits(box[0], loose & 1, board[0], board[3]) and _suits(box[1], loose >> 1, board[1], board[3])
        found[at] = suits and heap[1][at] > board[2]
    return found
