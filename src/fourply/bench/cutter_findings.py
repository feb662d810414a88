"""What a cutter of the shop cannot do as it is asked, and what can be done instead."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from fourply.bench.constants import WITHIN_95
from fourply.bench.cuts import Cut, Operation, Oval
from fourply.bench.long_cuts import long_cut
from fourply.bench.profile import BoardFace
from fourply.bench.reach import TOLERANCE, Border, OutOfReach, Remedy, Way, set_for
from fourply.bench.shop_cutter import ShopCutter, bevel_angle
from fourply.measure.length import ZERO, Length
from fourply.measure.rounding import Grid, from_mm, half_up, to_grid
from fourply.measure.size import Size
from fourply.trade.findings import Finding, Level
from fourply.trade.materials import Board
from fourply.trade.package import Package
from fourply.working.working import Value

_LEAST_ANGLE = 1.5
"""Degrees by which a blade may stand off what is asked for before it is said: what a bevel gauge shows."""
_SEEN = Length.inches(1, 64)
"""What an eye sees of a border that is wider at one end (common practice)."""
_SHOWN = Grid("0.1 mm", Length.mm(1, 10))


def cutter_findings(package: Package, operations: Sequence[Operation], cutter: ShopCutter) -> tuple[Finding, ...]:
    """Return what of these operations the cutter cannot do, or not as well as is wanted."""
    return (
        *_thick(package, cutter),
        *_out_of_reach(operations, cutter),
        *_too_long(operations, cutter),
        *_angle(package, cutter),
        *_askew(operations, cutter),
        *_blanks(package, cutter),
        *_ovals(operations, cutter),
    )


def boards_cut(package: Package) -> tuple[tuple[str, str, Board], ...]:
    """Return what is cut on the mat cutter: the path of its figures, its name at the bench, its board."""
    found = [(mat.path, mat.name, mat.board) for mat in package.mats]
    if package.inlay is not None:
        found.append(("inlay", "inlay", package.inlay.board))
    if package.sink is not None:
        found.append(("sink", "sink mat", package.sink.board))
    return tuple(found)


def _finding(rule: str, level: Level, place: str, words: tuple[str, str], **numbers: Value) -> Finding:
    return Finding(rule, level, place, words[0], words[1], tuple(numbers.items()))


def _thick(package: Package, cutter: ShopCutter) -> Iterator[Finding]:
    for path, name, board in boards_cut(package):
        if board.caliper > cutter.profile.deepest:
            yield _finding(
                "cutter.thick",
                Level.FAULT,
                path,
                (
                    "The {name} is {caliper} thick, and {cutter} takes boards to {deepest}.",
                    "Use another cutter or board.",
                ),
                name=name,
                caliper=board.caliper,
                cutter=cutter.name,
                deepest=cutter.profile.deepest,
            )


# ── the guide ────────────────────────────────────────────────────────────────────────────────────────────────────


def _out_of_reach(operations: Sequence[Operation], cutter: ShopCutter) -> Iterator[Finding]:
    """Yield each border that the scale does not show, once, with the ways out in the order of how true they are."""
    borders: dict[Length, str] = {}
    for operation in operations:
        for cut in operation.cuts:
            if cut.guided.strip or not cut.guided.reached:
                borders.setdefault(cut.guide, f"{cut.figure}.set")
    for border, place in borders.items():
        if border <= ZERO:
            continue
        found = set_for(cutter.profile, Border(border), cutter.others)
        if isinstance(found, OutOfReach):
            yield _ways(border, place, found.ways, cutter)


def _ways(border: Length, place: str, ways: Sequence[Way], cutter: ShopCutter) -> Finding:
    numbers: dict[str, Value] = {"border": border, "cutter": cutter.name}
    said = []
    for at, way in enumerate(ways):
        numbers[f"set_{at}"], numbers[f"strip_{at}"] = way.setting.reading, way.setting.strip
        numbers[f"on_{at}"], numbers[f"opening_{at}"] = way.cutter, abs(_shown(way.opening))
        if way.remedy is Remedy.STRIP:
            said.append(f"a strip of {{strip_{at}}} between guide and board, set to {{set_{at}}}")
        elif way.remedy is Remedy.OTHER:
            said.append(f"{{on_{at}}}, set to {{set_{at}}}")
        else:
            more = "larger" if way.opening > ZERO else "smaller"
            said.append(f"the nearest, {{set_{at}}}, which makes the opening {{opening_{at}}} {more}")
    whole = any(way.remedy is Remedy.STRIP for way in ways)
    return _finding(
        "cutter.reach",
        Level.NOTE if whole else Level.CAUTION,
        place,
        ("A border of {border} cannot be set on {cutter}.", f"Instead: {'; or '.join(said)}."),
        **numbers,
    )


def _shown(length: Length) -> Length:
    return to_grid(length, _SHOWN, half_up)


def _askew(operations: Sequence[Operation], cutter: ShopCutter) -> Iterator[Finding]:
    cuts = [cut for operation in operations for cut in operation.cuts]
    if not cuts or not cutter.tested:
        return
    longest = max(cuts, key=lambda cut: cut.length)
    skew = cutter.profile.known.skew
    off = from_mm(longest.length.as_mm / 2 * abs(math.tan(math.radians(skew.value))))
    if off < _SEEN or abs(skew.value) < WITHIN_95 * skew.error:
        return
    yield _finding(
        "cutter.askew",
        Level.CAUTION if off > TOLERANCE else Level.NOTE,
        longest.figure,
        (
            "The guide of {cutter} is {skew} degrees askew: at the ends of the longest cut borders are {off} off.",
            "Make the guide parallel and cut a new test.",
        ),
        cutter=cutter.name,
        skew=f"{abs(skew.value):.2f}",
        off=_shown(off),
    )


# ── bar, blade, ovals ────────────────────────────────────────────────────────────────────────────────────────────


def _too_long(operations: Sequence[Operation], cutter: ShopCutter) -> Iterator[Finding]:
    cuts: list[Cut] = [cut for operation in operations for cut in operation.cuts]
    longest = max(cuts, key=lambda cut: cut.length, default=None)
    if longest is None or longest.length <= cutter.profile.bar:
        return
    yield _finding(
        "cutter.long",
        Level.CAUTION,
        f"{longest.figure}.length",
        (
            "A cut of {length} is longer than the bar of {cutter}, {bar}.",
            "A window's cut that is stopped in mid-side shows its join: use a longer bar.",
        ),
        length=longest.length,
        cutter=cutter.name,
        bar=cutter.profile.bar,
    )


def _blanks(package: Package, cutter: ShopCutter) -> Iterator[Finding]:
    """Yield the longest blank whose edges take two passes, with how far these may part."""
    sizes = [(mat.path, mat.name, mat.blank) for mat in package.mats]
    path, name, blank = max(sizes, key=lambda each: max(each[2].width, each[2].height))
    edge = max(blank.width, blank.height)
    other = min(blank.width, blank.height)
    cut = long_cut(cutter.profile, edge, other, Size(edge, other), squared=True)
    if cut is None:
        return
    yield _finding(
        "cutter.two_passes",
        Level.NOTE,
        f"{path}.blank",
        (
            "The blank of the {name} has edges of {edge}: two passes of {first} and {second} from the same edge.",
            "They part by {parting} if the board is laid again {turn} degrees turned.",
        ),
        name=name,
        edge=edge,
        first=cut.first,
        second=cut.second,
        parting=_shown(cut.parting),
        turn=f"{cut.turn_deg:g}",
    )


def _angle(package: Package, cutter: ShopCutter) -> Iterator[Finding]:
    asked = package.treatment.bevel_deg
    found, _ = bevel_angle(cutter.profile)
    if abs(asked - found) <= _LEAST_ANGLE:
        return
    yield _finding(
        "cutter.angle",
        Level.CAUTION,
        "bevel.angle_deg",
        (
            "The bevel is to be {asked} degrees, and the blade of {cutter} stands at {found}.",
            "Set the blade, or leave the bevel angle to the cutter.",
        ),
        asked=f"{asked:g}",
        cutter=cutter.name,
        found=f"{found:.1f}",
    )


def _ovals(operations: Sequence[Operation], cutter: ShopCutter) -> Iterator[Finding]:
    ovals = [each for each in operations if any(isinstance(task, Oval) for task in each.tasks)]
    if not ovals:
        return
    place = next(task.figure for task in ovals[0].tasks if isinstance(task, Oval))
    head = cutter.oval
    if head is None:
        words = ("{cutter} has no head for ovals.", "Set them out as said, for a trammel or pins and string.")
        yield _finding("cutter.no_oval", Level.NOTE, place, words, cutter=cutter.name)
    elif head.board is BoardFace.UP and any(each.then == "through the stack" for each in ovals):
        words = (
            "{cutter} cuts ovals face up, and a taped stack lies face down.",
            "Cut each mat's oval by itself: stack_cut = false.",
        )
        yield _finding("cutter.oval_stack", Level.CAUTION, place, words, cutter=cutter.name)
