"""An invented shop and a few works that between them show what a sheet must hold."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Any

from fourply.bench.cutter import NOMINAL, Cutter, Side, StopDatum
from fourply.measure.length import Length
from fourply.measure.notation import Marks
from fourply.measure.size import Edges, Size
from fourply.sheets.ticket_view import Context
from fourply.trade.accents import GrooveRule
from fourply.trade.materials import Backing, Board, Fillet, Glazing, Materials, Moulding, Offer, Pane, Spacer, Stick
from fourply.trade.money import Money
from fourply.trade.package import Package
from fourply.trade.resolve import resolve
from fourply.trade.treatment import INCH, METRIC, Bevel, Bottom, BottomRule, MatRule, Treatment, WindowFrom
from fourply.trade.work import Artwork, Readings, Work
from fourply.working.words import Words

inch, mm = Length.inches, Length.mm
INCHES = Words(metric=False, marks=Marks.TYPOGRAPHIC)
MILLIMETRES = Words(metric=True, marks=Marks.TYPOGRAPHIC)

_PRICE = Money(Decimal(10), "USD")
_SHEETS = (Offer(Size(inch(32), inch(40)), _PRICE), Offer(Size(inch(40), inch(60)), _PRICE))
_STICKS = (Stick(inch(120), _PRICE),)


def named[T: Any](*things: T) -> dict[str, T]:
    return {thing.name: thing for thing in things}


MATERIALS = Materials(
    boards=named(
        Board("white 4-ply", inch(1, 16), _SHEETS),
        Board("slate 4-ply", inch(1, 16), _SHEETS),
        Board("white 1.4 mm", mm(14, 10), _SHEETS),
        Board("ochre 8-ply", inch(1, 8), _SHEETS),
    ),
    mouldings=named(
        Moulding("ash 3/4", inch(3, 4), inch(1, 4), inch(5, 8), inch(1), _STICKS),
        Moulding("oak 2", inch(2), inch(3, 8), inch(3, 4), inch(5, 4), _STICKS),
        Moulding("black 20 mm", mm(20), mm(6), mm(16), mm(25), _STICKS),
    ),
    glazings=named(
        Glazing("clear glass", Pane.GLASS, inch(3, 32), _SHEETS),
        Glazing("clear glass 2 mm", Pane.GLASS, mm(2), _SHEETS),
    ),
    backings=named(Backing("foam board", inch(3, 16), _SHEETS), Backing("foam board 5 mm", mm(5), _SHEETS)),
    spacers=named(Spacer("spacer 1/8", inch(1, 8), inch(3, 16), _STICKS)),
    fillets=named(Fillet("gold fillet", inch(1, 8), inch(3, 16), inch(1, 8), _STICKS)),
)


def art(width: Length, height: Length) -> Artwork:
    return Artwork(Readings.of(width), Readings.of(height))


SHEET = art(inch(43, 4), inch(27, 2))
DOUBLE = replace(
    INCH,
    border=inch(11, 4),
    bottom=Bottom(BottomRule.AMOUNT, inch(1, 2)),
    mats=(MatRule("white 4-ply"), MatRule("slate 4-ply", inch(1, 4))),
    grooves=(GrooveRule(inch(1, 2)),),
    moulding="ash 3/4",
)
TRIPLE = replace(
    DOUBLE,
    borders=Edges(inch(5, 2), inch(3), inch(7, 2), inch(9, 4)),
    mats=(*DOUBLE.mats, MatRule("white 4-ply", inch(1, 8))),
    moulding="oak 2",
)
LONG_TITLE = (
    "川の流れ: a very long title that goes on and on about the estuary, the tide tables and the harbour master’s dog, "
    "second state of four"
)
SHOW = "A Year of Tides"
FROM_BAR = Cutter(guide=Side.RIGHT, stops=StopDatum.BAR, tested=True)


def ticket(
    work: Work, treatment: Treatment, cutter: Cutter = NOMINAL, words: Words = INCHES
) -> tuple[Package, Context]:
    package = resolve(work, treatment, MATERIALS)
    return package, Context(SHOW, f"ticket {work.id} of 8", cutter, words)


TICKETS = {
    "double": ticket(Work("05", "Slack Water, First State", SHEET, maker="Ines Holt", medium="Etching"), DOUBLE),
    "triple": ticket(Work("112", LONG_TITLE, SHEET, medium="Etching with aquatint"), TRIPLE, FROM_BAR),
    "panorama": ticket(
        Work("1", "Panorama", art(mm(900), mm(200))), replace(METRIC, moulding="black 20 mm"), words=MILLIMETRES
    ),
    "stamp": ticket(Work("A-17b", "", art(mm(30), mm(40))), INCH),
    "float": ticket(
        Work("9", "Floated deckle", SHEET),
        replace(INCH, window=WindowFrom.FLOAT, spacer="spacer 1/8", moulding="ash 3/4"),
    ),
    "poster": ticket(
        Work("10", "Poster", art(inch(34), inch(46))), replace(INCH, moulding="oak 2", mats=(MatRule("ochre 8-ply"),))
    ),
    "reverse": ticket(
        Work("11", "Reverse and fillet", SHEET),
        replace(
            DOUBLE, mats=(MatRule("white 4-ply", bevel=Bevel.REVERSE),), fillet="gold fillet", grooves=(), moulding=""
        ),
    ),
    "octagon": ticket(
        Work("12", "Round the Buoy", art(inch(6), inch(6))),
        replace(INCH, outer=Size(inch(16), inch(16)), frame_sides=8, moulding="ash 3/4"),
    ),
}
