"""Where each piece of a show is cut from, in the words of a ticket."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from fourply.app.cutting import Cutting, FlatCutting, LongCutting
from fourply.planning.problem import Kind


def whereabouts(cutting: Cutting) -> Mapping[str, str]:
    """Return, by key of piece, the board and place or the stick that it comes from, the first of several."""
    found: dict[str, str] = {}
    for flat in cutting.flats:
        for key, place in _flat(flat):
            found.setdefault(key, place)
    for long in cutting.longs:
        for key, place in _long(long):
            found.setdefault(key, place)
    for key, way in bought_rails(cutting).items():
        found[key] = f"{found[key]}, {way}" if key in found else way
    for unplanned in cutting.unplanned:
        found.setdefault(unplanned.part.key, "no plan holds it")
    return found


def bought_rails(cutting: Cutting) -> Mapping[str, str]:
    """Return, by key of rail, how it is bought cut to size, and of how many frames of its work where not of all."""
    found = {}
    for framing in cutting.framings:
        for each in framing.bought:
            some = "" if each.copies == each.wanted.copies else f"{each.copies} of {each.wanted.copies} "
            found.update(dict.fromkeys(each.wanted.rails, f"{some}bought as {each.service.value}"))
    return found


def _flat(cutting: FlatCutting) -> Iterator[tuple[str, str]]:
    counts: dict[int, int] = {}
    for placed in cutting.plan.placed():
        counts[placed.board] = counts.get(placed.board, 0) + 1
        source = cutting.plan.boards[placed.board].source
        name = f"board {placed.board + 1}, piece {counts[placed.board]}"
        if source.kind is Kind.FALLOUT:
            name += f", a fallout of {cutting.parts[source.key].work}"
        yield placed.piece, name


def _long(cutting: LongCutting) -> Iterator[tuple[str, str]]:
    for number, cut in enumerate(cutting.plan.sticks, start=1):
        for rail in cut.rails:
            yield rail.rail, f"stick {number}"
