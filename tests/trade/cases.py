"""Materials, works and treatments for the tests of the trade: a small invented shop, and what Hypothesis draws."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Any

from hypothesis import strategies as st

from fourply.measure.length import ZERO, Length
from fourply.measure.rounding import HALF_MILLIMETRE, MILLIMETRE, SIXTEENTH, SIXTY_FOURTH, THIRTY_SECOND
from fourply.measure.size import Edges, Rect, Size
from fourply.trade.accents import GrooveRule
from fourply.trade.findings import Finding
from fourply.trade.materials import (
    Backing,
    Board,
    Fillet,
    Glazing,
    Materials,
    Moulding,
    Offer,
    Pane,
    ReadyFrame,
    Spacer,
    Stick,
)
from fourply.trade.money import Money
from fourply.trade.package import Package
from fourply.trade.resolve import resolve
from fourply.trade.treatment import (
    Bevel,
    BorderMeans,
    Bottom,
    BottomRule,
    HingeKind,
    MatRule,
    RevealMeans,
    Treatment,
    WindowFrom,
)
from fourply.trade.work import Artwork, Readings, Work
from fourply.working.working import Value

PRICE = Money(Decimal(10), "USD")


def inch(count: int, over: int = 1) -> Length:
    return Length.inches(count, over)


def mm(count: int, over: int = 1) -> Length:
    return Length.mm(count, over)


def named[T: Any](*things: T) -> dict[str, T]:
    return {thing.name: thing for thing in things}


def sheets(width: Length, height: Length) -> tuple[Offer, ...]:
    return (Offer(Size(width, height), PRICE),)


WIDE = sheets(inch(48), inch(96))
STICKS = (Stick(inch(120), PRICE),)
WHITE = Board("white", inch(1, 16), sheets(inch(32), inch(40)))
MOULDING = Moulding("oak", inch(1), inch(1, 4), inch(5, 8), inch(3, 4), STICKS)

MATERIALS = Materials(
    boards=named(
        WHITE,
        Board("grey", mm(14, 10), WIDE, measured=True),
        Board("thick", inch(1, 8), WIDE),
        Board("thin", inch(1, 32), WIDE),
        Board("grained", inch(1, 16), sheets(inch(32), inch(40)), oriented=True),
    ),
    mouldings=named(
        MOULDING,
        Moulding("wide oak", inch(2), inch(1, 4), inch(3, 4), inch(1), STICKS),
        Moulding("narrow lip", inch(1, 2), inch(1, 8), inch(5, 8), inch(3, 4), STICKS),
        Moulding("metric", mm(205, 10), mm(61, 10), mm(15), mm(20), STICKS),
        Moulding("shallow", inch(1), inch(1, 4), inch(3, 8), inch(1, 2), STICKS),
        Moulding("short sticks", inch(1), inch(1, 4), inch(5, 8), inch(3, 4), (Stick(inch(18), PRICE),)),
    ),
    glazings=named(
        Glazing("glass", Pane.GLASS, mm(2), WIDE), Glazing("small glass", Pane.GLASS, mm(2), sheets(inch(9), inch(12)))
    ),
    backings=named(Backing("foam", inch(3, 16), WIDE)),
    spacers=named(
        Spacer("spacer", inch(1, 8), inch(3, 16), STICKS), Spacer("broad spacer", inch(1, 4), inch(3, 8), STICKS)
    ),
    fillets=named(Fillet("fillet", inch(1, 4), inch(3, 16), inch(3, 32), STICKS)),
    frames=named(
        ReadyFrame("16x20", Size(inch(16), inch(20)), "oak", PRICE),
        ReadyFrame("bare 16x20", Size(inch(16), inch(20)), "", PRICE),
    ),
)

PLAIN = Treatment(
    border=inch(3),
    mats=(MatRule("white"),),
    mount="white",
    backing="foam",
    glazing="glass",
)
"""One white mat with 3 in borders, no frame."""
FRAMED = Treatment(
    border=inch(3), mats=(MatRule("white"),), mount="white", backing="foam", glazing="glass", moulding="oak"
)


def art(width: Length, height: Length, **more: Any) -> Artwork:
    return Artwork(Readings.of(width), Readings.of(height), **more)


SHEET = art(inch(10), inch(13))
WORK = Work("1", "Harbour, evening", SHEET)


def work(artwork: Artwork) -> Work:
    return Work("1", "Harbour, evening", artwork)


def made(treatment: Treatment = PLAIN, artwork: Artwork = SHEET, materials: Materials = MATERIALS) -> Package:
    return resolve(work(artwork), treatment, materials)


def but(treatment: Treatment = PLAIN, **more: Any) -> Treatment:
    """Return the treatment with some rules changed."""
    return replace(treatment, **more)


def length(package: Package, path: str) -> Length:
    value = package.figures[path].value
    assert isinstance(value, Length)
    return value


def rules_of(findings: tuple[Finding, ...]) -> list[str]:
    return [finding.rule for finding in findings]


def write(value: Value) -> str:
    """Write lengths as exact inches, so that a sentence shows which number it was given."""
    return f"{value.as_inches} in" if isinstance(value, Length) else str(value)


# ── what Hypothesis draws ────────────────────────────────────────────────────────────────────────────────────────

GRIDS = st.sampled_from((THIRTY_SECOND, SIXTEENTH, SIXTY_FOURTH, HALF_MILLIMETRE, MILLIMETRE))


def lengths(least: Length, most: Length) -> st.SearchStrategy[Length]:
    """Return lengths in whole 1/64 in, in tenths of a millimetre, and in odd nanometres."""
    return st.one_of(
        st.integers(-(-least.nm // 396_875), most.nm // 396_875).map(lambda n: Length(n * 396_875)),
        st.integers(-(-least.nm // 100_000), most.nm // 100_000).map(lambda n: Length(n * 100_000)),
        st.integers(least.nm, most.nm).map(Length),
    )


@st.composite
def artworks(draw: st.DrawFn) -> Artwork:
    sides = [draw(lengths(inch(6), inch(28))) for _ in range(2)]
    spread = draw(st.sampled_from((ZERO, mm(1), inch(1, 16))))
    image = None
    if draw(st.booleans()):
        left, top = draw(lengths(inch(1, 2), inch(1))), draw(lengths(inch(1, 2), inch(1)))
        right, bottom = draw(lengths(inch(1, 2), inch(1))), draw(lengths(inch(1), inch(3, 2)))
        image = Rect.at(left, top, sides[0] - left - right, sides[1] - top - bottom)
    return Artwork(
        Readings(sides[0], sides[0] + spread),
        Readings(sides[1], sides[1] + spread),
        image=image,
        skew_deg=draw(st.sampled_from((0.0, 0.0, 0.3, 1.25))),
        thickness=draw(lengths(ZERO, mm(2))),
    )


@st.composite
def bottoms(draw: st.DrawFn) -> Bottom:
    rule = draw(st.sampled_from(BottomRule))
    amount = draw(lengths(inch(1), inch(5))) if rule is BottomRule.WIDTH else draw(lengths(ZERO, inch(3, 2)))
    return Bottom(rule, amount, draw(st.fractions(1, 2, max_denominator=9)))


@st.composite
def stacks(draw: st.DrawFn) -> tuple[MatRule, ...]:
    mat = st.builds(
        MatRule,
        st.sampled_from(("white", "grey", "thick", "thin")),
        lengths(ZERO, inch(1, 2)),
        st.sampled_from(RevealMeans),
        st.sampled_from(Bevel),
    )
    return tuple(draw(st.lists(mat, min_size=1, max_size=4)))


def outers() -> st.SearchStrategy[dict[str, Any]]:
    """Return how the outer size comes about: from the borders, given, or a ready-made frame."""
    sides = st.builds(Edges, *(lengths(inch(1), inch(4)) for _ in range(4)))
    sizes = st.builds(Size, lengths(inch(20), inch(34)), lengths(inch(20), inch(34)))
    return st.one_of(
        st.just({}),
        st.builds(lambda borders: {"borders": borders}, sides),
        st.builds(lambda outer: {"outer": outer}, sizes),
        st.builds(lambda name: {"frame": name}, st.sampled_from(("16x20", "bare 16x20"))),
    )


@st.composite
def treatments(draw: st.DrawFn) -> Treatment:
    chosen: dict[str, Any] = draw(outers())

    def pick[T](*names: T) -> T:
        return draw(st.sampled_from(names))

    sides = draw(st.sampled_from((4, 4, 4, 3, 5, 6, 8)))
    moulding = pick("", "oak", "wide oak", "metric")
    if sides != 4:
        side = draw(lengths(inch(24), inch(40)))
        chosen = {"outer": Size(side, side)}
    return Treatment(
        window=pick(*WindowFrom),
        overlap=draw(lengths(ZERO, inch(1, 2))),
        paper_sides=draw(lengths(ZERO, inch(3, 8))),
        paper_top=draw(lengths(ZERO, inch(3, 8))),
        paper_bottom=draw(lengths(ZERO, inch(3, 4))),
        float_gap=draw(lengths(ZERO, inch(1))),
        border=draw(lengths(inch(1), inch(4))),
        bottom=draw(bottoms()),
        border_means=pick(*BorderMeans),
        mats=draw(stacks()),
        bevel_deg=pick(45.0, 45.0, 52.0, 60.0, 90.0),
        stack_cut=draw(st.booleans()),
        grooves=draw(st.one_of(st.just(()), lengths(inch(1, 4), inch(3, 4)).map(lambda at: (GrooveRule(at),)))),
        mount="white",
        backing=pick("", "foam"),
        glazing=pick("", "glass"),
        spacer=pick("", "spacer"),
        fillet=pick("", "", "fillet"),
        moulding=moulding,
        moulding_sides=pick("", "", "narrow lip") if moulding and sides == 4 else "",
        frame_sides=sides,
        allowance=draw(lengths(ZERO, inch(1, 8))),
        hinge=pick(*HingeKind),
        grid=draw(GRIDS),
        **chosen,
    )
