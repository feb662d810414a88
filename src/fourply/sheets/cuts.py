"""The straight cuts of one board in an order that can be worked.

Two adjoining edges are made clean first; from then on every cut is measured from a clean edge to what it takes off,
so the stop reads the size of that part. Among the parts that lie ready the next cut is one at the stop that is set, if
there is one. All places are in nanometres from the board's own corner.
"""

from __future__ import annotations

from dataclasses import dataclass

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
class _Task:
    """A cut that waits for its part to lie ready, and the part that it frees."""

    cut: Cut
    frees: Node | None


def order_cuts(tree: Node, board: tuple[int, int]) -> tuple[Cut, ...]:
    """Return the cuts of a board of this width and height in the order of work."""
    width, height = board
    box = tree.box
    made: list[Cut] = []
    if box.x:
        made.append(Cut(Way.V, box.x, 0, height, 0, tree, None))
    if box.y:
        made.append(Cut(Way.H, box.y, box.x, width, 0, tree, None))
    far = (box.x + box.w < width, box.y + box.h < height)
    ready = [_tasks(tree, far, board)]
    stop = 0
    while ready := [tasks for tasks in ready if tasks]:
        at = next((i for i, tasks in enumerate(ready) if tasks[0].cut.stop == stop), 0)
        task = ready[at].pop(0)
        cut = task.cut
        made.append(Cut(cut.way, cut.at, cut.start, cut.end, cut.stop, cut.part, cut.off, reset=cut.stop != stop))
        stop = cut.stop
        if task.frees is not None:
            ready.insert(at + 1, _tasks(task.frees, (False, False), board))
    return tuple(made)


def _tasks(node: Node, far: tuple[bool, bool], board: tuple[int, int]) -> list[_Task]:
    """Return the cuts of one part in their order; `far` says on which far sides the sheet's own edge still is."""
    far_x, far_y = far
    if not node.children:
        if node.piece is None:
            return []
        tasks = [_Task(_far_cut(node, Way.V, board, to_edge=far_y), None)] if far_x else []
        return [*tasks, _Task(_far_cut(node, Way.H, board, to_edge=False), None)] if far_y else tasks
    across = node.cut is Way.V
    tasks = []
    if far_y if across else far_x:
        tasks.append(_Task(_far_cut(node, Way.H if across else Way.V, board, to_edge=far_x if across else far_y), None))
    *others, last = node.children
    tasks += [_Task(_off(node, child), child) for child in others]
    return tasks + _tasks(last, (far_x, False) if across else (False, far_y), board)


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
