"""A board on a cutter: how the blade is held for it, which edges take two passes, whether the blade is due."""

from __future__ import annotations

from collections.abc import Iterator

from fourply.bench.blade import blade_for, change_due
from fourply.bench.long_cuts import LongCut, long_cut
from fourply.bench.profile import Profile
from fourply.errors import BadInput
from fourply.measure.dimensions import Order, parse_pair
from fourply.measure.length import Length
from fourply.measure.notation import parse_length
from fourply.measure.size import Size
from fourply.working.words import Words


def blade_on(profile: Profile, caliper: str, board: str) -> tuple[str, ...]:
    """Return how the blade of each head stands for board of this caliper, a line each.

    Raises BadInput for what the cutter does not take.
    """
    words = Words(metric=profile.unit.is_metric)
    thick = parse_length(caliper, profile.unit)
    lines = []
    for head in profile.heads:
        found = blade_for(profile, thick, head, board=board)
        held = "" if found.position is None else f": position {found.position.mark}"
        if found.position is None and head.blade.positions:
            held = ": no position stands out enough"
        lines.append(f"{head.blade.name}: {words.with_unit(found.extension)} out along its slant{held}")
    return tuple(lines)


def passes_on(profile: Profile, board: str) -> tuple[str, ...]:
    """Return which edges of a board, as it is written, take more than one pass, a line each; raises BadLength."""
    size = parse_pair(board, profile.unit, Order.WIDTH_HEIGHT).size
    words = Words(metric=profile.unit.is_metric)
    return tuple(_passes(profile, size, words)) or ("Every edge is cut and squared in one pass.",)


def _passes(profile: Profile, size: Size, words: Words) -> Iterator[str]:
    for edge, other in ((size.width, size.height), (size.height, size.width)):
        for squared in (False, True):
            found = long_cut(profile, edge, other, Size(Length(1), Length(1)), squared=squared)
            if found is not None:
                yield _pass(found, edge, words, squared=squared)
                break


def _pass(found: LongCut, edge: Length, words: Words, *, squared: bool) -> str:
    longer = f"longer than the {'squaring arm' if squared else 'bar'}"
    first = ", or cut the other edge first, so that what is left of this one fits" if found.other_first else ""
    return (
        f"The edge of {words.with_unit(edge)} is {longer}: two passes from the same guide edge, "
        f"{words.write(found.first)} and {words.write(found.second)}, whose edges part by "
        f"{words.with_unit(found.parting)} if the board is turned by {found.turn_deg:g} degrees{first}."
    )


def due(profile: Profile, cut: str) -> tuple[str, ...]:
    """Return which blades should be changed after so much cut, a line each; raises BadLength."""
    length = parse_length(cut, profile.unit)
    blades = [head.blade for head in profile.heads]
    if not any(blade.life for blade in blades):
        raise BadInput(profile.name, "a blade with a life, in the cutter's file")
    return tuple(
        f"{blade.name}: {'change it' if change_due(blade, length) else 'good'}, {length.as_mm / 1000:g} of "
        f"{blade.life.as_mm / 1000:g} m"
        for blade in blades
        if blade.life is not None
    )
