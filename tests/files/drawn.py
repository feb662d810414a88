"""What Hypothesis draws of rules: shapes, accents, layouts, openings, whole treatments."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

from hypothesis import strategies as st
from tests.trade import cases

from fourply.measure.length import Length
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
from fourply.trade.shapes.rule import FIELDS, NEEDED, ShapeKind, ShapeRule
from fourply.trade.treatment import Bevel, Bottom, BottomRule, Layer, MatRule, RevealMeans, Treatment

lengths = st.integers(0, 3_000_000_000).map(Length)
sides = st.integers(1, 3_000_000_000).map(Length)
signed = st.integers(-3_000_000_000, 3_000_000_000).map(Length)
boards = st.text(alphabet="abc 4-ply", min_size=1, max_size=12).map(str.strip).filter(bool)
NUMBERS: dict[str, st.SearchStrategy[Any]] = dict.fromkeys(("leg", "radius", "rise", "shoulder"), sides) | {
    "steps": st.lists(sides, min_size=1, max_size=4).map(tuple),
    "sides": st.integers(3, 24),
}


@st.composite
def shapes(draw: st.DrawFn) -> ShapeRule:
    """Return a rule of any kind but a free path, whose numbers are no round ones."""
    kind = draw(st.sampled_from([each for each in ShapeKind if each is not ShapeKind.FREE]))
    names = [NEEDED[kind]] if kind in NEEDED else draw(st.sampled_from([(), *((name,) for name in FIELDS[kind])]))
    return ShapeRule(kind, **{name: draw(NUMBERS[name]) for name in names})


@st.composite
def mats(draw: st.DrawFn) -> tuple[MatRule, ...]:
    """Return a stack, with spacer mats between the outer two."""
    count = draw(st.integers(1, 4))
    means, bevels = st.sampled_from(RevealMeans), st.sampled_from(Bevel)
    seen = st.builds(MatRule, boards, lengths, means, bevels, st.none() | shapes())
    hidden = st.builds(MatRule, boards, lengths, means, bevels, setback=sides)
    return tuple(draw(seen if at in {0, count - 1} else seen | hidden) for at in range(count))


ratios = st.fractions(Fraction(1, 10), 10, max_denominator=999)
bottoms = (
    st.sampled_from([Bottom(), Bottom(BottomRule.OPTICAL), Bottom(BottomRule.OPTICAL_CLAMPED)])
    | st.builds(lambda amount: Bottom(BottomRule.AMOUNT, amount=amount), lengths)
    | st.builds(lambda amount: Bottom(BottomRule.WIDTH, amount=amount), lengths)
    | st.builds(lambda ratio: Bottom(BottomRule.RATIO, ratio=ratio), ratios)
)
shaves = st.integers(-3_000_000, 0).map(Length)
grooves = st.lists(
    st.builds(GrooveRule, sides) | st.builds(GrooveRule, sides, shaves, st.none() | shapes(), st.sampled_from(Round)),
    max_size=3,
).map(tuple)
colours = st.from_regex("#[0-9a-fA-F]{6}", fullmatch=True)
lines = st.lists(st.builds(LineRule, lengths, sides, colours, st.booleans()), max_size=3).map(tuple)
titles = st.none() | st.builds(TitleRule, st.builds(Size, sides, sides), st.none() | lengths)
inlays = st.none() | st.builds(InlayRule, boards, sides, sides)
sinks = st.none() | st.builds(SinkRule, boards, lengths)
aligns = st.sampled_from(Align)
layouts = (
    st.builds(
        LayoutRule,
        st.sampled_from([Arrange.ROW, Arrange.COLUMN, Arrange.AUTO]),
        lengths,
        st.sampled_from(Gaps),
        aligns,
    )
    | st.builds(LayoutRule, st.just(Arrange.GRID), lengths, st.sampled_from(Gaps), aligns, st.integers(1, 60))
    | st.builds(
        lambda gutter, align, places: LayoutRule(Arrange.FREE, gutter, align=align, places=tuple(places)),
        lengths,
        aligns,
        st.lists(st.tuples(signed, signed), min_size=1, max_size=5),
    )
)
names = st.text(alphabet="abc 12", min_size=1, max_size=8).map(str.strip).filter(bool)
openings = st.lists(
    st.builds(
        Layer, names, st.fixed_dictionaries({}, optional={"shape": shapes(), "mats": mats(), "float_gap": lengths})
    ),
    max_size=4,
).map(tuple)


@st.composite
def treatments(draw: st.DrawFn) -> Treatment:
    """Return a treatment with anything that can be said in it."""
    return replace(
        draw(cases.treatments()),
        bottom=draw(bottoms),
        mats=draw(mats()),
        shape=draw(shapes()),
        layout=draw(layouts),
        openings=draw(openings),
        grooves=draw(grooves),
        lines=draw(lines),
        title=draw(titles),
        inlay=draw(inlays),
        sink=draw(sinks),
    )
