"""The inner loops of pricing, written without Python objects so that they can be compiled.

Every box between two points gets the best value that can be cut from it. In `fill` a cut is taken only where its two
sides want no piece twice, so each value is that of a real pattern (a lower estimate); in `relax` pieces may repeat and
the value is an upper bound of all patterns. A cut is tried only where the value of the first part rises: a part between
two rises is no better than the one at the lower rise, and leaves less.

How a box is filled is one number: -1 and -2 the box one point narrower or lower, then 2 * kind + turned for a piece,
then from `base` on 2 * point + 0 for a cut across x and + 1 for a cut across y.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from fourply.planning.compiled import compiled

Ints = NDArray[np.int64]
Words = NDArray[np.uint64]
Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Axes = tuple[Ints, Ints, Ints, Ints, Ints, Ints]
"""Points, last point at half, and point below each rest, across x and then across y."""

CUT_X, CUT_Y = -1, -2


Table = tuple[Floats, Floats, NDArray[np.int32], Words]
"""Value of each box, the same transposed, way of filling, packed pattern."""
Marks = tuple[NDArray[np.int32], Ints, NDArray[np.int32], Ints]
"""For each row across x the points where the value rises and how many there are; then the same across y."""
Pieces = tuple[Ints, Flags, Floats, Ints, Ints]
"""Sides, whether both ways count, value, and word and shift of each kind of piece."""
Packs = tuple[Words, Words, Words]
"""Single bits, bias, guard."""
Best = tuple[float, np.int64]


@compiled
def joins(a: Words, b: Words, packs: Packs) -> bool:
    """Whether two patterns together want no piece more often than it is wanted."""
    for k in range(a.size):  # noqa: SIM110 — the compiler knows no generators
        if a[k] & b[k] & packs[0][k] or (a[k] + b[k] + packs[1][k]) & packs[2][k]:
            return False
    return True


@compiled
def _whole(order: Ints, pieces: Pieces, box: tuple[int, int], top: float, way: np.int64) -> Best:
    """Return the most valuable piece that the box holds, if it is worth more than what is there."""
    sides, turns, value = pieces[0], pieces[1], pieces[2]
    for t in order:
        if value[t] <= top:
            break
        if sides[t, 0] <= box[0] and sides[t, 1] <= box[1]:
            return value[t], np.int64(2 * t)
        if turns[t] and sides[t, 1] <= box[0] and sides[t, 0] <= box[1]:
            return value[t], np.int64(2 * t + 1)
    return top, way


@compiled
def _mark(table: tuple[Floats, Floats], marks: Marks, spot: tuple[int, int], symmetric: int) -> None:
    """Note where the value of a row rises."""
    i, j = spot
    top = table[0][i, j]
    if top > table[0][i, j - 1]:
        marks[2][i, marks[3][i]] = j
        marks[3][i] += 1
    if top > table[1][j, i - 1] and not (symmetric and i == j):
        marks[0][j, marks[1][j]] = i
        marks[1][j] += 1


def marks_for(n: int, m: int, symmetric: int) -> Marks:
    """Return empty marks; on a symmetric problem both directions share theirs."""
    steps, counts = np.zeros((n, m), np.int32), np.zeros(n, np.int64)
    if symmetric:
        return steps, counts, steps, counts
    return np.zeros((m, n), np.int32), np.zeros(m, np.int64), steps, counts


@compiled
def _first(points: Ints, order: Ints, pieces: Pieces, side: int) -> np.int64:
    """Return the first point that some piece reaches with that side, or with either where both ways count."""
    least = points[-1] + 1
    for t in order:
        own = pieces[0][t, side]
        least = min(least, min(own, pieces[0][t, 1 - side]) if pieces[1][t] else own)
    return np.int64(np.searchsorted(points, least))


def table_for(n: int, m: int, words: int, symmetric: int) -> Table:
    """Return an empty table; on a symmetric problem the transposed values are the values themselves."""
    best = np.zeros((n, m))
    flip = best if symmetric else np.zeros((m, n))
    return best, flip, np.full((n, m), -1, np.int32), np.zeros((n, m, words), np.uint64)


@compiled
def fill(  # noqa: C901, PLR0912, PLR0915, PLR0917 — one loop nest: parted into calls it takes 2.5 times as long
    axes: Axes, order: Ints, pieces: Pieces, packs: Packs, shape: tuple[int, int, int, int], table: Table, marks: Marks
) -> None:
    """Write value, value transposed, way of filling and packed pattern of every box into the table.

    `shape` is (the last row of boxes, whether the problem is symmetric, the rows from and up to which to go on now):
    a long sweep is made in parts, so that its caller can look up between them.
    """
    px, hx, rx, py, hy, ry = axes[0], axes[1], axes[2], axes[3], axes[4], axes[5]
    sides, turns, value, word, shift = pieces
    across, symmetric, start, stop = shape
    n, m, words, base = px.size, py.size, packs[0].size, 2 * value.size
    best, flip, how, mask = table
    steps_x, count_x, steps_y, count_y = marks
    low = int(_first(py, order, pieces, 1))
    for i in range(max(1, start, int(_first(px, order, pieces, 0))), min(across + 1, stop)):
        for j in range(max(i if symmetric else 1, low), m):
            top, way = best[i - 1, j], -1
            if best[i, j - 1] > top:
                top, way = best[i, j - 1], -2
            for t in order:
                if value[t] <= top:
                    break
                if sides[t, 0] <= px[i] and sides[t, 1] <= py[j]:
                    top, way = value[t], 2 * t
                elif turns[t] and sides[t, 1] <= px[i] and sides[t, 0] <= py[j]:
                    top, way = value[t], 2 * t + 1
            for k in range(count_x[j]):
                a = steps_x[j, k]
                if a > hx[i]:
                    break
                b = rx[i * n + a]
                total = flip[j, a] + flip[j, b]
                if total > top + 1e-9 and joins(mask[a, j], mask[b, j], packs):
                    top, way = total, base + 2 * a
            for k in range(count_y[i]):
                a = steps_y[i, k]
                if a > hy[j]:
                    break
                b = ry[j * m + a]
                total = best[i, a] + best[i, b]
                if total > top + 1e-9 and joins(mask[i, a], mask[i, b], packs):
                    top, way = total, base + 2 * a + 1
            best[i, j], how[i, j], flip[j, i] = top, way, top
            if top > best[i, j - 1]:
                steps_y[i, count_y[i]] = j
                count_y[i] += 1
            if top > flip[j, i - 1] and not (symmetric and i == j):
                steps_x[j, count_x[j]] = i
                count_x[j] += 1
            if 0 <= way < base:
                mask[i, j, word[way >> 1]] = np.uint64(1) << np.uint64(shift[way >> 1])
            a = (way - base) >> 1
            for k in range(words):
                if way == -1:
                    mask[i, j, k] = mask[i - 1, j, k]
                elif way == -2:
                    mask[i, j, k] = mask[i, j - 1, k]
                elif way >= base and (way - base) & 1:
                    mask[i, j, k] = mask[i, a, k] + mask[i, ry[j * m + a], k]
                elif way >= base:
                    mask[i, j, k] = mask[a, j, k] + mask[rx[i * n + a], j, k]
                if symmetric:
                    mask[j, i, k] = mask[i, j, k]


@compiled
def _bound_cuts(tables: tuple[Floats, Floats], axes: Axes, marks: Marks, i: int, j: int) -> float:
    """Return the most that any cut of the box makes of it."""
    top = 0.0
    for k in range(marks[1][j]):
        a = marks[0][j, k]
        if a > axes[1][i]:
            break
        top = max(top, tables[1][j, a] + tables[1][j, axes[2][i * axes[0].size + a]])
    for k in range(marks[3][i]):
        a = marks[2][i, k]
        if a > axes[4][j]:
            break
        top = max(top, tables[0][i, a] + tables[0][i, axes[5][j * axes[3].size + a]])
    return top


@compiled
def relax(  # noqa: PLR0917 — arrays of a compiled loop
    axes: Axes,
    order: Ints,
    pieces: Pieces,
    shape: tuple[int, int, int, int],
    tables: tuple[Floats, Floats],
    marks: Marks,
) -> None:
    """Write an upper bound of every box's value into the tables: each piece as often as it fits. See `fill`."""
    across, symmetric, start, stop = shape
    best, flip = tables
    m = axes[3].size
    for i in range(max(1, start), min(across + 1, stop)):
        for j in range(i if symmetric else 1, m):
            top = max(best[i - 1, j], best[i, j - 1], _bound_cuts((best, flip), axes, marks, i, j))
            top, _ = _whole(order, pieces, (axes[0][i], axes[3][j]), top, np.int64(0))
            best[i, j] = top
            flip[j, i] = top
            _mark((best, flip), marks, (i, j), symmetric)


