"""The settings of a package as the table on its ticket: rows of four sides, and lines for what no guide cuts."""

from __future__ import annotations

from collections.abc import Iterator

from fourply.bench.cuts import Arc, Cut, End, Operation, Oval, Ruled, Shave, Slant, Spot, Task, Template
from fourply.bench.cutter import Side
from fourply.bench.settings import ROUND, Settings
from fourply.measure.length import ZERO, Length
from fourply.measure.size import Size
from fourply.sheets.cutter_words import cutter_lines, oval_on_cutter, scale_words, strip_lines
from fourply.sheets.view import EndRow, Setting, SettingRow, SettingsView
from fourply.trade.package import Package
from fourply.working.words import Words

_BLANK = Setting("", reset=False)
_PLACES = "Left and right in the lines: as the board lies, face down. The table's sides: as they hang."


def settings_view(package: Package, set_up: Settings, words: Words) -> SettingsView:
    """Return the table of all that is set and set out for a package."""
    guide = "left-hand" if set_up.cutter.guide is Side.LEFT else "right-hand"
    scales = scale_words(set_up.cutter, words)
    outer = package.mats[0].blank
    straight = any(operation.cuts for operation in set_up.operations)
    return SettingsView(
        heading=f"face down, seen from the back, {guide} guide",
        sides=ROUND if straight else (),
        board=(outer.width.as_mm, outer.height.as_mm),
        rows=tuple(row for operation in set_up.operations for row in _rows(operation, words, scales)),
        legend=(*_legend(set_up, words), *cutter_lines(package, set_up, words)),
    )


# ── the legend ───────────────────────────────────────────────────────────────────────────────────────────────────


def _legend(set_up: Settings, words: Words) -> Iterator[str]:
    cutter = set_up.cutter
    if any(operation.cuts for operation in set_up.operations):
        tested = "" if cutter.tested else " No test cut on file: nothing is corrected."
        yield f"Bold: reset. Light: leave. Stops are read from the {cutter.stops.value}.{tested}"
    past: dict[str, list[str]] = {}
    for operation in set_up.operations:
        if operation.cuts and _is_even(operation):
            cut = operation.cuts[0]
            ends = (cut.far, cut.near) if cutter.is_start(far=True) else (cut.near, cut.far)
            enters, leaves = (_past(end, words) for end in ends)
            how = f"enters and leaves {enters}" if enters == leaves else f"enters {enters} and leaves {leaves}"
            past.setdefault(how, []).append(operation.name)
    for how, names in past.items():
        which = f" ({', '.join(names)})" if len(past) > 1 else ""
        yield f"The blade {how} the pencil crossing{which}."
    if any(not isinstance(task, Cut | Shave | Ruled) for task in set_up.tasks):
        yield _PLACES


def _is_even(operation: Operation) -> bool:
    """Tell whether the blade enters alike at every far end, and leaves alike at every near one."""
    far = {cut.far.crossing - cut.far.blade for cut in operation.cuts}
    near = {cut.near.crossing - cut.near.blade for cut in operation.cuts}
    return len(far) <= 1 and len(near) <= 1


def _past(end: End, words: Words) -> str:
    """Return where the blade is against the pencil crossing of one end."""
    past = end.crossing - end.blade
    if not past:
        return "at"
    return f"{words.write(abs(past))} {'past' if past > ZERO else 'short of'}"


# ── rows ─────────────────────────────────────────────────────────────────────────────────────────────────────────


def _rows(operation: Operation, words: Words, scales: Words) -> Iterator[SettingRow]:
    """Yield the rows of one operation: one for each rectangle of stepped corners, one for anything else."""
    name = operation.name[:1].upper() + operation.name[1:]
    if operation.copies > 1:
        name += f", {operation.copies} alike"
    lines = (*strip_lines(operation.cuts, words), *off_guide_lines(operation, words, scales))
    if any(cut.part for cut in operation.cuts):
        lines = (f"Free the corners at the back by hand; {operation.then}.", *lines)
    rings = list(dict.fromkeys((cut.ring, cut.part) for cut in operation.cuts)) or [(0, 0)]
    for ring in rings:
        cuts = tuple(cut for cut in operation.cuts if (cut.ring, cut.part) == ring)
        last = ring == rings[-1]
        note = f"step {ring[0]} of {rings[-1][0]}" if ring[0] and (ring[1] or not last) else operation.then
        if ring[1]:
            note = f"step {ring[0]}, {'far' if ring[1] == 1 else 'near'} ends"
        guides, ends = _table(cuts, words, scales, even=_is_even(operation))
        yield SettingRow(name, note, guides, ends, lines if last else ())


def _table(
    cuts: tuple[Cut, ...], words: Words, scales: Words, *, even: bool
) -> tuple[tuple[Setting, ...], tuple[EndRow, ...]]:
    """Return the guides and the ends of up to four cuts; where the blade's way differs from end to end, that too.

    What is set is written as the cutter's `scales` show it, what is measured in the words of the show.
    """
    if not cuts:
        return (), ()
    by_side = {cut.side: cut for cut in cuts}
    round_ = [by_side.get(side) for side in ROUND]
    both = [end for cut in cuts for end in (cut.far, cut.near)]
    same = scales == words and all(end.stop == end.crossing and end.stopped for end in both)
    ends = [] if all(cut.guided.reading == cut.guided.gives == cut.guide for cut in cuts) else [_gives(round_, words)]
    if not same:
        ends.append(_end_row("pencil crossing", round_, "crossing", words))
    if any(end.stopped for end in both):
        ends.append(_end_row("pencil and stop" if same else "stop reads", round_, "stop", scales))
    if not even:
        ends.append(_end_row("blade", round_, "blade", words))
    guides = tuple(_guide(cut, scales) if cut else _BLANK for cut in round_)
    return guides, tuple(ends)


