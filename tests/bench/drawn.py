"""Packages with windows of every shape as Hypothesis draws them, and their cuts as lines on the back of the board."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from hypothesis import assume
from hypothesis import strategies as st
from tests.trade.cases import MATERIALS, PLAIN, artworks, inch, lengths

from fourply.bench.cuts import Cut, Operation, Slant, Spot
from fourply.errors import BadTreatment
from fourply.measure.size import Edges, Rect
from fourply.trade.accents import GrooveRule, InlayRule, LayoutRule, LineRule, Round, SinkRule
from fourply.trade.package import Package
from fourply.trade.resolve import resolve
from fourply.trade.shapes.outline import Outline, polygon
from fourply.trade.shapes.rule import ShapeKind, ShapeRule
from fourply.trade.treatment import Bevel, Layer, MatRule, Treatment
from fourply.trade.work import Work

type Line = tuple[tuple[float, float], tuple[float, float]]

STAR = polygon([(0.0, -60.0), (40.0, -20.0), (25.0, 50.0), (-30.0, 40.0), (-45.0, -10.0)]).centred()


def shape_rules() -> st.SearchStrategy[ShapeRule]:
    """A rule of any kind that most windows of 5 in and more can take."""
    wide, rise = lengths(inch(1, 2), inch(5, 2)), lengths(inch(1, 2), inch(5, 2))
    steps = st.lists(lengths(inch(1, 8), inch(3, 4)), min_size=1, max_size=3).map(tuple)
    plain = (ShapeKind.RECTANGLE, ShapeKind.OVAL, ShapeKind.CIRCLE, ShapeKind.ROUND_ARCH, ShapeKind.OCTAGON)
    return st.one_of(
        st.builds(ShapeRule, st.sampled_from(plain)),
        st.builds(ShapeRule, st.sampled_from((ShapeKind.ARCH, ShapeKind.ELLIPTICAL_ARCH)), rise=rise),
        st.builds(ShapeRule, st.just(ShapeKind.CLIPPED), leg=lengths(inch(1, 4), inch(5, 2))),
        st.builds(ShapeRule, st.sampled_from((ShapeKind.ROUNDED, ShapeKind.SCOOPED)), radius=wide),
        st.builds(ShapeRule, st.just(ShapeKind.STEPPED), steps=steps),
        st.builds(ShapeRule, st.just(ShapeKind.POLYGON), sides=st.integers(3, 24)),
        st.just(ShapeRule(ShapeKind.FREE, path=STAR)),
    )


@dataclass(frozen=True, repr=False)
class Case:
    """A drawn package, with what it was made from to be shown where a test fails."""

    work: Work
    treatment: Treatment
    package: Package

    def __repr__(self) -> str:
        return f"Case({self.work}, {self.treatment})"


@st.composite
def shaped(draw: st.DrawFn, *, accents: bool = True) -> Case:
    """A package with one window or several of any shape, one or two mats, and accents."""
    count = draw(st.sampled_from((1, 1, 1, 2, 3)))
    arts = [draw(artworks()) for _ in range(count)]
    bevel = draw(st.sampled_from(Bevel))
    mats = (MatRule("white", bevel=bevel), MatRule("grey", draw(lengths(inch(1, 8), inch(1, 2))), bevel=bevel))
    treatment = replace(
        PLAIN,
        shape=draw(shape_rules()),
        mats=mats[: draw(st.integers(1, 2))],
        borders=Edges(*(draw(lengths(inch(3, 2), inch(4))) for _ in range(4))),
        stack_cut=draw(st.booleans()),
        openings=tuple(Layer(str(n), {"shape": draw(shape_rules())}) for n in range(count)) if count > 1 else (),
        layout=LayoutRule(gutter=inch(5, 2)),
        **(draw(_accents(several=count > 1)) if accents else {}),  # type: ignore[arg-type]
    )
    work = Work("1", "", arts[0], others=tuple(arts[1:]))
    return Case(work, treatment, resolved(work, treatment))


@st.composite
def _accents(draw: st.DrawFn, *, several: bool) -> dict[str, object]:
    grooves = st.builds(
        GrooveRule,
        lengths(inch(3, 8), inch(3, 4)),
        st.sampled_from((inch(0), -inch(1, 64))),
        st.none(),
        st.sampled_from(Round),
    )
    inlay = None if several else draw(st.sampled_from((None, InlayRule("grey", inch(1, 2), inch(1, 4)))))
    sink = None if several else draw(st.sampled_from((None, SinkRule("thick", inch(1, 8)))))
    return {
        "grooves": tuple(draw(st.lists(grooves, max_size=2))),
        "lines": draw(st.sampled_from(((), (LineRule(inch(1, 4), inch(1, 32)),)))),
        "inlay": inlay,
        "sink": sink,
    }


def resolved(work: Work, treatment: Treatment) -> Package:
    """Return the package, passing over what cannot be made."""
    try:
        return resolve(work, treatment, MATERIALS)
    except BadTreatment:
        assume(False)  # noqa: FBT003
        raise


# ── cuts as lines ────────────────────────────────────────────────────────────────────────────────────────────────


def on_back(package: Package, operation: Operation, place: Rect, outline: Outline) -> Outline:
    """Return an outline about its place as it lies on the board that the operation registers on, seen from the back."""
    x, y = (place.left + place.right).as_mm / 2, (place.top + place.bottom).as_mm / 2
    less = (package.outer.width - operation.size.width).as_mm / 2
    return outline.moved(x - less, y - less).moved(-operation.size.width.as_mm, 0.0).mirrored()


def pencilled(cut: Cut, operation: Operation) -> Line:
    """Return the pencil line of a cut from its far end to its near one."""
    return _between(cut, operation, cut.far.crossing.as_mm, cut.near.crossing.as_mm, cut.guide.as_mm)


def bladed(cut: Cut, operation: Operation, out: float) -> Line:
    """Return where the blade's tip runs on the face, `out` outside the pencil line, from the far end to the near."""
    return _between(cut, operation, cut.far.blade.as_mm, cut.near.blade.as_mm, cut.guide.as_mm - out)


def _between(cut: Cut, operation: Operation, far: float, near: float, guide: float) -> Line:
    one = _from(operation, {cut.side: guide, cut.far.towards: far})
    other = _from(operation, {cut.side: guide, cut.near.towards: near})
    return one, other


def _from(operation: Operation, away: dict[str, float]) -> tuple[float, float]:
    """Return the point so far from two sides, which keep the names they have in front."""
    wide, high = operation.size.width.as_mm, operation.size.height.as_mm
    x = wide - away["left"] if "left" in away else away["right"]
    return x, high - away["bottom"] if "bottom" in away else away["top"]


def spot(at: Spot, operation: Operation) -> tuple[float, float]:
    across, down = at.on(operation.size)
    return across.as_mm, down.as_mm


def slanted(slant: Slant, operation: Operation) -> Line:
    return spot(slant.start, operation), spot(slant.end, operation)


def off_line(point: tuple[float, float], line: Line) -> float:
    """Return how far a point lies from a line between two points."""
    (x, y), ((ax, ay), (bx, by)) = point, line
    long = math.dist(*line)
    if long == 0:
        return math.dist(point, line[0])
    along = max(0.0, min(1.0, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / long**2))
    return math.dist(point, (ax + along * (bx - ax), ay + along * (by - ay)))
