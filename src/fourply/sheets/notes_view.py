"""What is read once, sitting: workings, fitting, what is measured."""

from __future__ import annotations

from collections.abc import Iterator

from fourply.bench.fitting import Fitting, Points
from fourply.sheets.view import WorkingRow
from fourply.trade.package import ArtPlace, Hinging, Package
from fourply.trade.parts import mat_name
from fourply.trade.treatment import HingeKind
from fourply.working.explain import line
from fourply.working.words import Words

type Named = tuple[str, tuple[str, ...]]
"""A row of workings: its name, and the figures of it."""

_PAIRS: tuple[Named, ...] = (
    ("outer", ("outer.width", "outer.height")),
    ("rabbet", ("frame.rabbet.width", "frame.rabbet.height")),
    ("frame sight", ("frame.sight.width", "frame.sight.height")),
    ("long points", ("frame.rail.top.long_point", "frame.rail.left.long_point")),
    ("stack", ("stack.depth",)),
    ("spare", ("stack.spare",)),
    ("glazing", ("glazing.width", "glazing.height")),
)


def workings(package: Package, words: Words) -> Iterator[WorkingRow]:
    """Yield the lines that a framer would ask for first, width and height on one line.

    Openings whose arithmetic is the same share a row.
    """
    rows: dict[tuple[str, str], list[int]] = {}
    for number, (name, paths) in _named(package):
        lines = [line(package.figures, path, words.write) for path in paths if path in package.figures]
        worked = [f"{each.arithmetic} = {each.value}" for each in lines if each.arithmetic not in {"", each.value}]
        if worked:
            rows.setdefault((name, "; ".join(dict.fromkeys(worked))), []).append(number)
    for (name, arithmetic), numbers in rows.items():
        which = f" {_ranges(numbers)}" if numbers[0] else ""
        yield WorkingRow(name + which, arithmetic)


def _named(package: Package) -> Iterator[tuple[int, Named]]:
    """Yield each row with the number of its opening, nothing where it belongs to no opening or to the only one."""
    several = len(package.arts) > 1
    for number, art in enumerate(package.arts, start=1):
        yield number if several else 0, ("window", tuple(f"{art.scope}window.{side}" for side in ("width", "height")))
    for mat in package.mats:
        name, path = mat_name(mat), mat.path
        for hole in mat.holes:
            title, number = ", title" if hole.title else "", hole.number if several and not hole.title else 0
            for what, paths in _of_opening(path):
                yield number, (f"{name} {what}{title}", tuple(f"{hole.scope}{each}" for each in paths))
        yield 0, (f"{name} bevel", (f"{path}.run",))
        yield 0, (f"{name} blank", (f"{path}.blank.width", f"{path}.blank.height"))
    yield from ((0, pair) for pair in _PAIRS)


def _of_opening(path: str) -> tuple[Named, ...]:
    return (
        ("opening", (f"{path}.back.width", f"{path}.back.height")),
        ("flat", (f"{path}.strip",)),
        ("fallout", (f"{path}.fallout.width", f"{path}.fallout.height")),
    )


def _ranges(numbers: list[int]) -> str:
    """Return numbers in words, runs of three or more by their ends.

    >>> _ranges([1, 2, 3, 5])
    '1 to 3, 5'
    """
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    parts = [f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs]
    return ", ".join(parts)


def fitting_steps(package: Package, fit: Fitting | None, words: Words) -> Iterator[str]:
    """Yield the steps of fitting: the sheets in their places and how they hang, then the package in its frame."""
    several = len(package.arts) > 1
    held: dict[str, list[int]] = {}
    for number, (place, hinging) in enumerate(zip(package.arts, package.hingings, strict=True), start=1):
        yield _sheet(place, number if several else 0, words)
        held.setdefault(_held(hinging, words), []).append(number)
    for how, numbers in held.items():
        sheets = "sheets" if len(numbers) > 1 else "sheet"
        yield how + (f" ({sheets} {_ranges(numbers)})." if len(held) > 1 else ".")
    yield f"Hinge window to mount board, {package.hinging.board_edge} edge."
    if any(strips.role == "spacer" for strips in package.strips):
        yield "Spacers pinwheel fashion, out of sight."
    clean = "Clean the glazing, brush out the package" if package.glazing else "Brush out the package"
    if fit is None:
        yield f"{clean}."
        return
    yield f"{clean}, seal its edge all round: {words.write(fit.edge_seal)} of tape."
    yield f"Points: {_points(fit.across, words)} at top and bottom; {_points(fit.up, words)} at the sides."
    yield f"Dust cover {words.size(fit.dust_cover)}; hangers, wire, bumpers."


def _sheet(place: ArtPlace, number: int, words: Words) -> str:
    sheet, which = place.sheet, f"Sheet {number}" if number else "Sheet"
    return (
        f"{which} {words.mark(sheet.left)} from the left and {words.mark(sheet.top)} from the top of the mount board."
    )


def _held(hinging: Hinging, words: Words) -> str:
    if hinging.kind is HingeKind.CORNERS:
        return "Hold the art in paper corners"
    *others, last = (words.write(at) for at in hinging.at)
    kind = hinging.kind.value
    return f"{kind[:1].upper()}{kind[1:]}s {', '.join(others)} and {last} from the left of the sheet"


def _points(points: Points, words: Words) -> str:
    return f"{points.count}, first at {words.write(points.first)}, then {words.write(points.spacing)} apart,"


def measured(package: Package) -> Iterator[str]:
    """Yield the names of what is measured while the work is made."""
    if len(package.arts) == 1:
        yield "art"
    else:
        yield from (f"art {number}" for number in range(1, len(package.arts) + 1))
    yield from (f"{mat_name(mat)} caliper" for mat in package.mats)
    yield from ("borders T", "R", "B", "L", "diagonals", "and", "worst overcut")
    if package.frame:
        yield "rabbet depth"
    yield from ("cut by", "date", "fitted by")
