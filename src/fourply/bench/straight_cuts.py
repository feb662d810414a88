"""The straight cuts of one board in an order that can be worked.

Two adjoining edges are made clean first; from then on every cut is measured from a clean edge to what it takes off,
so the stop reads the size of that part. Among the parts that lie ready the next cut is one at the stop that is set, if
there is one. All places are in nanometres from the board's own corner.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from fourply.planning.plan import Node, Way


@dataclass(frozen=True, slots=True)
class Cut:
    """One cut from edge to edge of a part: where it runs, what the stop reads (0: a clean edge is made), what it frees.

    `part` is what is cut, `off` what comes off it, None where that is only the edge of the sheet.
    """

    way: Way
    at: int
    start: int
    end: int
    stop: int
    part: Node
    off: Node | None
    reset: bool = True


@dataclass(frozen=True, slots=True)
class Chain:
    """The cuts of one part in the order in which they must be made; the part comes free by the cut `by` of another.

    `by` names a chain by its place among all and a cut of it; the chain of the whole board comes free by nothing.
    """

    cuts: tuple[Cut, ...]
    by: tuple[int, int] | None


def chains(tree: Node, board: tuple[int, int], *, raw: bool = False) -> tuple[Chain, ...]:
    """Return the cuts of a board of this width and height by the parts that they are made in.

    A `raw` board, such as a fallout, is larger than that by what squaring takes off: two clean edges are made first,
    and the far sides are cut too.
    """
    width, height = board
    box = tree.box
    first: list[Cut] = []
    if box.x or raw:
        first.append(Cut(Way.V, box.x, 0, height, 0, tree, None))
    if box.y or raw:
        first.append(Cut(Way.H, box.y, box.x, width, 0, tree, None))
    far = (raw or box.x + box.w < width, raw or box.y + box.h < height)
    found: list[tuple[list[Cut], tuple[int, int] | None]] = [(first, None)]
    _tasks(found, 0, tree, far, board)
    return tuple(Chain(tuple(cuts), by) for cuts, by in found)


def order_cuts(tree: Node, board: tuple[int, int]) -> tuple[Cut, ...]:
    """Return the cuts of one board by itself in the order of work; their places are their numbers on its sheet."""
    waiting = dict(enumerate(chains(tree, board)))
    done = dict.fromkeys(waiting, 0)
    ready, made, stop = [0], list[Cut](), 0
    while ready := [at for at in ready if done[at] < len(waiting[at].cuts)]:
        at = next((each for each in ready if waiting[each].cuts[done[each]].stop == stop), ready[0])
        cut = waiting[at].cuts[done[at]]
        made.append(replace(cut, reset=cut.stop == 0 or cut.stop != stop))
        stop = cut.stop
        freed = [each for each, chain in waiting.items() if chain.by == (at, done[at])]
        ready[ready.index(at) + 1 : ready.index(at) + 1] = freed
        done[at] += 1
    return tuple(made)


def _tasks(
    found: list[tuple[list[Cut], tuple[int, int] | None]],
    chain: int,
    node: Node,
    far: tuple[bool, bool],
    board: tuple[int, int],
) -> None:
    """Enter the cuts of one part; `far` says on which far sides the sheet's own edge still is."""
    far_x, far_y = far
    cuts = found[chain][0]
    if not node.children:
        if node.piece is not None and far_x:
            cuts.append(_far_cut(node, Way.V, board, to_edge=far_y))
        if node.piece is not None and far_y:
            cuts.append(_far_cut(node, Way.H, board, to_edge=False))
        return
    across = node.cut is Way.V
    if far_y if across else far_x:
        cuts.append(_far_cut(node, Way.H if across else Way.V, board, to_edge=far_x if across else far_y))
    *others, last = node.children
    for child in others:
        cuts.append(_off(node, child))
        found.append(([], (chain, len(cuts) - 1)))
        _tasks(found, len(found) - 1, child, (False, False), board)
    _tasks(found, chain, last, (far_x, False) if across else (False, far_y), board)


def _off(node: Node, child: Node) -> Cut:
    """Return the cut that takes a child off its part."""
    box, part = child.box, node.box
    if node.cut is Way.V:
        return Cut(Way.V, box.x + box.w, part.y, part.y + part.h, box.w, node, child)
    return Cut(Way.H, box.y + box.h, part.x, part.x + part.w, box.h, node, child)


def _far_cut(node: Node, way: Way, board: tuple[int, int], *, to_edge: bool) -> Cut:
    """Return the cut that takes the sheet's own far edge off a part; `to_edge` where it runs to that edge itself."""
    box = node.box
    if way is Way.V:
        return Cut(way, box.x + box.w, box.y, board[1] if to_edge else box.y + box.h, box.w, node, None)
    return Cut(way, box.y + box.h, box.x, board[0] if to_edge else box.x + box.w, box.h, node, None)