@compiled
def _settled(how: NDArray[np.int32], spot: tuple[int, int, int], symmetric: int) -> tuple[int, int, int]:
    """Return the box inside this one that is a piece or a cut, and whether it is seen transposed; 0 for none."""
    i, j, flipped = spot
    while i > 0 and j > 0:
        if symmetric and i > j:
            i, j, flipped = j, i, 1 - flipped
        way = how[i, j]
        if way == -1:
            i -= 1
        elif way == -2:
            j -= 1
        else:
            return i, j, flipped
    return 0, 0, 0


@compiled
def trace(how: NDArray[np.int32], rests: tuple[Ints, Ints], base: int, spot: Ints, out: NDArray[np.int32]) -> np.int64:
    """Write the pattern of one box before-order into `out` (cut, first part, second part); return where it ends.

    `spot` is (x index, y index, whether the table is symmetric); the answer is -1 for a box that holds nothing.
    """
    n, m = how.shape
    stack = np.zeros((out.size, 3), np.int64)
    stack[0, 0], stack[0, 1] = spot[0], spot[1]
    depth, at = 1, 0
    while depth:
        depth -= 1
        i, j, flipped = _settled(how, (stack[depth, 0], stack[depth, 1], stack[depth, 2]), spot[2])
        way = how[i, j]
        if way < 0:
            return np.int64(-1)
        if way < base:
            out[at] = way ^ flipped
            at += 1
            continue
        a, across_y = (way - base) >> 1, (way - base) & 1
        out[at] = CUT_Y if across_y ^ flipped else CUT_X
        at += 1
        for part in range(2):
            stack[depth, 0], stack[depth, 1], stack[depth, 2] = i, j, flipped
            if across_y:
                stack[depth, 1] = a if part else rests[1][j * m + a]
            else:
                stack[depth, 0] = a if part else rests[0][i * n + a]
            depth += 1
    return np.int64(at)


