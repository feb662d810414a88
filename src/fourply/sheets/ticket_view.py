"""A package as its ticket: what is chosen to stand on it, and in which words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from fourply.bench.cutter import NOMINAL, Cutter, Side
from fourply.bench.first import first_things
from fourply.bench.fitting import Fitting, Points, fitting
from fourply.bench.settings import Cut, End, Operation, Settings, settings
from fourply.sheets.front_view import front_view
from fourply.sheets.hand import INCHES, Hand
from fourply.sheets.section_view import section_view
from fourply.sheets.view import (
    EndRow,
    FindingRow,
    FirstStep,
    PieceRow,
    Setting,
    SettingRow,
    SettingsView,
    TicketView,
    Weight,
    WorkingRow,
)
from fourply.trade.findings import Finding, Level
from fourply.trade.package import Package
from fourply.trade.parts import LongPart, Stuff, flat_parts, long_parts, mat_name
from fourply.trade.treatment import HingeKind, WindowFrom
from fourply.working.explain import line

_WEIGHTS = {
    Level.FAULT: Weight.GRAVE,
    Level.CAUTION: Weight.CAUTION,
    Level.TIGHT: Weight.CAUTION,
    Level.NOTE: Weight.NOTE,
    Level.HOLDS: Weight.HOLDS,
}
_PAIRS = (
    ("window", ("window.width", "window.height")),
    ("outer", ("outer.width", "outer.height")),
    ("rabbet", ("frame.rabbet.width", "frame.rabbet.height")),
    ("frame sight", ("frame.sight.width", "frame.sight.height")),
    ("long points", ("frame.rail.top.long_point", "frame.rail.left.long_point")),
    ("stack", ("stack.depth",)),
    ("spare", ("stack.spare",)),
    ("glazing", ("glazing.width", "glazing.height")),
)
_CAUTIONS = (
    "Fresh blade, free hand behind the cut. Gloves and eye cover for glass. Two people lift a large frame. "
    "Local codes and licensed practice decide.",
)


@dataclass(frozen=True, slots=True)
class Context:
    """What a ticket says beyond its package: the show, the ticket's place in it, the cutter, where pieces come from.

    `sources` name, by key of piece, the sheet and place that a plan cuts it from.
    """

    show: str = ""
    place: str = ""
    cutter: Cutter = NOMINAL
    hand: Hand = INCHES
    sources: Mapping[str, str] = field(default_factory=dict)


def ticket_view(package: Package, context: Context) -> TicketView:
    """Return all that the ticket of a package shows."""
    hand, work = context.hand, package.work
    set_up = settings(package, context.cutter)
    fit = fitting(package)
    return TicketView(
        number=work.id,
        title=work.title or "untitled",
        lines=tuple(_lines(package, context)),
        corner=tuple(part for part in (context.place, f"{work.copies} alike" if work.copies > 1 else "") if part),
        first=tuple(FirstStep(thing.do, thing.more) for thing in first_things(package, hand.value)),
        front=front_view(package, hand),
        section=section_view(package, hand),
        settings=_settings(package, set_up, hand),
        pieces=tuple(_pieces(package, context)),
        findings=tuple(_finding(check, hand) for check in (*package.findings, *_holding(package))),
        workings=tuple(_workings(package, hand)),
        fitting=tuple(_fitting(package, fit, hand)),
        measured=tuple(_measured(package)),
        cautions=_CAUTIONS,
    )


def _lines(package: Package, context: Context) -> Iterator[str]:
    work, hand = package.work, context.hand
    art = "image" if work.art.sheet_is_image else "art"
    who = ". ".join(part for part in (work.maker, work.medium) if part)
    least = "" if work.art.least == work.art.most else ", least measured"
    yield f"{who + '. ' if who else ''}{art.capitalize()} {hand.size(work.art.least)}{least}."
    mats = ("no mat", "single mat", "double mat", "triple mat", "four mats")[len(package.mats)]
    parts = [context.show, mats, "V-groove" if package.mats[0].groove else ""]
    parts.append("float" if package.treatment.window is WindowFrom.FLOAT else "")
    parts.append(package.frame.moulding.name if package.frame else "no frame")
    yield " · ".join(part for part in [*parts, f"all sizes width × height, {hand.unit_word}"] if part)


def _settings(package: Package, set_up: Settings, hand: Hand) -> SettingsView:
    guide = "left-hand" if set_up.cutter.guide is Side.LEFT else "right-hand"
    outer = package.mats[0].blank
    first = set_up.operations[0].cuts if set_up.operations else ()
    return SettingsView(
        heading=f"face down, seen from the back, {guide} guide",
        sides=tuple(cut.side for cut in first),
        board=(outer.width.as_mm, outer.height.as_mm),
        rows=tuple(_setting_row(operation, hand) for operation in set_up.operations),
        legend=tuple(_legend(package, set_up, hand)),
    )


def _legend(package: Package, set_up: Settings, hand: Hand) -> Iterator[str]:
    cutter = set_up.cutter
    tested = "" if cutter.tested else " No test cut on file: nothing is corrected."
    yield f"Bold: reset. Light: leave. Stops are read from the {cutter.stops.value}.{tested}"
    past: dict[str, list[str]] = {}
    for operation in set_up.operations:
        cut = operation.cuts[0]
        enters, leaves = (hand.length(end.crossing - end.blade) for end in (cut.far, cut.near))
        past.setdefault(f"enters {enters} and leaves {leaves}", []).append(operation.name)
    for how, names in past.items():
        which = f" ({', '.join(names)})" if len(past) > 1 else ""
        yield f"The blade {how} past each pencil crossing{which}."
    groove = package.mats[0].groove
    if groove:
        cut_face, shaved = hand.size(groove.face_cut), hand.size(groove.face_shaved)
        yield (
            f"Shave the groove's drop-out face up, fingers clear: its back {hand.size(groove.back)} stays, "
            f"its face {cut_face} becomes {shaved}."
        )


def _setting_row(operation: Operation, hand: Hand) -> SettingRow:
    cuts = operation.cuts
    same = all(end.stop == end.crossing for cut in cuts for end in (cut.far, cut.near))
    ends = [] if same else [_end_row("pencil crossing", cuts, "crossing", hand)]
    ends.append(_end_row("pencil and stop" if same else "stop reads", cuts, "stop", hand))
    guides = tuple(Setting(hand.length(cut.guide), "guide" in cut.reset) for cut in cuts)
    return SettingRow(_capital(operation.name), operation.then, guides, tuple(ends))


def _end_row(name: str, cuts: tuple[Cut, ...], what: str, hand: Hand) -> EndRow:
    def one(cut: Cut, end: End, key: str) -> Setting:
        return Setting(hand.length(getattr(end, what)), what == "stop" and key in cut.reset)

    return EndRow(
        name,
        tuple(one(cut, cut.far, "far") for cut in cuts),
        tuple(one(cut, cut.near, "near") for cut in cuts),
    )


def _pieces(package: Package, context: Context) -> Iterator[PieceRow]:
    hand = context.hand
    for part in flat_parts(package):
        source = context.sources.get(part.key, "")
        name = _capital(part.name) + (f", {part.copies} alike" if part.copies > 1 else "")
        yield PieceRow(name, ", ".join(each for each in (part.material, source) if each), hand.size(part.size))
    long = list(long_parts(package))
    for stuff in (Stuff.MOULDING, Stuff.SPACER, Stuff.FILLET):
        strips = [part for part in long if part.stuff is stuff]
        if strips:
            yield _strip_row(stuff, strips, hand)


def _strip_row(stuff: Stuff, strips: list[LongPart], hand: Hand) -> PieceRow:
    """Return rails or strips as one row, each length once with how many there are."""
    lengths: dict[str, int] = {}
    for strip in strips:
        written = hand.length(strip.length)
        lengths[written] = lengths.get(written, 0) + strip.count
    name = {Stuff.MOULDING: "Rails", Stuff.SPACER: "Spacers", Stuff.FILLET: "Fillet"}[stuff]
    note = strips[0].material + ("" if stuff is Stuff.SPACER else ", long points")
    return PieceRow(f"{name}, {' + '.join(map(str, lengths.values()))}", note, " and ".join(lengths))


def _finding(finding: Finding, hand: Hand) -> FindingRow:
    text = f"{finding.sentence(hand.value)} {finding.advice(hand.value)}".strip()
    return FindingRow(_WEIGHTS[finding.level], text)


def _holding(package: Package) -> Iterator[Finding]:
    return (check for check in package.checks if check.level is Level.HOLDS)


def _workings(package: Package, hand: Hand) -> Iterator[WorkingRow]:
    """Yield the lines that a framer would ask for first, pairs of width and height on one line."""
    named = list(_PAIRS[:1])
    for mat in package.mats:
        name = mat_name(mat)
        path = mat.path
        named.append((f"{name} opening", (f"{path}.back.width", f"{path}.back.height")))
        named.append((f"{name} bevel", (f"{path}.run",)))
        named.append((f"{name} flat", (f"{path}.strip",)))
        named.append((f"{name} blank", (f"{path}.blank.width", f"{path}.blank.height")))
        named.append((f"{name} fallout", (f"{path}.fallout.width", f"{path}.fallout.height")))
    for name, paths in (*named, *_PAIRS[1:]):
        lines = [line(package.figures, path, hand.value) for path in paths if path in package.figures]
        worked = [f"{each.arithmetic} = {each.value}" for each in lines if each.arithmetic not in {"", each.value}]
        if worked:
            yield WorkingRow(name, "; ".join(dict.fromkeys(worked)))


def _fitting(package: Package, fit: Fitting | None, hand: Hand) -> Iterator[str]:
    hinging = package.hinging
    if hinging.kind is HingeKind.CORNERS:
        yield "Hold the art in paper corners."
    else:
        places = " and ".join(hand.length(at) for at in hinging.at)
        yield f"{_capital(hinging.kind.value)}s {places} from the left of the sheet."
    yield f"Hinge window to mount board, {hinging.board_edge} edge."
    if any(strips.role == "spacer" for strips in package.strips):
        yield "Spacers pinwheel fashion, out of sight."
    if package.glazing:
        yield "Clean the glazing, brush out the package."
    if fit is None:
        return
    yield f"Seal the edge all round, {hand.length(fit.edge_seal)} of tape."
    yield f"Points along top and bottom: {_points(fit.across, hand)}."
    yield f"Points up the sides: {_points(fit.up, hand)}."
    yield f"Dust cover {hand.size(fit.dust_cover)}; hangers, wire, bumpers."


def _points(points: Points, hand: Hand) -> str:
    return f"{points.count}, first at {hand.length(points.first)}, {hand.length(points.spacing)} apart"


def _measured(package: Package) -> Iterator[str]:
    yield "art"
    yield from (f"{mat_name(mat)} caliper" for mat in package.mats)
    yield from ("borders T", "R", "B", "L", "diagonals", "and", "worst overcut")
    if package.frame:
        yield "rabbet depth"
    yield from ("cut by", "date", "fitted by")


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
