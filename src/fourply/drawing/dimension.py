"""Dimensions along one side of a drawn thing: tiers of lines, figures on them, nothing on top of anything.

The habits are those of ISO 129-1 (from memory): figures stand on their line, upright ones read from the right;
smaller features nearest the thing, the overall size outermost; extension lines start clear of the edge. Arrowheads
stand inside where the line has room for them; a tier with a shorter line takes oblique strokes. A figure wider than
its line goes outside it, and where neighbours leave no room there, to a tier of its own. An extension line is
broken where it would cross a figure.

Along the side runs u (x for top and bottom, y for left and right); v is the distance outward from the base.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from typing import NamedTuple

from fourply.drawing.ink import DIMENSION, EXTENSION
from fourply.drawing.lettering import Anchor, Type, write
from fourply.drawing.pen import Pen
from fourply.drawing.signs import ARROW_LENGTH, arrowhead, stroke, tick

PITCH = 4.94  # 14 pt between tiers
_ON_LINE = 0.75  # from the line to the base line of its figure
_CLEAR = 0.78  # 2.2 pt from the edge to the start of an extension line
_PAST = 1.0  # an extension line runs on past the dimension line
_ARROWS_FROM = 6.0  # 17 pt: the shortest line that takes arrowheads
_PAD = 0.7


class Side(Enum):
    """The side of the thing along which the dimensions stand."""

    TOP = "top"
    RIGHT = "right"
    BOTTOM = "bottom"
    LEFT = "left"

    @property
    def level(self) -> bool:
        """Tell whether dimension lines run from left to right."""
        return self in {Side.TOP, Side.BOTTOM}

    @property
    def figures_outward(self) -> bool:
        """Tell whether a figure that stands on its line stands on the outer side of it."""
        return self in {Side.TOP, Side.LEFT}


class Dim(NamedTuple):
    """One measured distance: where it starts and ends along the side, and its figure.

    `foot` is how far inward from the base the measured feature lies; its extension lines start there, the one at its
    end at `end_foot` where that differs.
    """

    start: float
    end: float
    text: str
    foot: float = 0.0
    bold: bool = False
    figure: str = ""
    end_foot: float | None = None

    @property
    def feet(self) -> tuple[tuple[float, float], ...]:
        """Where its two extension lines stand along the side, and how far in they start."""
        return (self.start, self.foot), (self.end, self.foot if self.end_foot is None else self.end_foot)


class Placed(NamedTuple):
    """A dimension with its line's distance from the base and the place where its figure starts along the side."""

    dim: Dim
    v: float
    text_start: float
    text_end: float
    ticks: bool


@dataclass(frozen=True, slots=True)
class Bank:
    """All dimensions of one side, laid out; `depth` is how far they reach from the base, in millimetres."""

    side: Side
    base: float
    placed: tuple[Placed, ...]
    depth: float
    points: float


def lay_out(
    side: Side,
    base: float,
    tiers: Sequence[Sequence[Dim]],
    *,
    within: tuple[float, float],
    points: float = 8.5,
) -> Bank:
    """Return tiers (the inner first) laid out along a side whose edge is at `base`.

    `within` are the least and greatest u that a figure may reach.
    """
    first = 4.4 if side.figures_outward else 5.6
    placed: list[Placed] = []
    waiting = [list(tier) for tier in tiers if tier]
    outer_lines = [[u for tier in waiting[i + 1 :] for dim in tier for u in dim[:2]] for i in range(len(waiting))]
    level = 0
    while waiting:
        tier, crossing = waiting.pop(0), (outer_lines.pop(0) if outer_lines else [])
        v = first + level * PITCH
        fitting, left = _seat(tier, v, crossing, within=within, points=points)
        placed.extend(fitting)
        if left:
            waiting.insert(0, left)
            outer_lines.insert(0, crossing)
        level += 1
    reach = first + (level - 1) * PITCH + (_ON_LINE + 0.8 * Type(points).size if side.figures_outward else _PAST)
    return Bank(side, base, tuple(placed), reach if placed else 0.0, points)


def draw(pen: Pen, bank: Bank) -> None:
    """Draw a bank of dimensions."""
    _extensions(pen, bank)
    for placed in bank.placed:
        _line(pen, bank, placed)
        _figure(pen, bank, placed)


