"""Shapes of every kind as Hypothesis draws them, and an outline as the independent geometry library sees it."""

from __future__ import annotations

import itertools
import math
from typing import Any

import shapely
from hypothesis import settings
from hypothesis import strategies as st

from fourply.measure.length import Length
from fourply.measure.size import Size
from fourply.trade.shapes.arch import Arch, EllipticalArch
from fourply.trade.shapes.corners import Clipped, Rounded, Scooped
from fourply.trade.shapes.ellipse import Ellipse
from fourply.trade.shapes.free import Free
from fourply.trade.shapes.outline import Cubic, Outline
from fourply.trade.shapes.rectangle import Rectangle
from fourply.trade.shapes.regular import Regular
from fourply.trade.shapes.shape import Shape
from fourply.trade.shapes.stepped import Stepped

FINE_MM = 1e-3
EXAMPLES = settings(deadline=None, max_examples=40)
MANY = settings(deadline=None, max_examples=80)


def tenths(low: int, high: int) -> st.SearchStrategy[Length]:
    """Lengths in tenths of a millimetre."""
    return st.integers(low, high).map(lambda count: Length.mm(count, 10))


@st.composite
def sizes(draw: st.DrawFn) -> Size:
    return Size(draw(tenths(400, 6000)), draw(tenths(400, 6000)))


def part(draw: st.DrawFn, whole: Length, low: float = 0.05, high: float = 1.0) -> Length:
    """A length between two parts of another, in whole nanometres."""
    return Length(draw(st.integers(math.ceil(whole.nm * low), math.floor(whole.nm * high))))


@st.composite
def ovals(draw: st.DrawFn) -> Ellipse:
    return Ellipse(draw(sizes()))


@st.composite
def arches(draw: st.DrawFn) -> Arch:
    size = draw(sizes())
    return Arch(size, part(draw, min(size.height, size.width // 2), 0.1))


@st.composite
def elliptical_arches(draw: st.DrawFn) -> EllipticalArch:
    size = draw(sizes())
    return EllipticalArch(size, part(draw, size.height, 0.2))


@st.composite
def cornered(draw: st.DrawFn) -> Shape:
    size = draw(sizes())
    side = min(size.width, size.height) // 2
    kind = draw(st.sampled_from((Clipped, Rounded, Scooped)))
    return kind(size, part(draw, side, 0.1))


@st.composite
def stepped(draw: st.DrawFn) -> Stepped:
    size = draw(sizes())
    count = draw(st.integers(1, 4))
    room = min(size.width, size.height) // (2 * count + 1)
    return Stepped(size, tuple(part(draw, room, 0.1) for _ in range(count)))


@st.composite
def polygons(draw: st.DrawFn) -> Regular:
    return Regular(draw(st.integers(3, 24)), draw(tenths(400, 6000)))


@st.composite
def blobs(draw: st.DrawFn) -> Free:
    """Smooth closed paths about a middle: cubics through points at changing distances."""
    count = draw(st.integers(4, 8))
    radii = [draw(st.integers(60, 120)) for _ in range(count)]
    step = 2 * math.pi / count
    points = [(r * math.cos(at * step), r * math.sin(at * step)) for at, r in enumerate(radii)]
    tangents = [
        ((points[(at + 1) % count][0] - points[at - 1][0]) / 6, (points[(at + 1) % count][1] - points[at - 1][1]) / 6)
        for at in range(count)
    ]
    around = list(zip(points, tangents, strict=True))
    pieces = tuple(
        Cubic(p, (p[0] + s[0], p[1] + s[1]), (q[0] - t[0], q[1] - t[1]), q)
        for (p, s), (q, t) in itertools.pairwise((*around, around[0]))
    )
    return Free(Outline(pieces).centred())


def rectangles() -> st.SearchStrategy[Rectangle]:
    return sizes().map(Rectangle)


def exact_shapes() -> st.SearchStrategy[Shape]:
    """Every kind whose outline is known without flattening."""
    return st.one_of(rectangles(), ovals(), arches(), elliptical_arches(), cornered(), stepped(), polygons())


def seen(outline: Outline, error: float = FINE_MM) -> Any:
    """Return the outline as a polygon of the other library."""
    return shapely.Polygon(outline.flatten(error))


def corners(outline: Outline) -> list[tuple[float, float]]:
    """Return where two pieces meet at an angle."""
    found = []
    for piece, after in itertools.pairwise((*outline.pieces, outline.pieces[0])):
        (ax, ay), (bx, by) = piece.heading(1.0), after.heading(0.0)
        if abs(ax * by - ay * bx) > 1e-6 or ax * bx + ay * by < 0:
            found.append(piece.last)
    return found
