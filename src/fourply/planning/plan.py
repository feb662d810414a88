"""A finished cutting plan: boards, each with its tree of edge-to-edge cuts, and what no plan can beat.

Everything after the planner (order of work, costs, drawings) reads this and nothing else of the planning room, so a
plan holds its own geometry in full: every node of a tree knows its box in the coordinates of its board.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum

from fourply.planning.problem import Box, Kind


class Way(Enum):
    """How a node is divided: V by cuts that run along y (left and right parts), H by cuts that run along x."""

    V = "v"
    H = "h"


@dataclass(frozen=True, slots=True)
class Node:
    """A rectangle of a board: divided by parallel cuts, or a leaf that is a piece, a remnant to keep, or waste.

    The boxes of `children` run from low to high x (V) or y (H), one kerf apart.
    """

    box: Box
    cut: Way | None = None
    children: tuple[Node, ...] = ()
    piece: str | None = None
    turned: bool = False
    kept: bool = False

    def walk(self) -> Iterator[Node]:
        """Yield this node and all below it, in the order in which the cuts are made."""
        stack = [self]
        while stack:
            node = stack.pop()
            yield node
            stack.extend(reversed(node.children))


@dataclass(frozen=True, slots=True)
class Source:
    """What a board is: stock by its key, or the fallout of a piece by the piece's key and which of its rectangles."""

    kind: Kind
    key: str
    choice: int = 0


@dataclass(frozen=True, slots=True)
class Board:
    """`copies` boards from one source, all cut alike; the root of `tree` is what trimming leaves of it."""

    source: Source
    tree: Node
    copies: int = 1


@dataclass(frozen=True, slots=True)
class Placed:
    """A piece in its place: `copies` times, once on each copy of its board."""

    piece: str
    board: int
    copies: int
    box: Box
    turned: bool


@dataclass(frozen=True, slots=True)
class Plan:
    """A complete plan: its cost, the cost that no plan can beat, and what it took to find it.

    `seconds` is what the budget's clock showed, None where the plan was made by steps alone. `boards` stand in an
    order that can be worked: a piece comes before what is cut from its fallout.
    """

    boards: tuple[Board, ...]
    cost: int
    lower_bound: int
    engine: str
    steps: int = 0
    seconds: float | None = None

    @property
    def proved(self) -> bool:
        """Whether no plan can cost less."""
        return self.lower_bound >= self.cost

    @property
    def gap(self) -> float:
        """The part of the cost that is not proved to be needed; 0.0 is the best possible."""
        return 0.0 if self.proved else 1 - self.lower_bound / self.cost

    def placed(self) -> Iterator[Placed]:
        """Yield every piece with its board (an index into `boards`), in the order of work."""
        for at, board in enumerate(self.boards):
            for node in board.tree.walk():
                if node.piece is not None:
                    yield Placed(node.piece, at, board.copies, node.box, node.turned)

    def remnants(self) -> Iterator[tuple[int, Box]]:
        """Yield every remnant worth keeping with the index of its board, once for each kind of board."""
        for at, board in enumerate(self.boards):
            for node in board.tree.walk():
                if node.kept:
                    yield at, node.box

    def uses(self) -> Counter[Source]:
        """Return how many boards of each source are used."""
        used: Counter[Source] = Counter()
        for board in self.boards:
            used[board.source] += board.copies
        return used

    def to_buy(self) -> Counter[str]:
        """Return how many sheets of each kind the plan takes, by key of stock; offcuts and fallouts are in hand."""
        sheets: Counter[str] = Counter()
        for source, copies in self.uses().items():
            if source.kind is Kind.SHEET:
                sheets[source.key] += copies
        return sheets