def _guide(cut: Cut, scales: Words) -> Setting:
    reading, reset = cut.guided.reading, "guide" in cut.reset
    if not cut.guided.reached:
        return Setting("—", reset)
    return Setting(scales.mark(reading) if reading == cut.guide else scales.write(reading), reset)


def _gives(cuts: list[Cut | None], words: Words) -> EndRow:
    """Return the row of borders that come out where a scale does not show them as they are."""
    far = (
        Setting(words.mark(cut.guided.gives) if cut.guided.reached else "—", reset=False) if cut else _BLANK
        for cut in cuts
    )
    return EndRow("border it gives", tuple(far), (_BLANK,) * len(cuts))


def _end_row(name: str, cuts: list[Cut | None], what: str, words: Words) -> EndRow:
    def one(cut: Cut | None, key: str) -> Setting:
        end = None if cut is None else cut.far if key == "far" else cut.near
        if cut is None or end is None or (what == "stop" and not end.stopped):
            return _BLANK
        length: Length = getattr(end, what)
        return Setting(words.mark(length), what == "stop" and key in cut.reset)

    return EndRow(name, tuple(one(cut, "far") for cut in cuts), tuple(one(cut, "near") for cut in cuts))


# ── lines ────────────────────────────────────────────────────────────────────────────────────────────────────────


def off_guide_lines(operation: Operation, words: Words, scales: Words | None = None) -> Iterator[str]:
    """Yield what of an operation is set out without the guide, one paragraph for each kind.

    `scales` are the words of the cutter's own scales, None where they are those of the show.
    """
    slants = [task for task in operation.tasks if isinstance(task, Slant)]
    arcs = [task for task in operation.tasks if isinstance(task, Arc)]
    if arcs:
        yield _arcs(arcs, operation.size, words)
    if slants:
        yield _slants(slants, words)
    yield from dict.fromkeys(text for task in operation.tasks if (text := _line(task, words, scales or words)))


def _line(task: Task, words: Words, scales: Words) -> str:
    write = words.mark
    match task:
        case Oval():
            return _oval(task, words) + oval_on_cutter(task, words, scales)
        case Template():
            at = _at(task.corner, words)
            return f"Along a template {words.size(task.size)}: its corner {at}; {write(task.line)} round."
        case Shave():
            depth = f" The groove is {words.write(task.depth)} deep." if task.depth is not None else ""
            return (
                f"Shave the drop-out face up, fingers clear: its back {words.size(task.back)} stays, its face "
                f"{words.size(task.before)} becomes {words.size(task.after)}, {words.write(task.sliver)} off "
                f"each edge.{depth}"
            )
        case Ruled():
            kind = "Wash" if task.wash else "Line"
            return f"{kind} {words.write(task.width)} wide, {write(task.distance)} from the face edge."
        case _:
            return ""


def _oval(oval: Oval, words: Words) -> str:
    write = words.mark
    at = _at(oval.centre, words)
    if oval.circle:
        return f"Circle {write(oval.axes.width)} across: centre {at}; radius {write(oval.semi[0])}."
    return (
        f"Oval {words.size(oval.axes)}: centre {at}; half axes {write(oval.semi[0])} and {write(oval.semi[1])}, "
        f"difference {write(oval.difference)}; pins {write(oval.pins)} apart, {write(oval.pin)} from the centre, "
        f"loop {write(oval.loop)}."
    )


def _slants(slants: list[Slant], words: Words) -> str:
    write, first = words.mark, slants[0]
    ends = "; ".join(f"{_at(slant.start, words)} to {_at(slant.end, words)}" for slant in slants)
    past = f"past by {words.write(first.past)}" if first.past >= ZERO else f"short by {words.write(-first.past)}"
    return f"Slants: {ends}. Each line {write(first.line)}, the blade {past} at both ends."


def _arcs(arcs: list[Arc], board: Size, words: Words) -> str:
    write, first = words.mark, arcs[0]
    radius = f"radius {write(first.radius)}"
    if first.radius != first.upright:
        radius = f"radii {write(first.radius)} across and {write(first.upright)} down"
    if len(arcs) == 1:
        off = "" if first.centre.down < board.height else " (off the board)"
        centre, ends = _at(first.centre, words) + off, f"{_at(first.start, words)} to {_at(first.end, words)}"
        return f"Arc: {radius}; centre {centre}; from {ends}; line {write(first.line)}."
    places = "; ".join(_at(arc.centre, words) for arc in arcs)
    return f"Corner arcs: {radius}; centres {places}; each line {write(first.line)}."


def _at(spot: Spot, words: Words) -> str:
    across, down = "right" if spot.right else "left", "bottom" if spot.low else "top"
    return f"{across} {words.mark(spot.across)}, {down} {words.mark(spot.down)}"
