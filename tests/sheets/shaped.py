"""Invented works with windows that are no rectangles, several windows, grooves, lines, inlays, sinks."""

from __future__ import annotations

from dataclasses import replace

from tests.bench.drawn import STAR
from tests.sheets.samples import DOUBLE, MILLIMETRES, SHEET, art, inch, mm, ticket

from fourply.measure.size import Size
from fourply.trade.accents import (
    Arrange,
    GrooveRule,
    InlayRule,
    LayoutRule,
    LineRule,
    Round,
    SinkRule,
    TitleRule,
)
from fourply.trade.shapes.rule import ShapeKind, ShapeRule
from fourply.trade.treatment import INCH, METRIC, Bevel, Layer, MatRule
from fourply.trade.work import Artwork, Readings, Work

RULES = {
    "oval": ShapeRule(ShapeKind.OVAL),
    "circle": ShapeRule(ShapeKind.CIRCLE),
    "arch": ShapeRule(ShapeKind.ARCH, rise=inch(2)),
    "arch without shoulders": ShapeRule(ShapeKind.ARCH),
    "round arch": ShapeRule(ShapeKind.ROUND_ARCH),
    "elliptical arch": ShapeRule(ShapeKind.ELLIPTICAL_ARCH, rise=inch(3)),
    "clipped": ShapeRule(ShapeKind.CLIPPED, leg=inch(1)),
    "octagon": ShapeRule(ShapeKind.OCTAGON),
    "rounded": ShapeRule(ShapeKind.ROUNDED, radius=inch(1)),
    "scooped": ShapeRule(ShapeKind.SCOOPED, radius=inch(1)),
    "stepped": ShapeRule(ShapeKind.STEPPED, steps=(inch(1, 4), inch(1, 4))),
    **{f"polygon {sides}": ShapeRule(ShapeKind.POLYGON, sides=sides) for sides in (3, 4, 5, 6, 7, 8, 12, 24)},
}
"""A rule of every kind with definite numbers; a free path apart."""

_PORTRAIT = art(inch(10), inch(16))
_LOW = art(inch(16), inch(6))
_MATS = (MatRule("white 4-ply"), MatRule("slate 4-ply", inch(1, 4)))
_PLAIN = replace(DOUBLE, grooves=(), border=inch(3))
_SMALL = tuple(art(inch(5) + at * inch(1, 2), inch(7)) for at in range(3))
_THICK = Artwork(Readings.of(inch(10)), Readings.of(inch(12)), thickness=inch(3, 16))
_GRID = LayoutRule(arrange=Arrange.GRID, columns=3)

SHAPED = {
    name: ticket(
        Work(str(20 + at), f"Window: {name}", _LOW if "without" in name else _PORTRAIT), replace(_PLAIN, shape=rule)
    )
    for at, (name, rule) in enumerate(RULES.items())
} | {
    "oval with grooves": ticket(
        Work("50", "Oval, two grooves", SHEET),
        replace(
            _PLAIN,
            shape=RULES["oval"],
            grooves=(GrooveRule(inch(1, 2)), GrooveRule(inch(1), shave=-inch(1, 32))),
        ),
    ),
    "stepped with a groove": ticket(
        Work("56", "Stepped, grooved", SHEET),
        replace(_PLAIN, shape=RULES["stepped"], grooves=(GrooveRule(inch(1, 2)),)),
    ),
    "free": ticket(Work("57", "Along a path", SHEET), replace(_PLAIN, shape=ShapeRule(ShapeKind.FREE, path=STAR))),
    "three in a row": ticket(
        Work("51", "Triptych of the quay", _SMALL[0], others=_SMALL[1:]),
        replace(
            _PLAIN,
            openings=(Layer("first", {"shape": RULES["oval"]}), Layer("second", {}), Layer("third", {})),
            grooves=(GrooveRule(inch(3, 4), round=Round.ALL),),
            title=TitleRule(Size(inch(4), inch(3, 4))),
            lines=(LineRule(inch(1, 4), inch(1, 32)), LineRule(inch(3, 8), inch(1, 4), wash=True)),
        ),
    ),
    "nine in a grid": ticket(
        Work("52", "Nine stamps", art(mm(60), mm(80)), others=(art(mm(60), mm(80)),) * 8),
        replace(METRIC, layout=_GRID, mats=(MatRule("white 1.4 mm"), MatRule("white 1.4 mm", mm(5)))),
        words=MILLIMETRES,
    ),
    "inlay": ticket(
        Work("53", "Inlay", SHEET),
        replace(_PLAIN, shape=RULES["clipped"], inlay=InlayRule("slate 4-ply", inch(1, 2), inch(1, 4))),
    ),
    "sink": ticket(
        Work("54", "Panel", _THICK), replace(INCH, mats=_MATS, sink=SinkRule("ochre 8-ply", inch(1, 8)), moulding="")
    ),
    "inlay round a triangle": ticket(
        Work("56", "Inlay, three sides", SHEET),
        replace(_PLAIN, shape=RULES["polygon 3"], inlay=InlayRule("slate 4-ply", inch(1, 2), inch(1, 4))),
    ),
    "spacer": ticket(
        Work("57", "Set apart", SHEET),
        replace(_PLAIN, mats=(_MATS[0], MatRule("ochre 8-ply", setback=inch(1, 4)), _MATS[1])),
    ),
    "unlike shapes": ticket(
        Work("58", "Oval over a rectangle", _SMALL[0]),
        replace(
            _PLAIN,
            mats=(
                MatRule("white 4-ply", shape=RULES["oval"]),
                MatRule("slate 4-ply", inch(1, 4), shape=ShapeRule()),
                MatRule("white 4-ply", inch(1, 8)),
            ),
        ),
    ),
    "reverse arch": ticket(
        Work("55", "Reverse", SHEET),
        replace(INCH, shape=RULES["arch"], mats=(MatRule("white 4-ply", bevel=Bevel.REVERSE),)),
    ),
}
