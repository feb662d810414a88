"""A closed outline: pieces end to end, clockwise on screen, in millimetres about the middle of the opening's box."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass, field

from fourply.errors import BadInput
from fourply.trade.shapes.pieces import Cubic, Piece, Segment, Sweep
from fourply.trade.shapes.vectors import Point

__all__ = ["Cubic", "Outline", "Piece", "Point", "Segment", "Sweep", "polygon"]

JOINED = 1e-6
"""How far apart, in millimetres, the end of a piece and the start of the next may lie."""
TOUCHING = 1e-9
"""What may be beyond an edge, in millimetres, and still counts as on it."""

type Box = tuple[float, float, float, float]
type _Pass = tuple[float, float, Piece, tuple[float, float], int]
"""From where to where a piece rises or falls, on which span of it, 1 where it rises and -1 where it falls."""


@dataclass(frozen=True, slots=True)
class Outline:
    """A closed outline that goes round once, clockwise on screen (x to the right, y down).

    Raises BadInput where there is no piece, where a piece does not begin at the end of the last, or where the whole
    goes round against the clock. Whether it crosses itself is not looked at here.

    >>> square = polygon(((-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)))
    >>> square.area, square.perimeter, square.bounds()
    (4.0, 8.0, (-1.0, -1.0, 1.0, 1.0))
    >>> square.contains((0.5, 0.5)), square.holds(-1.0, 0.0, 1.0, 1.0)
    (True, True)
    """

    pieces: tuple[Piece, ...]
    _tables: dict[int, list[_Pass]] = field(default_factory=dict, init=False, repr=False, compare=False)
    _ranges: list[Box] = field(default_factory=list, init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        if not self.pieces:
            raise BadInput("no piece", "an outline has at least one piece")
        for at, (piece, after) in enumerate(itertools.pairwise((*self.pieces, self.pieces[0])), start=1):
            gap = math.dist(piece.last, after.first)
            if not gap <= JOINED:
                raise BadInput(f"a gap of {gap:.6f} mm after piece {at}", "an outline is closed, end to end")
        if not self.area > 0:
            raise BadInput("an outline against the clock", "pieces run clockwise on screen round an area")

    @property
    def area(self) -> float:
        """The area inside, in square millimetres."""
        return math.fsum(piece.swept for piece in self.pieces)

    @property
    def perimeter(self) -> float:
        """The length round, in millimetres."""
        return math.fsum(piece.length for piece in self.pieces)

    def bounds(self) -> Box:
        """Return left, top, right and bottom of the upright box round it."""
        left, top, right, bottom = zip(*self._boxes(), strict=True)
        return min(left), min(top), max(right), max(bottom)

    def _boxes(self) -> list[Box]:
        """Return the box round each piece, found once."""
        if not self._ranges:
            for piece in self.pieces:
                (left, right), (top, bottom) = piece.range(0), piece.range(1)
                self._ranges.append((left, top, right, bottom))
        return self._ranges

    def flatten(self, chord_error_mm: float) -> list[Point]:
        """Return the corners of a polygon whose sides stay within the error of the outline; raises BadInput below 0.

        >>> circle = Outline((Sweep(0, 0, 10, 10, 0, 360),))
        >>> len(circle.flatten(0.1)) < len(circle.flatten(0.001))
        True
        """
        if not chord_error_mm > 0:
            raise BadInput(f"{chord_error_mm}", "a chord error is above nothing, in millimetres")
        return [point for piece in self.pieces for point in piece.flat(chord_error_mm)]

    def contains(self, point: Point) -> bool:
        """Tell whether the point is inside; on the line itself either answer may come."""
        x, y = point
        return sum(sign for piece, span, sign in self._passes(1, y) if _beyond(piece, span, x, y)) != 0

    def _passes(self, axis: int, value: float) -> Iterator[tuple[Piece, tuple[float, float], int]]:
        """Yield each span on which the outline passes the coordinate, 1 where upwards, -1 where downwards.

        A piece counts as ending where the next begins, so that no pass is lost in what floats leave between the two.
        """
        if axis not in self._tables:
            self._tables[axis] = list(self._spans(axis))
        for low, high, piece, span, sign in self._tables[axis]:
            if low <= value < high:
                yield piece, span, sign

    def _spans(self, axis: int) -> Iterator[_Pass]:
        """Yield every span on which a piece only rises or only falls along the axis, from low to high."""
        for piece, after in itertools.pairwise((*self.pieces, self.pieces[0])):
            spans = piece.spans(axis)
            marks = [piece.point(start)[axis] for start, _ in spans] + [after.first[axis]]
            for span, (start, end) in zip(spans, itertools.pairwise(marks), strict=True):
                yield min(start, end), max(start, end), piece, span, 1 if end > start else -1

    def holds(self, left: float, top: float, right: float, bottom: float) -> bool:
        """Tell whether the upright rectangle lies inside, its edges allowed to touch (to 1e-9 mm)."""
        box = (left + TOUCHING, top + TOUCHING, right - TOUCHING, bottom - TOUCHING)
        if box[0] > box[2] or box[1] > box[3]:
            box = ((left + right) / 2, (top + bottom) / 2) * 2
        left, top, right, bottom = box
        for piece, (least_x, least_y, most_x, most_y) in zip(self.pieces, self._boxes(), strict=True):
            near = least_x < right and left < most_x and least_y < bottom and top < most_y
            if near and _enters(piece, box):
                return False
        return self.contains(((box[0] + box[2]) / 2, (box[1] + box[3]) / 2))

    def chord(self, x: float) -> tuple[float, float] | None:
        """Return the highest and the lowest point of the outline on an upright line, nothing where they do not meet."""
        ys = [piece.point(piece.at(0, x, span))[1] for piece, span, _ in self._passes(0, x)]
        return (min(ys), max(ys)) if ys else None

    def moved(self, dx: float, dy: float) -> Outline:
        """Return the outline elsewhere."""
        return Outline(tuple(piece.moved(dx, dy) for piece in self.pieces))

    def mirrored(self) -> Outline:
        """Return the outline as it is seen from behind, left and right exchanged."""
        return Outline(tuple(piece.mirrored() for piece in reversed(self.pieces)))

    def scaled(self, by: float) -> Outline:
        """Return the outline larger by a factor about the origin."""
        return Outline(tuple(piece.scaled(by) for piece in self.pieces))

    def centred(self) -> Outline:
        """Return the outline with the middle of its box at the origin."""
        left, top, right, bottom = self.bounds()
        return self.moved(-(left + right) / 2, -(top + bottom) / 2)


def polygon(points: tuple[Point, ...] | list[Point]) -> Outline:
    """Return straight lines through the points and back to the first; points that coincide are taken once."""
    return joined(tuple(Segment(*pair) for pair in itertools.pairwise((*points, *points[:1]))))


def joined(pieces: tuple[Piece, ...]) -> Outline:
    """Return the outline of the pieces without the straight lines that have no length."""
    return Outline(
        tuple(
            piece for piece in pieces if not isinstance(piece, Segment) or math.dist(piece.start, piece.end) > TOUCHING
        )
    )


def _beyond(piece: Piece, span: tuple[float, float], x: float, y: float) -> bool:
    """Tell whether the piece, on a span on which it only rises or falls, passes the height y to the right of x."""
    ends = sorted(piece.point(t)[0] for t in span)
    if not any(span[0] < turn < span[1] for turn in piece.turns(0)) and not ends[0] <= x <= ends[1]:
        return ends[0] > x
    return piece.point(piece.at(1, y, span))[0] > x


def _enters(piece: Piece, box: Box) -> bool:
    """Tell whether any of the piece lies strictly inside the box."""
    marks = {0.0, 1.0, *piece.turns(0), *piece.turns(1)}
    for axis in (0, 1):
        marks.update(piece.crossings(axis, box[axis]), piece.crossings(axis, box[axis + 2]))
    order = sorted(marks)
    middles = ((low + high) / 2 for low, high in itertools.pairwise(order))
    return any(_strictly(piece.point(t), box) for t in (*order, *middles))


def _strictly(point: Point, box: Box) -> bool:
    return box[0] < point[0] < box[2] and box[1] < point[1] < box[3]
