"""A package as its ticket: what is chosen to stand on it, and in which words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from fourply.bench.cutter import NOMINAL, Cutter
from fourply.bench.first import first_things
from fourply.bench.fitting import fitting
from fourply.bench.settings import Settings, settings
from fourply.measure.notation import Marks
from fourply.sheets.front_view import front_view
from fourply.sheets.notes_view import fitting_steps, measured, workings
from fourply.sheets.section_view import section_view
from fourply.sheets.settings_view import settings_view
from fourply.sheets.view import (
    FindingRow,
    FirstStep,
    PieceRow,
    TicketView,
    Weight,
)
from fourply.trade.findings import Level
from fourply.trade.package import Package
from fourply.trade.parts import LongPart, Stuff, flat_parts, long_parts
from fourply.trade.treatment import WindowFrom
from fourply.trade.work import Work
from fourply.working.words import Words

_WEIGHTS = {
    Level.FAULT: Weight.GRAVE,
    Level.CAUTION: Weight.CAUTION,
    Level.TIGHT: Weight.CAUTION,
    Level.NOTE: Weight.NOTE,
}
_CAUTIONS = (
    "Follow the maker's instructions for cutter and blades. Fresh blade, free hand behind the cut.",
    "Gloves and eye cover for glass. Mask for the dust of board and wood. Two people lift a large frame.",
    "Local codes and licensed practice decide.",
)


PRINTED_INCHES = Words(metric=False, marks=Marks.TYPOGRAPHIC)


@dataclass(frozen=True, slots=True)
class Context:
    """What a ticket says beyond its package: the show, the ticket's place in it, the cutter, where pieces come from.

    `sources` name, by key of piece, the sheet and place that a plan cuts it from; `bought` says of a rail that it is
    bought cut to size.
    """

    show: str = ""
    place: str = ""
    cutter: Cutter = NOMINAL
    words: Words = PRINTED_INCHES
    sources: Mapping[str, str] = field(default_factory=dict)
    bought: Mapping[str, str] = field(default_factory=dict)


def ticket_view(package: Package, context: Context) -> TicketView:
    """Return all that the ticket of a package shows."""
    words, work = context.words, package.work
    set_up = settings(package, context.cutter)
    return TicketView(
        number=work.id,
        title=work.title or "untitled",
        lines=tuple(_lines(package, context)),
        corner=tuple(part for part in (context.place, f"{work.copies} alike" if work.copies > 1 else "") if part),
        first=tuple(FirstStep(thing.do, thing.more) for thing in first_things(package, words.write, set_up.findings)),
        front=front_view(package, words),
        section=section_view(package, words),
        settings=settings_view(package, set_up, words),
        pieces=tuple(_pieces(package, context)),
        findings=tuple(_findings(package, set_up, words)),
        workings=tuple(workings(package, words)),
        fitting=tuple(fitting_steps(package, fitting(package), words)),
        measured=tuple(measured(package)),
        cautions=_CAUTIONS,
    )


def _lines(package: Package, context: Context) -> Iterator[str]:
    work, words = package.work, context.words
    art = "image" if work.art.sheet_is_image else "art"
    who = ". ".join(part for part in (work.maker, work.medium) if part)
    yield f"{who + '. ' if who else ''}{art.capitalize()} {_sizes(work, words)}."
    mats = ("no mat", "single mat", "double mat", "triple mat", "four mats")[len(package.mats)]
    parts = [context.show, mats, "V-groove" if package.mats[0].all_grooves else ""]
    parts.append("float" if package.treatment.window is WindowFrom.FLOAT else "")
    unit = "millimetres" if words.metric else "inches"
    parts.append(package.frame.moulding.name if package.frame else "no frame")
    yield " · ".join(part for part in [*parts, f"all sizes width × height, {unit}"] if part)


def _sizes(work: Work, words: Words) -> str:
    """Return the sizes of the sheets, each once with how many there are."""
    sizes: dict[str, int] = {}
    for art in work.arts:
        least = "" if art.least == art.most else ", least measured"
        size = words.size(art.least) + least
        sizes[size] = sizes.get(size, 0) + 1
    if len(work.arts) == 1:
        return next(iter(sizes))
    return "; ".join(f"{count} of {size}" if count > 1 else size for size, count in sizes.items())


def _pieces(package: Package, context: Context) -> Iterator[PieceRow]:
    words = context.words
    for part in flat_parts(package):
        source = context.sources.get(part.key, "")
        name = _capital(part.name) + (f", {part.copies} alike" if part.copies > 1 else "")
        yield PieceRow(name, ", ".join(each for each in (part.material, source) if each), words.size(part.size))
    long = list(long_parts(package))
    for stuff in (Stuff.MOULDING, Stuff.SPACER, Stuff.FILLET):
        strips = [part for part in long if part.stuff is stuff]
        if strips:
            yield _strip_row(stuff, strips, context)


def _strip_row(stuff: Stuff, strips: list[LongPart], context: Context) -> PieceRow:
    """Return rails or strips as one row, each length once with how many there are, and whether they are bought cut."""
    lengths: dict[str, int] = {}
    for strip in strips:
        written = context.words.mark(strip.length)
        lengths[written] = lengths.get(written, 0) + strip.count
    name = {Stuff.MOULDING: "Rails", Stuff.SPACER: "Spacers", Stuff.FILLET: "Fillet"}[stuff]
    note = strips[0].material + ("" if stuff is Stuff.SPACER else ", long points")
    bought = dict.fromkeys(context.bought[strip.key] for strip in strips if strip.key in context.bought)
    note = ", ".join((note, *bought))
    return PieceRow(f"{name}, {' + '.join(map(str, lengths.values()))}", note, " and ".join(lengths))


def _findings(package: Package, set_up: Settings, words: Words) -> Iterator[FindingRow]:
    """Yield what is amiss with the work, then on the cutter, one row each, and then all that holds in one."""
    for finding in (*package.findings, *set_up.findings):
        text = f"{finding.sentence(words.write)} {finding.advice(words.write)}".strip()
        yield FindingRow(_WEIGHTS[finding.level], text)
    holds = [check.sentence(words.write) for check in package.checks if check.level is Level.HOLDS]
    if holds:
        yield FindingRow(Weight.HOLDS, " ".join(dict.fromkeys(holds)))  # openings alike say the same


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