def _seat(
    tier: Sequence[Dim],
    v: float,
    crossing: Sequence[float],
    *,
    within: tuple[float, float],
    points: float,
) -> tuple[list[Placed], list[Dim]]:
    """Return the dimensions that find room in a tier and those that must go further out."""
    ticks = any(dim.end - dim.start < _ARROWS_FROM for dim in tier)
    taken = [(dim.start, dim.end) for dim in tier]
    seated: list[Placed] = []
    left: list[Dim] = []
    for dim in tier:
        wide = Type(points, bold=dim.bold).width(dim.text)
        others = [span for span in taken if span != (dim.start, dim.end)]
        start = _start(dim, wide, others, crossing, within)
        if start is None and (seated or len(tier) > 1):
            taken.remove((dim.start, dim.end))
            left.append(dim)
            continue
        if start is None:
            start = _clamped((dim.start + dim.end - wide) / 2, wide, within)
        taken.append((start, start + wide))
        seated.append(Placed(dim, v, start, start + wide, ticks))
    if not seated:  # every one has a neighbour in its way: the first takes the tier alone
        alone, more = _seat(left[:1], v, crossing, within=within, points=points)
        return alone, [*more, *left[1:]]
    return seated, left


def _start(
    dim: Dim,
    wide: float,
    others: Sequence[tuple[float, float]],
    crossing: Sequence[float],
    within: tuple[float, float],
) -> float | None:
    """Return where the figure starts: between the ends if it fits, else outside them, else nowhere."""
    if wide + 2 * _PAD <= dim.end - dim.start:
        return _between(dim, wide, crossing)
    for start in (dim.end + _PAD + 0.5, dim.start - _PAD - 0.5 - wide):
        free = all(start + wide + _PAD <= low or start - _PAD >= high for low, high in others)
        if free and within[0] <= start and start + wide <= within[1]:
            return start
    return None


def _between(dim: Dim, wide: float, crossing: Sequence[float]) -> float:
    """Return the start nearest the middle at which no outer extension line crosses, or the middle where none is."""
    middle = (dim.start + dim.end - wide) / 2
    lines = [u for u in crossing if dim.start < u < dim.end]
    starts = [middle, *(u + _PAD for u in lines), *(u - _PAD - wide for u in lines)]
    clear = [
        start
        for start in starts
        if dim.start + _PAD <= start
        and start + wide + _PAD <= dim.end
        and not any(start - _PAD / 2 < u < start + wide + _PAD / 2 for u in lines)
    ]
    return min(clear, key=lambda start: abs(start - middle), default=middle)


def _clamped(start: float, wide: float, within: tuple[float, float]) -> float:
    return max(within[0], min(start, within[1] - wide))


def _point(bank: Bank, u: float, v: float) -> tuple[float, float]:
    out = -v if bank.side.figures_outward else v
    return (u, bank.base + out) if bank.side.level else (bank.base + out, u)


def _text_span(bank: Bank, placed: Placed) -> tuple[float, float]:
    """Return the inner and outer v of a figure's box."""
    rise = _ON_LINE + 0.8 * Type(bank.points).size
    return (placed.v, placed.v + rise) if bank.side.figures_outward else (placed.v - rise, placed.v)


def _extensions(pen: Pen, bank: Bank) -> None:
    reach: dict[float, tuple[float, float]] = {}
    for dim, v, *_ in bank.placed:
        for u, deep in dim.feet:
            key = round(u, 3)
            foot, end = reach.get(key, (-deep, v))
            reach[key] = (min(foot, -deep), max(end, v))
    for u, (foot, end) in reach.items():
        for low, high in _broken(bank, u, foot + _CLEAR, end + _PAST):
            stroke(pen, _point(bank, u, low), _point(bank, u, high), EXTENSION)


def _broken(bank: Bank, u: float, low: float, high: float) -> list[tuple[float, float]]:
    """Return the pieces of an extension line that cross no figure."""
    gaps = sorted(
        _text_span(bank, placed) for placed in bank.placed if placed.text_start - 0.3 < u < placed.text_end + 0.3
    )
    pieces: list[tuple[float, float]] = []
    for start, end in gaps:
        if end <= low or start >= high:
            continue
        pieces.append((low, start))
        low = end
    return [(a, b) for a, b in [*pieces, (low, high)] if b - a > 0.2]


def _line(pen: Pen, bank: Bank, placed: Placed) -> None:
    dim, v = placed.dim, placed.v
    start, end = min(dim.start, placed.text_start), max(dim.end, placed.text_end)
    ends = [_point(bank, dim.start, v), _point(bank, dim.end, v)]
    stroke(pen, _point(bank, start, v), _point(bank, end, v), DIMENSION)
    if placed.ticks or dim.end - dim.start < 2 * ARROW_LENGTH:
        for point in ends:
            tick(pen, point)
    else:
        forward = 0.0 if bank.side.level else 90.0
        arrowhead(pen, ends[0], forward + 180)
        arrowhead(pen, ends[1], forward)


def _figure(pen: Pen, bank: Bank, placed: Placed) -> None:
    kind = Type(bank.points, bold=placed.dim.bold)
    x, y = _point(bank, placed.text_start if bank.side.level else placed.text_end, placed.v)
    at, angle = ((x, y - _ON_LINE), 0.0) if bank.side.level else ((x - _ON_LINE, y), 90.0)
    write(pen, at, placed.dim.text, kind, anchor=Anchor.START, angle=angle, figure=placed.dim.figure)
