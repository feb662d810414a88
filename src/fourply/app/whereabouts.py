"""Where each piece of a show is cut from, in the words of a ticket."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from fourply.app.cutting import Cutting, FlatCutting, LongCutting
from fourply.planning.plan import Source
from fourply.planning.problem import Kind


def whereabouts(cutting: Cutting) -> Mapping[str, str]:
    """Return, by key of piece, the sheet, offcut, fallout or stick that it comes from, the first of several."""
    found: dict[str, str] = {}
    for flat in cutting.flats:
        for key, place in _flat(flat):
            found.setdefault(key, place)
    for long in cutting.longs:
        for key, place in _long(long):
            found.setdefault(key, place)
    for unplanned in cutting.unplanned:
        found.setdefault(unplanned.part.key, "no plan holds it")
    return found


def source_name(source: Source, number: int, parts: FlatCutting) -> str:
    """Return how the bench calls a board of a plan: a sheet by its number in the plan, a fallout by its window."""
    if source.kind is Kind.SHEET:
        return f"sheet {number}"
    if source.kind is Kind.RACK:
        return f"offcut, {number}"
    part = parts.parts[source.key]
    return f"fallout of {part.work} {part.name}"


def _flat(cutting: FlatCutting) -> Iterator[tuple[str, str]]:
    counts: dict[int, int] = {}
    for placed in cutting.plan.placed():
        counts[placed.board] = counts.get(placed.board, 0) + 1
        board = cutting.plan.boards[placed.board]
        name = source_name(board.source, placed.board + 1, cutting)
        yield placed.piece, f"{name}, piece {counts[placed.board]}"


def _long(cutting: LongCutting) -> Iterator[tuple[str, str]]:
    for number, cut in enumerate(cutting.plan.sticks, start=1):
        for rail in cut.rails:
            yield rail.rail, f"stick {number}"
