"""A package as its ticket: what is chosen to stand on it, and in which words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from fourply.bench.cutter import NOMINAL, Cutter, Side
from fourply.bench.first import first_things
from fourply.bench.fitting import Fitting, Points, fitting
from fourply.bench.settings import Cut, End, Operation, Settings, settings
from fourply.measure.length import ZERO
from fourply.measure.notation import Marks
from fourply.sheets.front_view import front_view
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
from fourply.trade.findings import Level
from fourply.trade.package import Package
from fourply.trade.parts import LongPart, Stuff, flat_parts, long_parts, mat_name
from fourply.trade.treatment import HingeKind, WindowFrom
from fourply.working.explain import line
from fourply.working.words import Words

_WEIGHTS = {
    Level.FAULT: Weight.GRAVE,
    Level.CAUTION: Weight.CAUTION,
    Level.TIGHT: Weight.CAUTION,
    Level.NOTE: Weight.NOTE,
}
_PAIRS: tuple[tuple[str, tuple[str, ...]], ...] = (
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
    "Fresh blade, free hand behind the cut. Gloves and eye cover for glass. Two people lift a large frame.",
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
    fit = fitting(package)
    return TicketView(
        number=work.id,
        title=work.title or "untitled",
        lines=tuple(_lines(package, context)),
        corner=tuple(part for part in (context.place, f"{work.copies} alike" if work.copies > 1 else "") if part),
        first=tuple(FirstStep(thing.do, thing.more) for thing in first_things(package, words.write)),
        front=front_view(package, words),
        section=section_view(package, words),
        settings=_settings(package, set_up, words),
        pieces=tuple(_pieces(package, context)),
        findings=tuple(_findings(package, words)),
        workings=tuple(_workings(package, words)),
        fitting=tuple(_fitting(package, fit, words)),
        measured=tuple(_measured(package)),
        cautions=_CAUTIONS,
    )


def _lines(package: Package, context: Context) -> Iterator[str]:
    work, words = package.work, context.words
    art = "image" if work.art.sheet_is_image else "art"
    who = ". ".join(part for part in (work.maker, work.medium) if part)
    least = "" if work.art.least == work.art.most else ", least measured"
    yield f"{who + '. ' if who else ''}{art.capitalize()} {words.size(work.art.least)}{least}."
    mats = ("no mat", "single mat", "double mat", "triple mat", "four mats")[len(package.mats)]
    parts = [context.show, mats, "V-groove" if package.mats[0].all_grooves else ""]
    parts.append("float" if package.treatment.window is WindowFrom.FLOAT else "")
    unit = "millimetres" if words.metric else "inches"
    parts.append(package.frame.moulding.name if package.frame else "no frame")
    yield " · ".join(part for part in [*parts, f"all sizes width × height, {unit}"] if part)


def _settings(package: Package, set_up: Settings, words: Words) -> SettingsView:
    guide = "left-hand" if set_up.cutter.guide is Side.LEFT else "right-hand"
    outer = package.mats[0].blank
    first = set_up.operations[0].cuts if set_up.operations else ()
    return SettingsView(
        heading=f"face down, seen from the back, {guide} guide",
        sides=tuple(cut.side for cut in first),
        board=(outer.width.as_mm, outer.height.as_mm),
        rows=tuple(_setting_row(operation, words) for operation in set_up.operations),
        legend=tuple(_legend(package, set_up, words)),
    )


def _legend(package: Package, set_up: Settings, words: Words) -> Iterator[str]:
    cutter = set_up.cutter
    tested = "" if cutter.tested else " No test cut on file: nothing is corrected."
    yield f"Bold: reset. Light: leave. Stops are read from the {cutter.stops.value}.{tested}"
    past: dict[str, list[str]] = {}
    for operation in set_up.operations:
        cut = operation.cuts[0]
        enters, leaves = (_past(end, words) for end in (cut.far, cut.near))
        how = f"enters and leaves {enters}" if enters == leaves else f"enters {enters} and leaves {leaves}"
        past.setdefault(how, []).append(operation.name)
    for how, names in past.items():
        which = f" ({', '.join(names)})" if len(past) > 1 else ""
        yield f"The blade {how} the pencil crossing{which}."
    for groove in package.mats[0].all_grooves:
        cut_face, shaved = words.size(groove.face_cut), words.size(groove.face_shaved)
        yield (
            f"Shave the groove's drop-out face up, fingers clear: its back {words.size(groove.back)} stays, "
            f"its face {cut_face} becomes {shaved}."
        )


def _past(end: End, words: Words) -> str:
    """Return where the blade is against the pencil crossing of one end."""
    past = end.crossing - end.blade
    if not past:
        return "at"
    return f"{words.write(abs(past))} {'past' if past > ZERO else 'short of'}"


def _setting_row(operation: Operation, words: Words) -> SettingRow:
    cuts = operation.cuts
    same = all(end.stop == end.crossing for cut in cuts for end in (cut.far, cut.near))
    ends = [] if same else [_end_row("pencil crossing", cuts, "crossing", words)]
    ends.append(_end_row("pencil and stop" if same else "stop reads", cuts, "stop", words))
    guides = tuple(Setting(words.mark(cut.guide), "guide" in cut.reset) for cut in cuts)
    return SettingRow(_capital(operation.name), operation.then, guides, tuple(ends))


def _end_row(name: str, cuts: tuple[Cut, ...], what: str, words: Words) -> EndRow:
    def one(cut: Cut, end: End, key: str) -> Setting:
        return Setting(words.mark(getattr(end, what)), what == "stop" and key in cut.reset)

    return EndRow(
        name,
        tuple(one(cut, cut.far, "far") for cut in cuts),
        tuple(one(cut, cut.near, "near") for cut in cuts),
    )


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


def _findings(package: Package, words: Words) -> Iterator[FindingRow]:
    """Yield what is amiss, one row each, and then all that holds in one."""
    for finding in package.findings:
        text = f"{finding.sentence(words.write)} {finding.advice(words.write)}".strip()
        yield FindingRow(_WEIGHTS[finding.level], text)
    holds = [check.sentence(words.write) for check in package.checks if check.level is Level.HOLDS]
    if holds:
        yield FindingRow(Weight.HOLDS, " ".join(holds))


def _workings(package: Package, words: Words) -> Iterator[WorkingRow]:
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
        lines = [line(package.figures, path, words.write) for path in paths if path in package.figures]
        worked = [f"{each.arithmetic} = {each.value}" for each in lines if each.arithmetic not in {"", each.value}]
        if worked:
            yield WorkingRow(name, "; ".join(dict.fromkeys(worked)))


def _fitting(package: Package, fit: Fitting | None, words: Words) -> Iterator[str]:
    hinging, sheet = package.hinging, package.art.sheet
    yield f"Sheet {words.mark(sheet.left)} from the left and {words.mark(sheet.top)} from the top of the mount board."
    if hinging.kind is HingeKind.CORNERS:
        yield "Hold the art in paper corners."
    else:
        *others, last = (words.write(at) for at in hinging.at)
        places = f"{', '.join(others)} and {last}"
        yield f"{_capital(hinging.kind.value)}s {places} from the left of the sheet."
    yield f"Hinge window to mount board, {hinging.board_edge} edge."
    if any(strips.role == "spacer" for strips in package.strips):
        yield "Spacers pinwheel fashion, out of sight."
    clean = "Clean the glazing, brush out the package" if package.glazing else "Brush out the package"
    if fit is None:
        yield f"{clean}."
        return
    yield f"{clean}, seal its edge all round: {words.write(fit.edge_seal)} of tape."
    yield f"Points: {_points(fit.across, words)} at top and bottom; {_points(fit.up, words)} at the sides."
    yield f"Dust cover {words.size(fit.dust_cover)}; hangers, wire, bumpers."


def _points(points: Points, words: Words) -> str:
    return f"{points.count}, first at {words.write(points.first)}, then {words.write(points.spacing)} apart,"


def _measured(package: Package) -> Iterator[str]:
    yield "art"
    yield from (f"{mat_name(mat)} caliper" for mat in package.mats)
    yield from ("borders T", "R", "B", "L", "diagonals", "and", "worst overcut")
    if package.frame:
        yield "rabbet depth"
    yield from ("cut by", "date", "fitted by")


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
