"""What a drawing must never do: set figures on one another, cross them with a line, or lose them off the page.

A composer lays out by rule; these checks hold its results against the page itself, whatever the rule was.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Mapping

from fourply.drawing.ink import Ink
from fourply.drawing.pen import Label, Steps
from fourply.drawing.record import Drawing
from fourply.drawing.shapes import Box, Point, bounds, flatten
from fourply.drawing.text import box

type Segment = tuple[Point, Point]

_TOUCH = 0.15  # millimetres by which a line may graze the box of a figure, which is larger than its ink
_ROW = 5.0  # millimetres
_PIECES = 16  # a quarter turn; an arc 90 mm round stays within 0.11 mm, less than what may touch


def collisions(drawing: Drawing) -> list[tuple[str, str]]:
    """Return the texts of every two labels whose boxes meet."""
    placed = sorted(((box(label), label.text) for label in drawing.labels), key=lambda entry: entry[0].left)
    found = []
    for i, (here, text) in enumerate(placed):
        for there, other in placed[i + 1 :]:
            if there.left >= here.right:
                break
            if here.meets(there):
                found.append((text, other))
    return found


def strays(drawing: Drawing, *, margin: float = 0.0) -> list[str]:
    """Return the texts of labels that reach nearer than `margin` to an edge of the page, or beyond it."""
    page = Box(0, 0, drawing.width, drawing.height).grown(-margin)
    return [label.text for label in drawing.labels if not _inside(box(label), page)]


def crossed(drawing: Drawing) -> list[str]:
    """Return the texts of labels that a line runs through, straight or curved.

    White text stands on black and is left out. What lies under a white area counts no more, by the box of that area.
    """
    segments: list[Segment] = []
    labels: list[Label] = []
    for mark in drawing.marks:
        if isinstance(mark, Label):
            labels.append(mark)
            continue
        if mark.fill is Ink.PAPER:
            cover = bounds(mark.steps)
            segments = [piece for segment in segments for piece in _outside(segment, cover)]
        if mark.stroke is not None:
            segments.extend(_segments(mark.steps))
    boxes = [(box(label).grown(-_TOUCH), label.text) for label in labels if label.ink is not Ink.PAPER]
    rows = _rows(segments)
    return [text for area, text in boxes if any(_within(segment, area) for segment in _near(rows, area))]


def _rows(segments: Iterable[Segment]) -> Mapping[int, list[Segment]]:
    """Return the segments by the rows of the page that they touch, since a figure is only near a few of them."""
    rows: dict[int, list[Segment]] = {}
    for segment in segments:
        ends = segment[0][1], segment[1][1]
        for row in range(int(min(ends) // _ROW), int(max(ends) // _ROW) + 1):
            rows.setdefault(row, []).append(segment)
    return rows


def _near(rows: Mapping[int, list[Segment]], area: Box) -> Iterator[Segment]:
    for row in range(int(area.top // _ROW), int(area.bottom // _ROW) + 1):
        yield from rows.get(row, ())


def crosses(segment: Segment, area: Box) -> bool:
    """Tell whether a straight line runs through a box.

    >>> crosses(((0, 0), (9, 9)), Box(2, 1, 4, 3)), crosses(((0, 0), (9, 0)), Box(2, 1, 4, 3))
    (True, False)
    """
    return _within(segment, area) is not None


def _inside(inner: Box, outer: Box) -> bool:
    return (
        outer.left <= inner.left
        and outer.top <= inner.top
        and inner.right <= outer.right
        and inner.bottom <= outer.bottom
    )


def _segments(steps: Steps) -> Iterable[Segment]:
    """Return a path as straight lines, its curves cut into short ones."""
    closed = [step[0] == "Z" for step in steps if step[0] in "MZ"]
    for outline in flatten(steps, pieces=_PIECES):
        closed.pop(0)
        yield from itertools.pairwise(outline)
        if closed and closed[0]:
            closed.pop(0)
            yield outline[-1], outline[0]


def _within(segment: Segment, area: Box) -> tuple[float, float] | None:
    """Return the part of a segment inside a box, as parts of its length, or None (the method of Liang and Barsky)."""
    (x1, y1), (x2, y2) = segment
    left, top, right, bottom = area
    aside = (x1 < left and x2 < left) or (x1 > right and x2 > right)
    if aside or (y1 < top and y2 < top) or (y1 > bottom and y2 > bottom):
        return None  # nearly all, so they are told apart first
    enter, leave = 0.0, 1.0
    for step, room in (
        (x1 - x2, x1 - area.left),
        (x2 - x1, area.right - x1),
        (y1 - y2, y1 - area.top),
        (y2 - y1, area.bottom - y1),
    ):
        if step == 0:
            if room <= 0:
                return None
        elif step < 0:
            enter = max(enter, room / step)
        else:
            leave = min(leave, room / step)
    return (enter, leave) if enter < leave else None


def _outside(segment: Segment, area: Box) -> Iterable[Segment]:
    within = _within(segment, area)
    if within is None:
        yield segment
        return
    (x1, y1), (x2, y2) = segment
    enter, leave = ((x1 + t * (x2 - x1), y1 + t * (y2 - y1)) for t in within)
    if within[0] > 0:
        yield segment[0], enter
    if within[1] < 1:
        yield leave, segment[1]
