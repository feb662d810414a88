"""Whole designs as Hypothesis draws them: shaped windows, several openings, accents, one work with its treatment."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from hypothesis import strategies as st
from tests.trade.cases import art, artworks, inch, lengths, stacks, treatments

from fourply.measure.length import ZERO, Length
from fourply.measure.size import Size
from fourply.trade.accents import (
    Align,
    Arrange,
    Gaps,
    GrooveRule,
    InlayRule,
    LayoutRule,
    LineRule,
    Round,
    SinkRule,
    TitleRule,
)
from fourply.trade.shapes.rule import ShapeKind, ShapeRule
from fourply.trade.treatment import Layer, MatRule, Treatment, WindowFrom
from fourply.trade.work import Artwork, Work

type Design = tuple[Work, Treatment]


@st.composite
def shape_rules(draw: st.DrawFn) -> ShapeRule:
    """Any kind of shape but a free path, with numbers that fit most windows of the artworks drawn."""
    kind = draw(st.sampled_from([kind for kind in ShapeKind if kind is not ShapeKind.FREE]))
    small = lengths(inch(1, 4), inch(3, 2))
    numbers: dict[ShapeKind, dict[str, st.SearchStrategy[Any]]] = {
        ShapeKind.ARCH: {"rise": lengths(inch(1, 2), inch(5, 2))},
        ShapeKind.ELLIPTICAL_ARCH: {"shoulder": lengths(inch(2), inch(4))},
        ShapeKind.CLIPPED: {"leg": small},
        ShapeKind.ROUNDED: {"radius": small},
        ShapeKind.SCOOPED: {"radius": lengths(inch(3, 4), inch(3, 2))},
        ShapeKind.STEPPED: {"steps": st.lists(lengths(inch(1, 8), inch(1, 2)), min_size=1, max_size=3).map(tuple)},
        ShapeKind.POLYGON: {"sides": st.integers(3, 12)},
    }
    return ShapeRule(kind, **{name: draw(values) for name, values in numbers.get(kind, {}).items()})


@st.composite
def grooves(draw: st.DrawFn) -> GrooveRule:
    return GrooveRule(
        draw(lengths(inch(1, 4), inch(3, 4))),
        -draw(st.one_of(st.just(ZERO), lengths(ZERO, inch(1, 32)))),
        draw(st.one_of(st.none(), st.just(ShapeRule()))),
        draw(st.sampled_from(Round)),
    )


def accents() -> st.SearchStrategy[dict[str, Any]]:
    line = st.builds(LineRule, lengths(ZERO, inch(1, 2)), lengths(inch(1, 64), inch(1, 8)), wash=st.booleans())
    title = st.builds(lambda width: TitleRule(Size(width, inch(1, 2))), lengths(inch(1), inch(3)))
    inlay = st.builds(lambda distance: InlayRule("grey", distance, inch(3, 8)), lengths(inch(3, 8), inch(1, 2)))
    return st.fixed_dictionaries(
        {
            "grooves": st.lists(grooves(), max_size=2).map(tuple),
            "lines": st.lists(line, max_size=2).map(tuple),
            "title": st.one_of(st.none(), st.none(), title),
            "inlay": st.one_of(st.none(), st.none(), inlay),
        }
    )


@st.composite
def mats(draw: st.DrawFn) -> tuple[MatRule, ...]:
    """A stack in which a mat may have a shape of its own, or be set back out of sight."""
    drawn = list(draw(stacks()))
    for at, mat in enumerate(drawn):
        if 0 < at < len(drawn) - 1 and draw(st.integers(0, 3)) == 0:
            drawn[at] = replace(mat, setback=draw(lengths(inch(1, 8), inch(1, 4))))
        elif draw(st.integers(0, 4)) == 0:
            kind = draw(st.sampled_from((ShapeKind.RECTANGLE, ShapeKind.OVAL, ShapeKind.CIRCLE)))
            drawn[at] = replace(mat, shape=ShapeRule(kind))
    return tuple(drawn)


@st.composite
def single_designs(draw: st.DrawFn) -> Design:
    """One sheet in one window of any shape, with accents."""
    treatment = replace(
        draw(treatments()),
        shape=draw(shape_rules()),
        mats=draw(mats()),
        fillet="",
        sink=draw(st.one_of(st.none(), st.none(), st.just(SinkRule("thin", inch(1, 8))))),
        **draw(accents()),
    )
    return Work("1", "", draw(artworks())), treatment


def small_sheets() -> st.SearchStrategy[Artwork]:
    return st.builds(art, lengths(inch(3), inch(8)), lengths(inch(3), inch(8)))


@st.composite
def several_designs(draw: st.DrawFn) -> Design:
    """Two to six sheets in one mat, each with its own shape."""
    sheets = draw(st.lists(small_sheets(), min_size=2, max_size=6))
    own = st.one_of(st.just({}), st.builds(lambda shape: {"shape": shape}, shape_rules()))
    layers = tuple(Layer(f"opening {at}", draw(own)) for at in range(1, draw(st.integers(0, len(sheets))) + 1))
    treatment = replace(
        draw(treatments()),
        window=WindowFrom.SHEET,
        frame_sides=4,
        outer=None,
        fillet="",
        layout=draw(layouts(len(sheets))),
        openings=layers,
        **draw(accents()),
    )
    if treatment.layout.gaps is not Gaps.GIVEN:
        treatment = replace(treatment, outer=Size(inch(70), inch(70)))
    return Work("1", "", sheets[0], others=tuple(sheets[1:])), treatment


@st.composite
def layouts(draw: st.DrawFn, count: int) -> LayoutRule:
    arrange = draw(st.sampled_from(Arrange))
    gutter: Length = draw(lengths(ZERO, inch(2)))
    if arrange is Arrange.FREE:
        at = st.tuples(lengths(ZERO, inch(30)), lengths(ZERO, inch(30)))
        return LayoutRule(arrange, gutter, places=tuple(draw(at) for _ in range(count)))
    gaps = Gaps.GIVEN if arrange is Arrange.AUTO else draw(st.sampled_from(Gaps))
    columns = draw(st.integers(1, count)) if arrange is Arrange.GRID else 0
    return LayoutRule(arrange, gutter, gaps, draw(st.sampled_from(Align)), columns)


def designs() -> st.SearchStrategy[Design]:
    """Any design of one or of several openings."""
    return st.one_of(single_designs(), several_designs())
