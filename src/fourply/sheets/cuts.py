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
    far: tuple[bool, bool] = (False, False)


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
    ready = [_tasks(tree, far)]
    stop = 0
    while ready := [tasks for tasks in ready if tasks]:
        at = next((i for i, tasks in enumerate(ready) if tasks[0].cut.stop == stop), 0)
        task = ready[at].pop(0)
        cut = task.cut
        made.append(Cut(cut.way, cut.at, cut.start, cut.end, cut.stop, cut.part, cut.off, reset=cut.stop != stop))
        stop = cut.stop
        if task.frees is not None:
            ready.insert(at + 1, _tasks(task.frees, task.far))
    return tuple(made)


def _tasks(node: Node, far: tuple[bool, bool]) -> list[_Task]:
    """Return the cuts of one part in their order; `far` says on which far sides the sheet's own edge still is."""
    far_x, far_y = far
    box = node.box
    tasks: list[_Task] = []
    if not node.children:
        if node.piece is not None:
            tasks += [_Task(_far_cut(node, way), None) for way, on in ((Way.V, far_x), (Way.H, far_y)) if on]
        return tasks
    across = node.cut is Way.V
    if far_y if across else far_x:
        tasks.append(_Task(_far_cut(node, Way.H if across else Way.V), None))
    for child in node.children:
        last = child is node.children[-1]
        rest = (last and far_x, False) if across else (False, last and far_y)
        if last:
            tasks += _tasks(child, rest)
            continue
        if across:
            cut = Cut(Way.V, child.box.x + child.box.w, box.y, box.y + box.h, child.box.w, node, child)
        else:
            cut = Cut(Way.H, child.box.y + child.box.h, box.x, box.x + box.w, child.box.h, node, child)
        tasks.append(_Task(cut, child, rest))
    return tasks


def _far_cut(node: Node, way: Way) -> Cut:
    """Return the cut that takes the sheet's own far edge off a part."""
    box = node.box
    if way is Way.V:
        return Cut(way, box.x + box.w, box.y, box.y + box.h, box.w, node, None)
    return Cut(way, box.y + box.h, box.x, box.x + box.w, box.h, node, None)
