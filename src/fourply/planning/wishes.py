"""Which of several plans of equal cost the bench would rather have: larger remnants, fewer settings, fewer cuts.

Everything here counts what stands in the finished trees; the order of the wishes is the user's.
"""

from __future__ import annotations

from collections.abc import Iterable

from fourply.planning.plan import Board, Node, Way
from fourply.planning.problem import Wish


def rank(boards: Iterable[Board], wishes: Iterable[Wish]) -> tuple[int, ...]:
    """Return how these boards stand under the wishes, in their order; less is better."""
    trees = [(board.tree, board.copies) for board in boards]
    counts = {
        Wish.REMNANT: lambda: -max((area for tree, _ in trees for area in _remnants(tree)), default=0),
        Wish.SETTINGS: lambda: len({setting for tree, _ in trees for setting in _settings(tree)}),
        Wish.CUTS: lambda: sum(cuts(tree) * copies for tree, copies in trees),
    }
    return tuple(counts[wish]() for wish in wishes)


def _remnants(tree: Node) -> Iterable[int]:
    return (node.box.w * node.box.h for node in tree.walk() if node.kept)


def _settings(tree: Node) -> Iterable[int]:
    """Yield the stop distance of every cut: the width of what it takes off."""
    for node in tree.walk():
        for child in node.children[: _cuts_of(node)]:
            yield child.box.w if node.cut is Way.V else child.box.h


def cuts(tree: Node) -> int:
    """Return how many cuts the tree takes, one after each part that does not reach the edge.

    >>> from fourply.planning.problem import Box
    >>> halves = (Node(Box(0, 0, 5, 8), piece="a"), Node(Box(5, 0, 5, 8)))
    >>> cuts(Node(Box(0, 0, 10, 8), cut=Way.V, children=halves))
    1
    """
    return sum(_cuts_of(node) for node in tree.walk())


def _cuts_of(node: Node) -> int:
    if not node.children:
        return 0
    last, box = node.children[-1].box, node.box
    whole = last.x + last.w == box.x + box.w if node.cut is Way.V else last.y + last.h == box.y + box.h
    return len(node.children) - whole
