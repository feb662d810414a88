"""The cuts of a board, made one after the other, each run across one part and free every piece at its size."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from fourply.bench.straight_cuts import Cut, order_cuts
from fourply.planning.plan import Node, Way
from fourply.planning.problem import Box

type Part = tuple[int, int, int, int]
"""Left, bottom, right, top of a part as it lies."""


@st.composite
def trees(draw: st.DrawFn, box: Box | None = None, depth: int = 4, way: Way | None = None) -> Node:
    """Return a board divided edge to edge, each division across the one before it."""
    box = box or Box(0, 0, draw(st.integers(20, 200)), draw(st.integers(20, 200)))
    way = way or draw(st.sampled_from(Way))
    side = box.w if way is Way.V else box.h
    if depth == 0 or side < 6 or draw(st.integers(0, 4)) == 0:
        kind = draw(st.integers(0, 3))
        piece = f"{box.x}/{box.y}/{depth}" if kind > 1 else None
        return Node(box, piece=piece, kept=kind == 1)
    marks = sorted({draw(st.integers(1, side - 1)) for _ in range(draw(st.integers(1, 3)))})
    children = []
    for low, high in zip([0, *marks], [*marks, side], strict=True):
        if way is Way.V:
            part = Box(box.x + low, box.y, high - low, box.h)
        else:
            part = Box(box.x, box.y + low, box.w, high - low)
        children.append(draw(trees(part, depth - 1, Way.H if way is Way.V else Way.V)))
    return Node(box, way, tuple(children))


def moved(node: Node, by: int) -> Node:
    box = Box(node.box.x + by, node.box.y + by, node.box.w, node.box.h)
    children = tuple(moved(child, by) for child in node.children)
    return Node(box, node.cut, children, node.piece, node.turned, node.kept)


def cut_through(parts: list[Part], cut: Cut) -> None:
    """Cut the one part that the cut runs across from edge to edge."""
    for part in parts:
        left, bottom, right, top = part
        if cut.way is Way.V and left < cut.at < right and (bottom, top) == (cut.start, cut.end):
            parts.remove(part)
            parts += [(left, bottom, cut.at, top), (cut.at, bottom, right, top)]
            assert cut.stop in {0, cut.at - left}
            return
        if cut.way is Way.H and bottom < cut.at < top and (left, right) == (cut.start, cut.end):
            parts.remove(part)
            parts += [(left, bottom, right, cut.at), (left, cut.at, right, top)]
            assert cut.stop in {0, cut.at - bottom}
            return
    raise AssertionError(f"{cut} runs through no part: {parts}")


@given(trees(), st.sampled_from([0, 3]))
def test_every_cut_runs_from_edge_to_edge_of_one_part_and_every_piece_comes_free(tree: Node, trim: int) -> None:
    tree = moved(tree, trim)
    width, height = tree.box.w + 2 * trim, tree.box.h + 2 * trim
    parts: list[Part] = [(0, 0, width, height)]
    for cut in order_cuts(tree, (width, height)):
        cut_through(parts, cut)
    for node in tree.walk():
        if node.piece is not None:
            box = node.box
            assert (box.x, box.y, box.x + box.w, box.y + box.h) in parts


@given(trees())
def test_a_stop_is_marked_to_reset_just_where_it_differs_from_the_one_before(tree: Node) -> None:
    before = 0
    for cut in order_cuts(tree, (tree.box.w, tree.box.h)):
        assert cut.reset == (cut.stop != before)
        before = cut.stop


def test_cuts_at_one_stop_are_joined_across_parts_that_lie_ready() -> None:
    strips = [
        Node(Box(x, 0, 50, 80), Way.H, (Node(Box(x, 0, 50, 30), piece=f"{x}"), Node(Box(x, 30, 50, 50), piece=f"{x}b")))
        for x in (0, 50)
    ]
    cuts = order_cuts(Node(Box(0, 0, 100, 80), Way.V, tuple(strips)), (100, 80))
    assert [(cut.stop, cut.reset) for cut in cuts] == [(50, True), (30, True), (30, False)]