@compiled
def first_cuts(best: Floats, rests: tuple[Ints, Ints], halves: tuple[Ints, Ints], spot: Ints) -> tuple[Floats, Ints]:
    """Return value and (direction, point) of every first cut of one box that gives a value, joined or not."""
    n, m = best.shape
    i, j = spot[0], spot[1]
    total = halves[0][i] + halves[1][j]
    values = np.zeros(total)
    cuts = np.zeros((total, 2), np.int64)
    at = 0
    for a in range(1, halves[0][i] + 1):
        values[at] = best[a, j] + best[rests[0][i * n + a], j]
        cuts[at, 0], cuts[at, 1] = 0, a
        at += 1
    for a in range(1, halves[1][j] + 1):
        values[at] = best[i, a] + best[i, rests[1][j * m + a]]
        cuts[at, 0], cuts[at, 1] = 1, a
        at += 1
    return values, cuts


@compiled
def _corner(
    floors: tuple[Ints, Ints], size: tuple[int, int], board: tuple[int, int], first: int
) -> tuple[int, int, int, int]:
    """Return the boxes beside and above a piece in the low corner, as indices; the first cut runs along y or x."""
    fx, fy = floors
    (w, h), (wide, high) = size, board
    beside_j = fy[high] if first == 0 else fy[h]
    above_i = fx[w] if first == 0 else fx[wide]
    return fx[wide - w], beside_j, above_i, fy[high - h]


@compiled
def anchored(
    table: tuple[Floats, Words], floors: tuple[Ints, Ints], pieces: Pieces, packs: Packs, board: tuple[int, int]
) -> tuple[Floats, Ints]:
    """Return for each kind the value of a pattern with that piece in the low corner of a board, and how it is cut.

    How is (turned, 0 if the first cut runs along y or 1 along x, and the boxes beside and above the piece as indices);
    the value is 0 where the parts would want a piece twice.
    """
    best, mask = table
    sides, turns, value, word, shift = pieces
    top, how = np.zeros(value.size), np.zeros((value.size, 6), np.int64)
    own = np.zeros(packs[0].size, np.uint64)
    for t in np.flatnonzero(value > 0):
        own[:] = 0
        own[word[t]] = np.uint64(1) << np.uint64(shift[t])
        for way in range(4 if turns[t] else 2):
            turned, first = way >> 1, way & 1
            w, h = sides[t, turned], sides[t, 1 - turned]
            if w > board[0] or h > board[1]:
                continue
            bi, bj, ai, aj = _corner(floors, (w, h), board, first)
            total = value[t] + best[bi, bj] + best[ai, aj]
            fits = total > top[t] and joins(own, mask[bi, bj], packs) and joins(own + mask[bi, bj], mask[ai, aj], packs)
            if fits:
                top[t] = total
                how[t] = np.array([turned, first, bi, bj, ai, aj])
    return top, how
