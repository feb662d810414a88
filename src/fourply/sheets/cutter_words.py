"""What a ticket says of the shop's own cutter: how sure its borders are, its index line, its blades, what it lacks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from fourply.bench.blade import blade_for
from fourply.bench.cuts import Cut, Operation, Oval, Spot
from fourply.bench.cutter import Cutter, Direction
from fourply.bench.cutter_findings import boards_cut
from fourply.bench.profile import Index, Profile
from fourply.bench.settings import Settings
from fourply.bench.shop_cutter import ShopCutter
from fourply.errors import BadInput
from fourply.measure.length import ZERO, Length
from fourply.trade.materials import Board
from fourply.trade.package import Package
from fourply.working.words import Words


def scale_words(cutter: Cutter, words: Words) -> Words:
    """Return the words in which the cutter's own scales are read."""
    if not isinstance(cutter, ShopCutter):
        return words
    return replace(words, metric=cutter.profile.unit.is_metric)


def on_scale(reading: Length, cutter: Cutter, words: Words) -> str:
    """Return what a guide is set to as its scale shows it; a nominal cutter's is the reader's own rule."""
    return scale_words(cutter, words).write(reading) if isinstance(cutter, ShopCutter) else words.mark(reading)


def scales_note(cutter: Cutter, words: Words) -> str:
    """Return in which unit a cutter's scales read where that is not the show's, empty elsewhere."""
    if scale_words(cutter, words) == words:
        return ""
    return f"Guide and stops in {scale_words(cutter, words).unit.value}, as the scales of {cutter.name} read."


def cutter_lines(package: Package, set_up: Settings, words: Words) -> Iterator[str]:
    """Yield what stands below the table for a cutter of the shop, a paragraph each; nothing for a nominal one."""
    cutter = set_up.cutter
    if not isinstance(cutter, ShopCutter):
        return
    cuts = [cut for operation in set_up.operations for cut in operation.cuts]
    if cuts:
        way = "towards you" if cutter.direction is Direction.TOWARDS else "away from you"
        yield f"On the {cutter.name}, cut {way}."
        yield from _guide_lines(cuts, cutter, words)
        yield from _end_lines(set_up.operations, cutter, words)
    yield from _blades(package, cutter.profile, words)
    if cutter.profile.arm is not None and cutter.profile.arm.guide_off:
        yield "The guide comes off for the squaring arm: square every blank before it goes on."


def _guide_lines(cuts: Sequence[Cut], cutter: ShopCutter, words: Words) -> Iterator[str]:
    if note := scales_note(cutter, words):
        yield note
    reached = [cut for cut in cuts if cut.guided.reached]
    if not reached:
        return
    left = max(abs(cut.guided.gives - cut.guide) for cut in reached)
    spread = max(cut.guided.spread for cut in reached)
    sure = f"borders come out within {words.with_unit(spread)} 95 times in 100"
    found = cutter.profile.calibration
    by = f"By the test cut of {found.date} {sure}" if found else f"Without a test cut {sure}"
    rest = f"; the scale leaves up to {words.with_unit(left)} more" if left else ""
    yield f"{by}{rest}."


def _end_lines(operations: Sequence[Operation], cutter: ShopCutter, words: Words) -> Iterator[str]:
    cuts = [cut for operation in operations for cut in operation.cuts]
    ends = [end for cut in cuts for end in (cut.far, cut.near)]
    missing = [name for name, there in _stops(cutter.profile) if not there]
    if missing:
        yield f"No {' and no '.join(missing)} stop: bring the index line to its place by the pencil line there."
    off = max(abs(end.off) for end in ends)
    if off:
        yield f"Stops are set to what their scale shows: corners are up to {words.with_unit(off)} over or under."
    if cutter.profile.bevel.index is Index.BLADE:
        yield "The index line shows where the blade enters."
    else:
        yield "The index line stands one run of the bevel short of the blade: it is the line that meets the pencil's."


def _stops(profile: Profile) -> tuple[tuple[str, bool], ...]:
    return ("far", profile.stops.far), ("near", profile.stops.near)


def _blades(package: Package, profile: Profile, words: Words) -> Iterator[str]:
    """Yield how the blade stands for each board, boards alike together."""
    said: dict[str, list[str]] = {}
    for _, name, board in boards_cut(package):
        if line := _blade(board, profile, words):
            said.setdefault(line, []).append(name)
    for line, names in said.items():
        yield f"Blade for the {' and the '.join(dict.fromkeys(names))}: {line}."


def _blade(board: Board, profile: Profile, words: Words) -> str:
    try:
        found = blade_for(profile, board.caliper, board=board.name)
    except BadInput:  # thicker than the cutter takes, which is a finding
        return ""
    out = f"{words.with_unit(found.extension)} out along its slant"
    if found.position is None:
        return out + (", more than any of its positions" if profile.bevel.blade.positions else "")
    return f"position {found.position.mark} (at least {out})"


def strip_lines(cuts: Sequence[Cut], words: Words) -> Iterator[str]:
    """Yield which sides need a strip between guide and board, and which the guide does not reach."""
    strips: dict[Length, list[str]] = {}
    for cut in cuts:
        if cut.guided.strip:
            strips.setdefault(cut.guided.strip, []).append(cut.side)
    for strip, sides in strips.items():
        yield f"Strip of {words.write(strip)} between guide and board: {', '.join(dict.fromkeys(sides))}."
    out = [cut.side for cut in cuts if not cut.guided.reached and cut.guide > ZERO]
    if out:
        yield f"Out of the guide's reach, see Findings: {', '.join(dict.fromkeys(out))}."


def oval_on_cutter(oval: Oval, words: Words, scales: Words) -> str:
    """Return what the shop's oval cutter is set to and on which side of the board; empty where none is known."""
    if oval.scale is None:
        return ""
    size = f"{scales.size(oval.scale)}{f' {scales.unit.value}' if scales != words else ''}"
    side = "face down"
    if oval.face_up:
        side = f"face up, centre on the face {_mirrored(oval.centre, words)}"
    return f" On the oval cutter, {side}: its scale reads the {oval.reads} edge, set {size}."


def _mirrored(spot: Spot, words: Words) -> str:
    """Return a point of the back as it is measured on the face, where left and right have changed places."""
    across, down = "left" if spot.right else "right", "bottom" if spot.low else "top"
    return f"{across} {words.mark(spot.across)}, {down} {words.mark(spot.down)}"
